// The first screen: what to practise, and how long; the map of ideas.

import { button, heading, make, paragraph } from "./dom.js";
import { stateOf } from "./ideas.js";
import { say } from "./text.js";

export const MINUTE = 60_000;

/** Problems of a rehearsal: as many as fit into half an hour (own choice). */
export const REHEARSED = 3;

/** What a session may aim at: so many problems tried, or so many minutes. */
export const AIMS = { problems: { problems: 5 }, minutes: { minutes: 10 } };

/** Whether a session's aim is reached. */
export function isReached({ problems, minutes, since, tried }) {
  return problems ? tried >= problems : Date.now() - since >= minutes * MINUTE;
}

/**
 * The choice. `onStart` is called with { wanted, aim }: an idea's key or "", and a key of AIMS or ""; `onRehearse` with
 * { wanted }; `onOpen` with the text of a code.
 */
export function startView(page, record, { onStart, onRehearse, onOpen }) {
  const known = page.ideas.some((one) => one.key === record.wanted) ? record.wanted : "";
  const idea = selection(
    "idea",
    say("start.idea"),
    [["", say("start.path")], ...page.ideas.map(({ key, title }) => [key, title])],
    known,
  );
  const aim = selection(
    "aim",
    say("start.aim"),
    [["", say("aim.none")], ...Object.keys(AIMS).map((key) => [key, say(`aim.${key}`, { n: AIMS[key][key] })])],
    "",
  );
  const go = (event) => {
    event.preventDefault();
    onStart({ wanted: idea.select.value, aim: aim.select.value });
  };
  const code = make("input", { type: "text", id: "code", autocomplete: "off", spellcheck: "false", dir: "ltr" });
  const open = (event) => {
    event.preventDefault();
    if (code.value.trim()) onOpen(code.value);
  };
  return make(
    "section",
    { class: "start" },
    heading(1, say("start.title")),
    paragraph(say("start.what")),
    make(
      "form",
      { onsubmit: go },
      idea.field,
      aim.field,
      make(
        "div",
        { class: "actions" },
        make("button", { type: "submit", class: "main" }, say("start.go")),
        button(say("rehearsal.start", { n: REHEARSED }), () => onRehearse({ wanted: idea.select.value })),
      ),
    ),
    heading(2, say("start.map")),
    ideasMap(page, record),
    make(
      "form",
      { class: "field by-code", onsubmit: open },
      make("label", { for: "code" }, say("start.code")),
      code,
      make("button", { type: "submit" }, say("start.open")),
    ),
    make("p", { class: "quiet" }, say("start.private")),
    make("p", { class: "quiet" }, say("start.caution")),
  );
}

const SIGNS = { new: "○", shaky: "◐", steady: "●" };

/** The ideas of the page, each with its state in words and as a sign. */
export function ideasMap(page, record) {
  const entry = ({ key, title }) => {
    const state = stateOf(record, key);
    return make(
      "li",
      { class: state },
      make("span", { class: "sign", "aria-hidden": "true" }, SIGNS[state]),
      " ",
      make("span", {}, title),
      " ",
      make("span", { class: "quiet" }, say(`state.${state}`)),
    );
  };
  return make("ul", { class: "map" }, page.ideas.map(entry));
}

function selection(id, label, options, chosen) {
  const select = make(
    "select",
    { id },
    options.map(([value, text]) => make("option", { value, selected: value === chosen }, text)),
  );
  return { select, field: make("div", { class: "field" }, make("label", { for: id }, label), select) };
}
