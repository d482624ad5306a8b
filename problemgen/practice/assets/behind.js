// Chromium on a busy machine hands a page that is loaded again now and then (20 of 234 reloads by a script) storages
// with nothing in them; what is written there is gone with the next load, which finds all that was kept before. So the
// tab counts what is kept, in its name, which is no storage: where the device has counted less, the page is loaded once
// more before anything is written.

const COUNT = "problemgen kept";
/** As often the device is asked: it may be another tab that has wiped it. */
const MOST_ASKED = 5;
/** Milliseconds before it is asked again, twice as many each time: nearly five seconds in all. */
const FIRST_WAIT = 150;

const countOn = (device) => Number(device.getItem(COUNT)) || 0;

/** What the tab knows of this page: { kept, asked }. */
function known() {
  const none = { kept: 0, asked: 0 };
  try {
    const { page, kept, asked } = JSON.parse(window.name);
    return page === window.location.pathname ? { kept: Number(kept) || 0, asked: Number(asked) || 0 } : none;
  } catch {
    return none;
  }
}

function know(kept, asked) {
  window.name = JSON.stringify({ page: window.location.pathname, kept, asked });
}

/** Count that one thing more is kept on the device; raises what the device raises. */
export function countKept(device) {
  const count = countOn(device) + 1;
  device.setItem(COUNT, count);
  know(count, 0);
}

/**
 * Milliseconds after which the page is to be loaded once more, since the device hands over less than this tab has kept;
 * null where it does not, was asked often enough, or keeps nothing. A page that is loaded at once finds as little.
 */
export function askAgainAfter(device) {
  if (device === null) return null;
  const count = countOn(device);
  const { kept, asked } = known();
  if (count >= kept) return null;
  const goesOn = asked >= MOST_ASKED;
  know(goesOn ? count : kept, goesOn ? 0 : asked + 1);
  return goesOn ? null : FIRST_WAIT * 2 ** asked;
}
