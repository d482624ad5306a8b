// The scratch calculator: a line, its result, and what was worked before.

import { CalculationError, calculate } from "./calculation.js";
import { button, make } from "./dom.js";
import { inDigits, say } from "./text.js";

/** As many as are seen at once beside a problem. */
const KEPT_LINES = 12;

/** The calculator as an element; it keeps its lines as long as the page is open. `onTake` puts a result into an answer. */
export function calculatorView(lines, { decimal_mark: decimalMark, weights }, onTake) {
  const input = make("input", {
    id: "calculator-line",
    type: "text",
    autocomplete: "off",
    spellcheck: "false",
    dir: "ltr",
  });
  const told = make("p", { role: "status", class: "result", dir: "auto" });
  const list = make("ol", { class: "lines", reversed: true });
  const take = button(say("answer.take"), () => onTake(told.textContent.replace(/^= /, "")), { hidden: true });
  const showLines = () => list.replaceChildren(...lines.map((line) => lineItem(line, input)));
  const work = (event) => {
    event.preventDefault();
    if (!input.value.trim()) return;
    const result = worked(input.value, decimalMark, weights);
    told.textContent = result.told;
    take.hidden = !result.isWorked;
    if (!result.isWorked) return;
    lines.unshift({ line: input.value.trim(), result: result.told });
    lines.splice(KEPT_LINES);
    showLines();
    input.select();
  };
  showLines();
  return make(
    "form",
    { class: "calculator", onsubmit: work },
    make("label", { for: "calculator-line" }, say("calculator.label")),
    make("div", { class: "entry" }, input, make("button", { type: "submit" }, say("calculator.work"))),
    told,
    take,
    list,
    make("p", { class: "quiet" }, say("calculator.how")),
  );
}

function lineItem({ line, result }, input) {
  const again = () => {
    input.value = line;
    input.focus();
  };
  return make(
    "li",
    {},
    make(
      "span",
      { dir: "ltr" },
      button(line, again, { class: "plain", "aria-label": say("calculator.again", { line }) }),
      ` ${result}`,
    ),
  );
}

function worked(line, decimalMark, weights) {
  try {
    const { value, unit } = calculate(line, decimalMark, weights);
    return { isWorked: true, told: `= ${unit ? `${inDigits(value)} ${unit}` : inDigits(value)}` };
  } catch (error) {
    if (error instanceof CalculationError) return { isWorked: false, told: say(error.key, error.values) };
    throw error;
  }
}
