"""The parts of a workbook (ECMA-376 part 2: an archive of XML parts and their relationships), unpacked in pieces."""

from __future__ import annotations

import posixpath
import struct
import zipfile
import zlib
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import Protocol, Self
from xml.parsers import expat

from problemgen.load.limits import LARGEST_TABLE

__all__ = ["Archive", "Handler", "Relation", "UnreadableWorkbookError"]

_LARGEST_FILE = 1 << 25
"""Bytes of the archive: its list of parts is read at once, and takes ten times its own size in memory."""
_MOST_PARTS = 10_000
"""Parts of a workbook: one a sheet or a picture, and a dozen besides."""
_CHUNK = 1 << 16
_LONGEST_TAG = 1 << 18
"""Bytes of a tag: the parser begins it anew with each chunk, so that a tag without end would never be done with."""
_BROKEN = (
    zipfile.BadZipFile, zlib.error, struct.error, expat.ExpatError, EOFError, OSError, NotImplementedError,
    RuntimeError, ValueError, IndexError, KeyError, OverflowError,
)  # fmt: skip
"""What a damaged archive, or one with a password, makes of the libraries that unpack and parse it."""


_ALONE = "Save the sheet with the table alone, as a workbook or as CSV."


class UnreadableWorkbookError(Exception):
    """A workbook that is damaged, or too large: where, what was found, and what to do."""

    def __init__(self, found: str, hint: str = "Open it in a spreadsheet and save it again.", where: str = "") -> None:
        """Keep what the message says."""
        super().__init__(found)
        self.found, self.hint, self.where = found, hint, where


class Handler(Protocol):
    """What takes the elements of a part, by their names without a prefix; attributes keep theirs."""

    def start(self, name: str, attributes: Mapping[str, str]) -> None:
        """An element begins."""

    def end(self, name: str) -> None:
        """An element ends."""

    def text(self, text: str) -> None:
        """Text between two tags, or a piece of it."""


class Relation:
    """What a part refers to by an id: the name of another part, and the last word of the relation's type."""

    def __init__(self, kind: str, part: str) -> None:
        """Keep both."""
        self.kind, self.part = kind, part


class Archive:
    """An opened workbook. Use as a context."""

    def __init__(self, path: Path) -> None:
        """Open the archive. Raises UnreadableWorkbookError."""
        if path.stat().st_size > _LARGEST_FILE:
            raise UnreadableWorkbookError(f"a workbook of more than {_LARGEST_FILE:,} bytes", _ALONE)
        with _damage_told("a workbook that cannot be read"):
            self._archive = zipfile.ZipFile(path)
        if len(self._archive.filelist) > _MOST_PARTS:
            self._archive.close()
            raise UnreadableWorkbookError(f"a workbook of more than {_MOST_PARTS:,} parts", _ALONE)

    def __enter__(self) -> Self:
        """The archive itself."""
        return self

    def __exit__(self, *_: object) -> None:
        """Close the file."""
        self._archive.close()

    def relations(self, part: str = "") -> Mapping[str, Relation]:
        """What a part refers to, by id; "" is the workbook as a whole. None for a part without relations."""
        folder, name = posixpath.split(part)
        listed = _Relations(folder)
        listing = posixpath.join(folder, "_rels", f"{name}.rels")
        if listing in self._archive.namelist():
            self.parse(listing, listed)
        return listed.found

    def parse(self, part: str, handler: Handler) -> None:
        """Give all elements of a part to a handler. Raises UnreadableWorkbookError."""
        for _ in self.parsed(part, handler):
            pass

    def parsed(self, part: str, handler: Handler) -> Iterator[None]:
        """The same piece by piece: what the handler has taken may be used up in between."""
        parser = _parser(handler)
        read = 0
        with _damage_told(f"a damaged part {part!r}"):
            member = self._archive.getinfo(part)
            if member.file_size > LARGEST_TABLE:
                raise UnreadableWorkbookError(f"a part {part!r} of {member.file_size:,} bytes, unpacked", _ALONE)
            source = self._archive.open(member)
        with source:
            while True:
                with _damage_told(f"a damaged part {part!r}"):
                    chunk = source.read(_CHUNK)
                    read += len(chunk)
                    parser.Parse(chunk, not chunk)
                yield
                if not chunk:
                    return
                if read - parser.CurrentByteIndex > _CHUNK + _LONGEST_TAG:
                    raise UnreadableWorkbookError(f"a tag of more than {_LONGEST_TAG:,} bytes in {part!r}")


@contextmanager
def _damage_told(found: str) -> Iterator[None]:
    try:
        yield
    except _BROKEN:
        raise UnreadableWorkbookError(found) from None


def _parser(handler: Handler) -> expat.XMLParserType:
    parser = expat.ParserCreate()
    parser.buffer_text = True
    parser.StartElementHandler = lambda name, attributes: handler.start(name.rpartition(":")[2], attributes)
    parser.EndElementHandler = lambda name: handler.end(name.rpartition(":")[2])
    parser.CharacterDataHandler = handler.text
    parser.StartDoctypeDeclHandler = _refuse_doctype
    return parser


def _refuse_doctype(*_: object) -> None:
    """No part of a workbook declares entities (ECMA-376 part 2, M1.17): they could grow without end, or name files."""
    raise ValueError("a document type")


class _Relations:
    """Takes a list of relationships of a part in a folder."""

    def __init__(self, folder: str) -> None:
        self._folder = folder
        self.found: dict[str, Relation] = {}

    def start(self, name: str, attributes: Mapping[str, str]) -> None:
        if name == "Relationship":
            part = posixpath.normpath(posixpath.join("/", self._folder, attributes.get("Target", ""))).lstrip("/")
            kind = attributes.get("Type", "").rpartition("/")[2]
            self.found[attributes.get("Id", "")] = Relation(kind, part)

    def end(self, name: str) -> None:
        """Nothing is left to do."""

    def text(self, text: str) -> None:
        """Relations have no text."""
