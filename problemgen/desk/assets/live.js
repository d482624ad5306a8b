// Elements with data-live are brought up to date when the state number grows: a file of the course has changed, or a
// job has gone on, in this tab or another, or from the command line.

const OFTEN = 500; // milliseconds while something is at work
const SELDOM = 1500; // otherwise: a file that was changed outside is seen soon enough

// What the server has said of each live element, to know what has changed: on the page itself it may look otherwise by
// now, for a form in it has been answered, or something has been opened.
const shown = new WeakMap();
for (const one of document.querySelectorAll("[data-live]")) shown.set(one, one.innerHTML);

let number = Number(document.documentElement.dataset.state);
let gone = false;

/** Ask for the state, and bring the page up to date where it has changed. Gives whether work is open. */
export async function look(now = false) {
  const answer = await fetch("/state", { credentials: "same-origin" });
  if (!answer.ok) return false;
  const state = await answer.json();
  if (now || state.number !== number) {
    number = state.number;
    await renew();
  }
  return state.open > 0;
}

/** Load this page again, and take over what is live and has changed. */
async function renew() {
  const answer = await fetch(location.href, { credentials: "same-origin" });
  if (!answer.ok) return;
  const fresh = new DOMParser().parseFromString(await answer.text(), "text/html");
  const before = sayings();
  for (const there of document.querySelectorAll("[data-live]")) takeOver(there, fresh.getElementById(there.id));
  const now = sayings().filter((one) => !before.includes(one)); // what is counted up is seen, and not said each time
  if (now.length > 0) document.getElementById("live").textContent = now.join(" ");
  document.dispatchEvent(new CustomEvent("renewed", { detail: fresh }));
}

const sayings = () => [...document.querySelectorAll("[data-say]")].map((one) => one.dataset.say);

/** What has the focus keeps it, by its id or its place; an element in which somebody is typing is left as it is. */
function takeOver(there, fresh) {
  if (fresh === null || fresh.innerHTML === shown.get(there)) return;
  const focused = there.contains(document.activeElement) ? document.activeElement : null;
  if (focused !== null && focused.matches("input:not([type='checkbox'], [type='radio']), textarea, select")) return;
  const open = new Set([...there.querySelectorAll("details[open][id]")].map((one) => one.id));
  const place = focused === null ? -1 : focusables(there).indexOf(focused);
  if (fresh.innerHTML !== there.innerHTML) there.innerHTML = fresh.innerHTML;
  shown.set(there, fresh.innerHTML);
  for (const one of there.querySelectorAll("details[id]")) if (open.has(one.id)) one.open = true;
  if (place < 0) return;
  const again = (focused.id && document.getElementById(focused.id)) || focusables(there)[place];
  if (again === undefined || again === null) {
    there.tabIndex = -1;
    there.focus();
  } else again.focus();
}

const focusables = (element) => [...element.querySelectorAll("a[href], button, input, select, summary")];

async function watch() {
  let busy = false;
  try {
    busy = document.visibilityState === "visible" && (await look());
    gone = false;
  } catch {
    if (!gone) document.getElementById("live").textContent = document.body.dataset.gone;
    gone = true;
  }
  setTimeout(watch, busy ? OFTEN : SELDOM);
}

setTimeout(watch, OFTEN);
document.addEventListener("visibilitychange", () => {
  if (document.visibilityState === "visible") look().catch(() => {});
});
