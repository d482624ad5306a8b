"""gradebook.xlsx: the columns and the numbers of gradebook.csv."""

from __future__ import annotations

import csv
import io
import stat
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from openpyxl import load_workbook

from problemgen.model.total import StudentTotal
from problemgen.pipeline.outlets.marking.workbook import WORKBOOK_FILE, GradebookWorkbook
from problemgen.render.classes.grades import GradebookColumn
from problemgen.write.files import Staging
from tests.support.marking import mark_small, write_cells


def test_the_workbook_holds_what_the_table_holds(tmp_path: Path, built: Path) -> None:
    write_cells(tmp_path / "r.csv", {"s2": {"1a": "2.500 mmol", "1e": "AgNO3"}, "s4": {"2a": "x"}})
    out = mark_small(built, tmp_path / "r.csv", tmp_path / "out")
    text = (out / "gradebook.csv").read_text(encoding="utf-8-sig")
    header, *rows = csv.reader(io.StringIO(text))
    sheet = load_workbook(out / "gradebook.xlsx").worksheets[0]
    found = list(sheet.iter_rows(values_only=True))
    assert list(found[0]) == header
    assert len(found) == 1 + len(rows)
    for told, row in zip(found[1:], rows, strict=True):
        assert [str(cell or "") for cell in told[:3]] == [cell.removeprefix("'") for cell in row[:3]]
        assert list(told[3:]) == [float(cell) if cell else None for cell in row[3:]]
        assert all(isinstance(cell, int | float | None) for cell in told[3:])
    assert stat.S_IMODE((out / "gradebook.xlsx").stat().st_mode) == 0o600


@pytest.mark.parametrize("name", ["=Adrel O'Sommer", "#Rovik Tagmoor"])
def test_a_name_that_looks_like_a_formula_is_text(tmp_path: Path, built: Path, name: str) -> None:
    write_cells(tmp_path / "r.csv", {"s2": {"1a": "1"}})
    out = mark_small(built, tmp_path / "r.csv", tmp_path / "out")
    cells = {cell.value: cell.data_type for cell in load_workbook(out / "gradebook.xlsx").worksheets[0]["B"]}
    assert cells[name] == "s"


def test_a_cell_is_a_number_or_text_by_what_it_holds(tmp_path: Path) -> None:
    columns = (
        GradebookColumn("id", lambda total: total.student),
        GradebookColumn("points", lambda total: total.points),
        GradebookColumn("tutor", lambda total: "Dr. Oak" if total.points else None),
    )
    total = StudentTotal("007", "Ada", "A", "1", Fraction(5, 2), Fraction(3), {})
    with Staging(tmp_path / "out") as staging:
        book = GradebookWorkbook(staging, columns)
        book.row(total)
        book.row(replace(total, points=Fraction(0)))
        book.close()
    rows = list(load_workbook(tmp_path / "out" / WORKBOOK_FILE).worksheets[0].iter_rows(values_only=True))
    assert rows == [("id", "points", "tutor"), ("007", 2.5, "Dr. Oak"), ("007", 0, None)]
