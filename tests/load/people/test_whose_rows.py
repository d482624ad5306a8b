"""Whose a row is: the id decides, the code of a sheet is held against it, and tells the attempt."""

from __future__ import annotations

import pytest

from problemgen.load.people.whose_rows import Whose, WhoseRows, about_columns
from problemgen.load.tables.table import Row

SHEETS = {("s1", 1): "AAAA-1111", ("S2", 1): "BBBB-1111", ("s1", 2): "AAAA-2222", ("S2", 2): "BBBB-2222"}
ONCE = {entry: code for entry, code in SHEETS.items() if entry[1] == 1}


def whose(sheets: dict[tuple[str, int], str], **cells: str) -> Whose:
    return WhoseRows(sheets).whose(Row(2, cells))


@pytest.mark.parametrize(
    ("cells", "entry"),
    [
        ({"id": "s1"}, ("s1", 1)),
        ({"id": " s2 ", "code": ""}, ("S2", 1)),
        ({"id": "s1", "code": "AAAA-1111"}, ("s1", 1)),
        ({"id": "s1", "code": "aaaa 1111"}, ("s1", 1)),
        ({"id": "s1", "code": "AAAA-2222"}, ("s1", 2)),
        ({"id": "s1", "code": "AAAA-2222", "attempt": "2"}, ("s1", 2)),
        ({"id": "s1", "attempt": "2"}, ("s1", 2)),
    ],
)
def test_what_fits_is_not_remarked_on(cells: dict[str, str], entry: tuple[str, int]) -> None:
    assert whose(SHEETS, **cells) == Whose(entry)


@pytest.mark.parametrize(
    ("cells", "entry", "remarks"),
    [
        (
            {"id": "s1", "code": "BBBB-1111"},
            ("s1", 1),
            ("s1: the code BBBB-1111 is on the sheet of S2; the row is marked for s1",),
        ),
        ({"id": "s1", "code": "CCCC"}, ("s1", 1), ("s1: the code 'CCCC' is on no sheet of the set",)),
        ({"id": "", "code": "BBBB-2222"}, ("S2", 2), ("no id; the code BBBB-2222 is on the sheet of S2",)),
        (
            {"id": "x9", "code": "BBBB-1111"},
            None,
            ("the id 'x9' is not in the set; the row is not marked; the code BBBB-1111 is on the sheet of S2",),
        ),
        ({"id": "", "code": "??"}, None, ("no id; the row is not marked",)),
        (
            {"id": "s1", "code": "AAAA-2222", "attempt": "1"},
            ("s1", 1),
            ("s1: the code is on the sheet of attempt 2; the row is marked as attempt 1",),
        ),
        (
            {"id": "s1", "code": "BBBB-1111", "attempt": "3"},
            None,
            (
                "s1: the code BBBB-1111 is on the sheet of S2; the row is marked for s1",
                "s1: the attempt '3', not a number from 1 to 2; the row is not marked",
            ),
        ),
    ],
)
def test_what_does_not_fit_is_told(
    cells: dict[str, str], entry: tuple[str, int] | None, remarks: tuple[str, ...]
) -> None:
    assert whose(SHEETS, **cells) == Whose(entry, remarks)


def test_where_there_is_one_attempt_no_column_tells_it() -> None:
    assert whose(ONCE, id="s1", attempt="7") == Whose(("s1", 1))
    assert (WhoseRows(ONCE).attempts, WhoseRows(SHEETS).attempts) == (1, 2)
    assert about_columns(1) == ("id", "name", "section", "code")
    assert about_columns(2) == ("id", "name", "section", "code", "attempt")
