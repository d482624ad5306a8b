// Characters as people type and paste them, brought to the plain ones that the readers look at.

import { pythonStrip } from "./formula.js";

/** The longest answer that is read, in characters. */
export const LONGEST_ANSWER = 200;
/** What every no-break or thin space becomes. */
export const NARROW = "\u00a0";

const MINUSES = "‐‑‒–—―−﹣－";
const RAISED_SIGNS = "⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻";
const VULGAR = {
  "¼": "1/4",
  "½": "1/2",
  "¾": "3/4",
  "⅐": "1/7",
  "⅑": "1/9",
  "⅒": "1/10",
  "⅓": "1/3",
  "⅔": "2/3",
  "⅕": "1/5",
  "⅖": "2/5",
  "⅗": "3/5",
  "⅘": "4/5",
  "⅙": "1/6",
  "⅚": "5/6",
  "⅛": "1/8",
  "⅜": "3/8",
  "⅝": "5/8",
  "⅞": "7/8",
};

function replacementOf(character) {
  const code = character.codePointAt(0);
  if (character in VULGAR) return ` ${VULGAR[character]} `;
  if (MINUSES.includes(character)) return "-";
  if (code >= 0xff01 && code < 0xff5f) return String.fromCharCode(code - 0xfee0);
  if ("‘’ʼ`´٬".includes(character)) return "'";
  if ("٫。｡".includes(character)) return ".";
  if ("∙•".includes(character)) return "·";
  if (code >= 0x3380 && code < 0x33e0) return character.normalize("NFKC");
  if (character === "ℓ") return "L";
  if (character === "ɡ") return "g";
  if ("“”„«»".includes(character)) return '"';
  if ("≈∼≃≅≒〜".includes(character)) return "~";
  if ("→⇒⟶⟹".includes(character)) return "=";
  if ("⁄∕".includes(character)) return "/";
  if ("º˚".includes(character)) return "°";
  if ("\u1680\u2000\u2001\u2002\u2003\u2004\u2005\u2006\u2007\u2008\u2009\u200a\u202f\u205f\u3000".includes(character))
    return NARROW;
  if ("\t\n\r\v\f\x1c\x1d\x1e\x1f\x85\u2028\u2029".includes(character)) return "  ";
  if (character === "…") return "...";
  const invisible =
    (code >= 0x200b && code < 0x2010) || (code >= 0x202a && code < 0x202f) || (code >= 0x2060 && code < 0x2070);
  return invisible || code === 0x061c || code === 0xfeff ? "" : character;
}

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
  let plain = [...text].map(replacementOf).join("");
  plain = plain.replace(/\p{Nd}/gu, (digit) => (/[0-9]/.test(digit) ? digit : digitValue(digit)));
  plain = plain.replace(
    /[⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻]+/g,
    (run) => `^${[...run].map((sign) => "0123456789+-"[RAISED_SIGNS.indexOf(sign)]).join("")}`,
  );
  plain = plain
    .replace(/[=-]+>/g, "=")
    .replaceAll("**", "^")
    .replaceAll("^^", "^");
  plain = plain.replace(
    /\^ ?(?:\( ?([+-]? ?[0-9]+) ?\)|\{ ?([+-]? ?[0-9]+) ?\})/g,
    (_, round, curly) => `^${round || curly}`,
  );
  plain = pythonStrip(plain);
  const quotes = plain.match(/^"([^"]*)"$|^'([^']*)'?$/);
  return quotes ? pythonStrip(quotes[1] || quotes[2] || "") : plain;
}

/** Whether plain text says that nothing was answered: empty, a dash, a question mark, "n/a". */
export function isBlank(plain) {
  return /^[-?._/* ]*$/.test(plain) || ["n/a", "n.a.", "n.a", "na", "(blank)", "(empty)"].includes(plain.toLowerCase());
}

const GROUP_FORMULAS = { Ph: "C6H5", Me: "CH3", Et: "C2H5", Bu: "C4H9", Bn: "C7H7", Ts: "C7H7SO2" };

/** A formula with the usual abbreviations of organic groups written out: "(C6H5)3COH" for "Ph3COH". */
export function groupsWrittenOut(formula) {
  return formula.replace(/Ph|Me|Et|Bu|Bn|Ts/g, (group) => `(${GROUP_FORMULAS[group]})`);
}
