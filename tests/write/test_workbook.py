"""Workbooks: text stays text, numbers are numbers, the same rows give the same bytes whenever they are written."""

from __future__ import annotations

import io
import time
import zipfile
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from openpyxl import load_workbook

from problemgen.load.tables.workbook_sheet import WorkbookSheet
from problemgen.write.workbook import Cell, SheetWriter

RISKY = st.text(st.sampled_from("_x0041F\r\n \t=\x01"), max_size=12)
HEADER = ("id", "name", "points")


def content(*rows: tuple[Cell, ...]) -> bytes:
    sheet = SheetWriter("Gradebook", HEADER, (12, 30, 8))
    for row in rows:
        sheet.row(row)
    return sheet.content()


def cells(packed: bytes) -> list[tuple[object, ...]]:
    return list(load_workbook(io.BytesIO(packed)).worksheets[0].iter_rows(values_only=True))


def test_rows_read_back_with_their_kinds() -> None:
    assert cells(content(("s1", "苔原 雫乃", Decimal("2.5")), ("s2", "Ada", None))) == [
        HEADER,
        ("s1", "苔原 雫乃", 2.5),
        ("s2", "Ada", None),
    ]


@pytest.mark.parametrize(
    "text", ["=1+1", '=HYPERLINK("http://x")', "+Pat", "-3.2", "@x", "\t=1", "007", "1e5", "#REF!"]
)
def test_text_is_never_a_formula_nor_a_number(text: str) -> None:
    cell = load_workbook(io.BytesIO(content(("s1", text, Decimal(1))))).worksheets[0]["B2"]
    assert (cell.value, cell.data_type, cell.quotePrefix) == (text, "s", True)


def test_no_part_of_the_archive_is_a_macro_a_formula_or_a_link() -> None:
    with zipfile.ZipFile(io.BytesIO(content(("s1", "=1+1", Decimal(1))))) as archive:
        assert not [name for name in archive.namelist() if "vba" in name.lower() or "external" in name.lower()]
        assert b"<f" not in archive.read("xl/worksheets/sheet1.xml")


def test_header_and_first_column_stay_in_view_and_columns_are_wide_enough() -> None:
    sheet = load_workbook(io.BytesIO(content(("s1", "Ada", Decimal(1))))).worksheets[0]
    assert sheet.freeze_panes == "B2"
    assert [sheet.column_dimensions[letter].width for letter in "ABC"] == [12, 30, 8]
    assert sheet["A1"].font.bold


def test_the_time_of_writing_is_not_in_the_file(monkeypatch: pytest.MonkeyPatch) -> None:
    before = content(("s1", "Ada", Decimal(1)))
    now = time.time()
    monkeypatch.setattr(time, "time", lambda: now + 86_400 * 40)
    monkeypatch.setattr(time, "localtime", lambda *_: time.gmtime(now + 86_400 * 40))
    assert content(("s1", "Ada", Decimal(1))) == before
    with zipfile.ZipFile(io.BytesIO(before)) as archive:
        assert {member.date_time for member in archive.infolist()} == {(1980, 1, 1, 0, 0, 0)}
        assert archive.read("docProps/core.xml").count(b"1980-01-01T00:00:00Z") == 2


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.text(st.characters(codec="utf-8", exclude_characters="\0\ufeff"), max_size=12) | RISKY)
def test_text_is_read_back_as_it_was(tmp_path: Path, text: str) -> None:
    path = tmp_path / "t.xlsx"
    path.write_bytes(content(("s1", text, Decimal("-2.50"))))
    _, row = WorkbookSheet(path).records()
    assert list(row.cells) == ["s1", text, "-2.5"]


@pytest.mark.parametrize("text", ["_x0041_", "_x005F_x0041_", "\x01\r\n", " a ", "=1+1\r", "\ufffe"])
def test_what_xml_cannot_hold_is_read_back_as_it_was(tmp_path: Path, text: str) -> None:
    path = tmp_path / "t.xlsx"
    path.write_bytes(content(("s1", text, None)))
    _, row = WorkbookSheet(path).records()
    assert row.cells[1] == text


def test_half_a_pair_and_no_character_at_all_can_be_written() -> None:
    assert cells(content(("s1", "a\ud800", Decimal(1)), ("s2", "\0", Decimal(1))))[1][1] == "a\ufffd"
