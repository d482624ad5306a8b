// The molar mass of a formula as its sum: each element's share, one after the other, and the total.

import { button, make } from "./dom.js";
import { formulaOrNull } from "./formula.js";
import { Rational } from "./rational.js";
import { inDigits, say } from "./text.js";

const FIVE_DECIMALS = 100000n;

/** A sum of atomic weights as it is written, with all its decimals. */
function sumText(value) {
  const scaled = (value.n * FIVE_DECIMALS) / value.d;
  const text = scaled.toString().padStart(6, "0");
  return `${text.slice(0, -5)}.${text.slice(-5)}`.replace(/\.?0+$/, "");
}

/** The shares of a formula: { terms: [{ symbol, atoms, weight, share }], total } as texts; null for what is none. */
export function molarMassOf(text, weights) {
  const counts = formulaOrNull(text)?.counts ?? [];
  if (!counts.length || counts.some(([symbol]) => !weights.has(symbol))) return null;
  let total = new Rational(0n);
  const terms = counts.map(([symbol, atoms]) => {
    const weight = weights.get(symbol);
    const share = weight.times(new Rational(BigInt(atoms)));
    total = total.plus(share);
    return { symbol, atoms, weight: sumText(weight), share: sumText(share) };
  });
  return { terms, total: sumText(total) };
}

/** The formulas that stand in an element of the page, each once, with where they stand. */
export function formulasIn(element, weights) {
  const found = new Map();
  for (const place of element.querySelectorAll(".whole")) {
    const text = place.textContent.trim();
    if (place.querySelector("i") || text.length < 2 || !molarMassOf(text, weights)) continue;
    found.set(text, [...(found.get(text) ?? []), place]);
  }
  return found;
}

/** Molar masses: the problem's formulas to choose from, or any other; `chosen` is added up at once. */
export function molarMassView({ formulas, chosen, weights, onTake }) {
  const told = make("div", { class: "sum-of-weights", role: "status" });
  const input = make("input", {
    type: "text",
    id: "formula",
    autocomplete: "off",
    autocapitalize: "off",
    spellcheck: "false",
    dir: "ltr",
  });
  const show = (text) => {
    const sum = molarMassOf(text, weights);
    told.replaceChildren(...(sum ? shares(text, sum, onTake) : [say("calculator.formula", { found: text })]));
  };
  const add = (event) => {
    event.preventDefault();
    if (input.value.trim()) show(input.value.trim());
  };
  if (chosen) show(chosen);
  return make(
    "form",
    { class: "molar-mass", onsubmit: add },
    make("h3", {}, say("molarmass.title")),
    formulas.length ? make("p", { class: "quiet" }, say("molarmass.how")) : null,
    make(
      "div",
      { class: "actions", dir: "ltr" },
      formulas.map((text) => button(text, () => show(text))),
    ),
    make(
      "div",
      { class: "entry" },
      make("label", { for: "formula" }, say("molarmass.formula")),
      input,
      make("button", { type: "submit" }, say("molarmass.add")),
    ),
    told,
  );
}

function shares(text, { terms, total }, onTake) {
  const line = ({ symbol, atoms, weight, share }) =>
    make("li", {}, inDigits(`${symbol}: ${atoms} × ${weight} = ${share}`));
  return [
    make("ul", { class: "shares", dir: "ltr" }, terms.map(line)),
    make("p", { class: "result", dir: "ltr" }, inDigits(`M(${text}) = ${total} g/mol`)),
    button(say("answer.take"), () => onTake(inDigits(`${total} g/mol`))),
  ];
}
