// A strip of answers: one stop of the Tab key; the arrow keys go from mark to mark, in the order of their places.

const strip = () => document.querySelector(".high");
const marks = () => [...strip().querySelectorAll("a")];

/** Let one mark be reached by the Tab key: the one that is shown, or else the first. */
function enter() {
  if (strip() === null) return;
  const all = marks();
  const first = all.find((one) => one.hasAttribute("aria-current")) ?? all[0];
  first?.setAttribute("tabindex", "0");
}

function go(from, to) {
  from.setAttribute("tabindex", "-1");
  to.setAttribute("tabindex", "0");
  to.focus();
}

document.addEventListener("keydown", (event) => {
  const here = event.target.closest?.(".high a");
  if (here === null || here === undefined) return;
  const all = marks();
  const place = all.indexOf(here);
  const aim = { ArrowRight: place + 1, ArrowUp: place + 1, ArrowLeft: place - 1, ArrowDown: place - 1, Home: 0 };
  const to = event.key === "End" ? all.length - 1 : aim[event.key];
  if (to === undefined) return;
  event.preventDefault();
  if (all[to] !== undefined) go(here, all[to]);
});

document.addEventListener("renewed", enter);
enter();
