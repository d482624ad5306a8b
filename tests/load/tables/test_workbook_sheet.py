"""Workbooks: what their cells show, and one clear fault for each file that is none."""

from __future__ import annotations

import datetime
import io
import random
import zipfile
from pathlib import Path

import pytest
from openpyxl import Workbook

from problemgen.errors import Fault, FaultsError
from problemgen.load.tables.record import Record
from problemgen.load.tables.table import Table
from problemgen.load.tables.workbook_sheet import WorkbookSheet, is_workbook

DATE = "a date: the spreadsheet may have turned what was typed into one"
TIME = "a time of day: the spreadsheet may have turned a ratio into one"
NO_VALUE = "a formula without a value; open the workbook in a spreadsheet and save it again"


def packed(book: Workbook) -> bytes:
    file = io.BytesIO()
    book.save(file)
    return file.getvalue()


def book_of(*rows: list[object]) -> Workbook:
    book = Workbook()
    for row in rows:
        book.worksheets[0].append(row)
    return book


def sheet(folder: Path, content: bytes) -> WorkbookSheet:
    path = folder / "t.xlsx"
    path.write_bytes(content)
    return WorkbookSheet(path)


def test_cells_are_text_as_they_show(tmp_path: Path) -> None:
    book = book_of(["id", "1a", "1b", "1c"], ["s1", 39.5, "0,5 g", True], [], ["s2", 0.1 + 0.2, 0.82])
    book.worksheets[0]["B2"].number_format = "0.00"
    book.worksheets[0]["C4"].number_format = "0%"
    found = sheet(tmp_path, packed(book))
    assert list(found.records()) == [
        Record(1, ["id", "1a", "1b", "1c"]),
        Record(2, ["s1", "39.50", "0,5 g", "TRUE"]),
        Record(4, ["s2", "0.3", "82 %"]),
    ]
    assert found.notes == ()
    assert list(found.records()) == list(found.records())


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (datetime.date(2026, 4, 3), "(date 2026-04-03)"),
        (datetime.datetime(2026, 4, 3, 9, 30), "(date 2026-04-03 09:30:00)"),  # noqa: DTZ001 - cells have no zone
    ],
)
def test_what_was_turned_into_a_date_is_told(tmp_path: Path, value: object, text: str) -> None:
    (_, record) = sheet(tmp_path, packed(book_of(["id", "1a"], ["s1", value]))).records()
    assert (list(record.cells), record.notes) == (["s1", text], {1: DATE})


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (datetime.time(1, 6), "1:06:00"),
        (datetime.time(12, 8, 30), "12:08:30"),
        (datetime.timedelta(hours=94, minutes=6), "94:06:00"),
    ],
)
def test_a_ratio_that_was_turned_into_a_time_shows_as_such(tmp_path: Path, value: object, text: str) -> None:
    """What a spreadsheet makes of "94:6" is 94 hours and 6 minutes."""
    (_, record) = sheet(tmp_path, packed(book_of(["id", "1a"], ["s1", value]))).records()
    assert (list(record.cells), record.notes) == (["s1", text], {1: TIME})


def with_cell(xml: str) -> bytes:
    """A workbook whose cell B2 is written so."""
    source = zipfile.ZipFile(io.BytesIO(packed(book_of(["id", "1a"], ["s1", 12]))))
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as target:
        for name in source.namelist():
            content = source.read(name)
            if name == "xl/worksheets/sheet1.xml":
                assert b'<c r="B2" t="n"><v>12</v></c>' in content
                content = content.replace(b'<c r="B2" t="n"><v>12</v></c>', xml.encode())
            target.writestr(name, content)
    return out.getvalue()


@pytest.mark.parametrize(
    ("xml", "text", "notes"),
    [
        ('<c r="B2"><f>A1*2</f><v>39.5</v></c>', "39.5", {}),
        ('<c r="B2" t="str"><f>"3"&amp;"g"</f><v>3g</v></c>', "3g", {}),
        ('<c r="B2"><f>A1*2</f></c>', "(formula)", {1: NO_VALUE}),
        ('<c r="B2" t="e"><f>1/0</f><v>#DIV/0!</v></c>', "#DIV/0!", {1: "an error value of the spreadsheet"}),
        ('<c r="B2" t="inlineStr"><is><t>=1+1</t></is></c>', "=1+1", {}),
    ],
)
def test_a_formula_is_its_value_and_is_never_worked(tmp_path: Path, xml: str, text: str, notes: dict[int, str]) -> None:
    (_, record) = sheet(tmp_path, with_cell(xml)).records()
    assert (list(record.cells), record.notes) == (["s1", text], notes)


def test_other_sheets_are_told_of(tmp_path: Path) -> None:
    book = book_of(["id"], ["s1"])
    book.create_sheet("More").append(["id"])
    found = sheet(tmp_path, packed(book))
    assert found.notes == ("the workbook has 2 sheets; only the first, 'Sheet', is read",)
    assert [list(record.cells) for record in found.records()] == [["id"], ["s1"]]


def test_a_false_size_of_the_sheet_is_not_believed(tmp_path: Path) -> None:
    content = with_cell('<c r="B2"><v>7</v></c>')
    source = zipfile.ZipFile(io.BytesIO(content))
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as target:
        for name in source.namelist():
            target.writestr(name, source.read(name).replace(b'ref="A1:B2"', b'ref="A1:XFD1048576"'))
    assert [len(record.cells) for record in sheet(tmp_path, out.getvalue()).records()] == [2, 2]


OLD = bytes.fromhex("d0cf11e0a1b11ae1")
EXPECTED = "; expected a workbook (.xlsx) as a spreadsheet saves it, or a CSV file. "


def archive_of(name: str) -> bytes:
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w") as archive:
        archive.writestr(name, "text")
    return file.getvalue()


CANNOT = f"a workbook that cannot be read{EXPECTED}Open it in a spreadsheet and save it again."


@pytest.mark.parametrize(
    ("content", "fault"),
    [
        (
            OLD + bytes(600),
            f"a workbook of an older format, or one with a password{EXPECTED}Save it again as .xlsx or CSV.",
        ),
        (b"PK\x03\x04", CANNOT),
        (packed(book_of(["id"]))[:900], CANNOT),
        (archive_of("content.xml"), CANNOT),
    ],
)
def test_a_file_that_is_no_readable_workbook_is_one_fault(tmp_path: Path, content: bytes, fault: str) -> None:
    path = tmp_path / "t.xlsx"
    path.write_bytes(content)
    assert is_workbook(path)
    with pytest.raises(FaultsError) as caught:
        Table(path)
    assert str(caught.value) == f"{path}: found {fault}"


def test_damaged_bytes_raise_nothing_but_faults(tmp_path: Path) -> None:
    book = book_of(["id", "1a"], ["s1", 39.5], ["s2", "=B2*2"], ["s3", datetime.date(2026, 4, 3)])
    content, chance = packed(book), random.Random(5)  # noqa: S311 - no key is drawn
    refused = 0
    for _ in range(150):
        damaged = bytearray(content)
        for _ in range(chance.choice((1, 3, 20))):
            damaged[chance.randrange(4, len(damaged))] = chance.randrange(256)
        path = tmp_path / "d.xlsx"
        path.write_bytes(damaged)
        faults: tuple[Fault, ...] = ()
        try:
            assert len(list(WorkbookSheet(path).records())) <= 4
        except FaultsError as error:
            faults = error.faults
        assert len(faults) <= 1
        refused += len(faults)
    assert 0 < refused < 150


def test_a_workbook_is_told_by_its_bytes_and_not_by_its_name(tmp_path: Path) -> None:
    named = tmp_path / "r.csv"
    named.write_bytes(packed(book_of(["id", "1a"], ["s1", "3"])))
    assert [row.cells for row in Table(named)] == [{"id": "s1", "1a": "3"}]
    text = tmp_path / "r.xlsx"
    text.write_text("id,1a\ns1,3\n", encoding="utf-8")
    assert [row.cells for row in Table(text)] == [{"id": "s1", "1a": "3"}]


@pytest.mark.parametrize(
    ("name", "head", "expected"),
    [
        ("a.xlsx", b"\x1f\x00\x03nonsense", True),
        ("a.XLSX", b"PK\x03\x04", True),
        ("a.csv", b"PK\x03\x04", True),
        ("a.xlsx", b"id,1a\ns1,5\n", False),
        ("a.xlsx", "id,1a\n".encode("utf-16"), False),
        ("a.csv", b"\x1f\x00\x03nonsense", False),
    ],
)
def test_a_damaged_workbook_is_told_by_its_name(tmp_path: Path, name: str, head: bytes, expected: bool) -> None:
    path = tmp_path / name
    path.write_bytes(head)
    assert is_workbook(path) is expected
