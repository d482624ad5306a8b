// Chemical equations: reading, what does not balance, comparing.

import { NotationError, readFormulaText, withState } from "./formula.js";
import { rules } from "./rules.js";
import { withoutSpaces } from "./strings.js";

/** What an imbalance of charge is called among elements. */
export const CHARGE = "charge";

function readTerm(part) {
  const { fraction, term, greatest_coefficient } = rules.equation;
  const written = withoutSpaces(part);
  if (!written) throw new NotationError("a term is missing");
  if (fraction.match(written)) throw new NotationError("coefficients are whole numbers");
  const [, number, formula] = term.match(written);
  if (number.startsWith("0") || number.length > String(greatest_coefficient).length)
    throw new NotationError("a coefficient is from 1 on");
  return { coefficient: Number(number || "1"), formula: readFormulaText(formula) };
}

function readSide(side) {
  const terms = rules.equation.plus.split(side).map(readTerm);
  const species = terms.map((term) => withState(term.formula));
  if (new Set(species).size < species.length) throw new NotationError("a species stands twice");
  return terms;
}

/** Read an equation, balanced or not: { left, right }. A NotationError for other text. */
export function readEquationText(text) {
  const { longest, arrow, most_terms } = rules.equation;
  if ([...text].length > longest) throw new NotationError("too long");
  const sides = arrow.split(text);
  if (sides.length !== 2) throw new NotationError("one arrow");
  const [left, right] = sides.map(readSide);
  if (left.length + right.length > most_terms) throw new NotationError("too many terms");
  return { left, right };
}

const termText = ({ coefficient, formula }) => (coefficient > 1 ? `${coefficient} ` : "") + withState(formula);

export const equationText = ({ left, right }) =>
  [left, right].map((side) => side.map(termText).join(" + ")).join(" -> ");

function totalsOf(terms) {
  const total = new Map([[CHARGE, 0]]);
  for (const { coefficient, formula } of terms) {
    for (const [key, count] of [...formula.counts, [CHARGE, formula.charge]]) {
      total.set(key, (total.get(key) ?? 0) + count * coefficient);
    }
  }
  return total;
}

/** The elements, or CHARGE, that do not balance. */
export function imbalanceOf({ left, right }) {
  const [before, after] = [totalsOf(left), totalsOf(right)];
  return [...new Set([...before.keys(), ...after.keys()])].filter(
    (key) => (before.get(key) ?? 0) !== (after.get(key) ?? 0),
  );
}

function amountsOf(equation, states) {
  const amounts = new Map();
  for (const side of ["left", "right"]) {
    for (const { coefficient, formula } of equation[side]) {
      const key = `${side} ${states ? withState(formula) : formula.text}`;
      amounts.set(key, (amounts.get(key) ?? 0) + coefficient);
    }
  }
  return amounts;
}

/** Whether two equations say the same: the same species on each side in the same proportions. */
export function sameEquations(first, second) {
  const terms = [...first.left, ...first.right, ...second.left, ...second.right];
  const states = terms.every((term) => term.formula.state);
  const [a, b] = [amountsOf(first, states), amountsOf(second, states)];
  if (a.size !== b.size || [...a.keys()].some((key) => !b.has(key))) return false;
  const [key] = a.keys();
  return [...a.keys()].every((other) => a.get(other) * b.get(key) === b.get(other) * a.get(key));
}
