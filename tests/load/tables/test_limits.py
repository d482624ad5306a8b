"""Files from outside that would stall the program or fill the memory: refused at once, with what to do."""

from __future__ import annotations

import re
import zipfile
from pathlib import Path

import pytest

from problemgen.errors import FaultsError
from problemgen.load.tables import limits, workbook_sheet
from problemgen.load.tables.limits import within_limits
from problemgen.load.tables.record import Record
from problemgen.load.tables.table import Table
from tests.support.damaged_workbooks import parts_of, sound_workbook

SHEET, TEXTS = "xl/worksheets/sheet1.xml", "xl/sharedStrings.xml"


def with_stretch(path: Path, part: str, before: str, piece: str, count: int) -> Path:
    """A workbook with so many pieces before a tag of a part."""
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as target:
        for name, content in parts_of(sound_workbook()).items():
            if name != part:
                target.writestr(name, content)
                continue
            head, found, tail = content.decode().partition(before)
            assert found
            with target.open(name, "w") as file:
                file.write(head.encode())
                for _ in range(max(1, count // 10_000)):
                    file.write((piece * min(count, 10_000)).encode())
                file.write((found + tail).encode())
    return path


def refused(path: Path) -> str:
    with pytest.raises(FaultsError) as caught:
        list(Table(path, "id"))
    (fault,) = caught.value.faults
    return str(fault).removeprefix(str(path))


@pytest.mark.parametrize(
    ("part", "before", "piece", "count", "found"),
    [
        (SHEET, "</sheetData>", '<row r="999999999"/>', 1, ": found a row below 1,048,576, the last one that a sheet"),
        (SHEET, "</sheetData>", "<row/>", 1_100_000, ": found a workbook of 1,100,00"),
        (SHEET, "</sheetData>", "<row><c/><c/></row>", 300_000, ": found a workbook of 300,00"),
        (SHEET, "</row></sheetData>", "<c/>", 600_000, ": found a workbook of "),
        (SHEET, "</sheetData>", "<row/>", 15_000_000, ": found a workbook of 90,0"),
        (SHEET, "</sheetData>", " " * 1000, 200_000, ": found a workbook of 200,0"),
        (SHEET, "</sheetData>", "<row><c/></row>" * 4, 10_000, None),
        (SHEET, "</row></sheetData>", "<c/>", 100_000, ": line 5: found a row of 100,00"),
        (SHEET, "<row ", "<row " + " " * 1000, 10_000, ": found a workbook that is damaged"),
        (SHEET, 'r="2"', "z" * 1000, 10_000, ": found a text of more than 1,048,576 bytes in xl/w"),
        (TEXTS, "</t></si></sst>", "x" * 100, 20_000, ": line 5: found a row of 2,0"),
        (SHEET, "</sheetData>", '<row r="1048576"><c r="A1048576"><v>1</v></c></row>', 1, None),
    ],
)
def test_a_workbook_that_grows_is_refused_at_once(
    tmp_path: Path, part: str, before: str, piece: str, count: int, found: str | None
) -> None:
    path = with_stretch(tmp_path / "t.xlsx", part, before, piece, count)
    if found is None:
        assert len(list(Table(path, "id"))) >= 4
    else:
        assert refused(path).startswith(found)


def test_a_workbook_of_too_many_parts_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "t.xlsx"
    path.write_bytes(sound_workbook())
    monkeypatch.setattr(workbook_sheet, "_MOST_PARTS", 3)
    assert refused(path).startswith(": found a workbook of 1")


@pytest.mark.parametrize(
    ("content", "found"),
    [
        (
            b"id\n" + b"x" * 1_000_001,
            ": line 2: found a very long line; expected at most 1,048,576 lines of 1,000,000 ",
        ),
        (b"x" * 100_000_000, ": line 1: found a very long line; expected at most 1,048,576 lines of 1,000,000 char"),
        (b"id\n" + b"\n" * 1_100_000, ": line 1048577: found more than 1,048,576 lines; expected"),
        (b"id,1a\n" + b's1,"a\n' * 100_000, ": line 2002: found more than 2,000 rows with an open quotation mark"),
        (b"id\n" + b"," * 20_000 + b"x", ": line 2: found a row of 20,001 cells; expected at most 16,384. Save the"),
        (b"id,1a\n" + b's1,"' + b"a\n" * 20 + b"a" * 999_990 + b"\n", None),
    ],
)
def test_a_csv_file_that_grows_is_refused_at_once(tmp_path: Path, content: bytes, found: str | None) -> None:
    path = tmp_path / "t.csv"
    path.write_bytes(content)
    if found is None:
        assert [row.line for row in Table(path)][:2] == [2, 3]
    else:
        assert refused(path).startswith(found)


def test_a_file_beyond_all_limits_is_not_even_looked_at(tmp_path: Path) -> None:
    path = tmp_path / "t.csv"
    with path.open("wb") as file:
        file.write(b"id\n")
        file.truncate(3_000_000_000)
    assert refused(path).startswith(": found a file of 3,000,000,000 bytes; expected a table of at most 134,217,728.")


@pytest.mark.parametrize(
    ("limit", "most", "found"),
    [
        ("_MOST_ROWS", 2, "line 4: found more than 2 rows; expected a table of no more rows. Split the table: "),
        ("_MOST_CELLS", 5, "line 4: found more than 5 cells; expected a table of no more cells. Save the table alone"),
        ("LARGEST_TABLE", 12, "line 4: found more than 12 characters; expected a table of no more characters. Save "),
        ("LONGEST_ROW", 4, "line 2: found a row of 6 characters; expected at most 4. Save the table alone"),
    ],
)
def test_rows_cells_and_characters_are_counted(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, limit: str, most: int, found: str
) -> None:
    monkeypatch.setattr(limits, limit, most)
    rows = [Record(line, ["abc", "def"]) for line in range(2, 9)]
    with pytest.raises(FaultsError, match=re.escape(f"{tmp_path}: {found}")):
        list(within_limits(tmp_path, rows))
