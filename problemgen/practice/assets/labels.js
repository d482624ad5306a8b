// What stands beside a number and only says what it is: a symbol, a name, and perhaps the unit that it is in.

import { rules } from "./rules.js";
import { isSpelling } from "./units.js";
import { areNames, elementsIn, isKnown, withoutMarks } from "./words.js";
import { NOTHING_BEHIND, hidesNumber, unitAndNames, worded, writtenUnit } from "./written_units.js";

/** What a text without a number of its own says: { unit, mended }, the unit null for none; null if it is not understood. */
export function readLabel(label, asked) {
  const { decimal, naming, no_labels, phrases, shape, symbols_too, underscore } = rules.labels;
  if (no_labels.has(label.toLowerCase())) return null;
  if (!shape.fullmatch(label) || !naming.search(label) || hidesNumber(label) || decimal.search(label)) return null;
  const text = phrases.sub("", withoutState(worded(underscore.sub(" ", withoutMarks(label)))));
  if (!text) return NOTHING_BEHIND;
  for (const [head, written] of splitsOf(text)) {
    const found = unitOf(written, asked);
    if (found && !isSubstanceOf(head, written, found, asked) && (!head || isHead(head))) return found;
  }
  if (isRatio(text, asked)) return null;
  const named = unitAndNames(text);
  if (named.length && !symbols_too.has(text) && unitOf(text.split(" ")[0], asked)) return named.at(-1);
  return isHead(text) ? NOTHING_BEHIND : null;
}

/** Whether a text relates two quantities of a kind, and that is not what is asked for. */
export const isRatio = (text, asked) => Boolean(asked.dimension) && Boolean(rules.labels.ratio.fullmatch(text));

/** A label without the state of a substance: "n(CO2(g))", "n(H2O)(l)". */
function withoutState(text) {
  const state = rules.labels.state.search(text);
  if (!state || rules.labels.unit_not_state.has([...text][0] + state[2])) return text;
  const formula = state[1].replace(/^[()]+|[()]+$/g, "");
  if (formula.length === 1 || !elementsIn(formula).length) return text;
  return text.slice(0, state.index + state[1].length) + text.slice(state.index + state[0].length);
}

function* splitsOf(text) {
  const { last_bracket, last_words, most_unit_words, over } = rules.labels;
  yield ["", text];
  for (const pattern of [last_bracket, rules.labels.in]) {
    const match = pattern.fullmatch(text);
    if (match) yield [withoutMarks(match[1] ?? ""), match[2]];
  }
  for (const gap of last_words.all(text).slice(-most_unit_words)) {
    yield [text.slice(0, gap.index), text.slice(gap.index + gap[0].length)];
  }
  const divided = over.fullmatch(text);
  if (divided) yield [divided[1], divided[2] || divided[3]];
}

function unitOf(written, asked) {
  const found = writtenUnit(written);
  if (!found) return null;
  const isSymbolToo = rules.labels.symbols_too.has(written.split("/")[0].trim());
  return isSymbolToo && found.unit.dimension !== asked.dimension ? null : found;
}

const isSubstanceOf = (head, written, { unit }, asked) =>
  Boolean(head) && elementsIn(written).length > 0 && unit.dimension !== asked.dimension;

function isHead(text) {
  const words = rules.labels.separators.split(text).filter(Boolean);
  if (!words.length) return false;
  if (areNames(words) && !words.some(isHiddenUnit)) return true;
  const { gap, symbol, symbol_among_words } = rules.labels;
  const pattern = gap.search(text) ? symbol_among_words : symbol;
  return words.every((word) => isSymbol(word, pattern) || (isKnown(word) && !isHiddenUnit(word)));
}

const isHiddenUnit = (word) => isSpelling(word) && !elementsIn(word).length && !isKnown(word);

function isFolded(word) {
  const { folded, folded_spellings } = rules.written_units;
  const small = word.toLowerCase();
  return word.length > 1 && (folded.has(small) || folded_spellings.has(small));
}

function isSymbol(word, pattern) {
  const { figures, no_symbols, symbol_of, symbols_too } = rules.labels;
  if (no_symbols.has(word.toLowerCase())) return false;
  if (figures.fullmatch(word)) return true;
  if (pattern.fullmatch(word)) return !(isSpelling(word) || isFolded(word)) || symbols_too.has(word);
  const bare = word.replace(/^[0-9]+/, "");
  if (bare !== word) return isKnown(bare);
  const before = symbol_of.match(word);
  return Boolean(before) && isKnown(word.slice(before[0].length));
}
