"""Workbooks: numbers as they are printed, cells for the answers, nothing that calculates; a spreadsheet fills them."""

from __future__ import annotations

import io
import re
import zipfile
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook

from problemgen.cli import main
from problemgen.load.answers.answers import ANSWERS_FILE, Answers
from problemgen.model.truths import NumberTruth
from problemgen.pipeline.collect import collect
from tests.support.filled_in import archive, table
from tests.support.small_class import SET, write_class
from tests.support.spreadsheet import HAS_OFFICE, typed_in_office


@pytest.fixture(scope="module")
def out(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A class of two with workbooks. Not to be written into."""
    folder = tmp_path_factory.mktemp("class")
    week = write_class(folder, SET, {"s1": "=Adrel O'Sommer", "s2": "+1 Rovik"})
    assert main(["build", str(week), "--out", str(folder / "out"), "--workbook", "--quiet"]) == 0
    return folder / "out"


def page(out: Path, student: str = "s1") -> Any:
    return load_workbook(out / "workbooks" / f"{student}.xlsx").worksheets[0]


def test_each_answer_has_an_open_cell_beside_its_unit_and_all_else_is_locked(out: Path) -> None:
    with Answers(out / ANSWERS_FILE) as answers:
        columns = answers.head.response_columns
    sheet = page(out)
    assert sheet.protection.sheet
    rows = {row[0].value: row for row in sheet.iter_rows() if row[0].value}
    assert tuple(rows) == columns
    opened = {cell.coordinate for row in sheet.iter_rows() for cell in row if not cell.protection.locked}
    assert opened == {row[2].coordinate for row in rows.values()}
    assert all((row[2].value, row[2].number_format) == (None, "@") for row in rows.values())
    assert (rows["1a"][3].value, rows["2a"][3].value) == ("mmol", "g")
    assert rows["1e"][4].value.startswith("A")
    assert [str(one.formula1) for one in sheet.data_validations.dataValidation] == ['"A,B"']


def test_given_numbers_are_numbers_that_show_the_digits_of_the_sheet(out: Path) -> None:
    with Answers(out / ANSWERS_FILE) as answers:
        given = answers.student("s1").problems[0].given
    shown = [(row[2].value, row[2].number_format, row[3].value) for row in page(out).iter_rows() if not row[0].value]
    for one in given.values():
        decimals = len(one.written.text.partition(".")[2])
        assert (float(one.written.text), f"0.{'0' * decimals}", one.unit) in shown


def test_no_cell_is_a_formula_and_the_key_is_nowhere(out: Path) -> None:
    content = (out / "workbooks" / "s1.xlsx").read_bytes()
    with zipfile.ZipFile(io.BytesIO(content)) as packed:
        names = packed.namelist()
        everything = b"".join(map(packed.read, names))
    assert not [name for name in names if "vba" in name.lower() or "external" in name.lower()]
    assert b"<f>" not in everything
    with Answers(out / ANSWERS_FILE) as answers:
        truths = answers.student("s1").problems[1].truths
    printed = [re.escape(one.printed) for one in truths.values() if isinstance(one, NumberTruth)]
    assert printed
    # As numbers of their own: in the stamp, or the time of writing, their figures may stand by chance.
    assert not re.search(rf"(?<![\w.:+/-])(?:{'|'.join(printed)})(?![\w.:+/-])".encode(), everything)
    assert len(content) < 12_000


@pytest.mark.skipif(not HAS_OFFICE, reason="LibreOffice (libreoffice-calc-nogui, python3-uno) is not there")
def test_what_a_spreadsheet_program_saves_comes_back(out: Path, tmp_path: Path) -> None:
    cells = {"1a": "2.50", "1b": "94:6", "1c": "3,95 mmol", "1d": "=1+1", "1e": "B", "2a": "1/2", "2d": "73 %"}
    places = {str(row[0].value): row[2].coordinate for row in page(out, "s2").iter_rows() if row[0].value}
    locked = {"D6": "kg"}
    typed = {places[name]: text for name, text in cells.items()} | locked
    saved = typed_in_office({"s2": ((out / "workbooks" / "s2.xlsx").read_bytes(), typed)})["s2"]
    (tmp_path / "back.zip").write_bytes(archive([("Kopie (1) von s1, Adrel O'Sommer.xlsx", saved)]))
    report = collect(out, tmp_path / "back.zip", tmp_path / "answers.csv")
    row = table(tmp_path / "answers.csv")["s2"]
    assert {name: row[name] for name in cells} == cells | {"1d": "'=1+1"}
    assert [message.partition(": ")[2] for message in report.messages] == [
        "its name tells s1, and it is the sheet of s2, whose it is taken for; look at it"
    ]
