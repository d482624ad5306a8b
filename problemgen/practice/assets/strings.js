// Texts without what stands round them.

import { rules } from "./rules.js";

/** A text without the spaces round it; what counts as a space is the same in the instructor's program. */
export const withoutSpaces = (text) => rules.spelling.outer_spaces.sub("", text);

/** A text without the marks at its start. */
export function strippedLeft(text, marks) {
  let start = 0;
  while (start < text.length && marks.includes(text[start])) start += 1;
  return text.slice(start);
}

/** A text without the marks at its end. */
export function strippedRight(text, marks) {
  let end = text.length;
  while (end && marks.includes(text[end - 1])) end -= 1;
  return text.slice(0, end);
}

export const stripped = (text, marks) => strippedLeft(strippedRight(text, marks), marks);
