// A pile of papers: Enter goes from blank to blank and to the next code; every blank is saved and judged as it is left.

import { follow, say, send, show } from "./send.js";

const AGAIN = 3000; // milliseconds until an answer that could not be saved is sent again

const finding = document.getElementById("finding");
const code = document.getElementById("code");
const paper = document.getElementById("paper");
const fields = paper === null ? [] : [...paper.querySelectorAll("input[data-column]")];
let queue = Promise.resolve(); // one answer after the other: each builds on what the one before has left
let version = paper?.dataset.version ?? "";
let timer = 0;

const words = (key, values) =>
  Object.entries(values).reduce((text, [name, value]) => text.replace(`{${name}}`, value), paper.dataset[key]);
const typed = (field) => field.value.trim();
const isOpen = (field) => typed(field) !== field.dataset.before;
const verdictOf = (field) => document.getElementById(`of-${field.dataset.column}`);

function bodyOf(field) {
  const body = new FormData();
  body.set("student", paper.dataset.student);
  body.set("attempt", paper.dataset.attempt);
  if (field !== null) {
    body.set("column", field.dataset.column);
    body.set("cell", typed(field));
    body.set("before", field.dataset.before);
    body.set("printed", paper.dataset.printed);
  }
  return body;
}

/** Save a blank that was left, when those before it are saved. */
function keep(field, again = false) {
  if (isOpen(field) || again) queue = queue.then(() => keepNow(field));
  return queue;
}

async function keepNow(field) {
  if (!isOpen(field)) return;
  const cell = typed(field);
  const answer = await send(paper.dataset.keep, bodyOf(field), true);
  if (answer.ok && answer.html) {
    field.dataset.before = cell;
    field.removeAttribute("aria-invalid");
    delete field.dataset.held;
    takeJudged(new DOMParser().parseFromString(answer.html, "text/html"), field);
  } else hold(field, answer);
}

/** Show why a blank is not saved; where the desk does not answer, it is tried again. */
function hold(field, answer) {
  field.setAttribute("aria-invalid", "true");
  field.dataset.held = answer.html.includes('class="changed"') ? "changed" : "refused";
  if (answer.html) verdictOf(field).innerHTML = answer.html;
  else {
    field.dataset.held = "gone";
    const told = document.createElement("p");
    told.className = "bad";
    told.textContent = `${words("unsaved", { why: answer.text })} ${paper.dataset.try}`;
    verdictOf(field).replaceChildren(told);
    clearTimeout(timer);
    timer = setTimeout(() => {
      for (const one of fields) if (one.dataset.held === "gone") void keep(one);
    }, AGAIN);
  }
  say(verdictOf(field).textContent.trim());
}

/** Take over the verdicts of the whole paper, and say the one of the blank that was left. */
function takeJudged(fresh, left) {
  const judged = fresh.getElementById("judged");
  if (judged === null || judged.dataset.version < version) return;
  version = judged.dataset.version;
  document.getElementById("earned").textContent = judged.dataset.earned;
  for (const field of fields) {
    const told = judged.querySelector(`[data-of="${CSS.escape(field.dataset.column)}"]`);
    if (told === null || field.dataset.held !== undefined) continue;
    if (verdictOf(field).innerHTML !== told.innerHTML) verdictOf(field).innerHTML = told.innerHTML;
    if (field === left) say(`${field.dataset.name}: ${told.dataset.words || paper.dataset.blank}`);
  }
}

/** What was changed in another tab, or in the file, shows here: but not in a blank in which something else is typed. */
function takeFresh(fresh) {
  const there = fresh.getElementById("paper");
  if (there?.dataset.printed !== paper.dataset.printed) {
    // its numbers are others than those which stand here
    document.getElementById("redrawn").hidden = false;
    return;
  }
  if (there.dataset.version < version) return;
  version = there.dataset.version;
  for (const field of fields) {
    const now = fresh.getElementById(field.id);
    if (now === null || field.dataset.held !== undefined) continue;
    const cell = now.dataset.before;
    if (cell !== field.dataset.before && (!isOpen(field) || typed(field) === cell)) {
      if (typed(field) !== cell) say(words("elsewhere", { part: field.dataset.name }));
      field.dataset.before = cell;
      if (typed(field) !== cell) field.value = cell;
    }
    const told = fresh.getElementById(`of-${field.dataset.column}`);
    if (!isOpen(field) && verdictOf(field).innerHTML !== told.innerHTML) verdictOf(field).innerHTML = told.innerHTML;
  }
  document.getElementById("earned").textContent = fresh.getElementById("earned").textContent;
}

/** The blanks of the sheet that is typed: of the one whose code was typed, or of all. */
function onSheet(field) {
  const sheet = paper.dataset.sheet;
  const mine = field.closest(".sheet").dataset.session;
  return sheet === "" || sheet !== mine
    ? fields
    : fields.filter((one) => one.closest(".sheet").dataset.session === sheet);
}

function goTo(field) {
  field.focus();
  field.select();
}

/** The first blank that is not saved; it gets the focus, and it is said. */
async function isHeld() {
  for (const one of fields) void keep(one);
  await queue;
  const held = fields.find((one) => isOpen(one) || one.dataset.held !== undefined);
  if (held === undefined) return false;
  goTo(held);
  say(words("held", { part: held.dataset.name }));
  return true;
}

/** Behind the last blank: the sheet is typed, and the next code comes. */
async function finish(field) {
  if (await isHeld()) return;
  const body = bodyOf(null);
  for (const one of new Set(onSheet(field).map((each) => each.closest(".sheet").dataset.session))) {
    body.append("session", one);
  }
  const answer = await send(paper.dataset.end, body, true);
  if (answer.go === undefined) {
    show(finding.querySelector(".told"), answer);
    return;
  }
  code.value = "";
  code.focus();
  code.scrollIntoView({ block: "center" });
  say(words("ended", { name: paper.dataset.name, earned: document.getElementById("earned").textContent }));
}

function onward(event) {
  if (event.key !== "Enter" || event.isComposing || !event.target.matches("input[data-column]")) return;
  event.preventDefault();
  const mine = onSheet(event.target);
  const place = mine.indexOf(event.target) + (event.shiftKey ? -1 : 1);
  if (place >= mine.length) void finish(event.target);
  else if (place >= 0) goTo(mine[place]);
  else code.focus();
}

/** Where two have typed into one blank, it is asked which shall stand. */
function decide(event) {
  const button = event.target.closest("[data-take]");
  if (button === null) return;
  const field = button.closest(".blank").querySelector("input");
  field.dataset.before = button.dataset.found;
  if (button.dataset.take === "theirs") field.value = button.dataset.found;
  delete field.dataset.held;
  field.removeAttribute("aria-invalid");
  goTo(field);
  verdictOf(field).replaceChildren();
  if (isOpen(field)) void keep(field);
  else void refresh();
}

/** Judge again without a change. */
async function refresh() {
  const answer = await fetch(location.href, { credentials: "same-origin" });
  if (answer.ok) takeFresh(new DOMParser().parseFromString(await answer.text(), "text/html"));
}

/** Tell the later of two tabs on one paper. */
// oxlint-disable unicorn/require-post-message-target-origin -- a channel is of one origin, and takes none
function tellTwice() {
  const tabs = new BroadcastChannel("papers");
  const mine = `${location.pathname} ${paper.dataset.student} ${paper.dataset.attempt}`;
  tabs.addEventListener("message", (event) => {
    if (event.data.paper !== mine) return;
    if (event.data.asks) tabs.postMessage({ paper: mine, asks: false });
    else document.getElementById("twice").hidden = false;
  });
  tabs.postMessage({ paper: mine, asks: true });
}
// oxlint-enable unicorn/require-post-message-target-origin

finding?.addEventListener("submit", async (event) => {
  event.preventDefault();
  if (await isHeld()) return;
  const answer = await send(finding.getAttribute("action"), new FormData(finding));
  if (answer.go !== undefined) await follow(answer.go);
  else show(finding.querySelector(".told"), answer);
});

if (paper === null) code?.focus();
else {
  const sheet = paper.dataset.sheet;
  const wanted = fields.filter((one) => sheet === "" || one.closest(".sheet").dataset.session === sheet);
  goTo(wanted.find((one) => one.value === "") ?? wanted[0] ?? fields[0]);
  tellTwice();
  paper.addEventListener("keydown", onward);
  paper.addEventListener("focusout", (event) => {
    if (event.target.matches("input[data-column]") && event.target.dataset.held !== "changed") void keep(event.target);
  });
  paper.addEventListener("click", decide);
  document.addEventListener("renewed", (event) => takeFresh(event.detail));
  addEventListener("beforeunload", (event) => {
    const open = fields.filter((one) => isOpen(one));
    for (const one of open) if (one.dataset.held === undefined) void send(paper.dataset.keep, bodyOf(one), true);
    if (open.some((one) => one.dataset.held !== undefined)) event.preventDefault();
  });
}
