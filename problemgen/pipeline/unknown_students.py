"""Problems of a set that are for students whom its roster does not have."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from problemgen.errors import Fault
from problemgen.load.fault_log import nearest
from problemgen.load.people.roster import Roster
from problemgen.load.resources import SET_FILE
from problemgen.model.problem_set import ProblemSet

__all__ = ["unknown_students"]


def unknown_students(folder: Path, problem_set: ProblemSet, roster: Roster) -> Iterator[Fault]:
    """Faults for problems that are for students whom the roster does not have."""
    ids = [student.id for student in roster.students]
    for place, problem in enumerate(problem_set.problems, start=1):
        for unknown in sorted(problem.students.difference(ids)):
            file, key = str(folder / SET_FILE), f"problem.{place}.for"
            yield Fault(file, key, repr(unknown), "the id of a student in the roster", nearest(unknown, ids))
