// The student's own record: what was solved, which mistakes were met and avoided since; to export, to print, to wipe.

import { button, heading, make, paragraph } from "./dom.js";
import { TIMES_RUNNING, avoidedEnough } from "./spacing.js";
import { say } from "./text.js";

/** The record. `mistakes` maps a family to its title; `actions` are { onExport, onWipe, onPrint, onBack }. */
export function recordView(record, titles, forgets, actions) {
  return make(
    "section",
    { class: "record" },
    heading(1, say("record.title")),
    paragraph(say(forgets ? "record.forgets" : "record.where")),
    heading(2, say("record.topics")),
    topicsTable(record),
    heading(2, say("record.mistakes")),
    mistakesTable(record, titles),
    make(
      "div",
      { class: "actions" },
      button(say("record.print"), actions.onPrint),
      button(say("record.export"), actions.onExport),
      wipeButton(actions.onWipe),
      button(say("record.back"), actions.onBack),
    ),
  );
}

function tableOf(caption, header, rows) {
  const head = make(
    "thead",
    {},
    make(
      "tr",
      {},
      header.map((cell) => make("th", { scope: "col" }, cell)),
    ),
  );
  const body = make(
    "tbody",
    {},
    rows.map(([first, ...cells]) =>
      make(
        "tr",
        {},
        make("th", { scope: "row" }, first),
        cells.map((cell) => make("td", {}, cell)),
      ),
    ),
  );
  return make(
    "div",
    { class: "scroller", tabindex: 0, role: "region", "aria-label": caption },
    make("table", {}, make("caption", {}, caption), head, body),
  );
}

function topicsTable(record) {
  const rows = Object.entries(record.topics).map(([topic, { alone, helped }]) => [
    topic,
    String(alone),
    String(helped),
  ]);
  if (!rows.length) return paragraph(say("record.none"));
  return tableOf(say("record.topics"), [say("record.topic"), say("record.alone"), say("record.helped")], rows);
}

function mistakesTable(record, titles) {
  const rows = Object.entries(record.mistakes)
    .filter(([family]) => titles.has(family))
    .map(([family, state]) => [titles.get(family), String(state.met), stateOf(state)]);
  if (!rows.length) return paragraph(say("record.nomistakes"));
  return tableOf(say("record.mistakes"), [say("record.mistake"), say("record.met"), say("record.state")], rows);
}

const stateOf = (state) =>
  avoidedEnough(state) ? say("record.avoided") : say("record.coming", { n: TIMES_RUNNING - state.clean });

/** Wiping asks once more, in the page: a second press wipes. */
function wipeButton(onWipe) {
  const wipe = button(say("record.wipe"), () => {
    if (wipe.dataset.asked) {
      onWipe();
      return;
    }
    wipe.dataset.asked = "yes";
    wipe.textContent = say("record.wipe.sure");
  });
  wipe.addEventListener("blur", () => {
    delete wipe.dataset.asked;
    wipe.textContent = say("record.wipe");
  });
  return wipe;
}
