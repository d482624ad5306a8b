"""Files that an earlier run left in a folder, and that this run may not write again: of students who have left."""

from __future__ import annotations

import re
from collections.abc import Iterable
from pathlib import Path

from problemgen.errors import FaultsError
from problemgen.load.answers import ANSWERS_FILE, Answers
from problemgen.load.tables import Table
from problemgen.model.policy import file_stem

__all__ = ["class_file", "earlier_pages", "earlier_sheets", "page_files", "sheet_file"]

_ID = re.compile(r"[A-Za-z0-9_][A-Za-z0-9_.-]{0,39}")
_ATTEMPT = re.compile(r"[1-9]")

Entry = tuple[str, int]
"""A student's id and the number of an attempt."""


def sheet_file(student: str, attempt: int) -> str:
    """Where the sheets of a student's attempt lie in a build."""
    return f"sheets/{file_stem(student, attempt)}.pdf"


def class_file(attempt: int) -> str:
    """Where all sheets of an attempt lie in a build, one after the other."""
    return f"{file_stem('class', attempt)}.pdf"


def page_files(student: str, attempt: int) -> tuple[str, ...]:
    """Where the feedback on a student's attempt lies in a marking, as a page and as PDF."""
    return tuple(f"feedback/{file_stem(student, attempt)}{ending}" for ending in (".html", ".pdf"))


def earlier_sheets(folder: Path) -> list[str]:
    """The sheets of the build that lies in a folder, by its answers.json; none where that cannot be read."""
    try:
        with Answers(folder / ANSWERS_FILE) as answers:
            entries, number = answers.entries, answers.head.attempts.number
    except FaultsError:
        return []
    return [*(sheet_file(*entry) for entry in entries), *(class_file(n) for n in range(1, number + 1))]


def earlier_pages(folder: Path, grades: str) -> list[str]:
    """The feedback of the marking that lies in a folder, by its table of grades; none where that cannot be read."""
    try:
        entries = set(_entries(Table(folder / grades, "id")))
    except FaultsError:
        return []
    return [name for entry in sorted(entries) for name in page_files(*entry)]


def _entries(table: Table) -> Iterable[Entry]:
    for row in table:
        student, attempt = row.cells.get("id", ""), row.cells.get("attempt", "")
        if _ID.fullmatch(student) and _ATTEMPT.fullmatch(attempt):
            yield student, int(attempt)
