"""Numbers as spreadsheets show them."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from problemgen.load.tables.shown_number import shown_number


@pytest.mark.parametrize(
    ("value", "number_format", "shown"),
    [
        (39.5, "General", "39.5"),
        (12345, "General", "12345"),
        (12345.0, "General", "12345"),
        (0.1 + 0.2, "General", "0.3"),
        (1 / 3, "General", "0.333333333333333"),
        (-0.0, "General", "0"),
        (1e-9, "General", "1e-9"),
        (6.02214076e23, "General", "6.02214076e+23"),
        (39.5, "0.00", "39.50"),
        (39.5, "0", "40"),
        (2.5, "0", "3"),
        (0.125, "0.00", "0.13"),
        (-3.25, "0.0", "-3.3"),
        (1234.5, "#,##0.00", "1234.50"),
        (5, "00000", "00005"),
        (0.82, "0%", "82 %"),
        (0.8254, "0.0%", "82.5 %"),
        (39.5, '0.00" g"', "39.50 g"),
        (39.5, "0.0\\ \\g", "39.5 g"),
        (0.000123, "0.00E+00", "1.23e-4"),
        (0.0, "0.00E+00", "0.00"),
        (-1.5, "0.0;[Red]-0.0", "-1.5"),
        (3, "[Blue]0.00_)", "3.00"),
        (0.5, "# ?/?", "0.5"),
        (2.0, "@", "2"),
        (math.nan, "0.00", "NaN"),
        (math.inf, "General", "Infinity"),
    ],
)
def test_a_number_is_what_the_cell_shows(value: float, number_format: str, shown: str) -> None:
    assert shown_number(value, number_format) == shown


@given(st.decimals(min_value=-(10**9), max_value=10**9, places=5, allow_nan=False))
def test_what_was_typed_is_what_is_read(typed: object) -> None:
    text = f"{typed:f}"
    plain = text.rstrip("0").rstrip(".") or "0"
    assert shown_number(float(text)) == ("0" if plain in ("-0", "") else plain)


@given(st.floats(), st.text(st.sampled_from('0#.,%E+-"g\\_*[]; ?/@'), max_size=12))
def test_no_format_is_an_error(value: float, number_format: str) -> None:
    assert shown_number(value, number_format)
