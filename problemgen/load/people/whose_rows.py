"""Whose a row of the responses is: by the student's id, the code of the sheet, and the number of the attempt."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from problemgen.load.tables.table import Row

__all__ = ["ABOUT", "ATTEMPT", "FILE", "TYPED", "Entry", "Whose", "WhoseRows", "about_columns"]

ABOUT = ("id", "name", "section", "code")
"""The columns about the student."""

ATTEMPT = "attempt"
"""The column that tells the attempt, where there are several."""

FILE = "file"
"""The column that tells under which name the answers came back, where they were collected."""

TYPED = "typed"
"""The column that tells which sheets of a paper were typed to their end, where papers were typed one at a time."""

_NUMBER = re.compile(r"0*([1-9][0-9]{0,3})")

Entry = tuple[str, int]
"""A student's id and the number of an attempt."""


def about_columns(attempts: int) -> tuple[str, ...]:
    """The columns that tell whose a row is, and where there are several attempts, of which it is."""
    return (*ABOUT, ATTEMPT) if attempts > 1 else ABOUT


@dataclass(frozen=True)
class Whose:
    """The student's attempt that a row is of, None where it cannot be told; `remarks` say what is odd about it."""

    entry: Entry | None
    remarks: tuple[str, ...] = ()

    @property
    def student(self) -> str:
        """The student's id; "" for nobody of the set."""
        return self.entry[0] if self.entry else ""


class WhoseRows:
    """Tells whose rows are, for one built set.

    The id decides. A code of another's sheet is told, and decides only where there is no id. Where no attempt is told,
    the code tells it, and else the row is of the first one.
    """

    def __init__(self, sheets: Mapping[Entry, str]) -> None:
        """`sheets` has the code on each sheet of the set."""
        self._known = {student.casefold(): student for student, _ in sheets}
        self._owners = {_plain(code): entry for entry, code in sheets.items()}
        self._attempts = max((attempt for _, attempt in sheets), default=1)

    @property
    def attempts(self) -> int:
        """How many attempts each student has."""
        return self._attempts

    def entry(self, row: Row) -> Entry | None:
        """The attempt that a row is of."""
        return self.whose(row).entry

    def whose(self, row: Row) -> Whose:
        """Whose a row is, with what is odd about it."""
        written, code = (row.cells.get(column, "").strip() for column in ("id", "code"))
        owner = self._owners.get(_plain(code))
        if not written and owner is not None:
            return self._attempted(row, owner[0], owner, f"no id; the code {code} is on the sheet of {owner[0]}")
        student = self._known.get(written.casefold())
        if student is None:
            who = f"the id {written!r} is not in the set" if written else "no id"
            also = f"; the code {code} is on the sheet of {owner[0]}" if owner is not None else ""
            return Whose(None, (f"{who}; the row is not marked{also}",))
        if code and owner is None:
            return self._attempted(row, student, None, f"{student}: the code {code[:40]!r} is on no sheet of the set")
        if owner is not None and owner[0] != student:
            odd = f"{student}: the code {code} is on the sheet of {owner[0]}; the row is marked for {student}"
            return self._attempted(row, student, None, odd)
        return self._attempted(row, student, owner)

    def _attempted(self, row: Row, student: str, owner: Entry | None, *odd: str) -> Whose:
        """Of which attempt of a student's a row is; `owner` is the one of whose sheet the code is, if it is theirs."""
        text = row.cells.get(ATTEMPT, "").strip() if self._attempts > 1 else ""
        found = _NUMBER.fullmatch(text)
        number = int(found[1]) if found else 0
        if text and not 0 < number <= self._attempts:
            told = f"{student}: the attempt {text!r}, not a number from 1 to {self._attempts}; the row is not marked"
            return Whose(None, (*odd, told))
        if number and owner is not None and owner[1] != number:
            told = f"{student}: the code is on the sheet of attempt {owner[1]}; the row is marked as attempt {number}"
            odd = (*odd, told)
        return Whose((student, number or (owner[1] if owner else 1)), odd)


def _plain(code: str) -> str:
    """A code as codes are compared: letters and digits alone, in any case."""
    return "".join(character for character in code.casefold() if character.isalnum())
