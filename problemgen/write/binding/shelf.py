"""Where sheets that were taken apart lie on the disk, as they will stand in a file."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from typing import BinaryIO, NamedTuple

from problemgen.write.binding.book import PutBy
from problemgen.write.binding.leaves import Leaf
from problemgen.write.binding.objects import ROW, Pack, packed, row, row_at, row_within, split_stream, stream, unpacked

__all__ = ["Place", "Shelf"]

_TOGETHER = 200
"""Objects that are packed together: a reader unpacks all for one. Of 100 to 400, the files' size differs by 1 %."""


class Place(NamedTuple):
    """Where a sheet lies, which is all that is kept of it in memory: the first byte, and the sizes of its parts."""

    at: int
    head: int
    rows: int
    body: int


class Shelf:
    """A file in which sheets are put by, one behind the other."""

    def __init__(self, file: BinaryIO) -> None:
        """The file is empty, to be written and read."""
        self._file, self._end = file, 0

    def put_by(self, leaf: Leaf) -> Place:
        """Write a sheet: what a file needs to know of it, where each object is, the objects. It gets its packs."""
        packs = dict(enumerate(_packs(leaf.texts), start=leaf.first + leaf.count))
        leaf.count += len(packs)
        rows = bytearray(ROW * leaf.count)

        def place(number: int, one: bytes) -> None:
            at = ROW * (number - leaf.first)
            rows[at : at + ROW] = one

        body: list[bytes] = []
        size = 0
        streams = leaf.streams | {number: pack.stream for number, pack in packs.items()}
        for number, parts in sorted(streams.items()):
            place(number, row(size))
            body += (b"%d 0 obj\n" % number, stream(*parts))
            size += sum(map(len, body[-2:]))
        for number, pack in packs.items():
            for index, one in enumerate(pack.numbers):
                place(one, row_within(number, index))
        head = PutBy(
            first=leaf.first,
            numbers=leaf.count,
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
            packs=sorted(packs),
        )
        told = json.dumps(head).encode()
        return Place(self.write(told, bytes(rows), *body), len(told), len(rows), size)

    def head(self, place: Place) -> PutBy:
        """What a file needs to know of a sheet."""
        return PutBy(*json.loads(self.read(place.at, place.head)))

    def rows(self, place: Place) -> bytes:
        """Where its objects are: a row for each number, with places in its body."""
        return self.read(place.at + place.head, place.rows)

    def body(self, place: Place) -> bytes:
        """Its objects."""
        return self.read(place.at + place.head + place.rows, place.body)

    def leaf(self, place: Place) -> Leaf:
        """The sheet as it was before it was put by, without its packs."""
        head, rows, body = self.head(place), self.rows(place), self.body(place)
        begins = [row_at(rows, number - head.first) for number in head.streams]
        parts = {
            number: split_stream(body[begin:end])
            for number, begin, end in zip(head.streams, begins, [*begins[1:], len(body)], strict=True)
        }
        return Leaf(
            first=head.first,
            count=head.numbers - len(head.packs),
            pages=head.pages,
            part=head.part,
            parents=head.parents,
            ids=head.ids,
            sheets=head.sheets,
            box=tuple(head.box),
            language=head.language,
            tops=[(number, title, more) for number, title, more in head.tops],
            needs=list(head.needs),
            texts={number: text for pack in head.packs for number, text in unpacked(*parts.pop(pack)).items()},
            streams=parts,
        )

    def write(self, *parts: bytes) -> int:
        """Put bytes by; gives where they begin."""
        self._file.seek(self._end)
        self._file.writelines(parts)
        at, self._end = self._end, self._end + sum(map(len, parts))
        return at

    def read(self, at: int, size: int) -> bytes:
        """So many bytes from a place."""
        self._file.seek(at)
        return self._file.read(size)


def _packs(texts: Mapping[int, bytes]) -> Iterator[Pack]:
    numbers = sorted(texts)
    for start in range(0, len(numbers), _TOGETHER):
        yield packed({number: texts[number] for number in numbers[start : start + _TOGETHER]})
