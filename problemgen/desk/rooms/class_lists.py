"""Class lists: dropped as a table, their columns recognised, shown, and put right before anything is written."""

from __future__ import annotations

import re
import secrets
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import quote

from starlette.responses import Response

from problemgen.desk.answers import fragment, go
from problemgen.desk.calls import Call, post
from problemgen.desk.columns_shown import check_told, columns_shown
from problemgen.desk.desk import Desk
from problemgen.desk.places import NotThereError, file_inside, inside
from problemgen.errors import Fault, FaultsError, ProblemgenError
from problemgen.language.messages import N_, _
from problemgen.load.people.known_columns import known_columns
from problemgen.load.people.roster import ROSTER_COLUMNS, Roster, load_roster
from problemgen.load.people.rosters import ROSTER_FILE, roster_files
from problemgen.load.resources import SET_FILE
from problemgen.pipeline.new_course import is_first_class
from problemgen.write.files import Staging
from problemgen.write.spreadsheet import CsvLines

__all__ = ["LARGEST", "ROUTES", "ClassShown", "classes"]

LARGEST = 20_000_000
"""Bytes of a class list: 20,000 students with fifty columns have half of it."""

_ENDINGS = (".csv", ".xlsx", ".txt", ".tsv")
_CALLED = {
    "id": N_("Student's id"),
    "name": N_("Name"),
    "first name": N_("First name"),
    "last name": N_("Last name"),
    "section": N_("Section"),
    "language": N_("Language of the sheets"),
}


@dataclass(frozen=True)
class ClassShown:
    """A class list of a set: its name in the course, and how many students; or why it cannot be read.

    `invented`: it is the one that a new course begins with.
    """

    name: str
    students: int = 0
    sections: Sequence[str] = ()
    error: ProblemgenError | None = None
    invented: bool = False


def classes(desk: Desk, folder: Path) -> Sequence[ClassShown]:
    """The class lists of a set, by its folder. Raises FaultsError for a set that names lists that there are not."""
    course = desk.course()
    return [_class(desk, path) for path in roster_files(folder, course)]


def _class(desk: Desk, path: Path) -> ClassShown:
    name = path.relative_to(desk.place()).as_posix()
    try:
        roster = load_roster(path)
    except FaultsError as error:
        return ClassShown(name, error=error)
    sections = sorted({one.section for one in roster.students if one.section})
    return ClassShown(name, len(roster.students), sections, invented=is_first_class(path))


def _set_folder(call: Call) -> Path:
    folder = inside(call.desk.place() / "sets", call.named("name"))
    if not (folder / SET_FILE).is_file():
        raise NotThereError(call.named("name"))
    return folder


def _dropped(call: Call) -> Response:
    """Show what a table that was dropped seems to hold."""
    _set_folder(call)
    one = call.dropped("list", _ENDINGS)[0]
    path = call.put_aside(f"class-{secrets.token_hex(8)}{one.ending}", one.content)
    try:
        table = known_columns(path).table
    except FaultsError as error:
        raise error.of_file(str(path), one.name) from None
    return fragment(
        call,
        "class.html",
        columns=columns_shown(table, _CALLED),
        called=_CALLED,
        name=call.named("name"),
        aside=path.name,
        dropped=one.name,
        stem=_stem(one.name),
        rows=sum(1 for _row in table),
    )


def _stem(name: str) -> str:
    """A section's name made of a file's."""
    return re.sub(r"[^\w-]+", "-", Path(name).stem).strip("-")[:40] or "class"


def _confirmed(call: Call) -> Response:
    """Write the list as it was confirmed, for this set or for the course."""
    folder = _set_folder(call)
    path = file_inside(call.desk.aside, call.said("aside"))
    said = [*zip(call.every("theirs"), call.every("ours"), strict=False)]
    check_told(call.said("dropped"), said, {ours: _(words) for ours, words in _CALLED.items()})
    names = {theirs: ours or theirs for theirs, ours in said if ours or theirs not in ROSTER_COLUMNS}
    try:
        roster = load_roster(path, names)
    except FaultsError as error:
        raise error.of_file(str(path), call.said("dropped")) from None
    target = _target(call, folder)
    with Staging(target.parent, only=target.name, replace=True) as staging:
        staging.write(target.name, _text(roster))
    return go(f"/sets/{quote(call.named('name'))}?saved=1#class")


def _target(call: Call, folder: Path) -> Path:
    if call.said("for") != "course":
        return folder / ROSTER_FILE
    stem = call.said("section")
    if _stem(stem) != stem:
        hint = _("It is the name of the list's file.")
        raise FaultsError([Fault("", "section", repr(stem), _("letters, digits and hyphens"), hint)])
    return inside(call.desk.place() / "rosters", f"{stem}.csv")


def _text(roster: Roster) -> bytes:
    """A list as the program reads it without being told anything; columns that nobody fills in are left out."""
    more = list(dict.fromkeys(name for student in roster.students for name, _cell in student.more))
    ours = {
        "section": any(student.section for student in roster.students),
        "language": any(student.language for student in roster.students),
    }
    used = [name for name in ROSTER_COLUMNS if name in ("id", "name") or ours.get(name)]
    lines = CsvLines()
    text = lines.line([*used, *more])
    for student in roster.students:
        said = {"id": student.id, "name": student.name, "section": student.section, "language": student.language}
        others = dict(student.more)
        text += lines.line([*(said[name] for name in used), *(others.get(name, "") for name in more)])
    return text


ROUTES = (post("/class/{name:path}", _dropped), post("/class-list/{name:path}", _confirmed))
"""Where lists are dropped and confirmed, by the set's name."""
