"""Sets: which problems, in which order, for which class, marked how."""

from __future__ import annotations

import json
import re
import unicodedata
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from urllib.parse import quote

from starlette.responses import Response

from problemgen.desk.answers import fragment, go, page
from problemgen.desk.calls import Call, get, post
from problemgen.desk.places import NotThereError, inside
from problemgen.desk.room import Room
from problemgen.desk.rooms.class_lists import LARGEST, classes
from problemgen.desk.rooms.class_lists import ROUTES as CLASS_ROUTES
from problemgen.desk.rooms.library import TemplateShown, library, shown
from problemgen.desk.set_files.saving import save, seen, text_of
from problemgen.desk.set_files.settings import GROUPS, KEYS, Setting, consequence, shown_value, written_value
from problemgen.desk.set_files.wanted import WantedSet
from problemgen.desk.standing import standing_of, standings
from problemgen.errors import Fault, FaultsError
from problemgen.language.messages import N_, _, ngettext, spoken
from problemgen.language.numbers import locale_of
from problemgen.load.documents import as_document, read_document
from problemgen.load.fault_log import FaultLog
from problemgen.load.resources import SET_FILE
from problemgen.load.sets.courses import Course
from problemgen.load.sets.documents import SetDocument, SetProblemDocument
from problemgen.pipeline.new_course import copy_into

__all__ = ["ROOM"]

_TITLES = {1: N_("Before the session"), 2: N_("After the session"), 3: N_("After the second session")}
"""What a new sheet is called, by its session."""


@dataclass(frozen=True)
class ProblemShown:
    """A problem as the page shows it: its place in the file, its templates, its points by letter, what else it says.

    `own` are the values that students measure, `students` the ids of those who get it alone.
    """

    was: int | None
    templates: Sequence[TemplateShown]
    points: Mapping[str, str]
    remarks: Sequence[str] = ()
    own: Sequence[str] = ()
    students: Sequence[str] = ()

    @property
    def sessions(self) -> Sequence[int]:
        """The sessions that have parts of it."""
        return sorted({part.session for one in self.templates for part in one.parts})


@dataclass(frozen=True)
class SettingShown:
    """A setting: what the set says ("" for nothing), and what holds then; what follows, in a sentence."""

    setting: Setting
    said: str
    usual: str
    so: str


def _list(call: Call) -> Response:
    ours = [
        (name.removeprefix("sets/"), _(read_document(folder / SET_FILE, SetDocument).title))
        for name, folder in Course().sets.items()
    ]
    return page(call, "sets.html", found=standings(call.desk), ours=ours)


def _copy(call: Call) -> Response:
    made = copy_into(call.said("name"), call.desk.place())
    return go(f"/sets/{quote(made.name)}")


def _folder(call: Call) -> Path:
    """The set's folder. Raises NotThereError for a name that is none of the course's."""
    name = call.named("name")
    folder = inside(call.desk.place() / "sets", name)
    if not (folder / SET_FILE).is_file():
        raise NotThereError(name)
    return folder


def _shown_set(call: Call) -> Response:
    folder = _folder(call)
    name = call.named("name")
    document = read_document(folder / SET_FILE, SetDocument)
    problems = [_shown_problem(call, place, one, folder) for place, one in enumerate(document.problem)]
    return _editor(call, name, document, problems, folder)


def _new(call: Call) -> Response:
    """A new set; with the problems that the address names."""
    return _editor(
        call, "", None, [_added(call, [name]) for name in call.request.query_params.getlist("template")], None
    )


def _editor(
    call: Call, name: str, document: SetDocument | None, problems: Sequence[ProblemShown], folder: Path | None
) -> Response:
    course = call.desk.course()
    titles = {one.session: one.title for one in document.sheet} if document is not None else {}
    return page(
        call,
        "set.html",
        name=name,
        document=document,
        problems=problems,
        sheets=[(session, titles.get(session) or _(usual), _(usual)) for session, usual in _TITLES.items()],
        groups=[(group, [_setting(call, document, one) for one in group.settings]) for group in GROUPS],
        seen=seen(text_of(folder)) if folder is not None else "",
        library=library(call.desk),
        counted=_counted,
        course_title=course.document.title if course.document is not None else "",
        classes=classes(call.desk, folder) if folder is not None else None,
        standing=standing_of(call.desk, name) if name else None,
    )


def _counted(what: str) -> str:
    """Words with a number that the page counts, by the number's category in the language spoken (CLDR), as JSON."""
    rule = locale_of(spoken()).plural_form
    words = {
        "points": lambda n: ngettext("{points} point", "{points} points", n),
        "templates": lambda n: ngettext("{count} template", "{count} templates", n),
    }
    return json.dumps({rule(number): words[what](number) for number in range(_COUNTED, -1, -1)})


_COUNTED = 200
"""Numbers that between them have all the categories of a language that whole numbers have."""


def _shown_problem(call: Call, place: int, one: SetProblemDocument, folder: Path) -> ProblemShown:
    points = {letter: part.points.text for letter, part in one.part.items() if part.points is not None}
    remarks = []
    if one.policy.model_fields_set or any(part.model_fields_set - {"points"} for part in one.part.values()):
        remarks.append(_("It is marked in a way of its own, as its file says."))
    templates = [shown(call.desk, name, folder) for name in one.names]
    return ProblemShown(place, templates, points, remarks, one.own, one.whose or ())


def _setting(call: Call, document: SetDocument | None, setting: Setting) -> SettingShown:
    """What a set says of a setting, and what holds where it says nothing: the course's, or the program's."""
    course = call.desk.course().document
    usual = shown_value(setting, _value(course, setting.key) if course is not None else _usual(setting.key))
    own = _said(document, setting.key)
    said = shown_value(setting, _value(document, setting.key)) if own else ""
    return SettingShown(setting, said, usual, consequence(setting, said or usual))


def _value(record: Any, key: str) -> Any:
    for step in key.split("."):
        record = getattr(record, step)
    return record


def _usual(key: str) -> Any:
    head, _dot, rest = key.partition(".")
    usual = SetDocument.model_fields[head].default
    return _value(usual, rest) if rest else usual


def _said(record: Any, key: str) -> bool:
    """Whether a file says a key itself."""
    for step in key.split("."):
        if record is None or (hasattr(record, "model_fields_set") and step not in record.model_fields_set):
            return False
        record = getattr(record, step)
    return record is not None


def _card(call: Call) -> Response:
    """A problem that is put into a set."""
    names = call.request.query_params.getlist("template")
    return fragment(call, "problem.html", problem=_added(call, names))


def _added(call: Call, names: Sequence[str]) -> ProblemShown:
    """A problem that stands in no file yet, by the templates of which one is drawn. Raises NotThereError."""
    known = call.desk.course().templates
    if not names or any(name not in known for name in names):
        raise NotThereError(" ".join(names))
    return ProblemShown(None, [shown(call.desk, name) for name in names], {})


def _save(call: Call) -> Response:
    name = call.named("name")
    inside(call.desk.place() / "sets", name)
    save(call.desk, name, _wanted(call), KEYS)
    return go(f"/sets/{quote(name)}?saved=1")


def _save_new(call: Call) -> Response:
    wanted = _wanted(call)
    name = _free_name(call, wanted.title)
    save(call.desk, name, wanted, KEYS)
    return go(f"/sets/{quote(name)}?saved=1")


def _wanted(call: Call) -> WantedSet:
    """What the page wants. Raises FaultsError for what no set can be."""
    try:
        data = json.loads(call.said("set"))
    except json.JSONDecodeError:
        raise FaultsError([Fault("", "set", "no set", "what the page sends")]) from None
    wanted = as_document(data, WantedSet, FaultLog(SET_FILE))
    if not wanted.problems:
        hint = _("Add one from the list of templates.")
        raise FaultsError([Fault(SET_FILE, "problem", _("no problem"), _("one problem or more"), hint)])
    settings = {one.key: one for group in GROUPS for one in group.settings}
    said = {key: written_value(settings.get(key), text) for key, text in wanted.settings.items() if key in KEYS}
    return wanted.model_copy(update={"settings": said})


def _free_name(call: Call, title: str) -> str:
    """A name for a new set's folder, made of its title."""
    plain = unicodedata.normalize("NFKD", title).encode("ascii", "ignore").decode().casefold()
    stem = re.sub("[^a-z0-9]+", "-", plain).strip("-")[:40] or "set"
    taken = {path.name.casefold() for path in (call.desk.place() / "sets").glob("*")}
    return next(
        name for number in range(1, 10_000) if (name := stem if number == 1 else f"{stem}-{number}") not in taken
    )


ROOM = Room(
    "prepare",
    "/sets",
    N_("Sets"),
    N_("Which problems, in which order, for which class, marked how."),
    (
        get("/sets", _list),
        post("/sets", _copy),
        get("/new-set", _new),
        post("/new-set", _save_new),
        get("/sets/{name:path}", _shown_set),
        post("/sets/{name:path}", _save),
        get("/problem", _card),
        *CLASS_ROUTES,
    ),
    {"/class/": LARGEST},
)
