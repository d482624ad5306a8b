"""What came back of what was handed out: the files, and what each holds."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import Literal, TypeAlias

__all__ = ["Filled", "Returned", "ReturnedKind", "Unread"]

ReturnedKind: TypeAlias = Literal["pdf", "workbook", "picture", "other"]
"""What a file is by its first bytes, whatever its name."""


@dataclass(frozen=True)
class Returned:
    """A file that came back: under which name, where it lies now, what it is, and when it was put there (UTC)."""

    name: str
    path: Path
    kind: ReturnedKind
    when: datetime | None = None


@dataclass(frozen=True)
class Unread:
    """A file that was not read, or not all of it, and why. `is_unmarked` tells that it says of no sheet to be its."""

    name: str
    reason: str
    is_unmarked: bool = False


@dataclass(frozen=True)
class Filled:
    """What was filled in, by the responses' columns; blanks are "".

    `stamps` are all texts that say of which sheet it is, `contents` is the digest of what it prints, `when` the time
    of its last change (UTC) as it tells it itself. `remarks` say what is odd about it.
    """

    stamps: frozenset[str]
    contents: str
    cells: Mapping[str, str] = field(default_factory=dict)
    when: datetime | None = None
    remarks: tuple[str, ...] = ()
