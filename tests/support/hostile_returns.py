"""Files that are handed in to stall a program, to fill its memory, to leave a folder, or to be somebody else's."""

from __future__ import annotations

import io
import random
import re
import warnings
import zipfile
import zlib
from collections.abc import Callable, Iterator
from typing import Any

import pikepdf
from pikepdf import Array, Dictionary, Name

from tests.support.damaged_workbooks import archived, damaged, parts_of

__all__ = ["hostile"]

_ZEROS = 1 << 28  # bytes that a bomb unpacks to
_ODD_NAMES = (
    "../../etc/x.pdf",
    "/etc/passwd",
    "..\\..\\x.pdf",
    "a\0b.pdf",
    "C:\\x.pdf",
    "\u202efdp.pdf",
    "x" * 3000,
    "=1+1.pdf",
)


def hostile(sheet: bytes, book: bytes, count: int, seed: int) -> Iterator[tuple[str, bytes]]:
    """So many files by their names: sheets and workbooks with flipped bytes, cut short, and those made on purpose."""
    chance = random.Random(seed)  # noqa: S311 - no key is drawn
    made = [*_sheets_on_purpose(sheet), *_books_on_purpose(book), *_archives(sheet), b"", b"%PDF-1.7", b"PK\x03\x04"]
    plain = _unpacked(sheet)
    left = count - len(made)
    made += [_flipped(one, chance) for one in (sheet, plain) for _ in range(left // 3)]
    made += damaged(count - len(made), seed, book)
    for number, content in enumerate(made):
        before = chance.choice(_ODD_NAMES) if number % 5 == 0 else "up"
        yield f"{before}{number}", content


def _flipped(content: bytes, chance: random.Random) -> bytes:
    changed = bytearray(content)
    for _ in range(chance.choice((1, 4, 40))):
        changed[chance.randrange(len(changed))] = chance.randrange(256)
    start = chance.randrange(len(changed))
    ways = (
        changed,
        changed[:start],
        changed[:start] + changed[start + chance.randrange(2000) :],
        changed + changed[start:],
    )
    return bytes(chance.choice(ways))


def _unpacked(sheet: bytes) -> bytes:
    """With all its objects as plain text, so that a flipped byte changes what they say."""
    with pikepdf.open(io.BytesIO(sheet)) as opened:
        out = io.BytesIO()
        opened.save(out, object_stream_mode=pikepdf.ObjectStreamMode.disable, compress_streams=False)
    return out.getvalue()


def _sheets_on_purpose(sheet: bytes) -> Iterator[bytes]:
    for change in _PURPOSES:
        with pikepdf.open(io.BytesIO(sheet)) as opened:
            change(opened)
            out = io.BytesIO()
            with warnings.catch_warnings(action="ignore"):  # what the library says of such a form
                opened.save(out, compress_streams=False, fix_metadata_version=False)
        yield out.getvalue()


def _own_parent(opened: pikepdf.Pdf) -> None:
    field: Any = _first(opened)
    field.Parent = field


def _deep_parents(opened: pikepdf.Pdf) -> None:
    field: Any = _first(opened)
    for _ in range(500):
        group = opened.make_indirect(Dictionary(T="x"))
        field.Parent = group
        field = group


def _long_value(opened: pikepdf.Pdf) -> None:
    _first(opened).V = "9" * 3_000_000


def _packed_value(opened: pikepdf.Pdf) -> None:
    _first(opened).V = _bomb(opened)


def _packed_page(opened: pikepdf.Pdf) -> None:
    opened.pages[0].obj.Contents = _bomb(opened)


def _packed_metadata(opened: pikepdf.Pdf) -> None:
    opened.Root.Metadata = _bomb(opened)


def _many_fields(opened: pikepdf.Pdf) -> None:
    opened.pages[0].obj.Annots = Array([_first(opened)] * 20_000)


def _many_pages(opened: pikepdf.Pdf) -> None:
    for _ in range(400):
        opened.add_blank_page()


def _same_page(opened: pikepdf.Pdf) -> None:
    opened.Root.Pages.Kids = Array([opened.Root.Pages] * 3)


def _odd_kinds(opened: pikepdf.Pdf) -> None:
    field = _first(opened)
    field.T, field.V, field.FT = Array([1, 2]), Dictionary(V=1), Name.Sig
    opened.Root.AcroForm = Name.None_
    opened.pages[0].obj.PieceInfo = Array([])


def _twice(opened: pikepdf.Pdf) -> None:
    other = opened.make_indirect(Dictionary(_first(opened)))
    other.V = "another answer"
    opened.pages[0].obj.Annots.append(other)


def _first(opened: pikepdf.Pdf) -> Any:
    marks = (mark for page in opened.pages for mark in page.obj.get("/Annots", Array()))
    return next(mark for mark in marks if mark.get("/Subtype") == Name.Widget)


def _bomb(opened: pikepdf.Pdf) -> Any:
    stream = opened.make_stream(b"")
    stream.write(zlib.compress(bytes(_ZEROS), 1), filter=Name.FlateDecode)
    return stream


_PURPOSES: tuple[Callable[[pikepdf.Pdf], None], ...] = (
    *(
        _own_parent,
        _deep_parents,
        _long_value,
        _packed_value,
        _packed_page,
        _packed_metadata,
        _many_fields,
        _many_pages,
    ),
    *(_same_page, _odd_kinds, _twice),
)


def _books_on_purpose(book: bytes) -> Iterator[bytes]:
    parts, cells = parts_of(book), "xl/worksheets/sheet1.xml"
    yield archived({**parts, cells: b"<a>" * 500_000})
    yield archived(
        {**parts, cells: parts[cells].replace(b"<sheetData>", b"<sheetData>" + b"<row><c/></row>" * 200_000)}
    )
    yield archived({**parts, cells: bytes(_ZEROS)})
    yield archived({**parts, "docProps/custom.xml": parts["docProps/custom.xml"] + bytes(_ZEROS)})
    entities = b'<!DOCTYPE a [<!ENTITY b "' + b"x" * 1000 + b'">' + _laughs() + b"]>"
    yield archived({**parts, cells: re.sub(rb"(<worksheet)", entities + rb"\1", parts[cells])})
    outside = b'<!DOCTYPE a [<!ENTITY b SYSTEM "file:///etc/passwd">]>'
    yield archived({**parts, cells: re.sub(rb"(<worksheet)", outside + rb"\1", parts[cells])})


def _laughs() -> bytes:
    return b"".join(b'<!ENTITY c%d "%b">' % (n, (b"&c%d;" % (n - 1) if n else b"&b;") * 10) for n in range(9))


def _archives(sheet: bytes) -> Iterator[bytes]:
    inner = sheet
    for _ in range(5):
        out = io.BytesIO()
        with zipfile.ZipFile(out, "w") as packed:
            packed.writestr("../../in.zip", inner)
        inner = out.getvalue()
    yield inner
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr("zeros.pdf", bytes(_ZEROS))
    yield out.getvalue()
    link = zipfile.ZipInfo("link.pdf")
    link.external_attr = 0o120777 << 16
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as packed:
        packed.writestr(link, "/etc/passwd")
    yield out.getvalue()
