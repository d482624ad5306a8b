// Chemical formulas and equations, read strictly, by the grammar of the instructor's program.

import { keeping } from "./keeping.js";
import { rules } from "./rules.js";
import { withoutSpaces } from "./strings.js";

/** A text that is no formula, or no equation. */
export class NotationError extends Error {}

/** The characters in their plain form. */
function inAscii(text) {
  const { superscripts, one_for_one } = rules.formula;
  const characters = [...text];
  let plain = "";
  characters.forEach((written, place) => {
    if (superscripts.has(written) && !superscripts.has(characters[place - 1])) plain += "^";
    plain += superscripts.get(written) ?? one_for_one.get(written) ?? written;
  });
  return plain;
}

const refuse = (reason) => {
  throw new NotationError(reason);
};

class FormulaSource {
  constructor(text) {
    if ([...text].length > rules.formula.longest) refuse("too long");
    let plain = withoutSpaces(inAscii(text));
    if (!plain) refuse("nothing is written");
    const state = rules.formula.state.search(plain);
    this.state = state ? state[1] : null;
    if (state) plain = plain.slice(0, state.index);
    this.plain = rules.formula.dot.sub((dot) => dot.replaceAll(" ", ""), plain);
    this.at = 0;
  }

  get here() {
    return this.plain[this.at] ?? "";
  }

  count() {
    const [figures] = rules.formula.count.match(this.plain, this.at);
    const most = String(rules.formula.greatest_count).length;
    if (figures.startsWith("0") || figures === "1" || figures.length > most) refuse("a count is 2 or more");
    this.at += figures.length;
    return [figures, figures ? Number(figures) : 1];
  }

  units() {
    const { closing } = rules.formula;
    const levels = [[]];
    const opened = [];
    for (;;) {
      if (closing.has(this.here)) {
        opened.push(this.here);
        levels.push([]);
        this.at += 1;
      } else if (this.here === ")" || this.here === "]") {
        if (!opened.length || closing.get(opened.pop()) !== this.here || !levels.at(-1).length) refuse("brackets");
        this.closeBracket(levels);
      } else if (/\p{L}/u.test(this.here)) levels.at(-1).push(this.atom());
      else break;
    }
    if (opened.length || !levels[0].length) refuse("an element's symbol is expected");
    return levels[0];
  }

  closeBracket(levels) {
    const inner = summed(levels.pop());
    const bracket = this.here;
    this.at += 1;
    const [figures, count] = this.count();
    levels.at(-1).push({ counts: inner.map(([symbol, number]) => [symbol, number * count]), bracket, figures });
  }

  atom() {
    const two = this.plain.slice(this.at, this.at + 2);
    const symbol = [two, this.here].find((one) => rules.formula.elements.has(one));
    if (!symbol || /\p{Ll}/u.test(this.plain[this.at + symbol.length] ?? "")) refuse("no element's symbol");
    this.at += symbol.length;
    const [figures, count] = this.count();
    return { counts: [[symbol, count]], bracket: "", figures };
  }

  charge(units) {
    const match = rules.formula.charge.match(this.plain, this.at);
    if (!match || this.at + match[0].length < this.plain.length) refuse("a charge");
    if (!match[1] && mayBeCharge(units)) refuse("the charge can be misread");
    this.at += match[1].length;
    const size = match[2] ? this.count()[1] : 1;
    return match[3] === "+" ? size : -size;
  }
}

function mergedCounts(pairs) {
  const total = new Map();
  for (const [symbol, count] of pairs) total.set(symbol, (total.get(symbol) ?? 0) + count);
  return [...total];
}

const summed = (units) => mergedCounts(units.flatMap((unit) => unit.counts));

function mayBeCharge(units) {
  const last = units.at(-1);
  return Boolean(last.figures) && (units.length === 1 || last.figures.length > 1 || last.bracket === "]");
}

function chargeText(charge, units) {
  const sign = charge > 0 ? "+" : "-";
  if (Math.abs(charge) > 1) return `^${Math.abs(charge)}${sign}`;
  return mayBeCharge(units) ? `^${sign}` : sign;
}

function isWater(counts) {
  const { water } = rules.formula;
  return counts.length === water.length && water.every(([s, n]) => counts.some(([t, m]) => s === t && n === m));
}

function parsedFormula(text) {
  const source = new FormulaSource(text);
  if (source.plain.startsWith("e")) {
    if (!["e-", "e^-"].includes(source.plain)) refuse("the electron is written e-");
    return { text: "e-", counts: [], charge: -1, state: source.state, crystalWater: 0 };
  }
  const units = source.units();
  const body = source.plain.slice(0, source.at);
  if (["^", "+", "-"].includes(source.here)) {
    const charge = source.charge(units);
    return {
      text: body + chargeText(charge, units),
      counts: summed(units),
      charge,
      state: source.state,
      crystalWater: 0,
    };
  }
  let [counts, crystalWater, tail] = [summed(units), 0, ""];
  while (source.here === ".") {
    source.at += 1;
    const [, multiple] = source.count();
    const start = source.at;
    const added = summed(source.units());
    if (isWater(added)) crystalWater += multiple;
    counts = mergedCounts([...counts, ...added.map(([symbol, count]) => [symbol, count * multiple])]);
    tail += `.${multiple > 1 ? multiple : ""}${source.plain.slice(start, source.at)}`;
  }
  if (source.at < source.plain.length) refuse("something does not belong here");
  return { text: body + tail, counts, charge: 0, state: source.state, crystalWater };
}

/** Read a formula: { text, counts: [[symbol, atoms]], charge, state, crystalWater }. A NotationError for other text. */
export const readFormulaText = keeping(parsedFormula, NotationError);

/** A formula, or null for text that is none. */
export function formulaOrNull(text) {
  try {
    return readFormulaText(text);
  } catch (error) {
    if (error instanceof NotationError) return null;
    throw error;
  }
}

export const withState = (formula) => (formula.state ? `${formula.text}(${formula.state})` : formula.text);
