// The periodic table of the atomic weights in use. One element at a time takes the keyboard; the arrows move.

import { make } from "./dom.js";
import { inDigits, say } from "./text.js";

// Each of these begins a series of fifteen, which stands below the table.
const LANTHANUM = 57;
const ACTINIUM = 89;
const SERIES = 15;
const NOBLE = [2, 10, 18, 36, 54, 86, 118];

/** Row and column of an element, by its number; lanthanoids and actinoids stand in rows 9 and 10. */
function placeOf(number) {
  if (number >= LANTHANUM && number < LANTHANUM + SERIES) return [9, number - LANTHANUM + 3];
  if (number >= ACTINIUM && number < ACTINIUM + SERIES) return [10, number - ACTINIUM + 3];
  const period = NOBLE.findIndex((noble) => number <= noble) + 1;
  const fromEnd = NOBLE[period - 1] - number;
  const first = period === 1 ? 1 : NOBLE[period - 2] + 1;
  const fromStart = number - first;
  const inFront = period === 1 ? 1 : 2;
  return [period, fromStart < inFront ? fromStart + 1 : 18 - fromEnd];
}

/** Where the arrow keys lead: the nearest element in that direction; the present one at the edge. */
function neighbour(elements, present, key) {
  const [row, column] = placeOf(present.number);
  const steps = { ArrowLeft: [0, -1], ArrowRight: [0, 1], ArrowUp: [-1, 0], ArrowDown: [1, 0] }[key];
  if (!steps) return present;
  const inLine = (other) => {
    const [r, c] = placeOf(other.number);
    return steps[0] ? c === column && (r - row) * steps[0] > 0 : r === row && (c - column) * steps[1] > 0;
  };
  const distance = (other) => Math.abs(placeOf(other.number)[0] - row) + Math.abs(placeOf(other.number)[1] - column);
  return elements.filter(inLine).sort((a, b) => distance(a) - distance(b))[0] ?? present;
}

const toldOf = (one) =>
  say(one.weight ? "elements.told" : "elements.unweighed", {
    name: one.name,
    symbol: one.symbol,
    weight: `${one.weight} g/mol`,
  });

/**
 * The table: `elements` are { number, symbol, name, weight }, `edition` is the table of weights in use; `own` are the
 * symbols of the problem's elements, which stand first.
 */
export function elementsView(elements, edition, own) {
  const told = make("p", { role: "status", class: "result" });
  const cells = new Map();
  const select = (one) => {
    cells.forEach((cell, number) => {
      cell.tabIndex = number === one.number ? 0 : -1;
      if (number === one.number) cell.setAttribute("aria-current", "true");
      else cell.removeAttribute("aria-current");
    });
    told.textContent = toldOf(one);
  };
  const move = (one) => (event) => {
    const next = neighbour(elements, one, event.key);
    if (next === one) return;
    event.preventDefault();
    select(next);
    cells.get(next.number).focus();
  };
  for (const one of elements)
    cells.set(
      one.number,
      elementCell(one, () => select(one), move(one)),
    );
  cells.get(1).tabIndex = 0;
  return make(
    "div",
    {},
    ownElements(elements, own),
    told,
    make(
      "div",
      { class: "scroller" },
      make(
        "ul",
        { class: "elements", "aria-label": say("elements.title") },
        [...cells.values()].map((cell) => inPlace(cell)),
      ),
    ),
    make("p", { class: "quiet" }, say("elements.note", { edition })),
  );
}

/** The elements of the problem with their weights, so that nobody has to look for them. */
function ownElements(elements, own) {
  const met = elements.filter(({ symbol, weight }) => weight && own.includes(symbol));
  if (!met.length) return null;
  return make(
    "ul",
    { class: "own-elements", "aria-label": say("elements.own") },
    met.map(({ symbol, weight }) => make("li", {}, make("strong", {}, symbol), ` ${inDigits(weight)}`)),
  );
}

function inPlace(cell) {
  const [row, column] = placeOf(Number(cell.dataset.number));
  const item = make("li", {}, cell);
  item.style.gridRow = String(row);
  item.style.gridColumn = String(column);
  return item;
}

function elementCell(one, onclick, onkeydown) {
  const label = toldOf(one);
  return make(
    "button",
    { type: "button", tabindex: -1, "data-number": one.number, "aria-label": label, onclick, onkeydown },
    make("span", { class: "number", "aria-hidden": "true" }, String(one.number)),
    make("span", { class: "symbol", "aria-hidden": "true" }, one.symbol),
    make("span", { class: "weight", "aria-hidden": "true" }, inDigits(one.weight)),
  );
}
