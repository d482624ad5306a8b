// The fields that answers are written in: { element, keys, wrote, write } each: `wrote` tells what stands in it, `keys` are
// those that a number pad lacks.

import { make, printed } from "./dom.js";
import { keysOf } from "./keys.js";
import { say } from "./text.js";

/** What a number pad lacks, and an equation's line; by what the key is called. */
const NUMBER_KEYS = { "×10ⁿ": "×10^", "−": "-" };
const EQUATION_KEYS = { "+": " + ", "→": " -> ", "^": "^" };

/** One line of text; `unit`: whether the unit asked for stands behind it; `kind`: "wide" for a long line. */
export function textField({ label, unit: asked, unit_html }, { unit = false, kind = "", keys = null }) {
  const input = make("input", {
    type: "text",
    id: `answer-${label}`,
    autocomplete: "off",
    autocapitalize: "off",
    spellcheck: "false",
    dir: "ltr",
    "aria-label": say("part.answer", { label }),
    "aria-describedby": `prompt-${label} verdict-${label}`,
    class: `answer ${kind}`.trim(),
    inputmode: keys === "number" ? "decimal" : null,
  });
  const row = {
    number: () => keysOf(input, { ...NUMBER_KEYS, ...(unit ? { [asked]: ` ${asked}` } : {}) }, { letters: true }),
    equation: () => keysOf(input, EQUATION_KEYS),
  }[keys];
  return {
    element: make("span", { class: "field" }, input, unit ? printed("span", unit_html, { class: "unit" }) : null),
    keys: row?.() ?? null,
    wrote: () => input.value,
    write: (text) => {
      input.value = text;
    },
  };
}

/** One of several, each with its id as its value. */
export function choiceField({ label, choices }) {
  const option = ({ id, html }) =>
    make(
      "label",
      { class: "option" },
      make("input", { type: "radio", name: `answer-${label}`, value: id, id: `answer-${label}-${id}` }),
      " ",
      printed("span", html),
    );
  const element = make(
    "fieldset",
    {},
    make("legend", { class: "unseen" }, say("part.answer", { label })),
    choices.map(option),
  );
  const write = (id) => {
    element.querySelectorAll("input").forEach((one) => {
      one.checked = one.value === id;
    });
  };
  return { element, wrote: () => element.querySelector("input:checked")?.value ?? "", write };
}
