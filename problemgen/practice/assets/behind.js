// A browser may hand a page that is loaded again what it kept a moment before (Chromium does, about once in a hundred
// reloads that follow a change at once), and what the page writes then would stand over what was kept. So each tab
// counts what is kept: where the device has counted less, the page is loaded once more before anything is written.

const COUNT = "problemgen kept";

const countIn = (storage) => Number(storage.getItem(COUNT)) || 0;

/** Count that one thing more is kept on the device. */
export function countKept(device) {
  try {
    const count = countIn(device) + 1;
    device.setItem(COUNT, count);
    window.sessionStorage.setItem(COUNT, count);
  } catch {
    // Where the tab keeps nothing, nobody can tell; what was kept stays kept.
  }
}

/** Whether the device hands over less than this tab has kept; asked once, as another tab may have wiped it. */
export function isBehind(device) {
  try {
    const count = countIn(device);
    if (count >= countIn(window.sessionStorage)) return false;
    window.sessionStorage.setItem(COUNT, count);
    return true;
  } catch {
    return false;
  }
}
