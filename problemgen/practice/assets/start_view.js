// The first screen: a topic and a level, or a mix.

import { templatesFor } from "./choosing.js";
import { heading, make, paragraph } from "./dom.js";
import { say } from "./text.js";

const LEVELS = [1, 2, 3, 4, 5];

/** The choice. `chosen` is { topic, level }; `onStart` is called with it. */
export function startView(page, chosen, onStart) {
  const topic = selection(
    "topic",
    say("start.topic"),
    [["", say("start.mix")], ...page.topics.map((one) => [one, one])],
    chosen.topic,
  );
  const levels = LEVELS.filter((level) => page.templates.some((one) => one.level === level));
  const level = selection(
    "level",
    say("start.level"),
    [["0", say("start.anylevel")], ...levels.map((one) => [String(one), say(`level.${one}`)])],
    String(chosen.level),
  );
  const told = make("p", { role: "status" });
  const go = (event) => {
    event.preventDefault();
    const wanted = { topic: topic.select.value, level: Number(level.select.value) };
    if (templatesFor(page.templates, wanted.topic, wanted.level).length) onStart(wanted);
    else told.textContent = say("start.nothing");
  };
  return make(
    "section",
    { class: "start" },
    heading(1, say("start.title")),
    paragraph(say("start.what")),
    make(
      "form",
      { onsubmit: go },
      topic.field,
      level.field,
      make("button", { type: "submit", class: "main" }, say("start.go")),
    ),
    told,
    make("p", { class: "quiet" }, say("start.private")),
    make("p", { class: "quiet" }, say("start.caution")),
  );
}

function selection(id, label, options, chosen) {
  const select = make(
    "select",
    { id },
    options.map(([value, text]) => make("option", { value, selected: value === chosen }, text)),
  );
  return { select, field: make("div", { class: "field" }, make("label", { for: id }, label), select) };
}
