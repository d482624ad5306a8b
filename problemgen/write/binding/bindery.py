"""Sheets taken apart once, put by on the disk, and bound into as many files as they are needed in."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterable, Mapping, Sequence
from pathlib import Path
from typing import BinaryIO

import pikepdf

from problemgen.write.binding.book import Book
from problemgen.write.binding.leaves import leaf_of, renumbered, sheets_of
from problemgen.write.binding.numbers import FIRST
from problemgen.write.binding.objects import stream
from problemgen.write.binding.shelf import Place, Shelf

__all__ = ["Bindery"]

_REMEMBERED = 5_000
"""Streams of which it is known that they came before, so that one that comes again is shared.

A sheet has some twenty-two; those that sheets share come with every other one. More would take memory with each
student: 0.1 kB a stream.
"""

_BYTES_A_NUMBER = 4
"""Readers doubt a file whose numbers go beyond what its bytes could hold: qpdf counts three bytes for each."""


class Bindery:
    """Takes sheets as PDF, one after another, and binds any of them, in any order but with no sheet twice."""

    def __init__(self, file: BinaryIO) -> None:
        """The file is empty, to be written and read: what was taken apart lies there."""
        self._shelf = Shelf(file)
        self._next, self._key = FIRST, 0
        self._came: dict[bytes, None] = {}  # in this order
        self._shared: dict[bytes, int] = {}
        self._places: dict[int, tuple[int, int]] = {}  # of what is shared, by its number
        self._roles: dict[str, str] = {}

    def take(self, pdf: Path | BinaryIO, *, whose: str = "", apart: bool = False) -> list[Place]:
        """Take a PDF apart: one leaf of all its pages, or `apart` one a sheet, by the first level of its outline.

        `whose` goes before its titles in the outline of a bound file. A file on the disk is read in half the time.
        """
        with pikepdf.open(pdf) as source:
            tree = source.Root.StructTreeRoot
            shift, self._key = self._key, self._key + int(tree.ParentTreeNextKey)
            for name, role in tree.get("/RoleMap", pikepdf.Dictionary()).items():
                self._roles[name] = str(role)
            places = []
            for sheet in sheets_of(source, apart=apart):
                leaf = leaf_of(source, sheet, self._next, shift, self._number)
                if whose:
                    leaf.tops = [(number, f"{whose}: {title}", more) for number, title, more in leaf.tops]
                places.append(self._shelf.put_by(leaf))
                self._next += leaf.count
        return places

    def bind(self, places: Iterable[Place], title: str, file: BinaryIO) -> None:
        """Write a file of these sheets, each on a right-hand page, to be printed on both sides. Same input, same bytes.

        It is tagged, and says that it is PDF/UA-1; no blank page follows the last sheet.
        """
        wanted, top = list(places), self._next
        shared: Mapping[int, tuple[int, int]] = self._places
        if top * _BYTES_A_NUMBER > sum(place.body for place in wanted):
            wanted, top, shared = self._closer(wanted)
        book = Book(file, top, title, self._roles)
        for place in wanted:
            head = self._shelf.head(place)
            for number in head.needs:
                if not book.has(number):
                    book.put(number, self._shelf.read(*shared[number]))
            book.take(head, self._shelf.body(place))
        book.close((self._shelf.head(place), self._shelf.rows(place)) for place in sorted(wanted))

    def _closer(self, places: Sequence[Place]) -> tuple[list[Place], int, Mapping[int, tuple[int, int]]]:
        """Some sheets once more with numbers that leave no gap; behind them the next number, and where shared ones are.

        They keep their order on the shelf, in which the names of their tags are.
        """
        following = FIRST
        numbers: dict[int, int] = {}
        again = {}
        for place in sorted(places):
            leaf = self._shelf.leaf(place)
            for number in leaf.needs:
                if number not in numbers:
                    numbers[number] = following
                    following += 1
            leaf = renumbered(leaf, following, numbers)
            again[place] = self._shelf.put_by(leaf)
            following += leaf.count
        return [again[place] for place in places], following, {new: self._places[old] for old, new in numbers.items()}

    def _number(self, found: pikepdf.Stream, new: Callable[[], int]) -> int | None:
        """The number of a stream that refers to nothing (a font's letters), and came before.

        Where it comes for the first time it stays its sheet's: most never come again, and what is kept of those would
        grow with the class.
        """
        head = found.stream_dict.unparse()
        if b" R" in head:
            return None
        text = stream(head, found.read_raw_bytes())
        digest = hashlib.blake2b(text, digest_size=16).digest()
        if digest not in self._shared:
            if not self._has_come(digest):
                return None
            number = self._shared[digest] = new()
            self._places[number] = self._shelf.write(text), len(text)
        return self._shared[digest]

    def _has_come(self, digest: bytes) -> bool:
        """Whether a stream was remembered; it is from now on, unless it is shared, and the oldest is forgotten."""
        if digest in self._came:
            del self._came[digest]
            return True
        self._came[digest] = None
        if len(self._came) > _REMEMBERED:
            del self._came[next(iter(self._came))]
        return False
