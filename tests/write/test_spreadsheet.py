"""CSV that no spreadsheet takes for formulas, and that reads back as it was."""

from __future__ import annotations

import csv
import io
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from problemgen.model.cells import guarded, unguarded, without_guards
from problemgen.write.spreadsheet import CsvLines

STARTS = tuple("=+-@＝＋－＠")
BLANK = re.compile(r"[\s\x00-\x1f\u200b\ufeff]*")


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
        ("\t=1", "'\t'=1"),
        ("\r=1", "'\r'=1"),
        ("\n=1", "'\n'=1"),
        (" =1+1", "' =1+1"),
        ("\u00a0\u200b\ufeff@x", "'\u00a0\u200b\ufeff@x"),
        ("＝1+1", "'＝1+1"),
        ("＋1", "'＋1"),
        ("－３", "'－３"),
        ("＠x", "'＠x"),
        ("﹦1", "'﹦1"),
        ('x;=HYPERLINK("http://x")', 'x;\'=HYPERLINK("http://x")'),
        ("x; =1", "x;' =1"),
        ("x\t=1", "x\t'=1"),
        ("x\n=1", "x\n'=1"),
        ("1; -3.2; +4", "1; -3.2; +4"),
        ("1;-3 g", "1;'-3 g"),
        ('x;"=1', "x;'\"=1"),
        ("x;;=1", "x;';'=1"),
        ("a = b; c - d, =e", "a = b; c - d, =e"),
        ("'=1", "''=1"),
        ("x;'=1", "x;''=1"),
        ("'-3.2", "''-3.2"),
        ("'t Hooft", "'t Hooft"),
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


RISKY = st.text(st.sampled_from("=+-@＝－';\t\r\n \u00a0\ufeff,\"3.x"), max_size=12)


@given(RISKY | CELL)
def test_what_was_guarded_is_read_back_as_it_was(text: str) -> None:
    assert unguarded(guarded(text)) == text
    assert without_guards(guarded(text)) == without_guards(text)


@given(st.lists(st.lists(RISKY | CELL, min_size=2, max_size=4), min_size=1, max_size=4), st.sampled_from(",;\t"))
def test_whatever_parts_the_cells_none_begins_as_a_formula_unless_it_is_a_number(
    rows: list[list[str]], separator: str
) -> None:
    """Blanks are stripped first, as some spreadsheets do; a first column, as in all our tables, begins plainly."""
    lines = CsvLines()
    text = b"".join(lines.line(["s1", *row]) for row in rows).decode("utf-8-sig")
    for row in csv.reader(io.StringIO(text, newline=""), delimiter=separator):
        for cell in row:
            shown = cell[BLANK.match(cell).end() :]  # type: ignore[union-attr]  # it matches nothing, too
            number = shown[1:].rstrip(" ").split(",")[0].strip('" ').replace(".", "", 1)
            assert not shown.startswith(STARTS) or number.isdecimal(), (rows, cell)


def test_long_cells_are_guarded_at_once() -> None:
    """What grows with the square of the length would take hours."""
    for piece in ("\t", ";", "' ", "=;", ";-1", "\n'"):
        text = piece * 200_000
        assert unguarded(guarded(text)) == text
