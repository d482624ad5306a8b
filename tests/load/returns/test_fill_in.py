"""Sheets that came back: times in all spellings, buttons however a program leaves them."""

from __future__ import annotations

import io
from collections.abc import Mapping
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name

from problemgen.errors import FaultsError
from problemgen.load.returns.fill_in import read_fill_in
from problemgen.load.returns.read import read_returned
from problemgen.model.returned import Returned, Unread


def saved(folder: Path, *fields: Mapping[str, Any], about: dict[str, str] | None = None) -> Path:
    sheet = pikepdf.new()
    sheet.add_blank_page()
    marks = [sheet.make_indirect(Dictionary(Subtype=Name.Widget, **field)) for field in fields]
    sheet.pages[0].obj.Annots = Array(marks)
    sheet.Root.AcroForm = Dictionary(Fields=Array(marks))
    for key, text in (about or {}).items():
        sheet.docinfo[key] = text
    sheet.save(folder / "a.pdf")
    return folder / "a.pdf"


@pytest.mark.parametrize(
    ("text", "hour"),
    [
        ("D:20261012093000Z", 9),
        ("D:20261012093000+02'00'", 7),
        ("D:20261012093000-0500", 14),
        ("D:20261012093000", 9),
        ("2026-10-12T09:30:00+01:00", 8),
        ("D:20261399", None),
        ("yesterday", None),
    ],
)
def test_the_time_of_the_last_change(text: str, hour: int | None, tmp_path: Path) -> None:
    when = None if hour is None else datetime(2026, 10, 12, hour, 30, tzinfo=UTC)
    assert read_fill_in(saved(tmp_path, about={"/ModDate": text})).when == when


@pytest.mark.parametrize(
    ("field", "cell"),
    [
        ({"FT": Name.Tx, "T": "1a", "V": "2,5\u00a0mmol\r\nor so"}, "2,5 mmol  or so"),
        ({"FT": Name.Tx, "T": "1a", "V": "\u2082\u03bd"}, "\u2082\u03bd"),
        ({"FT": Name.Tx, "T": "1a"}, ""),
        ({"FT": Name.Btn, "T": "1a", "V": Name.B}, "B"),
        ({"FT": Name.Btn, "T": "1a", "V": Name.Off, "AS": Name.A}, "A"),
        ({"FT": Name.Btn, "T": "1a", "V": Name.Off, "AS": Name.Off}, ""),
        ({"Parent": Dictionary(FT=Name.Btn, T="1a", V=Name.C), "AS": Name.Off}, "C"),
    ],
)
def test_what_a_field_holds(field: Mapping[str, Any], cell: str, tmp_path: Path) -> None:
    assert read_fill_in(saved(tmp_path, field)).cells == {"1a": cell}


def test_a_field_that_stands_twice_with_two_answers_is_told(tmp_path: Path) -> None:
    fields = [{"FT": Name.Tx, "T": "1a", "V": text} for text in ("one", "two")]
    filled = read_fill_in(saved(tmp_path, *fields))
    assert filled.cells == {"1a": "one"}
    assert filled.remarks == ("1a is filled in twice, 'one' and 'two'; look at it",)


def test_a_file_that_is_no_pdf_is_one_fault(tmp_path: Path) -> None:
    (tmp_path / "a.pdf").write_bytes(io.BytesIO(b"%PDF-1.7\n" + bytes(500)).getvalue())
    with pytest.raises(FaultsError, match="a damaged PDF"):
        read_fill_in(tmp_path / "a.pdf")


@pytest.mark.parametrize(("has_form", "is_read"), [(False, True), (True, False)])
def test_a_pile_from_a_copier_is_left_to_whoever_reads_pages(has_form: bool, is_read: bool, tmp_path: Path) -> None:
    """A class of thirty with seven pages each; a form of so many pages is no sheet of anybody's."""
    pile = pikepdf.new()
    for _ in range(210):
        pile.add_blank_page()
    if has_form:
        pile.Root.AcroForm = Dictionary(Fields=Array([]))
    pile.save(tmp_path / "pile.pdf")
    read = read_returned(Returned("pile.pdf", tmp_path / "pile.pdf", "pdf"))
    assert isinstance(read, Unread)
    assert read.is_unmarked is is_read
    assert ("210 pages" in read.reason) is not is_read
