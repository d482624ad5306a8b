"""What the sheets of a workbook share: their names, texts, number formats, the first day of dates."""

from __future__ import annotations

import datetime
import re
from collections.abc import Mapping

from openpyxl.styles.numbers import BUILTIN_FORMATS
from openpyxl.utils.datetime import MAC_EPOCH, WINDOWS_EPOCH

from problemgen.load.limits import LONGEST_ROW, MOST_CELLS
from problemgen.load.workbook.archive import Archive, Relation, UnreadableWorkbookError

__all__ = ["Book", "TextParts", "plain_number", "unescaped"]

_LONGEST_FORMAT = 255
"""Characters of a number format, as many as spreadsheets take; a longer one shows numbers as if there were none."""
_ESCAPED = re.compile("_x([0-9A-Fa-f]{4})_")
"""A character that XML cannot hold, as ECMA-376 part 1, 22.9.2.19 (ST_Xstring) writes it."""
_DIGITS = re.compile("[0-9]{1,9}", re.ASCII)


def plain_number(text: str) -> int | None:
    """A number that counts or refers to something; None for any other text."""
    return int(text) if _DIGITS.fullmatch(text) else None


def unescaped(text: str) -> str:
    """A text with the characters that XML cannot hold as such."""
    return _ESCAPED.sub(lambda found: chr(int(found[1], 16)), text) if "_x" in text else text


class Book:
    """The workbook behind an archive; `sheets` are the names of all sheets, `first` is that of the first with cells."""

    def __init__(self, archive: Archive) -> None:
        """Read the parts that sheets share. Raises UnreadableWorkbookError."""
        main = _part(archive.relations(), "officeDocument")
        if not main:
            raise UnreadableWorkbookError("a workbook that cannot be read")
        relations = archive.relations(main)
        listed = _Sheets(relations)
        archive.parse(main, listed)
        if not listed.found:
            raise UnreadableWorkbookError("a workbook without a sheet")
        self.sheets = tuple(listed.names)
        self.first, self.part = listed.found[0]
        self.first_day: datetime.datetime = MAC_EPOCH if listed.counts_from_1904 else WINDOWS_EPOCH
        texts, styles = _Texts(), _Styles()
        for kind, handler in (("sharedStrings", texts), ("styles", styles)):
            part = _part(relations, kind)
            if part:
                archive.parse(part, handler)
        self.texts = tuple(texts.found)
        self.formats = tuple(styles.found)


class TextParts:
    """Gathers the text of a string that may be written in several runs; what tells its sound is left out."""

    def __init__(self) -> None:
        """Nothing has been gathered."""
        self._pieces: list[str] = []
        self._length = 0
        self._is_text = self._is_sound = False

    def start(self, name: str) -> None:
        """An element inside of the string begins."""
        self._is_sound = self._is_sound or name == "rPh"
        self._is_text = name == "t" and not self._is_sound

    def end(self, name: str) -> None:
        """An element inside of the string ends."""
        self._is_text = False
        self._is_sound = self._is_sound and name != "rPh"

    def text(self, text: str) -> None:
        """Text of an element; raises UnreadableWorkbookError where it is beyond all that a row may hold."""
        if self._is_text:
            self._pieces.append(text)
            self._length += len(text)
            if self._length > LONGEST_ROW:
                raise UnreadableWorkbookError(f"a text of more than {LONGEST_ROW:,} characters")

    def taken(self) -> str:
        """The whole text as it is written; the next one is gathered anew."""
        whole = "".join(self._pieces)
        self._pieces, self._length = [], 0
        return whole


class _Sheets:
    """Takes the workbook's own part."""

    def __init__(self, relations: Mapping[str, Relation]) -> None:
        self._relations = relations
        self.names: list[str] = []
        self.found: list[tuple[str, str]] = []
        self.counts_from_1904 = False

    def start(self, name: str, attributes: Mapping[str, str]) -> None:
        if name == "workbookPr":
            self.counts_from_1904 = attributes.get("date1904", "") in ("1", "true")
        elif name == "sheet":
            self.names.append(attributes.get("name", ""))
            ids = [value for key, value in attributes.items() if key.endswith(":id")]
            relation = self._relations.get(ids[0]) if ids else None
            if relation is not None and relation.kind == "worksheet":
                self.found.append((self.names[-1], relation.part))

    def end(self, name: str) -> None:
        """Nothing is left to do."""

    def text(self, text: str) -> None:
        """The workbook's part has no text that counts."""


class _Texts:
    """Takes the part of shared strings."""

    def __init__(self) -> None:
        self.found: list[str] = []
        self._parts = TextParts()

    def start(self, name: str, _: Mapping[str, str]) -> None:
        self._parts.start(name)

    def end(self, name: str) -> None:
        self._parts.end(name)
        if name == "si":
            self.found.append(unescaped(self._parts.taken()))
            if len(self.found) > MOST_CELLS:
                raise UnreadableWorkbookError(f"more than {MOST_CELLS:,} texts")

    def text(self, text: str) -> None:
        self._parts.text(text)


class _Styles:
    """Takes the part of styles: the number format of each cell style."""

    def __init__(self) -> None:
        self.found: list[str] = []
        self._own: dict[int, str] = {}
        self._are_of_cells = False

    def start(self, name: str, attributes: Mapping[str, str]) -> None:
        if name == "cellXfs":
            self._are_of_cells = True
        elif name == "numFmt":
            number, code = plain_number(attributes.get("numFmtId", "")), attributes.get("formatCode", "")
            if number is not None and len(code) <= _LONGEST_FORMAT:
                self._own[number] = code
        elif name == "xf" and self._are_of_cells:
            number = plain_number(attributes.get("numFmtId", "0")) or 0
            self.found.append(self._own.get(number) or BUILTIN_FORMATS.get(number) or "General")

    def end(self, name: str) -> None:
        self._are_of_cells = self._are_of_cells and name != "cellXfs"

    def text(self, text: str) -> None:
        """Styles have no text that counts."""


def _part(relations: Mapping[str, Relation], kind: str) -> str:
    """The part that a relation of a kind names; "" where there is none."""
    return next((relation.part for relation in relations.values() if relation.kind == kind), "")
