// One part at a time on a narrow screen, with the problem's data at hand: a bar at the foot of the screen goes from part to
// part and lifts the data over the page. On a wide screen all parts stand beside the data, and the bar is not shown; which
// of the two it is, the style decides.

import { button, make } from "./dom.js";
import { say } from "./text.js";

export class OnePart {
  /** @param parts the PartViews that are shown; @param data the element with the story, the scheme and the numbers */
  constructor(parts, data) {
    Object.assign(this, { parts, data, index: 0 });
    this.back = button("‹", () => this.go(this.index - 1), { class: "step" });
    this.on = button("›", () => this.go(this.index + 1), { class: "step" });
    this.lift = button(say("data.title"), () => this.raise(!this.isRaised), {
      "aria-expanded": "false",
      "aria-controls": "data",
    });
    this.element = make("div", { class: "foot" }, this.back, this.lift, this.on);
    data.addEventListener("keydown", (event) => {
      if (event.key === "Escape" && this.isRaised) this.raise(false);
    });
  }

  get isRaised() {
    return this.data.classList.contains("raised");
  }

  /** Lift the data over the part, or let it down. */
  raise(up) {
    this.data.classList.toggle("raised", up);
    this.lift.setAttribute("aria-expanded", String(up));
    (up ? this.data : this.lift).focus({ preventScroll: true });
  }

  /** Show the part of an index, where there is one, and write into it. */
  go(index) {
    const to = this.parts[index];
    if (!to) return;
    this.show(index);
    to.element.querySelector(".prompt").focus({ preventScroll: true });
    to.element.scrollIntoView({ block: index ? "start" : "nearest" });
  }

  /** Which part is present: nothing moves. */
  show(index) {
    this.index = index;
    this.parts.forEach(({ element }, i) => element.classList.toggle("present", i === index));
    const { classList } = this.element.closest(".problem");
    classList.toggle("at-first", index === 0);
    classList.toggle("at-last", index === this.parts.length - 1);
    if (this.isRaised) this.raise(false);
    this.on.classList.remove("main");
    this.name(this.back, index - 1);
    this.name(this.on, index + 1);
  }

  /** A button says which part it leads to; where there is none, it cannot be pressed. */
  name(step, index) {
    const label = this.parts[index]?.part.label;
    step.disabled = label === undefined;
    const way = step === this.on ? "on" : "back";
    step.setAttribute("aria-label", label === undefined ? say(`part.none.${way}`) : say("part.go", { label }));
    const arrow = way === "on" ? "›" : "‹";
    step.textContent = label === undefined ? arrow : way === "on" ? `(${label}) ${arrow}` : `${arrow} (${label})`;
  }

  /** A part that is right: the next one is near. */
  done(label) {
    const isPresent = this.parts[this.index].part.label === label;
    if (isPresent) this.on.classList.add("main");
  }
}
