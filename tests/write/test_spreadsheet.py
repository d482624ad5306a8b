"""CSV that no spreadsheet takes for formulas, and that reads back as it was."""

from __future__ import annotations

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from problemgen.model.cells import guarded
from problemgen.write.spreadsheet import CsvLines

STARTS = ("=", "+", "-", "@", "\t", "\r", "\n")


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("", ""),
        ("Ada", "Ada"),
        ("3.95", "3.95"),
        ("-3.2", "-3.2"),
        ("+5", "+5"),
        ("-.5", "-.5"),
        ("-5.", "-5."),
        ("#Rovik Tagmoor", "#Rovik Tagmoor"),
        ("O'Fallowes", "O'Fallowes"),
        ("=1+1", "'=1+1"),
        ("=Ada", "'=Ada"),
        ("+Padra Plusmere", "'+Padra Plusmere"),
        ("-Inorel Dashmere", "'-Inorel Dashmere"),
        ("@Leshan Attermoor", "'@Leshan Attermoor"),
        ("-3.2 g", "'-3.2 g"),
        ("-3,2", "'-3,2"),
        ("-1e5", "'-1e5"),
        ("--5", "'--5"),
        ("-", "'-"),
        ("-1.2.3", "'-1.2.3"),
        ("-٣", "'-٣"),
        ("\t=1", "'\t=1"),
        ("\r=1", "'\r=1"),
        ("\n=1", "'\n=1"),
    ],
)
def test_what_a_spreadsheet_would_run_gets_an_apostrophe(text: str, expected: str) -> None:
    assert guarded(text) == expected


def test_the_first_line_carries_the_mark_of_the_encoding_and_no_other() -> None:
    lines = CsvLines()
    assert lines.line(["id", "name"]) == b"\xef\xbb\xbfid,name\r\n"
    assert lines.line(["s1", "苔原"]) == "s1,苔原\r\n".encode()


def test_separators_quotes_and_line_ends_are_quoted() -> None:
    assert CsvLines().line(["a,b", 'say "x"', "two\nlines", "; tab\t"]) == (
        b'\xef\xbb\xbf"a,b","say ""x""","two\nlines",; tab\t\r\n'
    )


CELL = st.text(st.characters(codec="utf-8", exclude_characters="\0"), max_size=20)


@given(st.lists(st.lists(CELL, min_size=2, max_size=4), min_size=1, max_size=5))
def test_rows_read_back_as_they_were(rows: list[list[str]]) -> None:
    lines = CsvLines()
    text = b"".join(lines.line(row) for row in rows).decode("utf-8-sig")
    found = list(csv.reader(io.StringIO(text, newline="")))
    assert found == [[guarded(cell) for cell in row] for row in rows]


@given(CELL)
def test_no_cell_begins_as_a_formula_unless_it_is_a_number(text: str) -> None:
    cell = guarded(text)
    assert cell.removeprefix("'") == text.removeprefix("'") or cell == f"'{text}"
    assert not cell.startswith(STARTS) or cell[1:].replace(".", "", 1).isdecimal()
