"""What there is in a course, in the order of the job: its sets, what was built of each and marked, and when."""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime
from functools import lru_cache
from pathlib import Path
from urllib.parse import quote

from problemgen.desk.desk import Desk
from problemgen.errors import FaultsError, ProblemgenError
from problemgen.language.messages import _
from problemgen.load.answers.answers import ANSWERS_FILE, Answers
from problemgen.load.documents import read_document
from problemgen.load.people.rosters import roster_files
from problemgen.load.resources import SET_FILE
from problemgen.load.sets.courses import Course
from problemgen.load.sets.documents import SetDocument
from problemgen.pipeline.new_course import is_first_set

__all__ = ["Built", "NextStep", "Standing", "built_folder", "next_step", "returned_folder", "standing_of", "standings"]

_OUTPUT = "output"
"""The folder of a course in which the desk builds: output/NAME for sets/NAME, as README's commands do."""

_RETURNED = "returned"
"""The folder of a course for what students hand in: returned/NAME for sets/NAME. No build or marking writes there."""

_GRADES = "grades/gradebook.csv"


@dataclass(frozen=True)
class Built:
    """A built folder: its name in the course, how many students it is for, and when it was built and marked.

    `returned` is when the last of what students handed in came into the course. `is_older`: the set, or its class list,
    has changed since.
    """

    name: str
    students: int
    at: datetime
    marked: datetime | None
    returned: datetime | None
    is_older: bool

    @property
    def is_behind(self) -> bool:
        """Whether answers came back after the last marking."""
        return self.marked is not None and self.returned is not None and self.returned > self.marked


@dataclass(frozen=True)
class Standing:
    """A set of the course: its name, title, number of problems, class lists, what was built of it; or why it is none.

    `title` and the rest are empty where set.toml cannot be read; `error` tells why then. `is_example`: it is the one
    that a new course begins with, as it was.
    """

    name: str
    folder: Path
    title: str = ""
    problems: int = 0
    lists: Sequence[Path] = ()
    built: Built | None = None
    error: ProblemgenError | None = None
    is_example: bool = False


@dataclass(frozen=True)
class NextStep:
    """What is sensible next: a sentence, what the link says, and where it leads."""

    why: str
    link: str
    place: str


def built_folder(desk: Desk, name: str) -> Path:
    """Where the desk builds a set, by its name below sets/."""
    return desk.place() / _OUTPUT / name


def returned_folder(desk: Desk, name: str) -> Path:
    """Where what students hand in for a set is kept, typed papers too: outside of what a build writes."""
    return desk.place() / _RETURNED / name


def standings(desk: Desk) -> tuple[Standing, ...]:
    """All sets of the course, in the order of their names. Raises FaultsError for faults of course.toml."""
    course = desk.course()
    return tuple(_standing(desk, course, name.removeprefix("sets/"), path) for name, path in course.course_sets.items())


def standing_of(desk: Desk, name: str) -> Standing | None:
    """A set of the course by its name below sets/; None for no such set."""
    course = desk.course()
    folder = course.course_sets.get(f"sets/{name}")
    return _standing(desk, course, name, folder) if folder is not None else None


def _standing(desk: Desk, course: Course, name: str, folder: Path) -> Standing:
    try:
        document = read_document(folder / SET_FILE, SetDocument)
        lists = roster_files(folder, course)
    except FaultsError as error:
        return Standing(name, folder, error=error)
    sources = [folder / SET_FILE, *lists]
    built, example = _built(desk, name, sources), is_first_set(folder)
    return Standing(name, folder, document.title, len(document.problem), lists, built, is_example=example)


def _built(desk: Desk, name: str, sources: Sequence[Path]) -> Built | None:
    folder = built_folder(desk, name)
    path = folder / ANSWERS_FILE
    try:
        state = path.stat()
        students = _students(path, state.st_mtime_ns, state.st_size)
    except (OSError, FaultsError):
        return None
    changed = max((one.stat().st_mtime for one in sources if one.is_file()), default=0.0)
    marked = folder / _GRADES
    return Built(
        name=f"{_OUTPUT}/{name}",
        students=students,
        at=_moment(state.st_mtime),
        marked=_moment(marked.stat().st_mtime) if marked.is_file() else None,
        returned=_newest(returned_folder(desk, name)),
        is_older=changed > state.st_mtime,
    )


@lru_cache(maxsize=64)
def _students(path: Path, _time: int, _size: int) -> int:
    with Answers(path) as answers:
        return len(answers.students)


def _newest(folder: Path) -> datetime | None:
    """When the newest file of a folder was written, what is aside of a run left out; None for no file."""
    times = []
    for place, inner, names in os.walk(folder):
        inner[:] = [name for name in inner if not name.startswith(".")]
        for name in names:
            with suppress(OSError):  # gone meanwhile
                times.append((Path(place) / name).stat().st_mtime)
    return _moment(max(times)) if times else None


def _moment(seconds: float) -> datetime:
    return datetime.fromtimestamp(seconds).astimezone()


def next_step(found: Sequence[Standing], rooms: Mapping[str, str]) -> NextStep | None:
    """What is sensible next; `rooms` gives the address of each room by its name there. An example comes last."""
    if not found:
        return NextStep(_("The course has no set yet."), _("Put a set together"), "/new-set")
    groups = ([one for one in found if one.is_example == example] for example in (False, True))
    steps = (step(one, rooms) for group in groups for step in _IN_ORDER for one in group)
    return next(filter(None, steps), None)


def _broken(one: Standing, rooms: Mapping[str, str]) -> NextStep | None:
    if one.error is None:
        return None
    why = _("The set {name} cannot be read.").format(name=one.name)
    return NextStep(why, _("See what is wrong"), f"{rooms['sets']}/{quote(one.name)}")


def _without_class(one: Standing, rooms: Mapping[str, str]) -> NextStep | None:
    if one.error is not None or one.lists:
        return None
    why = _("“{title}” has no class list yet.").format(title=one.title)
    return NextStep(why, _("Drop a class list"), f"{rooms['sets']}/{quote(one.name)}#class")


def _not_built(one: Standing, rooms: Mapping[str, str]) -> NextStep | None:
    if one.error is not None or one.built is not None:
        return None
    why = _("“{title}” has not been built yet.").format(title=one.title)
    return NextStep(why, _("Build its sheets"), f"{rooms['print']}/{quote(one.name)}")


def _built_before(one: Standing, rooms: Mapping[str, str]) -> NextStep | None:
    if one.built is None or not one.built.is_older:
        return None
    why = _("“{title}” has changed since it was built.").format(title=one.title)
    return NextStep(why, _("Build it again; printed numbers stay"), f"{rooms['print']}/{quote(one.name)}")


def _not_marked(one: Standing, rooms: Mapping[str, str]) -> NextStep | None:
    if one.built is None or one.built.marked is not None or "mark" not in rooms:
        return None
    why = _("“{title}” is built. When answers come back, mark them.")
    if one.built.returned is not None:
        why = _("Answers to “{title}” came back, and are not marked yet.")
    return NextStep(why.format(title=one.title), _("Mark"), f"{rooms['mark']}/{quote(one.name)}")


def _marked_before(one: Standing, rooms: Mapping[str, str]) -> NextStep | None:
    if one.built is None or not one.built.is_behind or "mark" not in rooms:
        return None
    why = _("Answers to “{title}” came back after the last marking.").format(title=one.title)
    return NextStep(why, _("Mark again"), f"{rooms['mark']}/{quote(one.name)}")


_IN_ORDER = (_broken, _without_class, _not_built, _built_before, _marked_before, _not_marked)
"""What keeps from going on stands first; of the rest what comes first in the job."""
