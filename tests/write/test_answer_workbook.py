"""Workbooks to fill in: text stays text, a number shows its digits."""

from __future__ import annotations

import io

import pytest
from openpyxl import load_workbook

from problemgen.model.handed_out import BookRow, Field
from problemgen.write.answer_workbook import answer_workbook, number_format

HOSTILE = ("=1+1", "+cmd|' /C calc'!A0", "@SUM(A1)", "-2+3", "\x00\x07", "_x0041_")


@pytest.mark.parametrize(
    ("number", "shown"),
    [("2", "0"), ("2.50", "0.00"), ("-0.10", "0.00"), ("6.02e23", "0.00E+00"), ("94:6", ""), ("=1", ""), ("1e", "")],
)
def test_a_number_shows_the_digits_that_it_is_written_with(number: str, shown: str) -> None:
    assert number_format(number) == shown


def test_text_that_would_run_is_stored_as_text() -> None:
    rows = [BookRow(text, about=text, unit=text, field=Field("1a", text)) for text in HOSTILE]
    book = load_workbook(io.BytesIO(answer_workbook("=T", "ABCD-2345", rows, "stamp", right_to_left=True)))
    cells = [cell for row in book.worksheets[0].iter_rows() for cell in row if cell.value is not None]
    assert {cell.data_type for cell in cells} == {"s"}
    assert all(cell.quotePrefix for cell in cells)
    assert book.worksheets[0].sheet_view.rightToLeft
