"""Numbers at the start of an answer: marks, powers of ten, fractions, and what is left behind them."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from problemgen.errors import NumberError
from problemgen.grade.reading.numerals import read_numeral

EITHER = "can mean 1234 or 1.234; it is read as 1234."


@pytest.mark.parametrize(
    ("text", "mark", "value", "remark"),
    [
        ("1,234", ".", "1234", f'"1,234" {EITHER}'),
        ("1.234", ",", "1234", f'"1.234" {EITHER}'),
        ("-1,234", ".", "-1234", f'"1,234" {EITHER}'),
        ("1,234e3", ".", "1234000", f'"1,234" {EITHER}'),
        ("1,234 x 10-3", ".", "1.234", f'"1,234" {EITHER} The power of ten is read as 10^-3.'),
    ],
)
def test_ambiguous(text: str, mark: str, value: str, remark: str) -> None:
    numeral = read_numeral(text, mark)
    assert (numeral.written.value, numeral.remark, numeral.ambiguous) == (Fraction(value), remark, True)


@pytest.mark.parametrize(
    ("text", "mark", "value"),
    [
        ("1.234", ".", "1.234"),
        ("1,23", ".", "1.23"),
        ("1.23", ",", "1.23"),
        ("1,2345", ".", "1.2345"),
        ("0.123", ",", "0.123"),
        ("0,123", ".", "0.123"),
        (",123", ".", "0.123"),
        ("1234.567", ",", "1234.567"),
        ("1,234.5", ",", "1234.5"),
        ("1.234,5", ".", "1234.5"),
        ("1,234,567", ",", "1234567"),
        ("1 234,567", ".", "1234.567"),
        ("1'234,567", ".", "1234.567"),
    ],
)
def test_the_decimal_mark_of_the_set_does_not_matter(text: str, mark: str, value: str) -> None:
    numeral = read_numeral(text, mark)
    assert (numeral.written.value, numeral.remark, numeral.ambiguous) == (Fraction(value), "", False)


@pytest.mark.parametrize(
    ("text", "value", "remark"),
    [
        ("1,234", "1.234", '"1,234" can mean 1.234 or 1234; it is read as 1.234.'),
        ("100,000", "100", '"100,000" can mean 100.000 or 100000; it is read as 100.000.'),
        ("0,234", "0.234", ""),
        ("1,23", "1.23", ""),
    ],
)
def test_a_comma_that_could_group_is_never_read_silently(text: str, value: str, remark: str) -> None:
    numeral = read_numeral(text, ",")
    assert (numeral.written.value, numeral.remark, numeral.ambiguous) == (Fraction(value), remark, False)


@pytest.mark.parametrize(
    ("text", "written", "rest"),
    [
        ("12 g", "12", " g"),
        ("12 13", "12", " 13"),
        ("12 345", "12345", ""),
        ("12 3456", "12", " 3456"),
        ("1e3 g", "1e3", " g"),
        ("5.E-1 g", "5e-1", " g"),
        ("5.e", "5", ".e"),
        ("12 eq", "12", " eq"),
        ("3/4 mol", "3/4", " mol"),
        ("3/4/5", "3", "/4/5"),
        ("3/4.5", "3", "/4.5"),
        ("3.95 x 10", "3.95", " x 10"),
        ("3.95 x 10.5", "3.95", " x 10.5"),
        ("3.95 x 10^2.5", "3.95e2", ".5"),
        ("2.10^5", "2e5", ""),
        ("10^3x", "1e3", "x"),
        ("10-3", "10", "-3"),
        ("0x1F", "0", "x1F"),
        ("1_000", "1", "_000"),
    ],
)
def test_what_stands_behind_is_left_alone(text: str, written: str, rest: str) -> None:
    numeral = read_numeral(text, ".")
    assert (numeral.written.text, numeral.rest) == (written, rest)


@pytest.mark.parametrize("text", ["", "g", "-", "e5", "^2", "x10^3", "(5)", "½"])
def test_no_number_at_the_start(text: str) -> None:
    with pytest.raises(NumberError, match=r"^No number is found at the start of \".*\"\.$"):
        read_numeral(text, ".")


@pytest.mark.parametrize(
    ("over", "under", "place"), [(3, 4, -2), (1, 3, -12), (10, 5, 0), (0, 7, 0), (1, 8, -3), (200, 3, -10)]
)
def test_the_place_of_a_fraction(over: int, under: int, place: int) -> None:
    written = read_numeral(f"{over}/{under}", ".").written
    assert (written.value, written.place) == (Fraction(over, under), place)


@given(st.integers(0, 10**12 - 1), st.integers(0, 999_999), st.sampled_from([",", "'", " ", "\N{NO-BREAK SPACE}"]))
def test_grouped_figures_are_the_same_number(whole: int, decimals: int, mark: str) -> None:
    grouped = f"{whole:,}".replace(",", mark)
    numeral = read_numeral(f"{grouped}.{decimals:06}", ".")
    assert (numeral.written.value, numeral.rest) == (whole + Fraction(decimals, 10**6), "")
    assert numeral.written.place == -6
