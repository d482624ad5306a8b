"""Whose a returned file is, and of several of one student which counts.

The stamp decides, and nothing else: file names are whatever became of them. A name that tells another student only
raises a doubt, and what is in doubt never takes the place of what is not.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime

from problemgen.load.answers.answers import Answers
from problemgen.model.handed_out import Stamp, read_stamp
from problemgen.model.returned import Filled, Returned, Unread
from problemgen.pipeline.earlier import Entry

__all__ = ["Listed", "Taken", "WhoseReturns", "counting"]

_LEAST_WORDS, _LEAST_LETTERS = 2, 6
"""A name that is looked for among those of files: a single word or a short one may be any word."""
_LEAST_MIXED, _LEAST_DIGITS = 4, 6
"""An id likewise, with letters and without."""
_WORD = re.compile(r"[^\W_]+")
_ID = re.compile(r"[A-Za-z0-9.-]+")
_SHOWN = 5

_NO_FIELDS = "its fields are gone, as where it was printed into a file: answers can be seen on it, and are not read"
_CHANGED = "what is printed on it is not as it was handed out, a given value may have been changed; look at it"
_EARLY = datetime(1, 1, 1, tzinfo=UTC)


@dataclass(frozen=True)
class Taken:
    """A file whose sheet is known; `is_doubtful` where its name tells another student."""

    file: str
    entry: Entry
    cells: Mapping[str, str]
    when: datetime | None
    remarks: tuple[str, ...] = ()
    is_doubtful: bool = False

    @property
    def is_blank(self) -> bool:
        """Whether nothing is filled in."""
        return not any(self.cells.values())

    @property
    def order(self) -> tuple[bool, datetime, str]:
        """By which of several the last counts."""
        return not self.is_doubtful, self.when or _EARLY, self.file


@dataclass(frozen=True)
class Listed:
    """What the instructor is told of a file: whose it is, "" where nobody knows, whether it counts, and why."""

    file: str
    student: str
    attempt: str
    counts: bool
    reasons: tuple[str, ...]

    def __str__(self) -> str:
        """The message."""
        whose = f" ({self.student})" if self.student else ""
        return f"{self.file}{whose}: {'; '.join(self.reasons)}"


class WhoseReturns:
    """Tells whose files are, for one built set; `secret` is what its sheets are sealed with, None where it is lost."""

    def __init__(self, answers: Answers, secret: bytes | None, names: Mapping[str, str]) -> None:
        """`names` are the students' names by id."""
        self._head, self._secret = answers.head, secret
        self._owners = {code: entry for entry, code in answers.sheets.items()}
        self._ids = {student.casefold(): student for student in answers.students if _is_told_by(student)}
        self._names = {student: _words(name) for student, name in names.items()}

    def taken(self, file: Returned, filled: Filled) -> Taken | Unread:
        """A file by the student whose sheet it is; why it is nobody's."""
        stamps = [stamp for one in sorted(filled.stamps) if (stamp := read_stamp(one)) is not None]
        codes = ", ".join(dict.fromkeys(stamp.code for stamp in stamps))
        if len(stamps) != 1:
            return Unread(file.name, f"it says to be several sheets ({codes}); nothing of it is taken")
        reason = self._why_not(stamps[0])
        entry = self._owners.get(stamps[0].code)
        if reason or entry is None:
            return Unread(file.name, reason or f"the sheet {codes}, which this build does not have")
        if not filled.cells:
            return Unread(file.name, f"sheet of {entry[0]}: {_NO_FIELDS}")
        odd = self._odd(file.name, entry[0])
        remarks = (*([_CHANGED] if filled.contents != stamps[0].contents else []), *filled.remarks, *odd)
        return self._of(Taken(file.name, entry, filled.cells, filled.when or file.when, remarks, bool(odd)))

    def _why_not(self, stamp: Stamp) -> str:
        """Why a sheet is none of this build; "" where it may be."""
        head = self._head
        if stamp.set_id != head.set_id:
            return f"a sheet of another set, {stamp.set_id!r}"
        if stamp.build != head.issued.secret:
            return "a sheet of another build of this set"
        if self._secret is not None and not stamp.is_sealed_with(self._secret):
            return "what it says of itself is not as it was handed out: somebody has changed it; nothing of it is taken"
        if stamp.code not in self._owners:
            return (
                f"the sheet {stamp.code}, which was replaced when its problems were drawn anew, or whose student left"
            )
        return ""

    def _of(self, taken: Taken) -> Taken:
        """A file with the columns that there are; others are told."""
        known = {name: taken.cells[name] for name in self._head.response_columns if name in taken.cells}
        others = [name for name, cell in taken.cells.items() if name not in known and cell]
        if not others:
            return replace(taken, cells=known)
        told = ", ".join(repr(name[:40]) for name in others[:_SHOWN])
        return replace(taken, cells=known, remarks=(*taken.remarks, f"fields that no sheet has are left out: {told}"))

    def _odd(self, name: str, owner: str) -> tuple[str, ...]:
        """That a file's name tells another student, where it does not tell its owner."""
        ids = {self._ids[word] for word in map(str.casefold, _ids_in(name)) if word in self._ids}
        words = set(_words(name))
        ids |= {student for student, mine in self._names.items() if _is_telling(mine) and words.issuperset(mine)}
        if not ids or owner in ids:
            return ()
        told = ", ".join(sorted(ids)[:_SHOWN])
        return (f"its name tells {told}, and it is the sheet of {owner}, whose it is taken for; look at it",)


def _ids_in(name: str) -> Iterator[str]:
    """The words of a name that may be an id: as they stand, and without what is behind a point or a hyphen."""
    for found in _ID.findall(name.replace("_", " ")):
        yield found
        yield from re.split(r"[.-]", found)


def _words(name: str) -> tuple[str, ...]:
    return tuple(_WORD.findall(name.casefold()))


def _is_told_by(student: str) -> bool:
    """Whether an id among the words of a file's name tells its student: a short one may be the number of a copy."""
    return len(student) >= (_LEAST_DIGITS if student.isdecimal() else _LEAST_MIXED)


def _is_telling(words: Sequence[str]) -> bool:
    return len(words) >= _LEAST_WORDS and sum(map(len, words)) >= _LEAST_LETTERS


def counting(files: Iterable[Taken]) -> tuple[dict[str, str], str, tuple[Listed, ...]]:
    """Of one attempt's files the cells that count, the file that the last of them is from, and what is told.

    The later one counts, for the columns that it has; one in which nothing is filled in takes no other's place.
    """
    ordered = sorted(files, key=lambda one: one.order)
    filled = [one for one in ordered if not one.is_blank]
    cells: dict[str, str] = {}
    origin: dict[str, str] = {}
    for one in filled:
        cells |= one.cells
        origin |= dict.fromkeys(one.cells, one.file)
    sources = set(origin.values())
    listed = tuple(_listed(one, filled, sources) for one in ordered)
    return cells, filled[-1].file if filled else "", tuple(one for one in listed if one.reasons)


def _listed(one: Taken, filled: Sequence[Taken], sources: set[str]) -> Listed:
    student, attempt = one.entry
    counts = one.file in sources
    others = [other for other in filled if other is not one]
    reasons = list(one.remarks)
    if one.is_blank:
        reasons.append("nothing is filled in")
    elif others and not counts:
        reasons.append(f"handed in again: {filled[-1].file} counts{_same_time(one, filled[-1])}")
    elif others:
        told = ", ".join(other.file for other in others[:_SHOWN])
        how = "counts for what it asks, beside" if len(sources) > 1 else "counts, and not"
        reasons.append(f"handed in more than once: this one {how} {told}")
    return Listed(one.file, student, str(attempt), counts, tuple(reasons))


def _same_time(one: Taken, last: Taken) -> str:
    """That nobody knows which of two is the later one."""
    if one.is_doubtful or last.when != one.when or one.cells == last.cells:
        return ""
    return ", though no time tells which is the later one; look at both"
