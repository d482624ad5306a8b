"""Objects as they stand in a bound file (ISO 32000-1, 7.3.8, 7.5.7 and 7.5.8)."""

from __future__ import annotations

import re
import zlib
from collections.abc import Mapping
from typing import NamedTuple

__all__ = ["ROW", "Pack", "packed", "row", "row_at", "row_within", "split_stream", "stream", "unpacked"]

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


def unpacked(head: bytes, raw: bytes) -> dict[int, bytes]:
    """The objects of a pack of ours, by number."""
    found = re.search(rb"/First (\d+)", head)
    assert found is not None, "a pack of ours"
    texts, begin = zlib.decompress(raw), int(found[1])
    numbers = list(map(int, texts[:begin].split()))
    ends = [*(begin + at - 1 for at in numbers[3::2]), len(texts)]
    return {number: texts[begin + at : end] for number, at, end in zip(numbers[::2], numbers[1::2], ends, strict=True)}


_BEGIN, _END = b"\nstream\n", b"\nendstream\nendobj\n"


def stream(head: bytes, raw: bytes) -> bytes:
    """An object with a stream, behind its number; its dictionary, in one line, tells the length."""
    return head + _BEGIN + raw + _END


def split_stream(text: bytes) -> tuple[bytes, bytes]:
    """The dictionary and the bytes of an object with a stream of ours, with the number before it."""
    head, _, rest = text.partition(_BEGIN)
    return head.partition(b" obj\n")[2], rest.removesuffix(_END)


def row(at: int) -> bytes:
    """Where an object is that begins at a byte."""
    return b"\x01" + at.to_bytes(5, "big") + b"\0\0"


def row_at(rows: bytes, index: int) -> int:
    """The byte at which an object begins, by its row."""
    return int.from_bytes(rows[ROW * index + 1 : ROW * index + 6], "big")


def row_within(pack: int, index: int) -> bytes:
    """Where an object is that is packed with others, by the pack's number."""
    return b"\x02" + pack.to_bytes(5, "big") + index.to_bytes(2, "big")
