"""The means of sections, and of the whole class."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction

from problemgen.model.total import StudentTotal
from problemgen.render.feedback.points import points_number
from problemgen.write.files import Staging
from problemgen.write.spreadsheet import CsvLines

__all__ = ["SECTIONS_FILE", "SectionsTable"]

SECTIONS_FILE = "sections.csv"
_ALL = "all"


class SectionsTable:
    """sections.csv: a row a section, and one for all: how many have a mark, and the means of these."""

    name = SECTIONS_FILE

    def __init__(self, staging: Staging, problems: Sequence[str]) -> None:
        """`problems` are the numbers of the problems, in order."""
        self._staging, self._problems = staging, problems
        self._totals: dict[str, list[StudentTotal]] = {}

    def row(self, total: StudentTotal) -> None:
        """Take one student's total; who has no mark is in no mean."""
        if total.points is not None:
            self._totals.setdefault(total.section, []).append(total)

    def close(self) -> None:
        """Write the file."""
        lines = CsvLines()
        header = ("section", "students", "points", "percent", *self._problems)
        rows = [self._row(section or "(none)", totals) for section, totals in sorted(self._totals.items())]
        rows.append(self._row(_ALL, [one for totals in self._totals.values() for one in totals]))
        self._staging.write(SECTIONS_FILE, b"".join(map(lines.line, (header, *rows))), private=True)

    def _row(self, section: str, totals: Sequence[StudentTotal]) -> tuple[str, ...]:
        points = _mean(total.points for total in totals)
        percent = _mean(total.percent for total in totals)
        by_problem = (_mean(total.problems.get(problem) for total in totals) for problem in self._problems)
        return section, str(len(totals)), points, percent, *by_problem


def _mean(values: Iterable[Fraction | None]) -> str:
    """The mean of those that there are, as text; "" for none."""
    known = [value for value in values if value is not None]
    return points_number(sum(known, Fraction(0)) / len(known)) if known else ""
