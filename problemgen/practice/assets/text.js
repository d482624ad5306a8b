// What the page says: one language a file, no sentence in the code.

let sentences = {};
let decimalMark = ".";

/** Take what the page says, keys to sentences with {names} to fill in, and the decimal mark of its language. */
export function useWords(words, mark) {
  sentences = words;
  decimalMark = mark;
}

/** A number that the program wrote, with the mark of the language. */
export const inDigits = (text) => String(text).replace(/(\d)\.(?=\d)/g, `$1${decimalMark}`);

/** What is filled in that the program wrote as a number. */
const WRITTEN_NUMBERS = new Set(["read", "value", "weight"]);

/** A sentence. Where `values.count` is given, the key with ".one" is taken for 1 where there is one. */
export function say(key, values = {}) {
  const single = values.count === 1 && `${key}.one` in sentences;
  const sentence = sentences[single ? `${key}.one` : key];
  if (sentence === undefined) throw new ReferenceError(`no text for ${key}`);
  return sentence.replace(/\{(\w+)\}/g, (_, name) =>
    WRITTEN_NUMBERS.has(name) ? inDigits(values[name]) : String(values[name]),
  );
}

/** Whether there is a sentence of that key. */
export const canSay = (key) => key in sentences;
