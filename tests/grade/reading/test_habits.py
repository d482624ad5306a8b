"""What a comma is in somebody's numbers, told by all of them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from problemgen.chemistry.units import read_unit
from problemgen.grade.reading.cell import read_answer
from problemgen.grade.reading.habits import with_points, writes_commas


@pytest.mark.parametrize(
    ("texts", "plainly"),
    [
        (["10,91"], True),
        (["m = 10,91 g", "5,453"], True),
        (["0,125"], True),  # no group of thousands begins with 0
        (["1234,567"], True),  # nor has more than three figures
        (["1.234,5"], True),  # the point groups
        (["5,453"], False),
        (["5,453", "7,669"], False),
        (["10,91", "2.5"], False),
        (["10,91", "1.234"], False),
        (["1,234.5"], False),
        (["1,234,567"], False),
        (["12", "", "?"], False),
        ([], False),
    ],
)
def test_who_writes_decimal_commas(texts: list[str], *, plainly: bool) -> None:
    assert writes_commas(texts) is plainly


@pytest.mark.parametrize(
    ("text", "read"),
    [
        ("5,453 g", "5.453 g"),
        ("5,453", "5.453"),
        ("1.234,5 g", "1.234,5 g"),
        ("1,234,567", "1,234,567"),
        ("3,95 · 10^-3", "3.95 · 10^-3"),
        ("n = 2,5 mmol", "n = 2.5 mmol"),
        ("5, 453", "5, 453"),
    ],
)
def test_points_for_commas_that_divide(text: str, read: str) -> None:
    assert with_points(text) == read


@given(st.integers(1, 999), st.integers(0, 999999).map(str))
def test_such_a_number_is_in_no_doubt(whole: int, decimals: str) -> None:
    reading = read_answer(with_points(f"{whole},{decimals} g"), read_unit("g"))
    assert (reading.status, reading.reason) == ("number", "")
    assert reading.written is not None
    assert reading.written.text == f"{whole}.{decimals}"
