// Keys under a field for what a number pad lacks. They are shown where a finger writes.

import { button, make } from "./dom.js";
import { say } from "./text.js";

/** Write a text where the cursor of a field stands, as if it were typed. */
export function writeAt(input, text) {
  const [from, to] = [input.selectionStart ?? input.value.length, input.selectionEnd ?? input.value.length];
  input.setRangeText(text, from, to, "end");
  input.dispatchEvent(new Event("input", { bubbles: true }));
  input.focus();
}

/** The keys of a field: texts to write, by what the key is called. `letters`: a key that calls the letters back. */
export function keysOf(input, texts, { letters = false } = {}) {
  const key = (shown, text) =>
    button(shown, () => writeAt(input, text), {
      tabindex: -1,
      onpointerdown: (event) => event.preventDefault(), // the field keeps the cursor, and the pad stays up
    });
  const back = button(
    say("keys.letters"),
    () => {
      input.inputMode = input.inputMode === "decimal" ? "text" : "decimal";
      input.blur();
      input.focus();
    },
    { tabindex: -1 },
  );
  return make(
    "div",
    { class: "keys", role: "group", "aria-label": say("keys.title"), dir: "ltr" },
    Object.entries(texts).map(([shown, text]) => key(shown, text)),
    letters ? back : null,
  );
}
