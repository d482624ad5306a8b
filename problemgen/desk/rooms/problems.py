"""Problems: a template made for a reaction, or changed, with its sheet and key before one's eyes."""

from __future__ import annotations

import json
import re
from base64 import b64encode
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache, lru_cache
from typing import Any

from markupsafe import Markup
from starlette.responses import Response

from problemgen.desk.answers import fragment, go, page
from problemgen.desk.calls import Call, get, post
from problemgen.desk.places import NotThereError
from problemgen.desk.room import Room
from problemgen.desk.rooms.library import library
from problemgen.desk.rooms.reactions import ROUTES as REACTION_ROUTES
from problemgen.desk.rooms.reactions import choose
from problemgen.desk.rooms.substances import ROUTES as SUBSTANCE_ROUTES
from problemgen.desk.set_files.saving import seen
from problemgen.desk.template_files.saving import save, text_of, tried_aside, wanted_text
from problemgen.desk.template_files.shown import PartShown, TemplateText, shown, units_like
from problemgen.desk.template_files.wanted import WantedTemplate
from problemgen.errors import Fault, FaultsError
from problemgen.language.messages import N_, _, speaking, spoken
from problemgen.load.documents import as_document
from problemgen.load.fault_log import FaultLog
from problemgen.load.resources import layouts
from problemgen.load.templates.document import PartDocument
from problemgen.load.templates.parts import read_asked
from problemgen.model.blocks import Block, Line, Scheme
from problemgen.model.preview import Preview, Question
from problemgen.model.problem import Asked
from problemgen.model.problem_set import Sheet
from problemgen.model.template import Template, label_of
from problemgen.pipeline.adding.templates import template_text
from problemgen.pipeline.preparing.previews import Look, Previewer
from problemgen.pipeline.preparing.questions import part_words
from problemgen.render.printers.html import fragment as html_of
from problemgen.render.printers.html import inline

__all__ = ["ROOM"]

_PREVIEWER = Previewer()
"""One for the desk: what it keeps warm serves all tabs."""

_SHEETS = ((1, N_("Before the session")), (2, N_("After the session")), (3, N_("After the second session")))

_DRAW = re.compile("[0-9]{1,6}")


@dataclass(frozen=True)
class Offered:
    """A question as the page offers it: as a part that the page can take in, in words."""

    part: PartShown
    words: Markup
    usual: bool


@dataclass(frozen=True)
class Seen:
    """A preview as the page shows it: pictures as data, blocks as HTML."""

    preview: Preview
    pages: Sequence[str]
    told: Markup
    answers: Markup
    working: Markup
    words: Sequence[tuple[str, Markup]]
    offered: Sequence[Offered]


def _list(call: Call) -> Response:
    found = library(call.desk)
    return page(
        call, "problems.html", own=[one for one in found if one.own], ours=[one for one in found if not one.own]
    )


def _new(call: Call) -> Response:
    """The editor for a reaction's template that is proposed; without a reaction the page on which one is chosen."""
    name = call.asked("reaction")
    if not name:
        return choose(call)
    banks = call.desk.banks()
    if name not in banks.reactions:
        raise NotThereError(name)
    text = template_text(banks, banks.reactions[name])
    return _editor(call, _free_id(call, f"preparations/{name}"), text, "")


def _free_id(call: Call, wanted: str) -> str:
    taken = call.desk.course().templates
    wanted = wanted.replace(".", "-")
    numbered = (wanted if number == 1 else f"{wanted}-{number}" for number in range(1, 10_000))
    return next(one for one in numbered if one not in taken)


def _open(call: Call) -> Response:
    name = call.named("name")
    text = text_of(call.desk, name)
    if not text:
        raise NotThereError(name)
    return _editor(call, name, text, seen(text))


def _editor(call: Call, template_id: str, text: str, digest: str) -> Response:
    course = call.desk.course()
    return page(
        call,
        "template.html",
        id=template_id,
        seen=digest,
        own=template_id in course.course_templates,
        shown=shown(text, call.desk.banks(), f"{template_id}.toml"),
        topics=sorted({one.topic for one in library(call.desk)}),
    )


def _preview(call: Call) -> Response:
    """One student's sheet of what the page wants, and all that is to be said of it; faults beside what is at fault."""
    try:
        found, text = _looked_at(call)
    except FaultsError as error:
        return fragment(call, "preview.html", seen=None, faults=error.faults, text="", place=_place)
    return fragment(call, "preview.html", seen=found, faults=(), text=text, place=_place)


_PLACES = {
    "part": N_("What is asked"),
    "given": N_("What is measured out"),
    "title": N_("Title, as it is printed"),
    "story": N_("A line or two before the data"),
    "topic": N_("Topic, under which it is listed"),
    "difficulty": N_("Level, from 1 to 5"),
    "trains": N_("What it exercises, by which it is found"),
    "always_limits": N_("Which reagent limits"),
    "id": N_("Name of its file in the course's templates"),
}
"""What the page calls the places of a template's file, as its fields are labelled."""


def _place(key: str) -> str:
    """A place of the file in the words of the page; below the first step the file's own are kept."""
    head, _dot, rest = key.partition(".")
    if head not in _PLACES:
        return key
    return " · ".join(filter(None, (_(_PLACES[head]), rest)))


def _looked_at(call: Call) -> tuple[Seen, str]:
    wanted = _wanted(call)
    text = wanted_text(call.desk, wanted)
    draw = call.said("draw") if _DRAW.fullmatch(call.said("draw")) else "1"
    with tried_aside(call.desk, wanted.id, text) as trial:
        preview = _PREVIEWER.preview(trial, wanted.id, call.desk.banks(), _look(call, draw))
    banks_text = shown(text, call.desk.banks(), f"{wanted.id}.toml")
    return _seen(preview, banks_text), text


def _look(call: Call, draw: str) -> Look:
    course = call.desk.course().document
    assert course is not None, "the desk's course has its file"
    with speaking(course.language):
        sheets = tuple(Sheet(session, _(title)) for session, title in _SHEETS)
    return Look(sheets, draw, course.title, course.paper, course.language, course.method)


def _seen(preview: Preview, text: TemplateText) -> Seen:
    template = preview.template
    return Seen(
        preview=preview,
        pages=[f"data:image/svg+xml;base64,{b64encode(one).decode()}" for one in preview.pages],
        told=_html([replace(b, drawn=False) if isinstance(b, Scheme) else b for b in preview.told]),
        answers=_html(preview.answers),
        working=_html(preview.working),
        words=list(_lettered(template, text.parts)),
        offered=[_offered(one) for one in preview.questions],
    )


def _lettered(template: Template, parts: Sequence[PartShown]) -> Iterator[tuple[str, Markup]]:
    """What each part of the file asks, in words, and the letters that the sheet gives it."""
    count = 0
    for part in parts:
        found = _asked(template, part)
        letters = dict.fromkeys(label_of(place) for place in (count, count + len(found) - 1) if found)
        count += len(found)
        yield "–".join(letters), _line(part_words(template, found))


def _asked(template: Template, part: PartShown) -> tuple[Asked, ...]:
    keys: dict[str, Any] = {**part.keys, **({"unit": part.unit} if part.unit else {})}
    return read_asked(FaultLog(""), PartDocument.model_validate(_counted(keys)), template.scene, template.plan.sources)


def _counted(keys: dict[str, Any]) -> dict[str, Any]:
    return {key: int(value) if key == "stage" else value for key, value in keys.items()}


def _offered(question: Question) -> Offered:
    keys = {key: value for key, value in question.part.items() if key != "unit"}
    unit = question.part.get("unit", "")
    units = units_like(unit, keys["quantity"])
    return Offered(PartShown(-1, keys, unit, units, "", "", question.session), _line(question.words), question.usual)


@cache
def _layouts() -> dict[str, str]:
    return layouts()


def _html(blocks: Sequence[Block]) -> Markup:
    return Markup(html_of(blocks, _layouts()))  # noqa: S704 - the printer has escaped it


def _line(line: Line) -> Markup:
    return _line_in(line, spoken())


@lru_cache(maxsize=2048)
def _line_in(line: Line, _language: str) -> Markup:
    """A line in the language spoken: what can be asked is the same at the next change, in some twenty lines."""
    return Markup(inline(line, _layouts()))  # noqa: S704 - the printer has escaped it


def _wanted(call: Call) -> WantedTemplate:
    """What the page wants. Raises FaultsError for what no template can be."""
    try:
        data = json.loads(call.said("template"))
    except json.JSONDecodeError:
        raise FaultsError([Fault("", "template", "no template", "what the page sends")]) from None
    wanted = as_document(data, WantedTemplate, FaultLog(""))
    if not wanted.parts:
        raise FaultsError([Fault("", "part", _("nothing that is asked"), _("one question or more"))])
    return wanted


def _save(call: Call) -> Response:
    wanted = _wanted(call)
    save(call.desk, wanted)
    return go(f"/problems/{wanted.id}?saved=1")


def _routes() -> Iterator[Any]:
    yield get("/problems", _list)
    yield get("/new-problem", _new)
    yield post("/save-problem", _save)
    yield post("/preview-problem", _preview)
    yield from REACTION_ROUTES
    yield from SUBSTANCE_ROUTES
    yield get("/problems/{name:path}", _open)


ROOM = Room(
    "prepare",
    "/problems",
    N_("Problems"),
    N_("A reaction, how its reagents are measured out, what is asked; with the sheet and its key beside it."),
    tuple(_routes()),
)
