// What the page says: one language a file, no sentence in the code.

let words = {};
let decimalMark = ".";
let isolates = (text) => text;
let pluralOf = () => "other";
let listOf = (texts) => texts.join(", ");

/**
 * Take what the page says: keys to sentences with {names} to fill in, or to one sentence for each plural category; with
 * the decimal mark, the direction and the locale of its language.
 */
export function useWords({ words: own, decimal_mark: mark, direction, locale }) {
  const [plurals, lists] = [new Intl.PluralRules(locale), new Intl.ListFormat(locale)];
  words = own;
  decimalMark = mark;
  // In a line from right to left, Unicode's FIRST STRONG ISOLATE keeps "2.5 g" from being turned round.
  isolates = direction === "rtl" ? (text) => `\u2068${text}\u2069` : (text) => text;
  pluralOf = (count) => plurals.select(count);
  listOf = (texts) => lists.format(texts);
}

/** A number that the program wrote, with the mark of the language. */
export const inDigits = (text) => String(text).replace(/(\d)\.(?=\d)/g, `$1${decimalMark}`);

/** What is filled in that the program wrote as a number. */
const WRITTEN_NUMBERS = new Set(["read", "value", "weight", "grouped", "divided"]);

function filledIn(name, value) {
  if (Array.isArray(value)) return listOf(value.map(isolates));
  return isolates(WRITTEN_NUMBERS.has(name) ? inDigits(value) : String(value));
}

/** A sentence. Of one that goes with a number, `values.n`, the form for that number. */
export function say(key, values = {}) {
  const said = words[key];
  if (said === undefined) throw new ReferenceError(`no text for ${key}`);
  const sentence = typeof said === "string" ? said : (said[pluralOf(values.n)] ?? said.other);
  return sentence.replace(/\{(\w+)\}/g, (_, name) => filledIn(name, values[name]));
}

/** Whether there is a sentence of that key. */
export const canSay = (key) => key in words;
