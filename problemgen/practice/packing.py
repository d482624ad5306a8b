"""Printed fragments in little room: what variants of a template have in common is kept once.

A fragment is cut at its numbers. The texts between them are its skeleton, which the fragments of other variants share.
Of the numbers only those are kept with each fragment that differ between fragments of one skeleton, and each of them
once, where it stands in several places throughout.
"""

from __future__ import annotations

import base64
import json
import re
import zlib
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any, TypeAlias

__all__ = ["Packed", "Packer", "grown", "shrunk", "unpacked"]

Packed: TypeAlias = list[int | str]
"""The number of the skeleton, then the texts for its gaps."""

Skeleton: TypeAlias = list[int | str]
"""Texts, and between them the numbers of gaps, counted from 0."""

# Behind a letter, "&", "#" or a quotation mark, figures belong to markup or to a name.
_NUMBER = re.compile(r"(?<![\w&#\"'./-])([0-9]+(?:[.,][0-9]+)*(?:\u202f[0-9]{3})*)")


@dataclass
class _Shared:
    """Fragments of one skeleton: its texts, and for each fragment its numbers and the list to put them in."""

    texts: Sequence[str]
    numbers: list[tuple[str, ...]] = field(default_factory=list)
    packed: list[Packed] = field(default_factory=list)

    def settle(self, index: int) -> Skeleton:
        """Fill the lists that were given out, and give the skeleton."""
        columns = list(zip(*self.numbers, strict=True))
        varying = [column for column in dict.fromkeys(columns) if len(set(column)) > 1]
        for row, packed in enumerate(self.packed):
            packed[:] = [index, *(column[row] for column in varying)]
        skeleton: Skeleton = [self.texts[0]]
        for column, text in zip(columns, self.texts[1:], strict=True):
            if column in varying:
                skeleton += [varying.index(column), text]
            else:
                skeleton[-1] = f"{skeleton[-1]}{column[0]}{text}"
        return skeleton


class Packer:
    """Packs fragments. What `pack` gives is filled in by `settle`, when all fragments of a template are known."""

    def __init__(self) -> None:
        """Start without any skeleton."""
        self.skeletons: list[Skeleton] = []
        self._open: dict[tuple[str, ...], _Shared] = {}
        self._cut: dict[str, tuple[_Shared, tuple[str, ...]]] = {}

    def pack(self, fragment: str) -> Packed:
        """A list that will hold the fragment's skeleton and numbers."""
        if fragment not in self._cut:  # every second one comes again
            pieces = _NUMBER.split(fragment)
            texts = tuple(pieces[::2])
            self._cut[fragment] = self._open.setdefault(texts, _Shared(texts)), tuple(pieces[1::2])
        shared, numbers = self._cut[fragment]
        shared.numbers.append(numbers)
        shared.packed.append([])
        return shared.packed[-1]

    def settle(self) -> None:
        """Make the skeletons of all fragments since the last call."""
        for shared in self._open.values():
            self.skeletons.append(shared.settle(len(self.skeletons)))
        self._open, self._cut = {}, {}


def shrunk(data: Any) -> str:
    """Data as the page carries what it needs only later: JSON, deflated (RFC 1950), in base64."""
    text = json.dumps(data, ensure_ascii=False, separators=(",", ":"), sort_keys=True)
    return base64.b64encode(zlib.compress(text.encode(), level=9)).decode()


def grown(text: str) -> Any:
    """The data again."""
    return json.loads(zlib.decompress(base64.b64decode(text)))


def unpacked(skeletons: Sequence[Skeleton], packed: Packed) -> str:
    """The fragment again."""
    number, *gaps = packed
    assert isinstance(number, int)
    return "".join(piece if isinstance(piece, str) else str(gaps[piece]) for piece in skeletons[number])
