"""One bound file as it is written: sheets one after another, then what ties them together."""

from __future__ import annotations

import hashlib
import zlib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import BinaryIO, NamedTuple

import pikepdf

from problemgen.write.binding.numbers import (
    CATALOG,
    DOCUMENT,
    IDS,
    INFO,
    METADATA,
    OUTLINES,
    PAGES,
    PARENTS,
    TREE,
)
from problemgen.write.binding.objects import ROW, packed, row, row_at, row_within, stream

__all__ = ["Book", "PutBy"]

_TOGETHER = 200
"""Objects of the file itself that are packed together, as sheets' are."""

_FREE = b"\0" * (ROW - 2) + b"\xff\xff"  # number 0 (ISO 32000-1, 7.5.4)


class PutBy(NamedTuple):
    """What a file needs to know of a sheet: its numbers, those of its nodes in the file's trees, its pages, and so on.

    `tops` are its entries of the outline (number, title, further text), `needs` the shared objects that it refers to,
    `streams` the numbers whose places count from the sheet's beginning, and `packs` those of them that hold others.
    """

    first: int
    numbers: int
    pages: int
    part: int
    parents: int
    ids: int
    sheets: int
    box: Sequence[str]
    language: str
    tops: Sequence[tuple[int, str, str]]
    needs: Sequence[int]
    streams: Sequence[int]
    packs: Sequence[int]


class Book:
    """A file that is written from its beginning to its end, with little of it in memory."""

    def __init__(self, file: BinaryIO, top: int, title: str, roles: Mapping[str, str]) -> None:
        """Numbers from `top` on are no sheet's; `roles` tells what the sheets' own kinds of tags are."""
        self._file, self._next, self._title, self._roles = file, top, title, roles
        self._digest = hashlib.blake2b(digest_size=16)
        self._at = 0
        self._rows: dict[int, bytes] = {0: _FREE}
        self._begins: dict[int, int] = {}
        self._texts: dict[int, bytes] = {}
        self._kids: list[int] = []
        self._parts: list[int] = []
        self._tops: list[tuple[int, str, str]] = []
        self._parents: list[int] = []
        self._ids: list[int] = []
        self._pages = 0
        self._box: Sequence[str] = ()
        self._language = ""
        self._write(b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n")  # bytes above 127, so that nobody takes it for text (7.5.2)

    def has(self, number: int) -> bool:
        """Whether a shared object stands in the file."""
        return number in self._rows

    def put(self, number: int, text: bytes) -> None:
        """Write an object."""
        self._rows[number] = row(self._at)
        self._write(b"%d 0 obj\n" % number + text)

    def take(self, sheet: PutBy, body: bytes) -> None:
        """Write a sheet, behind a blank page where it would stand on a left-hand one."""
        if self._pages % 2:
            self._kids.append(self._blank())
        self._begins[sheet.first] = self._at
        self._write(body)
        self._kids.append(sheet.pages)
        self._parts.append(sheet.part)
        self._parents.append(sheet.parents)
        self._ids += [sheet.ids] if sheet.ids else []
        self._tops += sheet.tops
        self._pages += sheet.sheets
        self._box = sheet.box
        self._language = self._language or sheet.language

    def close(self, rows: Iterable[tuple[PutBy, bytes]]) -> None:
        """Write what ties the sheets together; `rows` has each once more, by their numbers, and where things are."""
        self._tie()
        for start in range(0, len(self._texts), _TOGETHER):
            numbers = sorted(self._texts)[start : start + _TOGETHER]
            pack = packed({number: self._texts[number] for number in numbers})
            home = self._new()
            for index, number in enumerate(pack.numbers):
                self._rows[number] = row_within(home, index)
            self.put(home, stream(*pack.stream))
        xmp = _metadata(self._title, self._language)
        self.put(METADATA, stream(b"<</Type/Metadata/Subtype/XML/Length %d>>" % len(xmp), xmp))
        self._tell_places(rows)

    def _write(self, text: bytes) -> None:
        self._file.write(text)
        self._digest.update(text)
        self._at += len(text)

    def _new(self) -> int:
        self._next += 1
        return self._next - 1

    def _blank(self) -> int:
        number = self._new()
        box = " ".join(self._box)
        self._texts[number] = f"<</Type/Page/Parent {PAGES} 0 R/MediaBox[{box}]/Resources<<>>>>".encode()
        self._pages += 1
        return number

    def _tie(self) -> None:
        looks = "/ViewerPreferences<</DisplayDocTitle true/Duplex/DuplexFlipLongEdge>>"
        outlines = f"/Outlines {OUTLINES} 0 R" if self._tops else ""
        told = {
            CATALOG: f"<</Type/Catalog/Pages {PAGES} 0 R/StructTreeRoot {TREE} 0 R/MarkInfo<</Marked true>>{outlines}"
            f"/Lang {_string(self._language)}/Metadata {METADATA} 0 R{looks}>>",
            PAGES: f"<</Type/Pages/Count {self._pages}/Kids[{_references(self._kids)}]>>",
            TREE: f"<</Type/StructTreeRoot/K[{DOCUMENT} 0 R]/ParentTree {PARENTS} 0 R{self._named()}/RoleMap<<"
            f"{''.join(f'{name}{role}' for name, role in sorted(self._roles.items()))}>>>>",
            DOCUMENT: f"<</Type/StructElem/S/Document/P {TREE} 0 R/K[{_references(self._parts)}]>>",
            PARENTS: f"<</Kids[{_references(self._parents)}]>>",
            INFO: f"<</Title {_string(self._title)}>>",
        }
        self._texts |= {number: text.encode("latin-1") for number, text in told.items()}
        if self._ids:
            self._texts[IDS] = f"<</Kids[{_references(sorted(self._ids))}]>>".encode()
        if self._tops:
            self._outline()

    def _named(self) -> str:
        return f"/IDTree {IDS} 0 R" if self._ids else ""

    def _outline(self) -> None:
        numbers = [number for number, _title, _more in self._tops]
        counted = f"/First {numbers[0]} 0 R/Last {numbers[-1]} 0 R/Count {len(numbers)}"
        self._texts[OUTLINES] = f"<</Type/Outlines{counted}>>".encode()
        neighbours = zip([None, *numbers], [*numbers[1:], None], strict=False)
        for (number, title, more), (before, behind) in zip(self._tops, neighbours, strict=True):
            links = f"/Prev {before} 0 R" if before is not None else ""
            links += f"/Next {behind} 0 R" if behind is not None else ""
            self._texts[number] = f"<</Title {_string(title)}{links}{more}>>".encode("latin-1")

    def _tell_places(self, rows: Iterable[tuple[PutBy, bytes]]) -> None:
        """The table of the file, packed as it is made: it has eight bytes for each object."""
        mine = self._new()
        self._rows[mine] = row(self._at)
        size, packer, table = mine + 1, zlib.compressobj(), []
        spans: list[tuple[int, int]] = []
        for first, part in self._placed(rows):
            if spans and sum(spans[-1]) == first:
                spans[-1] = spans[-1][0], spans[-1][1] + len(part) // ROW
            else:
                spans.append((first, len(part) // ROW))
            table.append(packer.compress(part))
        raw = b"".join([*table, packer.flush()])
        index = " ".join(f"{first} {count}" for first, count in spans)
        mark = self._digest.hexdigest()
        head = (
            f"<</Type/XRef/Size {size}/W[1 5 2]/Index[{index}]/Root {CATALOG} 0 R/Info {INFO} 0 R/ID[<{mark}><{mark}>]"
            f"/Filter/FlateDecode/Length {len(raw)}>>"
        )
        at = self._at
        self._write(b"%d 0 obj\n" % mine + stream(head.encode(), raw))
        self._write(b"startxref\n%d\n%%%%EOF\n" % at)

    def _placed(self, rows: Iterable[tuple[PutBy, bytes]]) -> Iterator[tuple[int, bytes]]:
        """Rows by their first number, in order: those of sheets, with what this file has elsewhere, and others."""
        others = iter(sorted(self._rows.items()))
        other = next(others, None)
        for sheet, part in rows:
            first = sheet.first
            while other is not None and other[0] < first:
                yield other
                other = next(others, None)
            mine = bytearray(part)
            for number in sheet.streams:
                at = ROW * (number - first)
                mine[at : at + ROW] = row(row_at(part, number - first) + self._begins[first])
            while other is not None and other[0] < first + len(mine) // ROW:
                at = ROW * (other[0] - first)
                mine[at : at + ROW] = other[1]
                other = next(others, None)
            yield first, bytes(mine)
        while other is not None:
            yield other
            other = next(others, None)


def _references(numbers: Iterable[int]) -> str:
    return " ".join(f"{number} 0 R" for number in numbers)


def _string(text: str) -> str:
    return pikepdf.String(text).unparse().decode("latin-1")


def _metadata(title: str, language: str) -> bytes:
    """What the file says of itself: the title, the language, and by which standard it has its tags."""
    with pikepdf.new() as blank:
        with blank.open_metadata(set_pikepdf_as_editor=False) as metadata:
            metadata["dc:title"] = title
            metadata["dc:language"] = {language}
            metadata["pdfuaid:part"] = "1"
        return blank.Root.Metadata.read_bytes()
