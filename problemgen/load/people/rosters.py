"""Which roster a set is made for: its own, or those of its course, a file a section."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from problemgen.load.documents import read_document
from problemgen.load.fault_log import FaultLog
from problemgen.load.people.roster import Roster, load_roster
from problemgen.load.resources import SET_FILE
from problemgen.load.sets.courses import Course
from problemgen.load.sets.documents import SetDocument
from problemgen.load.tables.columns import ColumnNames
from problemgen.model.problem_set import Student

__all__ = ["ROSTER_FILE", "roster_files", "rosters_of"]

ROSTER_FILE = "roster.csv"
"""The roster of a set, in its folder."""


def roster_files(folder: Path, course: Course) -> tuple[Path, ...]:
    """The roster of a set's folder, or those of its course that it names, or all of these; none where there are none.

    Raises:
        FaultsError: for rosters that the course does not have.
    """
    document = read_document(folder / SET_FILE, SetDocument)
    if course.document is not None:
        document = document.within(course.document)
    known, faults = course.rosters, FaultLog(str(folder / SET_FILE))
    for number, name in enumerate(document.rosters, start=1):
        if name not in known:
            where = "the name of a file in the folder rosters/ of the course"
            faults.unknown(f"rosters.{number}", name, known, where)
    faults.stop()
    own = folder / ROSTER_FILE
    if document.rosters or not own.is_file():
        return tuple(known[name] for name in document.rosters or known)
    return (own,)


def rosters_of(folder: Path, course: Course, names: ColumnNames | None = None) -> Roster:
    """The students of a set's roster or rosters, in their order; none where there is none.

    Who has no section has the file's name for one, where there are several files. `names` gives our column names.

    Raises:
        FaultsError: all faults of all files; a student who stands in two of them.
    """
    paths = roster_files(folder, course)
    faults, found = FaultLog(str(folder)), dict[str, tuple[Path, Student]]()
    notes: list[str] = []
    for path in paths:
        roster = faults.tried(lambda path=path: load_roster(path, names.of(path) if names else None)) or Roster(())  # type: ignore[misc]
        notes += roster.notes
        for student in roster.students:
            key = student.id.casefold()
            if key in found:
                at = f"the id {student.id!r} again, which {found[key][0]} has"
                faults.of(str(path)).add("", at, "each id in one roster")
            found[key] = (path, _with_section(student, path, paths))
    faults.stop()
    return Roster(tuple(student for _, student in found.values()), tuple(notes))


def _with_section(student: Student, path: Path, paths: Sequence[Path]) -> Student:
    return replace(student, section=path.stem) if len(paths) > 1 and not student.section else student
