// The student's own record: the ideas and how steady they are, the mistakes that were met; to export, to print, to wipe.

import { button, heading, make, paragraph } from "./dom.js";
import { ideasMap } from "./start_view.js";
import { say } from "./text.js";

/** The record. `remark` is said at the top; `actions` are { onExport, onShare, onImport, onCode, onWipe, onPrint, onBack }. */
export function recordView(page, record, forgets, remark, actions) {
  const file = make("input", {
    type: "file",
    id: "import",
    accept: "application/json,.json",
    onchange: (event) => actions.onImport(event.target.files[0]),
  });
  const shared = make("p", { class: "quiet link", role: "status", dir: "auto" });
  const share = button(say("record.share"), async () => {
    shared.textContent = await actions.onShare();
  });
  const code = make("input", { type: "text", id: "code", autocomplete: "off", spellcheck: "false", dir: "ltr" });
  const add = (event) => {
    event.preventDefault();
    if (code.value.trim()) actions.onCode(code.value);
  };
  return make(
    "section",
    { class: "record" },
    heading(1, say("record.title")),
    make("p", { class: "on-paper" }, say("record.name")),
    remark ? make("p", { role: "status", class: "remark" }, remark) : null,
    forgets ? null : paragraph(say("record.where")),
    paragraph(say("record.solved", { n: record.alone + record.helped, alone: record.alone })),
    heading(2, say("start.map")),
    ideasMap(page, record),
    heading(2, say("record.mistakes")),
    mistakesTable(record, page.titles),
    make(
      "div",
      { class: "actions" },
      button(say("record.print"), actions.onPrint),
      button(say("record.export"), actions.onExport),
      share,
      wipeButton(actions.onWipe),
      button(say("record.back"), actions.onBack),
    ),
    shared,
    make("p", { class: "actions import" }, make("label", { for: "import" }, say("record.import")), file),
    make(
      "form",
      { class: "actions import", onsubmit: add },
      make("label", { for: "code" }, say("record.code")),
      code,
      make("button", { type: "submit" }, say("record.add")),
    ),
  );
}

/** A link has brought a record: whether it is to be added. */
export function offerView(onAdd) {
  return make(
    "section",
    { class: "record" },
    heading(1, say("record.title")),
    paragraph(say("record.offered")),
    make("div", { class: "actions" }, button(say("record.add"), onAdd, { class: "main" })),
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

function mistakesTable(record, titles) {
  const rows = Object.entries(record.mistakes)
    .filter(([family]) => titles.has(family))
    .map(([family, times]) => [titles.get(family), String(times)]);
  if (!rows.length) return paragraph(say("record.nomistakes"));
  return tableOf(say("record.mistakes"), [say("record.mistake"), say("record.met")], rows);
}

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
