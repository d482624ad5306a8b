"""A sheet with fields that came back: what is in its fields, and whether what it prints is as it was handed out.

The file is a stranger's. Nothing in it is run or followed, and no XML of it is parsed: its stamp is looked for in the
bytes of its metadata.
"""

from __future__ import annotations

import logging
import re
import zlib
from collections.abc import Iterable, Iterator
from contextlib import suppress
from datetime import UTC, datetime, timedelta
from itertools import islice
from pathlib import Path
from typing import Any, NoReturn

import pikepdf

from problemgen.errors import FaultsError
from problemgen.load.fault_log import FaultLog
from problemgen.model.handed_out import digest_of, read_stamp, stamps_in
from problemgen.model.returned import Filled

__all__ = ["read_fill_in"]

logging.getLogger("pikepdf").addHandler(logging.NullHandler())  # what it says of damage goes to nobody's screen

_MOST_PAGES = 200
"""Pages that are looked at: a sheet has some ten, and a student may have put a few of their own behind them."""
_MOST_MARKS = 5000
"""Fields and notes of all pages."""
_LARGEST_STREAM = 1 << 23
"""Bytes of a page's contents: one with schemes and tables has forty thousand."""
_DEEPEST = 16  # groups of fields within each other: ours have one
_LONGEST = 2000  # characters of an answer that are read
_MOST_REMARKS = 10  # on one file: where there are more, it is to be looked at anyway
_SHOWN = 60  # of a note that are told
_RADIO_OFF = "Off"
_RADIO = "/Btn"
_FORM_PROGRAMS = ("/JavaScript", "/EmbeddedFiles")
_DATE = re.compile(
    r"(?:D:)?(\d{4})-?(\d\d)?-?(\d\d)?T?(\d\d)?:?(\d\d)?:?(\d\d)?(?:\.\d+)?(?:(Z)|([+-])(\d\d)'?:?(\d\d)?)?"
)
_CHANGED = re.compile(r"xmp:ModifyDate(?:>|\s*=\s*[\"'])\s*([0-9T:Z.+-]{4,35})")
_NAMED = str.maketrans(":", ".")

_EXPECTED = "a sheet with fields, as it was handed out and filled in"


def read_fill_in(path: Path) -> Filled:
    """What is in a sheet that came back.

    Raises:
        FaultsError: for a file that is no PDF, is damaged, protected by a password, or has too much in it.
    """
    faults = FaultLog(path.name)
    try:
        with pikepdf.open(path) as sheet:
            return _Reader(sheet, faults).filled()
    except FaultsError:
        raise
    except pikepdf.PasswordError:
        faults.refuse("", "a PDF with a password", _EXPECTED)
    except Exception:  # noqa: BLE001 - a damaged file makes anything of the library that reads it
        faults.refuse("", "a damaged PDF", _EXPECTED)


class _Reader:
    """Goes through the pages of one file once."""

    def __init__(self, sheet: pikepdf.Pdf, faults: FaultLog) -> None:
        self._sheet, self._faults = sheet, faults
        self._pages = len(sheet.pages)
        if self._pages > _MOST_PAGES and not self._is_pile:
            self._refuse(f"a PDF of {self._pages:,} pages", f"one of at most {_MOST_PAGES}")
        self._cells: dict[str, str] = {}
        self._remarks: list[str] = []
        self._notes: list[str] = []
        self._marks = 0

    @property
    def _is_pile(self) -> bool:
        """Whether it is what a copier makes of a class's sheets: more pages than a sheet has, and no form."""
        return self._pages > _MOST_PAGES and "/AcroForm" not in self._sheet.Root

    def filled(self) -> Filled:
        """What all pages hold; of a pile nothing, and no page is looked at."""
        if self._is_pile:
            return Filled(frozenset(), "")
        texts = [self._text_of(page) for page in self._sheet.pages]
        for page in self._sheet.pages:
            for mark in self._marks_of(page):
                self._take(mark)
        metadata = self._metadata()
        told = (metadata, str(self._sheet.docinfo.get("/Keywords", "")), *map(_told_by, self._sheet.pages))
        stamps = frozenset(stamp for text in told for stamp in stamps_in(text))
        contents = digest_of((*texts, *sorted(name.encode() for name in self._cells)))
        self._check_whole(stamps, contents)
        return Filled(
            stamps=stamps,
            contents=contents,
            cells=self._cells,
            when=self._when(metadata),
            remarks=(*self._remarks[:_MOST_REMARKS], *self._other_notes(), *self._programs()),
        )

    def _refuse(self, found: str, expected: str) -> NoReturn:
        self._faults.refuse("", found, expected)

    def _check_whole(self, stamps: Iterable[str], contents: str) -> None:
        """Refuse a damaged sheet that could be mended in part only: answers may be missing from it."""
        expected = {stamp.contents for one in stamps if (stamp := read_stamp(one)) is not None}
        is_sheet = expected or self._cells  # a copier's pages go to another reader, which looks for itself
        if is_sheet and self._sheet.get_warnings() and contents not in expected:
            self._refuse("a damaged PDF", _EXPECTED)

    def _text_of(self, page: pikepdf.Page) -> bytes:
        contents = page.obj.get("/Contents", pikepdf.Array())
        parts = contents if isinstance(contents, pikepdf.Array) else [contents]
        return b"\n".join(self._unpacked(part).strip() for part in islice(parts, _MOST_MARKS))

    def _unpacked(self, stream: Any) -> bytes:
        """A stream's bytes, within a limit. Raises what the library does for one that it cannot read."""
        names = stream.get("/Filter", pikepdf.Array())
        filters = [str(one) for one in names] if isinstance(names, pikepdf.Array) else [str(names)]
        if filters == ["/FlateDecode"] and "/DecodeParms" not in stream and not self._sheet.is_encrypted:
            packer = zlib.decompressobj()
            told = packer.decompress(stream.read_raw_bytes(), _LARGEST_STREAM)
            if packer.unconsumed_tail:
                self._refuse("a page that unpacks without end", f"one of at most {_LARGEST_STREAM:,} bytes")
            return told
        return bytes(stream.read_bytes())

    def _marks_of(self, page: pikepdf.Page) -> Iterator[Any]:
        marks = page.obj.get("/Annots", pikepdf.Array())
        for mark in marks if isinstance(marks, pikepdf.Array) else ():
            self._marks += 1
            if self._marks > _MOST_MARKS:
                self._refuse(f"more than {_MOST_MARKS:,} fields and notes", "the fields of a sheet")
            yield mark

    def _take(self, mark: Any) -> None:
        kind = str(mark.get("/Subtype", ""))
        if kind == "/Widget":
            self._take_field(mark)
        elif kind not in ("/Link", "/Popup"):
            self._notes.append(_clean(str(mark.get("/Contents", "")))[:_SHOWN])

    def _take_field(self, widget: Any) -> None:
        chain = list(_chain(widget))
        name = ".".join(reversed([str(one.T) for one in chain if "/T" in one])).translate(_NAMED)
        form = str(next((one.FT for one in chain if "/FT" in one), ""))
        value = next((one.V for one in chain if "/V" in one), "")
        text = _ticked(widget, value) if form == _RADIO else self._written(name, value)
        before = self._cells.get(name, "")
        if text and before and text != before:
            self._remarks.append(f"{name} is filled in twice, {before[:_SHOWN]!r} and {text[:_SHOWN]!r}; look at it")
        self._cells[name] = before or text

    def _written(self, name: str, value: Any) -> str:
        if isinstance(value, pikepdf.Stream):
            value = self._unpacked(value).decode("utf-8", "replace")
        text = _clean(str(value))
        if len(text) > _LONGEST:
            self._remarks.append(f"{name} has {len(text):,} characters; the first {_LONGEST:,} are read")
        return text[:_LONGEST]

    def _metadata(self) -> str:
        stream = self._sheet.Root.get("/Metadata")
        return self._unpacked(stream).decode("utf-8", "replace") if isinstance(stream, pikepdf.Stream) else ""

    def _when(self, metadata: str) -> datetime | None:
        found = _CHANGED.search(metadata)
        dates = (str(self._sheet.docinfo.get("/ModDate", "")), found[1] if found else "")
        return max(filter(None, map(_date, dates)), default=None)

    def _other_notes(self) -> Iterator[str]:
        if self._notes:
            texts = ", ".join(repr(text) for text in self._notes[:5] if text)
            told = f": {texts}" if texts else ""
            yield f"{len(self._notes)} notes or drawings beside the fields are not read{told}; look at it"

    def _programs(self) -> Iterator[str]:
        root: Any = self._sheet.Root
        names = root.get("/Names", pikepdf.Dictionary())
        inside = any(key in names for key in _FORM_PROGRAMS) or any(key in root for key in ("/OpenAction", "/AA"))
        if inside or "/XFA" in root.get("/AcroForm", pikepdf.Dictionary()):
            yield "it has a program or files inside that the sheet had not; they are left alone"


def _chain(widget: Any) -> Iterator[Any]:
    """A field and the groups that it is in, from the inside."""
    one = widget
    for _ in range(_DEEPEST):
        if not isinstance(one, pikepdf.Dictionary):
            return
        yield one
        one = one.get("/Parent")


def _ticked(widget: Any, value: Any) -> str:
    """The letter of a button where it is on: as its group says, or where that says nothing, as it looks itself."""
    group = str(value).removeprefix("/")
    if group not in ("", _RADIO_OFF):
        return group
    look = str(widget.get("/AS", "")).removeprefix("/")
    return "" if look == _RADIO_OFF else look


def _told_by(page: pikepdf.Page) -> str:
    """What a page says of itself beside what it prints (ISO 32000-1, 14.5)."""
    pieces = page.obj.get("/PieceInfo", pikepdf.Dictionary())
    mine = pieces.get("/problemgen", pikepdf.Dictionary())
    return str(mine.get("/Private", ""))


def _clean(text: str) -> str:
    """A text on one line, without what does not print."""
    return " ".join("".join(letter if letter.isprintable() else " " for letter in text).split(" ")).strip()


def _date(text: str) -> datetime | None:
    """A date as PDF and its metadata write it, in UTC; one without a zone is taken for that."""
    found = _DATE.match(text.strip())
    if found is None:
        return None
    year, month, day, hour, minute, second = (int(part) if part else None for part in found.groups()[:6])
    zone = timedelta(hours=int(found[9] or 0), minutes=int(found[10] or 0)) * (-1 if found[8] == "-" else 1)
    with suppress(ValueError, OverflowError):
        return datetime(year or 0, month or 1, day or 1, hour or 0, minute or 0, second or 0, tzinfo=UTC) - zone
    return None
