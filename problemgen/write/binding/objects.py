"""Objects as they stand in a bound file (ISO 32000-1, 7.3.8, 7.5.7 and 7.5.8), and the numbers of those it has once."""

from __future__ import annotations

import zlib
from collections.abc import Mapping
from typing import NamedTuple

__all__ = ["CATALOG", "DOCUMENT", "FIRST", "IDS", "INFO", "METADATA", "OUTLINES", "PAGES", "PARENTS", "ROW", "TREE"]
__all__ += ["Pack", "packed", "row", "row_within", "stream_text"]

CATALOG, PAGES, TREE, DOCUMENT, OUTLINES, PARENTS, IDS, METADATA, INFO, FIRST = range(1, 11)
"""Sheets' numbers begin with FIRST."""

ROW = 8
"""Bytes that tell where an object is: one for its kind, five and two for the rest, which reach for 2**40 bytes."""


class Pack(NamedTuple):
    """Objects that are packed together: their numbers, and the dictionary and the bytes of the stream."""

    numbers: tuple[int, ...]
    stream: tuple[bytes, bytes]


def packed(texts: Mapping[int, bytes]) -> Pack:
    """Pack objects without streams, by number."""
    offsets, at = [], 0
    for number, text in texts.items():
        offsets.append(b"%d %d" % (number, at))
        at += len(text) + 1
    index = b" ".join(offsets) + b" "
    raw = zlib.compress(index + b"\n".join(texts.values()))
    head = b"<</Type/ObjStm/N %d/First %d/Filter/FlateDecode/Length %d>>" % (len(texts), len(index), len(raw))
    return Pack(tuple(texts), (head, raw))


def stream_text(number: int, head: bytes, raw: bytes) -> bytes:
    """An object with a stream; its dictionary tells the length."""
    return b"%d 0 obj\n%b\nstream\n%b\nendstream\nendobj\n" % (number, head, raw)


def row(at: int) -> bytes:
    """Where an object is that begins at a byte."""
    return b"\x01" + at.to_bytes(5, "big") + b"\0\0"


def row_within(pack: int, index: int) -> bytes:
    """Where an object is that is packed with others, by the pack's number."""
    return b"\x02" + pack.to_bytes(5, "big") + index.to_bytes(2, "big")
