"""What `list` shows of templates and sets, remembered: nothing else is loaded while their files are the same."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import Any, NamedTuple, TypeAlias

from problemgen.load.resources import course_folder, digest_of, templates_folder
from problemgen.remembered import Table

__all__ = ["Head", "Row", "fits", "fitting", "remembered_heads"]

Row: TypeAlias = tuple[str, str, str, str]
"""Topic, id, level and title of a template or a set; the topic of a set is "sets"."""


class Head(NamedTuple):
    """A row, and the texts that words are looked for in."""

    row: Row
    searched: tuple[str, ...]


def fits(words: Sequence[str], *texts: str) -> bool:
    """Whether every word occurs in the texts, whatever the case."""
    text = " ".join(texts).casefold()
    return all(word.casefold() in text for word in words)


def fitting(words: Sequence[str], heads: Sequence[Head]) -> Iterator[Row]:
    """The rows that fit all words."""
    return (head.row for head in heads if fits(words, *head.searched))


def remembered_heads(place: str, read: Callable[[str], Sequence[Head]]) -> Sequence[Head]:
    """What `read` makes of the files at a place. Raises what it raises."""

    def digest() -> str:
        return digest_of(templates_folder(), course_folder(Path(place)))

    return _HEADS.found(digest(), lambda: read(place), digest)


def _again(data: Any) -> list[Head]:
    return [Head(tuple(map(str, row)), tuple(map(str, searched))) for row, searched in data]  # type: ignore[arg-type]


_HEADS: Table[Sequence[Head]] = Table("heads", plain=list, read=_again, most=4)  # ours, and courses that take turns
