// Preparing a problem: what is changed on the left is seen on the right, laid out by the desk as the printed sheets are.
// Nothing is written before the problem is saved.

import { keep } from "./keep.js";
import { say, send } from "./send.js";

const form = document.getElementById("template");
const parts = document.getElementById("parts");
const preview = document.getElementById("preview");
const state = document.getElementById("state");
const hidden = new Set(JSON.parse(form.dataset.hide));
const SOON = 120; // milliseconds: while a slider is drawn or a word typed, nothing is asked for

let draw = 1;
let asked = 0; // how often a preview was asked for: an answer that was overtaken is left
let timer = 0;
let tellSaved = null;

const at = (id) => document.getElementById(id);
const value = (id) => at(id)?.value.trim() ?? "";

/** The values of a way, by kind, with their keys as they are written. */
function valuesOf(fields) {
  const values = {};
  for (const one of fields.querySelectorAll(".value")) {
    const keys = { unit: one.dataset.unit };
    if (one.dataset.step !== "") keys.step = one.dataset.step;
    for (const field of one.querySelectorAll("[data-key]")) keys[field.dataset.key] = field.value.trim();
    values[one.dataset.kind] = keys;
  }
  return values;
}

function givenOf(fieldset) {
  const fields = fieldset.querySelector(".fields:not([hidden])");
  const ends = [...fieldset.querySelectorAll(".obtained input")].map((one) => one.value.trim());
  return {
    values: fields === null ? {} : valuesOf(fields),
    bottle: fields?.dataset.bottle ?? "",
    weighed_as: fields?.dataset.weighed ?? "",
    in_excess: fields?.dataset.excess === "1" || (fieldset.querySelector(".excess")?.checked ?? false),
    percent_yield: ends.length === 2 ? ends : null,
  };
}

/** Whether nothing is told of a substance, and nothing shall be: it needs no table in the file. */
const isUntold = (one) =>
  Object.keys(one.values).length === 0 && !one.in_excess && one.percent_yield === null && !one.bottle;

function partOf(row) {
  return {
    was: row.dataset.was === "" ? null : Number(row.dataset.was),
    keys: JSON.parse(row.dataset.keys),
    unit: row.querySelector(".part-unit").value,
    points: row.querySelector(".points").value.trim(),
    prompt: row.querySelector(".prompt").value,
    session: Number(row.querySelector(".session").value),
  };
}

/** What the page wants of the template. */
function wanted() {
  const given = {};
  for (const one of form.querySelectorAll("[data-substance]")) {
    const told = givenOf(one);
    if (!isUntold(told) || one.dataset.told === "1") given[one.dataset.substance] = told;
  }
  return {
    seen: form.dataset.seen,
    base: form.dataset.base,
    id: value("id"),
    title: value("title"),
    topic: value("topic"),
    difficulty: Number(value("difficulty")),
    trains: value("trains"),
    story: at("story").value,
    always_limits: value("always"),
    because: value("always") === "" ? "" : value("because"),
    may_hide: [...hidden],
    given,
    parts: [...parts.children].map(partOf),
  };
}

// What was told of a substance when the page was loaded has a table in the file, also when it is emptied.
for (const one of form.querySelectorAll("[data-substance]")) {
  if (!isUntold(givenOf(one))) one.dataset.told = "1";
}

for (const one of form.querySelectorAll(".beyond")) {
  one.hidden = one.closest("fieldset").querySelector(".fields:not([hidden])")?.dataset.excess === "1";
}

function body(now) {
  const fields = new FormData();
  fields.set("template", JSON.stringify(now));
  fields.set("draw", String(draw));
  return fields;
}

/** Ask for the preview of what is wanted now, and show it unless a later one was asked for meanwhile. */
async function look() {
  asked += 1;
  const mine = asked;
  preview.setAttribute("aria-busy", "true");
  const answer = await send("/preview-problem", body(wanted()));
  if (mine !== asked) return;
  preview.removeAttribute("aria-busy");
  if (!answer.html) {
    state.textContent = answer.text ?? "";
    return;
  }
  take(answer.html);
}

function soon() {
  clearTimeout(timer);
  timer = setTimeout(look, SOON);
}

/** Put a preview in its place, and its pieces where they belong: amounts, words, questions, faults. */
function take(html) {
  const fresh = document.createElement("div");
  fresh.innerHTML = html;
  const told = fresh.querySelector("#p-state");
  if (told.dataset.kept === "" && preview.querySelector(".pages") !== null) {
    // The last sheet that could be laid out stays in sight below what is wrong now.
    const last = preview.querySelector(".pages");
    last.classList.add("stale");
    fresh.append(last);
  }
  for (const one of preview.querySelectorAll("details[id]")) {
    const same = fresh.querySelector(`#${one.id}`);
    if (same !== null) same.open = one.open;
  }
  const focused = preview.contains(document.activeElement) ? document.activeElement : null;
  const place = focused?.dataset.hide ?? focused?.dataset.show ?? focused?.closest("details")?.id;
  distribute(fresh);
  preview.replaceChildren(...fresh.childNodes);
  const again = [...preview.querySelectorAll("[data-hide], [data-show]")].find(
    (one) => (one.dataset.hide ?? one.dataset.show) === place,
  );
  if (focused !== null) (again ?? at(place)?.querySelector("summary") ?? at("seen")).focus();
  if (state.textContent !== told.textContent) state.textContent = told.textContent;
}

function distribute(fresh) {
  for (const one of form.querySelectorAll("[data-amount]")) {
    const same = [...fresh.querySelectorAll("[data-into]")].find((found) => found.dataset.into === one.dataset.amount);
    one.textContent = same?.textContent ?? "";
  }
  for (const [index, one] of [...fresh.querySelectorAll("[data-words]")].entries()) {
    const row = parts.children[index];
    if (row === undefined) continue;
    row.querySelector(".letters").textContent = one.dataset.letters === "" ? "" : `(${one.dataset.letters})`;
    row.querySelector(".words").innerHTML = one.innerHTML;
  }
  if (fresh.querySelector("[data-words]") !== null) {
    const offered = [...fresh.querySelectorAll("li[data-keys]")];
    at("offered").replaceChildren(...offered.filter((one) => one.dataset.usual === "1"));
    at("offered-more").replaceChildren(...offered.filter((one) => one.dataset.usual !== "1"));
    for (const one of form.querySelectorAll(".offered li")) {
      const button = one.querySelector("button");
      const words = one.querySelector("label").textContent.trim();
      button.setAttribute("aria-label", `${button.getAttribute("aria-label")}: ${words}`);
    }
  }
  mark([...fresh.querySelectorAll(".refusal [data-fault]")]);
}

/** Put each fault beside the field that it is about. */
function mark(faults) {
  for (const one of form.querySelectorAll(".fault")) one.textContent = "";
  for (const one of form.querySelectorAll("[aria-invalid]")) one.removeAttribute("aria-invalid");
  for (const fault of faults) {
    const key = fault.dataset.fault;
    const part = /^part\.(\d+)\./u.exec(key);
    const field =
      part === null
        ? [...form.querySelectorAll("[data-place]")].find(
            (one) => !one.closest("[hidden]") && (key === one.dataset.place || key.startsWith(`${one.dataset.place}.`)),
          )
        : parts.children[Number(part[1]) - 1];
    if (field === undefined) continue;
    const text = fault.querySelector(".found").textContent;
    field.querySelector(".fault").textContent = form.dataset.fault.replace("{fault}", text);
    const end = field.querySelector(`[data-key="${key.split(".").at(-1)}"]`) ?? field.querySelector("input");
    end?.setAttribute("aria-invalid", "true");
  }
}

function renew() {
  for (const [index, row] of [...parts.children].entries()) {
    row.querySelector("[data-move=up]").disabled = index === 0;
    row.querySelector("[data-move=down]").disabled = index === parts.children.length - 1;
    row.querySelector(".part-unit").closest("label").hidden = row.querySelector(".part-unit").options.length === 0;
  }
  tellSaved();
}

const changed = () => {
  renew();
  soon();
};

/** The number of decimals of a step: "0.001" has three. */
const decimals = (step) => (String(step).split(".")[1] ?? "").length;

function slide(range) {
  const box = range.closest(".value");
  const field = box.querySelector(`[data-key="${range.dataset.slides}"]`);
  field.value = Number(range.value).toFixed(decimals(range.step));
  // One end pushes the other along.
  const other = box.querySelector(`[data-slides="${range.dataset.slides === "from" ? "to" : "from"}"]`);
  const crossed =
    range.dataset.slides === "from"
      ? Number(other.value) <= Number(range.value)
      : Number(other.value) >= Number(range.value);
  if (!crossed) return;
  const step = range.dataset.slides === "from" ? Number(range.step) : -Number(range.step);
  other.value = String(Number(range.value) + step);
  box.querySelector(`[data-key="${other.dataset.slides}"]`).value = Number(other.value).toFixed(decimals(range.step));
}

/** Another way to measure a substance out; what was in excess and not measured competes once it is measured. */
function takeWay(fieldset, way) {
  const excess = fieldset.querySelector(".excess");
  const before = fieldset.querySelector(".fields:not([hidden])");
  for (const one of fieldset.querySelectorAll(".fields")) one.hidden = one.dataset.way !== way;
  const now = fieldset.querySelector(".fields:not([hidden])");
  if (excess === null) return;
  if (before?.dataset.excess === "1") excess.checked = false;
  excess.closest(".beyond").hidden = now?.dataset.excess === "1";
}

/** Another piece of glassware: its unit and step, and the sliders on its scale; µL and mL are told in each other. */
function readOn(select) {
  const box = select.closest(".value");
  const chosen = select.selectedOptions[0].dataset;
  const before = box.dataset.unit;
  const times = before === chosen.unit ? 1 : before === "mL" ? 1000 : 0.001;
  box.dataset.unit = chosen.unit;
  const unit = box.querySelector(".unit");
  if (unit !== null) unit.textContent = chosen.unit;
  for (const range of box.querySelectorAll("[data-slides]")) {
    const field = box.querySelector(`[data-key="${range.dataset.slides}"]`);
    const step = Number(chosen.step);
    const capacity = Number(chosen.capacity);
    const now = Math.min(Number(field.value.replace(",", ".")) * times, capacity);
    range.step = chosen.step;
    range.min = String(Math.max(step, Math.floor((Number(range.min) * times) / step) * step));
    range.max = String(Math.min(capacity, Math.max(Number(range.max) * times, now)));
    field.value = (Math.round(now / step) * step).toFixed(decimals(chosen.step));
    range.value = field.value;
  }
}

form.addEventListener("input", (event) => {
  const { target } = event;
  if (target.dataset.slides !== undefined) slide(target);
  else if (target.dataset.key === "from" || target.dataset.key === "to") {
    const range = target.closest(".value").querySelector(`[data-slides="${target.dataset.key}"]`);
    if (range !== null) range.value = target.value.replace(",", ".");
  } else if (target.dataset.key === "read") readOn(target);
  else if (target.classList.contains("way")) {
    takeWay(target.closest("fieldset"), target.value);
  } else if (target.id === "always") at("why").hidden = target.value === "";
  changed();
});

/** Take a question in as the last one of its session: letters run on over the sheets. */
function ask(offer) {
  const row = at("part-row").content.firstElementChild.cloneNode(true);
  row.dataset.keys = offer.dataset.keys;
  row.querySelector(".words").innerHTML = offer.querySelector("label").innerHTML;
  row.querySelector(".session").value = offer.dataset.session;
  const units = row.querySelector(".part-unit");
  for (const [unit, called] of JSON.parse(offer.dataset.units)) units.add(new Option(called, unit));
  units.value = offer.dataset.unit;
  const before = [...parts.children].filter(
    (one) => Number(one.querySelector(".session").value) <= Number(offer.dataset.session),
  );
  if (before.length > 0) before.at(-1).after(row);
  else parts.prepend(row);
  offer.remove();
  say(form.dataset.in);
  row.querySelector(".words").focus();
  changed();
}

form.addEventListener("click", (event) => {
  const button = event.target.closest("button");
  if (button === null) return;
  if (button.dataset.ask !== undefined) ask(button.closest("li"));
  if (button.dataset.move === undefined) return;
  const row = button.closest("li");
  if (button.dataset.move === "out") {
    const next = row.nextElementSibling ?? row.previousElementSibling;
    row.remove();
    say(form.dataset.out);
    (next?.querySelector(".words") ?? at("asked-title")).focus();
  } else {
    const neighbour = button.dataset.move === "up" ? row.previousElementSibling : row.nextElementSibling;
    if (neighbour === null) return;
    if (button.dataset.move === "up") neighbour.before(row);
    else neighbour.after(row);
    const place = [...parts.children].indexOf(row) + 1;
    say(form.dataset.moved.replace("{question}", row.querySelector(".words").textContent).replace("{place}", place));
    renew();
    if (button.disabled) row.querySelector("[data-move]:not(:disabled)").focus();
    else button.focus();
  }
  changed();
});

preview.addEventListener("click", (event) => {
  const button = event.target.closest("[data-hide], [data-show]");
  if (button === null) return;
  if (button.dataset.hide !== undefined) hidden.add(button.dataset.hide);
  else hidden.delete(button.dataset.show);
  changed();
});

at("another").addEventListener("click", () => {
  draw += 1;
  void look();
});

tellSaved = keep(form, wanted, body);
renew();
void look();
