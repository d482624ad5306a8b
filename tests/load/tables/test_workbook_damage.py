"""Damaged workbooks: whatever is wrong with one is one message, and none stalls the reader."""

from __future__ import annotations

from pathlib import Path

import pytest

from problemgen.errors import Fault, FaultsError
from problemgen.load.tables.table import Table
from tests.support.damaged_workbooks import archived, damaged, parts_of, sound_workbook

SHEET, TEXTS, STYLES = "xl/worksheets/sheet1.xml", "xl/sharedStrings.xml", "xl/styles.xml"
EXPECTED = "expected a workbook (.xlsx) as a spreadsheet saves it, or a CSV file. Open it in a spreadsheet and save it "


def read(path: Path, content: bytes) -> list[dict[str, str]]:
    path.write_bytes(content)
    return [row.cells for row in Table(path, "id")]


def test_no_damage_raises_anything_but_one_fault(tmp_path: Path) -> None:
    path, refused = tmp_path / "t.xlsx", 0
    for content in damaged(600, seed=7):
        faults: tuple[Fault, ...] = ()
        try:
            assert len(read(path, content)) <= 8
        except FaultsError as error:
            faults = error.faults
        assert len(faults) <= 1
        refused += len(faults)
    assert 200 < refused < 590


def test_the_sound_one_is_read(tmp_path: Path) -> None:
    assert read(tmp_path / "t.xlsx", sound_workbook()) == [
        {"id": "s1", "name": "Ada", "1a": "39.50 g", "1b": "0,5 g"},
        {"id": "s2", "name": "Zoë", "1a": "(formula)", "1b": "(date 2026-04-03)"},
        {"id": "s3", "name": "Li", "1a": "1:06:00", "1b": "TRUE"},
        {"id": "s4", "name": "Bo", "1a": "82 %", "1b": "94:00:00"},
    ]


CANNOT, DAMAGED = "found a workbook that cannot be read", "found a workbook that is damaged"


@pytest.mark.parametrize(
    ("part", "before", "after", "found"),
    [
        (SHEET, b"<sheetData>", b"<sheetData", DAMAGED),
        (STYLES, b"</styleSheet>", b"", CANNOT),
        (SHEET, b'<row r="2"', b'<row r="999999999"', "found a row below 1,048,576, the last one that a sheet has"),
        (SHEET, b'r="B2"', b'r="AAAAAAA2"', DAMAGED),
        (SHEET, b'r="A2" t="s"><v>4<', b'r="A2" t="s"><v>99<', DAMAGED),
        (SHEET, b'r="C2" s="1"', b'r="C2" s="77"', DAMAGED),
        (TEXTS, b"<sst", b'<!DOCTYPE sst [<!ENTITY a "b">]><sst', CANNOT),
    ],
)
def test_any_damage_is_one_message(tmp_path: Path, part: str, before: bytes, after: bytes, found: str) -> None:
    parts = parts_of(sound_workbook())
    assert before in parts[part]
    path = tmp_path / "t.xlsx"
    with pytest.raises(FaultsError) as caught:
        read(path, archived({**parts, part: parts[part].replace(before, after)}))
    (fault,) = map(str, caught.value.faults)
    assert fault.startswith(f"{path}: {found}")
    assert EXPECTED in fault


def test_a_format_of_any_length_shows_the_number(tmp_path: Path) -> None:
    """No spreadsheet takes more than 255 characters of a format, or more than 30 decimals."""
    parts = parts_of(sound_workbook())
    for zeros in (31, 100_000):
        assert b"0.00&quot; g&quot;" in parts[STYLES]
        long = parts[STYLES].replace(b"0.00&quot; g&quot;", b"0." + b"0" * zeros)
        assert read(tmp_path / "t.xlsx", archived({**parts, STYLES: long}))[0]["1a"] == "39.5"


def test_a_row_is_read_wherever_it_stands(tmp_path: Path) -> None:
    parts = parts_of(sound_workbook())
    far = b'<row r="1048576"><c r="A1048576" t="inlineStr"><is><t>s9</t></is></c></row></sheetData>'
    path = tmp_path / "t.xlsx"
    path.write_bytes(archived({**parts, SHEET: parts[SHEET].replace(b"</sheetData>", far)}))
    (*_, last) = Table(path, "id")
    assert (last.line, last.cells["id"]) == (1_048_576, "s9")


def test_texts_in_runs_and_escaped_characters_are_one_text(tmp_path: Path) -> None:
    parts = parts_of(sound_workbook())
    runs = b'<si><r><t>A</t></r><r><t>d_x0061_</t></r><rPh sb="0" eb="1"><t>sound</t></rPh></si>'
    assert b"<si><t>Ada</t></si>" in parts[TEXTS]
    found = read(tmp_path / "t.xlsx", archived({**parts, TEXTS: parts[TEXTS].replace(b"<si><t>Ada</t></si>", runs)}))
    assert found[0]["name"] == "Ada"
