"""Reading an instructor's decisions: a table with the columns student, part, points, reason, and perhaps attempt."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

from problemgen.exact.rounding import plain_text
from problemgen.load.fault_log import FaultLog, nearest
from problemgen.load.tables import Row, Table
from problemgen.model.decision import Decision, Decisions

__all__ = ["OVERRIDES_FILE", "load_overrides"]

OVERRIDES_FILE = "overrides.csv"

_COLUMNS = ("student", "part", "points", "reason")
_POINTS = re.compile(r"([0-9]{1,6})(?:[.,]([0-9]{1,6})|/([1-9][0-9]{0,3}))?")

_MOST_ATTEMPTS = 999  # where nobody says how many there are: numbers of three figures

PointsOf = Callable[[str], Mapping[str, Fraction]]
"""The points to be had in each part of a student, by the part's label."""


def load_overrides(
    path: Path, students: Iterable[str], points_of: PointsOf, attempts: int = _MOST_ATTEMPTS
) -> Decisions:
    """The decisions of a file, by student; `attempts` is how many there are.

    Points are numbers with a point or a comma, or fractions: "1.5", "3/2".

    Raises:
        FaultsError: all faults at once, each with its line: a missing column, an unknown student or part, points that
            cannot be read or are more than the part's, no reason, a decision that stands twice.
    """
    table = Table(path, "student")
    faults = FaultLog(table.file)
    lacking = [name for name in _COLUMNS if name not in table.columns]
    if lacking:
        found = f"the columns {', '.join(map(repr, table.columns[:8]))}"
        expected = f"the columns {', '.join(_COLUMNS)}, and perhaps attempt"
        faults.refuse(f"line {table.header_line}", found, expected)
    reader = _Reader(faults, {student.casefold(): student for student in students}, points_of, attempts)
    for row in table:
        reader.take(row)
    faults.stop()
    return reader.by_student()


@dataclass(frozen=True)
class _Place:
    """What a decision is about; two decisions about the same are one too many."""

    student: str
    part: str
    attempt: int | None


class _Reader:
    """Takes row by row, and keeps the decisions; the faults go into the log."""

    def __init__(self, faults: FaultLog, known: Mapping[str, str], points_of: PointsOf, attempts: int) -> None:
        self._faults, self._known, self._points_of, self._attempts = faults, known, points_of, attempts
        self._lines: dict[_Place, int] = {}
        self._decisions: dict[str, list[Decision]] = {}

    def take(self, row: Row) -> None:
        line = f"line {row.line}"
        before = len(self._faults)
        student, part, most = self._whose(row, line)
        points = self._points(row.cells.get("points", "").strip(), line, most)
        reason = " ".join(row.cells.get("reason", "").split())
        if not reason:
            self._faults.add(line, "no reason", "a reason, which the student is told")
        attempt = self._attempt(row.cells.get("attempt", "").strip(), line)
        if row.remark or any(cell.strip() for cell in row.surplus):
            found = row.remark or "cells beyond the last column"
            self._faults.add(
                line, found, "a cell for each column", "Put quotation marks around a reason with separators."
            )
        if len(self._faults) > before or points is None:
            return
        place = _Place(student, part, attempt)
        first = self._lines.setdefault(place, row.line)
        if first != row.line:
            self._faults.add(line, f"{student} {part} again, first on line {first}", "one decision for a part")
        self._decisions.setdefault(student, []).append(Decision(student, part, points, reason, attempt))

    def by_student(self) -> Decisions:
        return {student: tuple(decisions) for student, decisions in self._decisions.items()}

    def _whose(self, row: Row, line: str) -> tuple[str, str, Fraction | None]:
        """The student, the part and the points to be had; None where either is unknown."""
        written, part = row.cells.get("student", "").strip(), row.cells.get("part", "").strip().lower()
        student = self._known.get(written.casefold())
        if student is None:
            found = f"the student {written!r}" if written else "no student"
            self._faults.add(line, found, "an id of the set's roster", nearest(written, self._known.values()))
            return "", part, None
        points = self._points_of(student)
        if part not in points:
            found = f"the part {part!r}" if part else "no part"
            self._faults.add(line, found, f"one of {', '.join(points)}", nearest(part, points))
            return student, part, None
        return student, part, points[part]

    def _points(self, text: str, line: str, most: Fraction | None) -> Fraction | None:
        found = _POINTS.fullmatch(text)
        if found is None:
            shown = f"points {text!r}" if text else "no points"
            self._faults.add(line, shown, "a number of points such as 1.5, 1,5 or 3/2")
            return None
        whole, decimals, below = found.groups()
        points = Fraction(int(whole), int(below)) if below else Fraction(f"{whole}.{decimals or 0}")
        if most is not None and points > most:
            self._faults.add(
                line, f"{text} points", f"from 0 to {plain_text(most, -2).rstrip('0').rstrip('.')}, the part's"
            )
            return None
        return points

    def _attempt(self, text: str, line: str) -> int | None:
        if not text:
            return None
        if not (text.isascii() and text.isdecimal() and len(text) < 4 and 0 < int(text) <= self._attempts):
            self._faults.add(line, f"the attempt {text!r}", "the number of an attempt, or nothing for all")
            return None
        return int(text)
