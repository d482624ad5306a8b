"""The folders of a set's marking, and the files in them."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from hashlib import sha256
from pathlib import Path

from problemgen.desk.calls import Call
from problemgen.desk.places import NotThereError
from problemgen.desk.standing import Standing, built_folder, returned_folder, standing_of
from problemgen.load.answers.answers import ANSWERS_FILE
from problemgen.load.people.means import MEANS_FILE
from problemgen.load.people.overrides import OVERRIDES_FILE
from problemgen.load.resources import COURSE_FILE, SET_FILE
from problemgen.pipeline.built import SECRET_FILE
from problemgen.write.steps import Steps

__all__ = ["COLLECTED_FILE", "TABLES", "MarkingPlace", "State", "place_of", "state_of"]

TABLES = (".csv", ".xlsx", ".txt", ".tsv")
"""Endings of tables of responses."""

COLLECTED_FILE = "collected.csv"
"""The table of responses that is made of the files which were handed in."""

_HANDED_IN = "handed-in"
"""The folder of a course for files that a course platform gives: handed-in/NAME/files. What is read of them goes into a
table of responses in returned/NAME."""

_STEPS = ".steps"
"""The journal of what was done: hidden, so that `returned/NAME/*` on a command line is the tables alone."""

State = tuple[tuple[str, int, int], ...]
"""Files by their names, times and sizes; what is not there is left out."""


@dataclass(frozen=True)
class MarkingPlace:
    """Where a set's marking lies: its `name`, its standing, and the folders."""

    one: Standing
    course: Path
    built: Path
    returned: Path
    handed_in: Path

    @property
    def name(self) -> str:
        """The set's name below sets/."""
        return self.one.name

    @property
    def grades(self) -> Path:
        """Where grades are written."""
        return self.built / "grades"

    @property
    def is_built(self) -> bool:
        """Whether there is anything to mark by."""
        return (self.built / ANSWERS_FILE).is_file()

    @property
    def steps(self) -> Steps:
        """The journal of what was decided, dropped and removed."""
        return Steps(self.returned / _STEPS, self.course)

    @property
    def tables(self) -> tuple[Path, ...]:
        """The tables of responses, in the order in which they are marked: that of their names."""
        return tuple(path for path in _files(self.returned) if path.suffix.lower() in TABLES)

    @property
    def files(self) -> tuple[Path, ...]:
        """The files that were handed in, from which a table is collected."""
        return _files(self.handed_in)

    @property
    def state(self) -> State:
        """All that a marking hangs on."""
        beside = (self.built / name for name in (SECRET_FILE, OVERRIDES_FILE, MEANS_FILE))
        return state_of(*beside, *self._keys, *self.tables)

    @property
    def build(self) -> str:
        """What tells the keys and points that are marked by from others, in short."""
        return _digest(state_of(*self._keys))

    @property
    def _keys(self) -> tuple[Path, ...]:
        return self.built / ANSWERS_FILE, self.one.folder / SET_FILE, self.course / COURSE_FILE

    def told(self, path: Path) -> str:
        """A file by its name in the course."""
        return path.relative_to(self.course).as_posix()


def state_of(*paths: Path) -> State:
    """The state of some files."""
    found = ((path, path.stat()) for path in paths if path.is_file())
    return tuple((str(path), state.st_mtime_ns, state.st_size) for path, state in found)


@lru_cache(maxsize=16)
def _digest(state: State) -> str:
    found = sha256()
    for name, _time, _size in state:
        found.update(sha256(Path(name).read_bytes()).digest())
    return found.hexdigest()[:16]


def _files(folder: Path) -> tuple[Path, ...]:
    """The files in a folder, by their names; no hidden ones, and no links."""
    if not folder.is_dir():
        return ()
    return tuple(
        path
        for path in sorted(folder.iterdir(), key=lambda one: one.name)
        if path.is_file() and not path.is_symlink() and not path.name.startswith(".")
    )


def place_of(call: Call) -> MarkingPlace:
    """The marking of the set in the address; a step that was ended in the middle is taken back first.

    Raises NotThereError for no such set, and why it cannot be read; OutputError for what cannot be finished.
    """
    found = standing_of(call.desk, call.named("name"))
    if found is None:
        raise NotThereError(call.named("name"))
    if found.error is not None:
        raise found.error
    desk, course = call.desk, call.desk.place()
    place = MarkingPlace(
        one=found,
        course=course,
        built=built_folder(desk, found.name),
        returned=returned_folder(desk, found.name),
        handed_in=course / _HANDED_IN / found.name / "files",
    )
    place.steps.settle()
    return place
