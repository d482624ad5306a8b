"""Rows before they have column names, and the header among them."""

from __future__ import annotations

import pytest

from problemgen.load.tables.record import Record, header_of, named_like


@pytest.mark.parametrize(
    ("cell", "name"),
    [("ID", "id"), ("  Student \n number ", "student number"), ("1A", "1a"), ("", ""), ("\tÄ  B", "ä b")],
)
def test_names_are_compared_in_small_letters_and_single_blanks(cell: str, name: str) -> None:
    assert named_like(cell) == name


def test_the_header_is_the_first_row_with_a_wanted_name_or_else_the_first() -> None:
    rows = [Record(1, ("Course", "Spring")), Record(3, ("Name", " ID ")), Record(4, ("id", "id"))]
    assert header_of(rows, frozenset({"id"})) is rows[1]
    assert header_of(rows, frozenset({"number"})) is rows[0]
    assert header_of(rows, frozenset()) is rows[0]
    assert header_of([], frozenset({"id"})) is None


def test_of_several_that_are_wanted_the_first_goes_over_the_next() -> None:
    rows = [Record(1, ("Number", "x")), Record(2, ("y", "id"))]
    assert header_of(rows, frozenset({"id"}), frozenset({"number"})) is rows[1]
    assert header_of(rows, frozenset({"z"}), frozenset({"number"})) is rows[0]
    assert header_of(rows, frozenset({"z"}), frozenset({"id"})) is rows[1]


@pytest.mark.parametrize(("cells", "has"), [(("", " \t"), False), ((), False), (("", "x"), True)])
def test_a_row_of_blanks_has_no_text(cells: tuple[str, ...], *, has: bool) -> None:
    assert Record(1, cells).has_text is has
