// Putting a set together: problems are added, moved and taken out by keyboard or by drag; nothing is written before the
// set is saved.

import { keep } from "./keep.js";
import { say } from "./send.js";

const form = document.getElementById("set");
const problems = document.getElementById("problems");
const library = document.getElementById("library");
const search = document.getElementById("search");
let tellSaved = null;
let dragged = null;
let choosing = null; // the card for which another choice is looked for

const words = (key, values) =>
  Object.entries(values).reduce((text, [name, value]) => text.replace(`{${name}}`, value), form.dataset[key]);
const plural = new Intl.PluralRules(document.documentElement.lang);
/** The same, where the number decides which form they have. */
const counted = (key, number, name) => {
  const forms = JSON.parse(form.dataset[key]);
  return (forms[plural.select(number)] ?? forms.other).replace(`{${name}}`, number);
};
const cards = () => [...problems.children];
const titleOf = (card) => card.querySelector("h3").textContent.trim();
const placeOf = (card) => cards().indexOf(card) + 1;

/** What the page wants of the set. */
function wanted() {
  const settings = {};
  for (const one of form.querySelectorAll("[data-key]")) {
    if (one.value.trim() !== "") settings[one.dataset.key] = one.value.trim();
  }
  const sessions = sessionsInUse();
  return {
    seen: form.dataset.seen,
    title: document.getElementById("title").value.trim(),
    settings,
    sheets: [...form.querySelectorAll(".sheet")]
      .filter((one) => sessions.has(one.dataset.session))
      .map((one) => ({ session: Number(one.dataset.session), title: one.querySelector("input").value.trim() })),
    problems: cards().map((card) => ({
      was: card.dataset.was === "" ? null : Number(card.dataset.was),
      templates: JSON.parse(card.dataset.templates),
      points: pointsOf(card),
      own: ownOf(card),
      students: card
        .querySelector(".students")
        .value.split(/[\s,;]+/u)
        .filter(Boolean),
    })),
  };
}

function pointsOf(card) {
  const fields = [...card.querySelectorAll(".points")].filter((one) => one.value.trim() !== "");
  return Object.fromEntries(fields.map((one) => [one.dataset.letter, one.value.trim().replace(",", ".")]));
}

/** The values that students measure themselves. */
const ownOf = (card) => [...card.querySelectorAll("[data-own]:checked")].map((one) => one.dataset.own);

const isReport = () => cards().some((card) => ownOf(card).length > 0);

/**
 * The sessions that have parts; of a set without problems the first, so that there is a sheet to name. A report of
 * one sheet has the parts of all sessions on it.
 */
function sessionsInUse() {
  const found = cards().flatMap((card) => card.dataset.sessions.split(" ").filter(Boolean));
  if (isReport() && document.getElementById("one-sheet").checked) return new Set([form.dataset.sheet]);
  return new Set(found.length > 0 ? found : ["1"]);
}

/** Bring to what is shown all that follows from it. */
function renew() {
  const sessions = sessionsInUse();
  document.getElementById("one-report").hidden = !isReport();
  for (const one of form.querySelectorAll(".sheet")) one.hidden = !sessions.has(one.dataset.session);
  let total = 0;
  for (const [index, card] of cards().entries()) {
    card.querySelector(".place").textContent = `${index + 1}.`;
    const sum = sumOf(card);
    total += sum;
    const told = card.querySelector(".sum");
    if (told !== null) told.textContent = counted("sum", sum, "points");
    card.querySelector("[data-move=up]").disabled = index === 0;
    card.querySelector("[data-move=down]").disabled = index === problems.children.length - 1;
  }
  document.getElementById("total").textContent = counted("sum", total, "points");
  document.getElementById("no-problems").hidden = problems.children.length > 0;
  tellSaved();
}

function sumOf(card) {
  const fields = [...card.querySelectorAll(".points")];
  return fields.reduce((sum, one) => sum + (Number(one.value.trim().replace(",", ".") || one.dataset.usual) || 0), 0);
}

/** Put a card at a place, and say so. */
function move(card, before) {
  problems.insertBefore(card, before);
  renew();
  say(words("moved", { title: titleOf(card), place: placeOf(card), count: problems.children.length }));
}

function takeOut(card) {
  const next = card.nextElementSibling ?? card.previousElementSibling;
  if (choosing === card) choose(null);
  card.remove();
  renew();
  say(words("out", { title: titleOf(card) }));
  (next?.querySelector("h3") ?? search).focus();
}

/** A card of a problem with these templates, as the desk writes it. */
async function cardOf(templates) {
  const asked = new URLSearchParams(templates.map((one) => ["template", one]));
  const answer = await fetch(`/problem?${asked}`, { credentials: "same-origin" });
  const made = document.createElement("template");
  if (answer.ok) made.innerHTML = await answer.text();
  return made.content.firstElementChild;
}

async function add(template, before = null) {
  const card = choosing === null ? await cardOf([template]) : await withChoice(choosing, template);
  if (card === null) return;
  if (choosing === null) problems.insertBefore(card, before);
  else choosing.replaceWith(card);
  choose(null);
  renew();
  say(words("in", { title: titleOf(card), place: placeOf(card) }));
}

/** A card with one choice more; its place in the file and its points stay. */
async function withChoice(card, template) {
  const made = await cardOf([...new Set([...JSON.parse(card.dataset.templates), template])]);
  if (made === null) return null;
  made.dataset.was = card.dataset.was;
  const points = pointsOf(card);
  for (const field of made.querySelectorAll(".points")) field.value = points[field.dataset.letter] ?? "";
  made.querySelector(".students").value = card.querySelector(".students").value;
  return made;
}

/** Have what is added next become another choice of a problem; null: a problem of its own. */
function choose(card) {
  choosing = card;
  for (const one of problems.querySelectorAll("[data-choice]")) {
    one.setAttribute("aria-pressed", String(card !== null && card.contains(one)));
  }
  const told = document.getElementById("choosing");
  told.hidden = card === null;
  told.textContent = card === null ? "" : words("choosing", { place: placeOf(card) });
  if (card !== null) search.focus();
}

problems.addEventListener("click", (event) => {
  const choice = event.target.closest("[data-choice]");
  if (choice !== null) choose(choice.getAttribute("aria-pressed") === "true" ? null : choice.closest("li"));
  const button = event.target.closest("[data-move]");
  if (button === null) return;
  const card = button.closest("li");
  if (button.dataset.move === "out") {
    takeOut(card);
    return;
  }
  if (button.dataset.move === "up") move(card, card.previousElementSibling);
  else move(card, card.nextElementSibling.nextElementSibling);
  if (button.disabled) card.querySelector("[data-move]:not(:disabled)").focus();
  else button.focus();
});

// The arrows with Alt move a problem wherever in its card the focus is, as lines are moved in an editor.
problems.addEventListener("keydown", (event) => {
  if (!event.altKey || !["ArrowUp", "ArrowDown"].includes(event.key)) return;
  const card = event.target.closest("li.problem");
  const neighbour = event.key === "ArrowUp" ? card.previousElementSibling : card.nextElementSibling;
  if (neighbour === null) return;
  event.preventDefault();
  const { activeElement } = document;
  move(card, event.key === "ArrowUp" ? neighbour : neighbour.nextElementSibling);
  activeElement.focus();
});

library.addEventListener("click", (event) => {
  if (event.target.closest("[data-add]") !== null) void add(event.target.closest("li").dataset.template);
});

// Dragging, within the problems and from the templates; all of it can be done by the buttons too.
for (const list of [problems, library]) {
  list.addEventListener("dragstart", (event) => {
    dragged = event.target.closest("li");
    event.dataTransfer.effectAllowed = "copyMove";
    event.dataTransfer.setData("text/plain", "");
  });
  list.addEventListener("dragend", () => {
    dragged = null;
    for (const one of problems.querySelectorAll(".above")) one.classList.remove("above");
  });
}

const target = problems.closest("section");
const cardAt = (event) =>
  cards().find((card) => {
    const box = card.getBoundingClientRect();
    return card !== dragged && event.clientY < box.top + box.height / 2;
  }) ?? null;

target.addEventListener("dragover", (event) => {
  if (dragged === null) return;
  event.preventDefault();
  const at = cardAt(event);
  for (const one of cards()) one.classList.toggle("above", one === at);
});

target.addEventListener("drop", (event) => {
  if (dragged === null) return;
  event.preventDefault();
  if (dragged.dataset.template === undefined) move(dragged, cardAt(event));
  else void add(dragged.dataset.template, cardAt(event));
});

function find() {
  const asked = search.value.toLowerCase().split(/\s+/u).filter(Boolean);
  let count = 0;
  for (const one of library.children) {
    one.hidden = !asked.every((word) => one.dataset.words.includes(word));
    if (!one.hidden) count += 1;
  }
  document.getElementById("found").textContent = counted("found", count, "count");
}

search.addEventListener("input", find);
search.addEventListener("keydown", (event) => {
  if (event.key !== "Enter") return; // it adds nothing by chance, and saves nothing
  event.preventDefault();
  library.querySelector("li:not([hidden]) button")?.focus();
});

/** What follows from a setting, in its sentence. */
function tell(field) {
  const told = document.getElementById(`so-${field.dataset.key}`);
  if (told === null) return;
  if (field.tagName === "SELECT") told.textContent = field.selectedOptions[0].dataset.so;
  else {
    const value = field.value.trim() || field.placeholder;
    told.textContent = value === "" ? field.dataset.unsaid : field.dataset.so.replace("{n}", value);
  }
}

form.addEventListener("input", (event) => {
  if (event.target.dataset.key !== undefined) tell(event.target);
  if (event.target !== search) renew();
});

// A report that nobody has named yet is called so.
document.getElementById("one-sheet").addEventListener("change", (event) => {
  const field = document.getElementById(`sheet-${form.dataset.sheet}`);
  const { title } = event.target.dataset;
  if (event.target.checked && field.value === field.dataset.usual) field.value = title;
  else if (!event.target.checked && field.value === title) field.value = field.dataset.usual;
});

function body(now) {
  const fields = new FormData();
  fields.set("set", JSON.stringify(now));
  return fields;
}

find();
tellSaved = keep(form, wanted, body);
renew();
