// The words that may stand beside a number and its unit, all listed, as the instructor's program reads them.

import { formulaOrNull } from "./formula.js";
import { rules } from "./rules.js";
import { groupsWrittenOut } from "./spelling.js";
import { stripped } from "./strings.js";

const isAlpha = (text) => /^\p{L}+$/u.test(text);

/** A text without the marks that say nothing round it. */
export const withoutMarks = (text, more = "") => stripped(text, rules.words.punctuation + more);

/** The elements of a formula; none if the text is no formula. */
export function elementsIn(text) {
  const formula = formulaOrNull(groupsWrittenOut(text));
  if (!formula) return [];
  return formula.counts.length ? formula.counts.map(([symbol]) => symbol) : ["e"];
}

/** Whether words without marks round them can all be passed over; one behind "of" may be unknown. */
export function areNames(words) {
  const last = words.at(-1);
  if (words.length && rules.words.announcing.has(last.toLowerCase()) && !elementsIn(last).length) return false;
  return words.every((word, place) => isKnown(word) || isAnnounced(words, place));
}

function isAnnounced(words, place) {
  const { articles, leads_to_substance, meaning } = rules.words;
  let before = place - 1;
  while (before > 0 && articles.has(words[before].toLowerCase())) before -= 1;
  const word = words[place];
  return before >= 0 && leads_to_substance.has(words[before]) && isAlpha(word) && !meaning.has(word.toLowerCase());
}

/** Whether a word is listed, a formula, or the name of a substance. */
export function isKnown(word) {
  const { by_mass, listed, locant, pieces } = rules.words;
  const bare = withoutMarks(word, "()[]'");
  if (!bare) return !withoutMarks(word);
  if (listed.has(bare.toLowerCase()) || by_mass.has(bare)) return true;
  if (elementsIn(word).length || elementsIn(bare).length) return true;
  const found = pieces.split(withoutMarks(word)).filter(Boolean);
  const named = found.filter((piece) => !locant.fullmatch(piece));
  if (!named.length || /\p{Nd}$/u.test(found.at(-1))) return false;
  const isNamed = (piece) => listed.has(piece.toLowerCase()) || isName(piece.toLowerCase());
  if (named.every((piece) => isNamed(piece) || elementsIn(piece).length)) return true;
  return isName(named.join("").toLowerCase());
}

/** Whether a word in small letters is an element, or stems and endings of chemical names in a row. */
function isName(word) {
  const { element_names, endings, longest_piece, longest_word, stems } = rules.words;
  if (element_names.has(word)) return true;
  if (word.length > longest_word) return false;
  const reached = new Set([0]);
  const ended = new Set();
  for (let start = 0; start < word.length; start += 1) {
    if (!reached.has(start)) continue;
    for (let end = start + 2; end <= Math.min(start + longest_piece, word.length); end += 1) {
      const piece = word.slice(start, end);
      const ends = start > 0 && endings.has(piece);
      if (ends || stems.has(piece)) reached.add(end);
      if (ends) ended.add(end);
    }
  }
  return ended.has(word.length);
}
