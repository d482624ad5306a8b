"""Students' attempts by their files: what these are called, and whose an earlier run left in a folder.

This run may not write those again, where students have left.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from pathlib import Path

from problemgen.errors import FaultsError
from problemgen.load.answers.answers import ANSWERS_FILE, Answers
from problemgen.load.tables.table import Table

__all__ = ["Entry", "bound_files", "built_entries", "file_stem", "marked_entries"]

_ID = re.compile(r"[A-Za-z0-9_][A-Za-z0-9_.-]{0,39}")
_BOUND = re.compile(r"((class/)?class(-[2-9])?|slips(-[2-9])?|(worked-)?key)(-section-.+)?(-session-[1-9])?\.pdf")
_SLIP = re.compile(r"slips(-session-[1-9])?/.+\.pdf")
_ATTEMPT = re.compile(r"[1-9]")

Entry = tuple[str, int]
"""A student's id and the number of an attempt."""


_DEVICES = frozenset(("con", "prn", "aux", "nul", *(f"{port}{n}" for port in ("com", "lpt") for n in range(1, 10))))
"""What Windows takes for a device, whatever stands behind a point ("Naming Files, Paths, and Namespaces")."""


def file_stem(student: str, attempt: int) -> str:
    """What a student's files of an attempt are called: the id, from the second attempt on with its number.

    An id that Windows takes for a device has a ~ in it, which no id has.

    >>> file_stem("a01", 1), file_stem("a01", 2), file_stem("con.7", 1)
    ('a01', 'a01-2', 'con~.7')
    """
    stem = student if attempt == 1 else f"{student}-{attempt}"
    device, point, rest = stem.partition(".")
    return f"{device}~{point}{rest}" if device.casefold() in _DEVICES else stem


def bound_files(folder: Path) -> list[str]:
    """The files of an earlier run in which a whole class or a part of it is bound: sheets and keys; and its slips."""
    places = ("*.pdf", "class/*.pdf", "slips*/*.pdf")
    names = (path.relative_to(folder).as_posix() for place in places for path in folder.glob(place))
    return sorted(name for name in names if _BOUND.fullmatch(name) or _SLIP.fullmatch(name))


def built_entries(folder: Path) -> list[Entry]:
    """The attempts of the build that lies in a folder, by its answers.json; none where that cannot be read."""
    try:
        with Answers(folder / ANSWERS_FILE) as answers:
            return list(answers.entries)
    except FaultsError:
        return []


def marked_entries(grades: Path) -> list[Entry]:
    """The attempts of a marking, by its table of grades; none where that cannot be read."""
    try:
        return sorted(set(_entries(Table(grades, "id"))))
    except FaultsError:
        return []


def _entries(table: Table) -> Iterable[Entry]:
    for row in table:
        student, attempt = row.cells.get("id", ""), row.cells.get("attempt", "")
        if _ID.fullmatch(student) and _ATTEMPT.fullmatch(attempt):
            yield student, int(attempt)
