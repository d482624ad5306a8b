// What the page says: one catalogue a language, no sentence in the code.

let catalogue = {};

/** Take the catalogue of a language: keys to sentences with {names} to fill in. */
export function useCatalogue(sentences) {
  catalogue = sentences;
}

/** A sentence. Where `values.count` is given, the key with ".one" is taken for 1 where there is one. */
export function say(key, values = {}) {
  const single = values.count === 1 && `${key}.one` in catalogue;
  const sentence = catalogue[single ? `${key}.one` : key];
  if (sentence === undefined) throw new ReferenceError(`no text for ${key}`);
  return sentence.replace(/\{(\w+)\}/g, (_, name) => String(values[name]));
}

/** Whether the catalogue has a sentence of that key. */
export const canSay = (key) => key in catalogue;

/** A topic as the catalogue calls it; a topic that it does not know as its author does. */
export const topicText = (topic) => (canSay(`topic.${topic}`) ? say(`topic.${topic}`) : topic);
