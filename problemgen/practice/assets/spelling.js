// Characters as people type and paste them, brought to the plain ones that the readers look at.

import { rules } from "./rules.js";
import { withoutSpaces } from "./strings.js";

/** The value of a decimal digit of any script: digits come in runs of ten. */
function digitValue(digit) {
  let code = digit.codePointAt(0);
  let below = 0;
  while (/^\p{Nd}$/u.test(String.fromCodePoint(code - 1))) {
    code -= 1;
    below += 1;
  }
  return String(below % 10);
}

/** An answer in plain characters, without spaces or quotation marks round it. */
export function plainCharacters(text) {
  const { one_for_one, raised, raised_run, other_digit, arrow, bracketed_power, quotes } = rules.spelling;
  let plain = [...text].map((character) => one_for_one.get(character) ?? character).join("");
  plain = other_digit.sub(digitValue, plain);
  plain = raised_run.sub((run) => `^${[...run].map((sign) => raised.get(sign)).join("")}`, plain);
  plain = arrow.sub("=", plain).replaceAll("**", "^").replaceAll("^^", "^");
  plain = withoutSpaces(bracketed_power.sub((_, round, curly) => `^${round || curly}`, plain));
  const quoted = quotes.match(plain);
  return quoted ? withoutSpaces(quoted[1] || quoted[2] || "") : plain;
}

/** Whether an answer has more characters than are read. */
export const isTooLong = (text) => [...text].length > rules.spelling.longest;

/** Whether plain text says that nothing was answered: empty, a dash, a question mark, "n/a". */
export function isBlank(plain) {
  const { nothing, no_answer } = rules.spelling;
  return [...plain].every((sign) => sign === " " || nothing.has(sign)) || no_answer.has(plain.toLowerCase());
}

/** A formula with the usual abbreviations of organic groups written out: "(C6H5)3COH" for "Ph3COH". */
export function groupsWrittenOut(formula) {
  const { group, groups } = rules.spelling;
  return group.sub((found) => (groups.has(found) ? `(${groups.get(found)})` : found), formula);
}
