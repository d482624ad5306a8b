"""A responses file as it comes out of many hands: two rows in a hundred are broken, each in one of ten ways."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

__all__ = ["Written", "write_broken"]

_EVERY = 50
_COLUMNS = ("1a", "1b", "1c", "1d", "1e")


@dataclass(frozen=True)
class Written:
    """What stands in a file: the line on which each row begins, with the id meant and the mark in its first answer."""

    lines: tuple[int, ...]
    students: tuple[str, ...]
    marks: tuple[str, ...]
    broken: int


def _plain(student: str, mark: str) -> str:
    return f"{student},{mark},2.5 mmol,3.1,,x"


_WAYS: Sequence[Callable[[str, str], str]] = (
    lambda student, mark: f"zz{student},{mark},1,2,3,4",
    lambda _student, mark: f",{mark},1,2,3,4",
    lambda student, mark: f'{student},{mark},"1,2,3,4',
    lambda student, mark: f'"{student},{mark},1,2,3,4',
    lambda student, mark: f"{student},{mark},1,2,3,4,5,6,7",
    lambda student, mark: f"{student},{mark}",
    lambda student, mark: f'{student},{mark},1,"a long\nanswer, in ""two"" lines",3,4',
    lambda student, mark: f"{student},{mark},\0\0,2,3,4",
    lambda student, mark: f"{student},{mark},{'9' * 50_000},2,3,4",
    lambda student, mark: f"{student},{mark},\udcb5\udcff,2,3,4",
)
"""Ways to break a row; the last has bytes that are no UTF-8."""


def write_broken(path: Path, students: Sequence[str], again: int = 0) -> Written:
    """Write a row for each student, every fiftieth broken, and so many rows of the first students again."""
    rows = list(_rows(students, again))
    lines, line = [], 2
    for row in rows:
        lines.append(line)
        line += row[2].count("\n") + 1
    text = "".join(f"{row}\n" for row in (",".join(("id", *_COLUMNS)), *(row for _, _, row in rows)))
    path.write_bytes(text.encode("utf-8", "surrogateescape"))
    broken = len(range(0, len(students), _EVERY))
    return Written(tuple(lines), tuple(row[0] for row in rows), tuple(row[1] for row in rows), broken)


def _rows(students: Sequence[str], again: int) -> Iterator[tuple[str, str, str]]:
    for index, student in enumerate(students):
        mark = f"row µ{index:06d}"
        way = _WAYS[index // _EVERY % len(_WAYS)] if not index % _EVERY else _plain
        yield student, mark, way(student, mark)
    for index, student in enumerate(students[:again]):
        mark = f"row µ9{index:05d}"
        yield student, mark, _plain(student, mark)
