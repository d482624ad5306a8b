// Building the page. Text goes in as text: nothing that a student or an author wrote is read as markup.

/** An element with attributes, listeners ("onclick": a function) and children (elements, or text). */
export function make(tag, attributes = {}, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (value === false || value === null || value === undefined) continue;
    if (name.startsWith("on")) element.addEventListener(name.slice(2), value);
    else element.setAttribute(name, value === true ? "" : value);
  }
  element.append(...children.flat().filter((child) => child !== null && child !== undefined && child !== ""));
  return element;
}

export const heading = (level, ...children) => make(`h${level}`, { tabindex: -1 }, ...children);
export const paragraph = (...children) => make("p", {}, ...children);

/** A button. `attributes` may hold aria-expanded, aria-controls and the like. */
export function button(label, onclick, attributes = {}) {
  return make("button", { type: "button", onclick, ...attributes }, label);
}

/** A fragment that the instructor's program printed: formulas, tables, drawings. Never text of a student's. */
export function printed(tag, html, attributes = {}) {
  const element = make(tag, attributes);
  element.innerHTML = html;
  return element;
}

export function replaceAll(element, ...children) {
  element.replaceChildren(...children.flat().filter(Boolean));
  return element;
}
