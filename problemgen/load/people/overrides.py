"""Reading an instructor's decisions: a table with the columns student, part, points, reason, and perhaps attempt.

    student,part,points,reason
    s014,2b,1.5,The burette stuck            points in the place of the marking's
    s014,2,4,Shown on paper                  of a whole problem
    *,,bonus 1,The fire alarm                added for everybody: to a part, a problem, or with no part to the sheet
    *,3c,drop,A misprint                     counts for nobody, and the sheet has so many points fewer
    s020,,drop,Ill; excused                  no mark at all

What is said of one student goes before what is said of all, and of an attempt before what is said of all attempts. A
bonus is added to whatever holds; "bonus -2" takes away. What all are given, those who handed nothing in are not.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from string import ascii_lowercase

from problemgen.exact.rounding import plain_text
from problemgen.load.fault_log import FaultLog, nearest
from problemgen.load.tables.table import Row, Table
from problemgen.model.decision import ALL, Decision, DecisionKind, Decisions

__all__ = ["OVERRIDES_FILE", "load_overrides"]

OVERRIDES_FILE = "overrides.csv"

_COLUMNS = ("student", "part", "points", "reason")
_POINTS = re.compile(
    r"(bonus ?([+-]?) ?)?([0-9]{1,6})(?:[.,]([0-9]{1,6})|/([1-9][0-9]{0,3}))?", re.ASCII | re.IGNORECASE
)
_DROP, _EXPECTED = "drop", "a number of points such as 1.5, 1,5 or 3/2, with or without 'bonus' before it, or 'drop'"

_MOST_ATTEMPTS = 999  # where nobody says how many there are: numbers of three figures

PointsOf = Callable[[str], Mapping[str, Fraction]]
"""The points to be had in each part of a student, by the part's label; of `ALL`, the most that any student has."""


def load_overrides(
    path: Path, students: Iterable[str], points_of: PointsOf, attempts: int = _MOST_ATTEMPTS
) -> Decisions:
    """The decisions of a file; `attempts` is how many there are. The form is in the module's docstring.

    Raises:
        FaultsError: all faults at once, each with its line: a missing column, an unknown student, part or problem,
            points that cannot be read or are more than are to be had there, no reason, a decision that stands twice.
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
    return Decisions(tuple(reader.decisions))


@dataclass(frozen=True)
class _Place:
    """What a decision is about; two decisions about the same are one too many."""

    student: str
    part: str
    attempt: int | None
    is_bonus: bool


class _Reader:
    """Takes row by row, and keeps the decisions; the faults go into the log."""

    def __init__(self, faults: FaultLog, known: Mapping[str, str], points_of: PointsOf, attempts: int) -> None:
        self._faults, self._known, self._points_of, self._attempts = faults, known, points_of, attempts
        self._lines: dict[_Place, int] = {}
        self._seen: dict[str, Mapping[str, Fraction]] = {}
        self.decisions: list[Decision] = []

    def take(self, row: Row) -> None:
        line = f"line {row.line}"
        before = len(self._faults)
        student, part, most = self._whose(row, line)
        given = self._points(row.cells.get("points", "").strip(), line, part, most)
        reason = " ".join(row.cells.get("reason", "").split())
        if not reason:
            self._faults.add(line, "no reason", "a reason, which the student is told")
        attempt = self._attempt(row.cells.get("attempt", "").strip(), line)
        if row.remark or any(cell.strip() for cell in row.surplus):
            found = row.remark or "cells beyond the last column"
            self._faults.add(
                line, found, "a cell for each column", "Put quotation marks around a reason with separators."
            )
        if student == ALL and not part and given is not None and given[1] == "drop":
            self._faults.add(line, "the whole sheet dropped for all", "a student, a problem or a part")
        if len(self._faults) > before or given is None:
            return
        points, kind = given
        place = _Place(student, part, attempt, kind == "bonus")
        first = self._lines.setdefault(place, row.line)
        if first != row.line:
            found = f"{student} {part or 'the whole sheet'} again, first on line {first}"
            self._faults.add(line, found, "one decision, and one bonus, for a place")
        self.decisions.append(Decision(student, part, points, reason, attempt, kind))

    def _whose(self, row: Row, line: str) -> tuple[str, str, Fraction | None]:
        """The student, the part or problem, and the points to be had there; None where either is unknown."""
        written, part = row.cells.get("student", "").strip(), row.cells.get("part", "").strip().lower()
        student = ALL if written == ALL else self._known.get(written.casefold())
        if student is None:
            found = f"the student {written!r}" if written else "no student"
            expected = f"an id of the set's roster, or {ALL} for all"
            self._faults.add(line, found, expected, nearest(written, self._known.values()))
            return "", part, None
        points = self._seen.setdefault(student, _of_places(self._points_of(student)))
        if part not in points:
            known = [place for place in points if place]
            expected = f"one of {', '.join(known)}, or nothing for the whole sheet"
            self._faults.add(line, f"the part {part!r}", expected, nearest(part, known))
            return student, part, None
        return student, part, points[part]

    def _points(self, text: str, line: str, part: str, most: Fraction | None) -> tuple[Fraction, DecisionKind] | None:
        """What is given, and how; None where it cannot be read or is too much."""
        if text.casefold() == _DROP:
            return Fraction(0), "drop"
        found = _POINTS.fullmatch(text)
        if found is None:
            self._faults.add(line, f"points {text!r}" if text else "no points", _EXPECTED)
            return None
        bonus, sign, whole, decimals, below = found.groups()
        points = Fraction(int(whole), int(below)) if below else Fraction(f"{whole}.{decimals or 0}")
        if bonus:
            return (-points if sign == "-" else points), "bonus"
        if most is not None and points > most:
            whose = "the sheet's" if not part else "the problem's" if part.isdecimal() else "the part's"
            shown = plain_text(most, -2).rstrip("0").rstrip(".")
            self._faults.add(line, f"{text} points", f"from 0 to {shown}, {whose}", "More is a bonus: 'bonus 1'.")
            return None
        return points, "points"

    def _attempt(self, text: str, line: str) -> int | None:
        if not text:
            return None
        if not (text.isascii() and text.isdecimal() and len(text) < 4 and 0 < int(text) <= self._attempts):
            self._faults.add(line, f"the attempt {text!r}", "the number of an attempt, or nothing for all")
            return None
        return int(text)


def _of_places(parts: Mapping[str, Fraction]) -> Mapping[str, Fraction]:
    """The points to be had in each problem and part, in the order of the sheet, and under "" on the whole sheet."""
    places: dict[str, Fraction] = {"": sum(parts.values(), Fraction(0))}
    for label, points in parts.items():
        problem = label.rstrip(ascii_lowercase)
        places[problem] = places.get(problem, Fraction(0)) + points
        places[label] = points
    return places
