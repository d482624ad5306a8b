"""Sheets taken apart once, put by on the disk, and bound into as many files as they are needed in."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Iterable, Iterator, Mapping
from pathlib import Path
from typing import BinaryIO, NamedTuple

import pikepdf

from problemgen.write.binding.book import Book, PutBy
from problemgen.write.binding.leaves import Leaf, leaf_of, sheets_of
from problemgen.write.binding.objects import FIRST, ROW, Pack, packed, row, row_within, stream_text

__all__ = ["Bindery", "Place"]

_TOGETHER = 200
"""Objects that are packed together: a reader unpacks all for one. Of 100 to 400, the files' size differs by 1 %."""


class Place(NamedTuple):
    """Where a sheet was put by: all that is kept of it in memory."""

    at: int
    head: int
    rows: int
    body: int


class Bindery:
    """Takes sheets as PDF, one after another, and binds any of them, in any order but with no sheet twice."""

    def __init__(self, shelf: BinaryIO) -> None:
        """`shelf` is an empty file, to be written and read: what was taken apart lies there."""
        self._shelf = shelf
        self._end, self._next, self._key = 0, FIRST, 0
        self._shared: dict[bytes, int] = {}
        self._places: dict[int, tuple[int, int]] = {}  # of what is shared
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
                places.append(self._put_by(leaf))
                self._next += leaf.count
        return places

    def bind(self, places: Iterable[Place], title: str, file: BinaryIO) -> None:
        """Write a file of these sheets, each on a right-hand page, to be printed on both sides. Same input, same bytes.

        It is tagged, and says that it is PDF/UA-1; no blank page follows the last sheet.
        """
        book = Book(file, self._next, title, self._roles)
        kept = []
        for place in places:
            put_by = self._head(place)
            for number in put_by.needs:
                if not book.has(number):
                    book.put(number, self._read(*self._places[number]))
            book.take(put_by, self._read(place.at + place.head + place.rows, place.body))
            kept.append(place)
        book.close((self._head(place).first, self._read(place.at + place.head, place.rows)) for place in sorted(kept))

    def _head(self, place: Place) -> PutBy:
        return PutBy(*json.loads(self._read(place.at, place.head)))

    def _read(self, at: int, size: int) -> bytes:
        self._shelf.seek(at)
        return self._shelf.read(size)

    def _write(self, *parts: bytes) -> int:
        """Put bytes by; gives where they begin."""
        self._shelf.seek(self._end)
        self._shelf.writelines(parts)
        at, self._end = self._end, self._end + sum(map(len, parts))
        return at

    def _put_by(self, leaf: Leaf) -> Place:
        """Write a leaf as it will stand in files: its head, where each object is, the objects."""
        packs = dict(enumerate(_packs(leaf.texts), start=leaf.first + leaf.count))
        rows = bytearray(ROW * (leaf.count + len(packs)))

        def place(number: int, one: bytes) -> None:
            at = ROW * (number - leaf.first)
            rows[at : at + ROW] = one

        body: list[bytes] = []
        size = 0
        streams = leaf.streams | {number: pack.stream for number, pack in packs.items()}
        for number, stream in sorted(streams.items()):
            place(number, row(size))
            body.append(stream_text(number, *stream))
            size += len(body[-1])
        for number, pack in packs.items():
            for index, one in enumerate(pack.numbers):
                place(one, row_within(number, index))
        leaf.count += len(packs)
        head = PutBy(
            first=leaf.first,
            pages=leaf.pages,
            part=leaf.part,
            parents=leaf.parents,
            ids=leaf.ids,
            sheets=leaf.sheets,
            box=leaf.box,
            language=leaf.language,
            tops=leaf.tops,
            needs=leaf.needs,
            streams=sorted(streams),
        )
        told = json.dumps(head).encode()
        return Place(self._write(told, bytes(rows), *body), len(told), len(rows), size)

    def _number(self, stream: pikepdf.Stream, new: Callable[[], int]) -> int | None:
        """The number of a stream that refers to nothing (a font's letters): sheets that have the same one share it."""
        head = stream.stream_dict.unparse()
        if b" R" in head:
            return None
        raw = stream.read_raw_bytes()
        digest = hashlib.blake2b(head + raw, digest_size=16).digest()
        if digest not in self._shared:
            number = self._shared[digest] = new()
            text = stream_text(number, head, raw)
            self._places[number] = self._write(text), len(text)
        return self._shared[digest]


def _packs(texts: Mapping[int, bytes]) -> Iterator[Pack]:
    numbers = sorted(texts)
    for start in range(0, len(numbers), _TOGETHER):
        yield packed({number: texts[number] for number in numbers[start : start + _TOGETHER]})
