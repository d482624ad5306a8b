// The fields that answers are written in: { element, wrote, write } each: `wrote` tells what stands in it.

import { make, printed } from "./dom.js";
import { say } from "./text.js";

/** One line of text; `unit`: whether the unit asked for stands behind it; `kind`: "wide" for a long line. */
export function textField({ label, unit_html }, { unit = false, kind = "" }) {
  const input = make("input", {
    type: "text",
    id: `answer-${label}`,
    autocomplete: "off",
    autocapitalize: "off",
    spellcheck: "false",
    dir: "ltr",
    "aria-label": say("part.answer", { label }),
    "aria-describedby": `prompt-${label} verdict-${label}`,
    class: kind,
  });
  return {
    element: make("span", { class: "field" }, input, unit ? printed("span", unit_html, { class: "unit" }) : null),
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
