"""A marking without names: the code of the sheet stands in the place of the student's id and name."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path

from problemgen.errors import OutputError
from problemgen.model.answers import StudentKey
from problemgen.model.own_data import OwnReading
from problemgen.model.verdict import PartResult, StudentResult

__all__ = ["Anonymity", "check_no_ids_told"]

_WORD = re.compile(r"\w[\w.-]*")
_LEAST_LETTERS, _LEAST_MIXED, _LEAST_DIGITS = 3, 4, 6
"""A shorter name or id is left in what students wrote: it could be a unit or an answer."""


class Anonymity:
    """Replaces ids and names, also where a student wrote one into an answer."""

    def __init__(self, keys: Iterable[StudentKey]) -> None:
        """Take the ids, names and codes of a class."""
        self._starting: dict[str, list[tuple[str, str]]] = {}
        self._codes: dict[str, str] = {}
        for key in keys:
            if key.student in self._codes:
                continue
            self._codes[key.student] = key.code
            for told in {key.student, key.name}:
                first = _WORD.search(told)
                if first is not None and _is_telling(told):
                    self._starting.setdefault(_folded(first[0]), []).append((told, key.code))

    def coded(self, key: StudentKey) -> StudentKey:
        """A student's keys with the code that stands for the student: that of the first attempt's sheet."""
        return replace(key, code=self._codes[key.student])

    def key(self, key: StudentKey) -> StudentKey:
        """A student's coded keys under the code."""
        problems = tuple(replace(one, own=tuple(map(self._own, one.own))) for one in key.problems)
        return replace(key, student=key.code, name=key.code, problems=problems, more={})

    def _own(self, reading: OwnReading) -> OwnReading:
        return replace(reading, wrote=self.hidden(reading.wrote), reason=self.hidden(reading.reason))

    def result(self, result: StudentResult) -> StudentResult:
        """A student's result under the code."""
        parts = tuple(self._part(part) for part in result.parts)
        given = tuple(replace(one, reason=self.hidden(one.reason)) for one in result.adjustments)
        return replace(result, student=result.code, name=result.code, parts=parts, adjustments=given)

    def _part(self, part: PartResult) -> PartResult:
        return replace(
            part,
            sentence=self.hidden(part.sentence),
            remarks=tuple(map(self.hidden, part.remarks)),
            wrote=self.hidden(part.wrote),
            read=self.hidden(part.read),
            decision=self.hidden(part.decision),
            notes=tuple(map(self.hidden, part.notes)),
        )

    def hidden(self, text: str) -> str:
        """A text with every id and name of the class replaced by the student's code, in whatever letters."""
        out, done = [], 0
        for word in _WORD.finditer(text):
            for told, code in self._starting.get(_folded(word[0]), ()):
                start = word.start() - told.lower().find(word[0].lower())
                if start >= done and text[start : start + len(told)].lower() == told.lower():
                    out += [text[done:start], code]
                    done = start + len(told)
                    break
        return "".join((*out, text[done:])) if out else text


def check_no_ids_told(folder: Path, students: Iterable[str]) -> None:
    """Refuse a folder with an earlier marking's pages under the students' ids: they would lie beside the codes.

    Raises:
        OutputError: with the first name found.
    """
    pages = folder / "feedback"
    known = {student.casefold() for student in students}
    named = sorted(page.name for page in pages.glob("*") if page.stem.casefold() in known)
    if named:
        raise OutputError(f"{pages} holds {named[0]}, which tells an id; choose another folder. Nothing was written")


def _folded(word: str) -> str:
    """A word as words are compared; what ends a sentence does not belong to it."""
    return word.rstrip(".-").lower()


def _is_telling(text: str) -> bool:
    letters = sum(character.isalpha() for character in text)
    return letters >= _LEAST_LETTERS or len(text) >= (_LEAST_MIXED if letters else _LEAST_DIGITS)
