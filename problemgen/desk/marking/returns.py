"""What students handed in, as it is dropped on the desk: looked through at once, put into the course, taken away."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime
from functools import lru_cache
from pathlib import Path

from problemgen.desk.calls import Dropped
from problemgen.desk.marking.place import COLLECTED_FILE, TABLES, MarkingPlace, State, state_of
from problemgen.desk.marking.table_columns import TableAsked, asked_about, responses_in, told_columns
from problemgen.errors import Fault, FaultsError, ProblemgenError
from problemgen.language.messages import _
from problemgen.load.answers.answers import ANSWERS_FILE
from problemgen.load.people.responses import RESPONSES_FILE
from problemgen.load.people.whose_rows import Entry
from problemgen.load.returns.kinds import kind_of
from problemgen.load.returns.read import read_returned
from problemgen.load.tables.columns import COLUMNS_FILE
from problemgen.model.returned import Filled, Returned
from problemgen.pipeline.collect import CollectReport, collect
from problemgen.pipeline.progress import Progress
from problemgen.write.apart import apart
from problemgen.write.steps import Steps

__all__ = [
    "ENDINGS",
    "Came",
    "TableShown",
    "asked_in",
    "came",
    "collected",
    "tables_by_entry",
    "tables_shown",
    "taken_away",
    "typed_beside",
]

_FILES = (".zip", ".pdf")
"""Endings of what a course platform hands out, and of sheets that were filled in."""

ENDINGS = (*TABLES, *_FILES)

_LONGEST = 80  # letters of a name that are kept
_LONGEST_BYTES = 160  # of these: a name has 255 on most systems, and what is written is put beside under a longer one
_SECONDS = 20.0  # for one workbook, as in collecting


@dataclass(frozen=True)
class TableShown:
    """A table of responses: its name, when it came, how many students it has; or why it cannot be read."""

    name: str
    at: datetime
    size: int
    students: int = 0
    error: ProblemgenError | None = None


@dataclass(frozen=True)
class Came:
    """What was dropped: the contents by their names in the course, and of these the names that are there already.

    `told` is what was said of the columns of each table, by the name that it is kept under.
    """

    contents: Mapping[str, bytes]
    there: Sequence[str]
    is_collected: bool
    told: Mapping[str, Mapping[str, str]]


def tables_shown(place: MarkingPlace) -> Iterator[TableShown]:
    """The tables that are marked, in their order."""
    for path in place.tables:
        state = path.stat()
        shown = TableShown(path.name, datetime.fromtimestamp(state.st_mtime).astimezone(), state.st_size)
        try:
            yield TableShown(shown.name, shown.at, shown.size, _students(place, path))
        except FaultsError as error:
            yield TableShown(shown.name, shown.at, shown.size, error=error.of_file(str(path), path.name))


def _students(place: MarkingPlace, path: Path) -> int:
    return len({student for student, _attempt in _entries(place, path)})


def _entries(place: MarkingPlace, path: Path) -> frozenset[Entry]:
    """The attempts that a table has answers of. Raises FaultsError for one that cannot be marked."""
    beside = (place.built / ANSWERS_FILE, place.built / COLUMNS_FILE)
    return _found_in(place.built, path, state_of(path, *beside))


@lru_cache(maxsize=256)
def _found_in(built: Path, path: Path, _state: State) -> frozenset[Entry]:
    return responses_in(built, path, path.name).handed_in


def tables_by_entry(place: MarkingPlace, without: str) -> Mapping[Entry, Sequence[str]]:
    """The names of the tables that each attempt has answers in, one table left out, and those that cannot be marked."""
    found: dict[Entry, list[str]] = {}
    for path in place.tables:
        if path.name != without:
            with suppress(FaultsError):
                for entry in _entries(place, path):
                    found.setdefault(entry, []).append(path.name)
    return found


def typed_beside(place: MarkingPlace) -> int:
    """How many students have answers in the table beside the sheets, which a build writes to be typed into.

    0 where it is among the tables that are marked, and where it cannot be read.
    """
    path = place.built / RESPONSES_FILE
    if not path.is_file() or path.read_bytes() in (one.read_bytes() for one in place.tables):
        return 0
    try:
        return _students(place, path)
    except FaultsError:
        return 0


def came(place: MarkingPlace, dropped: Sequence[tuple[Dropped, Path]]) -> Came:
    """Look through what was dropped, each file with the place where it lies aside.

    Raises FaultsError for all faults of all files: a table that cannot be marked, the same contents twice.
    """
    faults: list[Fault] = []
    contents: dict[str, bytes] = {}
    told: dict[str, Mapping[str, str]] = {}
    known = {path.read_bytes(): path.name for path in (*place.tables, *place.files)}
    for one, path in dropped:
        try:
            folder = place.returned if _is_table(place, one, path) else place.handed_in
        except FaultsError as error:
            faults += error.of_file(str(path), one.name).faults
            continue
        name = _kept_name(one)
        before = known.setdefault(one.content, name)
        if before != name:
            hint = _("Each file once; remove the other one first, if this one is to stand in its place.")
            faults.append(Fault(one.name, "", _("the same contents as {name}").format(name=before), _("another file"),
                                hint))  # fmt: skip
        if folder == place.returned:
            told[name] = told_columns(place.built, path, name)
        kept = place.told(folder / name)
        if contents.setdefault(kept, one.content) != one.content:
            hint = _("Give one of them another name, and drop both once more.")
            faults.append(Fault(one.name, "", _("two files that would be kept as {name}").format(name=name),
                                _("files of different names"), hint))  # fmt: skip
    if faults:
        raise FaultsError(faults)
    new = {name: content for name, content in contents.items() if not _is_there(place.course / name, content)}
    there = [name for name in new if (place.course / name).exists()]
    handed_in = place.told(place.handed_in)
    return Came(new, there, any(name.startswith(f"{handed_in}/") for name in new), told)


def asked_in(place: MarkingPlace, one: Dropped, path: Path, *, always: bool = False) -> TableAsked | None:
    """What has to be asked about a file that was dropped; None for what is taken, or refused, without a question."""
    if one.ending in _FILES:
        return None
    try:
        asked = asked_about(place.built, one, path, _kept_name(one), always=always)
    except FaultsError:
        return None
    return None if asked and one.ending == ".xlsx" and _is_filled_in(one.name, path) else asked


def _is_there(path: Path, content: bytes) -> bool:
    return path.is_file() and path.read_bytes() == content


def _is_table(place: MarkingPlace, one: Dropped, path: Path) -> bool:
    """Whether a file is a table of responses; False for what is collected. Raises FaultsError for what is neither."""
    if one.ending in _FILES:
        return False
    try:
        responses_in(place.built, path, _kept_name(one))
    except FaultsError:
        if one.ending == ".xlsx" and _is_filled_in(one.name, path):
            return False
        raise
    return True


def _is_filled_in(name: str, path: Path) -> bool:
    """Whether a workbook is one that was handed out and filled in."""
    read = next(apart(read_returned, [(Returned(name, path, kind_of(path)),)], _SECONDS, None))
    return isinstance(read, Filled)


def _kept_name(one: Dropped) -> str:
    """The name that a file is kept under: its own, without what some system or a command line takes for more."""
    stem = re.sub(r"[^\w .()+-]+", "_", one.name[: len(one.name) - len(one.ending)]).strip(" .-")[:_LONGEST]
    stem = stem.encode()[:_LONGEST_BYTES].decode(errors="ignore")
    name = f"{stem.lstrip('~') or 'responses'}{one.ending}"
    return f"dropped-{name}" if name.casefold() == COLLECTED_FILE else name


def taken_away(place: MarkingPlace, name: str) -> Mapping[str, bytes | None]:
    """What changes where a file is removed, by its name in the course. Raises FaultsError for one that is not there."""
    path = next((one for one in (*place.tables, *place.files) if place.told(one) == name), None)
    if path is None:
        hint = _("It was removed meanwhile: look at the page again.")
        raise FaultsError([Fault(name, "", _("no such file any more"), _("a file of the list"), hint)])
    changes: dict[str, bytes | None] = {name: None}
    table = place.returned / COLLECTED_FILE
    if place.files == (path,) and table.is_file():  # of nothing, nothing is collected
        changes[place.told(table)] = None
    return changes


def collected(
    built: Path, handed_in: Path, table: Path, steps: Steps, root: Path, progress: Progress
) -> CollectReport:  # in a process of its own
    """Read all files that were handed in, and put the table of their answers beside the others.

    What is dropped meanwhile is read too. Raises what `collect` does.
    """
    before: Sequence[object] = ()
    while (now := _files_in(handed_in)) != before:
        before = now
        report = collect(built, handed_in, handed_in.parent / table.name, replace=True, progress=progress)
    content = report.out.read_bytes()
    report.out.unlink()  # it stands once: where it is marked, and may be put right
    if report.taken or table.is_file():  # a table of files that were removed would still be marked
        steps.take("collected", {"count": str(report.taken)}, lambda: {table.relative_to(root).as_posix(): content})
    return report


def _files_in(folder: Path) -> Sequence[object]:
    return sorted((path.name, path.stat().st_mtime_ns) for path in folder.iterdir())
