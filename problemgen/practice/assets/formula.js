// Chemical formulas and equations, read strictly, by the grammar of the instructor's program.

import { ELEMENT_SYMBOLS } from "./elements.js";

/** A text that is no formula, or no equation. */
export class NotationError extends Error {}

const LONGEST_FORMULA = 200;
const SUBSCRIPT_SIGNS = "₀₁₂₃₄₅₆₇₈₉";
const SUPERSCRIPT_SIGNS = "⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻";
const CLOSING = { "(": ")", "[": "]" };
const READ_FORMULAS = new Map();

/** The characters in their plain form. */
function inAscii(text) {
  const characters = [...text];
  let plain = "";
  characters.forEach((written, place) => {
    const raised = SUPERSCRIPT_SIGNS.indexOf(written);
    if (raised >= 0 && !(place > 0 && SUPERSCRIPT_SIGNS.includes(characters[place - 1]))) plain += "^";
    if (raised >= 0) plain += "0123456789+-"[raised];
    else if (SUBSCRIPT_SIGNS.includes(written)) plain += String(SUBSCRIPT_SIGNS.indexOf(written));
    else if ("·⋅•*".includes(written)) plain += ".";
    else plain += "−–".includes(written) ? "-" : written;
  });
  return plain;
}

const refuse = (reason) => {
  throw new NotationError(reason);
};

class FormulaSource {
  constructor(text) {
    if ([...text].length > LONGEST_FORMULA) refuse("too long");
    let plain = pythonStrip(inAscii(text));
    if (!plain) refuse("nothing is written");
    const state = plain.match(/ ?\((s|l|g|aq)\)$/);
    this.state = state ? state[1] : null;
    if (state) plain = plain.slice(0, state.index);
    this.plain = plain.replace(/ *\.( *[0-9]+)? */g, (dot) => dot.replace(/ /g, ""));
    this.at = 0;
  }

  get here() {
    return this.plain[this.at] ?? "";
  }

  count() {
    const figures = this.plain.slice(this.at).match(/^[0-9]*/)[0];
    if (figures.startsWith("0") || figures === "1" || figures.length > 4) refuse("a count is 2 to 9999");
    this.at += figures.length;
    return [figures, figures ? Number(figures) : 1];
  }

  units() {
    const levels = [[]];
    const opened = [];
    for (;;) {
      if (this.here in CLOSING && this.here) {
        opened.push(this.here);
        levels.push([]);
        this.at += 1;
      } else if (this.here === ")" || this.here === "]") {
        if (!opened.length || CLOSING[opened.pop()] !== this.here || !levels.at(-1).length) refuse("brackets");
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
    const symbol = [two, this.here].find((one) => ELEMENT_SYMBOLS.has(one));
    if (!symbol || /\p{Ll}/u.test(this.plain[this.at + symbol.length] ?? "")) refuse("no element's symbol");
    this.at += symbol.length;
    const [figures, count] = this.count();
    return { counts: [[symbol, count]], bracket: "", figures };
  }

  charge(units) {
    const match = this.plain.slice(this.at).match(/^(\^?)([0-9]*)([+-])/);
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

function parsedFormula(text) {
  const source = new FormulaSource(text);
  if (source.plain.startsWith("e")) {
    if (!["e-", "e^-"].includes(source.plain)) refuse("the electron is written e-");
    return { text: "e-", counts: [], charge: -1, state: source.state, waters: 0 };
  }
  const units = source.units();
  const body = source.plain.slice(0, source.at);
  if (["^", "+", "-"].includes(source.here)) {
    const charge = source.charge(units);
    return { text: body + chargeText(charge, units), counts: summed(units), charge, state: source.state, waters: 0 };
  }
  let [counts, waters, tail] = [summed(units), 0, ""];
  while (source.here === ".") {
    source.at += 1;
    const [, multiple] = source.count();
    const start = source.at;
    const added = summed(source.units());
    if (added.length === 2 && added.every(([s, n]) => (s === "H" && n === 2) || (s === "O" && n === 1)))
      waters += multiple;
    counts = mergedCounts([...counts, ...added.map(([symbol, count]) => [symbol, count * multiple])]);
    tail += `.${multiple > 1 ? multiple : ""}${source.plain.slice(start, source.at)}`;
  }
  if (source.at < source.plain.length) refuse("something does not belong here");
  return { text: body + tail, counts, charge: 0, state: source.state, waters };
}

/** Read a formula: { text, counts: [[symbol, atoms]], charge, state, waters }. A NotationError for other text. */
export function readFormulaText(text) {
  if (!READ_FORMULAS.has(text)) {
    if (READ_FORMULAS.size > 2000) READ_FORMULAS.clear();
    try {
      READ_FORMULAS.set(text, parsedFormula(text));
    } catch (error) {
      if (!(error instanceof NotationError)) throw error;
      READ_FORMULAS.set(text, error);
    }
  }
  const found = READ_FORMULAS.get(text);
  if (found instanceof NotationError) throw found;
  return found;
}

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

const PYTHON_SPACES = "\\t-\\r\\x1c-\\x20\\x85\\xa0\\u1680\\u2000-\\u200a\\u2028\\u2029\\u202f\\u205f\\u3000";
const OUTER_SPACES = new RegExp(`^[${PYTHON_SPACES}]+|[${PYTHON_SPACES}]+$`, "g");

/** A text without the spaces round it; what counts as a space is the same in the instructor's program. */
export function pythonStrip(text) {
  return text.replace(OUTER_SPACES, "");
}
