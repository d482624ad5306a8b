"""Workbooks that came back: the cells beside the blanks' names, and what is odd about them."""

from __future__ import annotations

import datetime
from pathlib import Path

from openpyxl import Workbook

from problemgen.load.returns.workbooks import read_workbook


def saved(folder: Path, *rows: tuple[object, ...]) -> Path:
    book = Workbook()
    for row in rows:
        book.worksheets[0].append(row)
    book.properties.modified = datetime.datetime(2026, 10, 12, 9, 30)  # noqa: DTZ001 - the library takes it for UTC
    book.save(folder / "a.xlsx")
    return folder / "a.xlsx"


def test_answers_are_read_as_they_show_with_what_may_not_be_meant(tmp_path: Path) -> None:
    rows = (("", "Title"), ("1a", "?", 2.5, "g"), ("1b", "?", datetime.time(1, 34)), ("1c", "?"), ("1c", "?", "again"))
    filled = read_workbook(saved(tmp_path, *rows))
    assert filled.cells == {"1a": "2.5", "1b": "1:34:00", "1c": "again"}
    assert [remark.partition(":")[0] for remark in filled.remarks] == ["1b"]


def test_the_digest_holds_all_but_the_answers(tmp_path: Path) -> None:
    rows = (("", "Mass", 2.5, "g"), ("1a", "?", "x", "g"))
    before = read_workbook(saved(tmp_path, *rows)).contents
    assert read_workbook(saved(tmp_path, rows[0], ("1a", "?", "y", "g"))).contents == before
    assert read_workbook(saved(tmp_path, ("", "Mass", 2.4, "g"), rows[1])).contents != before
    assert read_workbook(saved(tmp_path, rows[0], ("1a", "?", "x", "mg"))).contents != before


def test_two_answers_to_one_blank_are_told(tmp_path: Path) -> None:
    filled = read_workbook(saved(tmp_path, ("1a", "?", "one"), ("1a", "?", "two")))
    assert (filled.cells, filled.remarks) == ({"1a": "one"}, ("1a is filled in twice; look at it",))
