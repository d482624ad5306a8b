"""What a page wants of a set."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Annotated

from pydantic import AfterValidator, Field

from problemgen.model.document import Document, Text

__all__ = ["WantedProblem", "WantedSet", "WantedSheet"]


_LETTERS, _POINTS = re.compile("[a-z]{1,2}"), re.compile(r"[0-9]{1,4}(\.[0-9]{1,4})?")


def _points(value: dict[str, str]) -> dict[str, str]:
    for letter, text in value.items():
        if not _LETTERS.fullmatch(letter):
            raise ValueError("the letter of a part")
        if not _POINTS.fullmatch(text):
            raise ValueError(f"a number of points such as 2 or 1.5 for part {letter}, not {text!r}")
    return value


class WantedProblem(Document):
    """A problem: its place in the file as it was read, from 0, where it stood there; its templates; points by letter.

    Points are as they were typed; a part without any has the template's own. `own` are the values that students measure
    themselves, `students` the ids of those who get it alone, nobody for all.
    """

    was: int | None = Field(default=None, ge=0)
    templates: tuple[str, ...] = Field(min_length=1)
    points: Annotated[dict[str, str], AfterValidator(_points)] = Field(default_factory=dict)
    own: tuple[Text, ...] = ()
    students: tuple[Text, ...] = ()


class WantedSheet(Document):
    """A sheet: the session whose parts it holds, and its title."""

    session: int = Field(ge=1, le=3)
    title: str


class WantedSet(Document):
    """A set: settings by their keys ("policy.figures"), as they are written in TOML; one that is missing is not said.

    `seen` is the digest of the file that was read, "" where there was none.
    """

    seen: str
    title: str
    settings: Mapping[str, str] = Field(default_factory=dict)
    sheets: tuple[WantedSheet, ...]
    problems: tuple[WantedProblem, ...]
