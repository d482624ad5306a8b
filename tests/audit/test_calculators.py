"""The two calculators round alike, and as the published rules say."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from problemgen.audit.calculators import Columns, Digits, as_decimal

DIGITS, COLUMNS = Digits(), Columns()

# Rounded by rule B (a half away from zero) and by rule A (a half to the even digit).
PUBLISHED = [
    ("12.223", -1, "12.2", "12.2"),
    ("12.251", -1, "12.3", "12.3"),
    ("12.275", -1, "12.3", "12.3"),
    ("12.25", -1, "12.3", "12.2"),
    ("12.35", -1, "12.4", "12.4"),
    ("1225.0", 1, "1230", "1220"),
    ("1235.0", 1, "1240", "1240"),
]
OWN = [
    ("-12.25", -1, "-12.3", "-12.2"),
    ("0", -1, "0", "0"),
    ("1.005", -2, "1.01", "1.00"),
    ("0.99995", -4, "1.0000", "1.0000"),
]


@pytest.mark.source("iso-80000-1-2009 B.2, B.3: rules A and B")
@pytest.mark.parametrize(("value", "place", "up", "even"), PUBLISHED)
def test_half_way_cases_go_up_or_to_the_even_digit(value: str, place: int, up: str, even: str) -> None:
    assert_rounded(value, place, up, even)


@pytest.mark.source("own: the same rules below 0, at 0, and where floating point would err")
@pytest.mark.parametrize(("value", "place", "up", "even"), OWN)
def test_further_half_way_cases(value: str, place: int, up: str, even: str) -> None:
    assert_rounded(value, place, up, even)


def assert_rounded(value: str, place: int, up: str, even: str) -> None:
    for to_even, expected in ((False, up), (True, even)):
        assert DIGITS.to_place(Decimal(value), place, to_even) == Decimal(expected)
        column = COLUMNS.to_place(np.array([float(value)]), place, np.array([to_even]))
        assert column[0] == pytest.approx(float(expected), rel=1e-14)


@given(mantissa=st.integers(-(10**8), 10**8), power=st.integers(-12, 12), cut=st.integers(1, 7), to_even=st.booleans())
def test_columns_round_as_digits_do(mantissa: int, power: int, cut: int, to_even: bool) -> None:
    value = Decimal(mantissa).scaleb(power)
    place = power + cut
    expected = DIGITS.to_place(value, place, to_even)
    column = COLUMNS.to_place(np.array([float(value)]), np.array([place]), np.array([to_even]))
    assert column[0] == pytest.approx(float(expected), rel=1e-12)


@given(mantissa=st.integers(-(10**6), 10**6), power=st.integers(-30, 30))
def test_the_leading_digit_stands_where_it_is_read(mantissa: int, power: int) -> None:
    value = Decimal(mantissa).scaleb(power)
    assert COLUMNS.leading(np.array([float(value)]))[0] == DIGITS.leading(value)


def test_a_float_just_below_a_power_of_ten_is_that_power() -> None:
    assert COLUMNS.leading(np.array([0.1 * 3 / 3 * 10, 1000 * (1 - 1e-15), 999.999, np.nan, 0.0])).tolist() == [
        *(0, 3, 2, 0, 0),
    ]


@given(mantissa=st.integers(-(10**8), 10**8), power=st.integers(-12, 12), cut=st.integers(1, 7))
def test_columns_cut_as_digits_do(mantissa: int, power: int, cut: int) -> None:
    value = Decimal(mantissa).scaleb(power)
    expected = DIGITS.cut(value, power + cut)
    assert abs(expected) <= abs(value)
    assert COLUMNS.cut(np.array([float(value)]), np.array([power + cut]))[0] == pytest.approx(
        float(expected), rel=1e-12
    )


numbers = st.integers(1, 10**6).map(lambda n: Fraction(n, 1000))


@given(a=numbers, b=numbers, c=numbers, d=numbers)
def test_columns_work_as_digits_do(a: Fraction, b: Fraction, c: Fraction, d: Fraction) -> None:
    one, two = as_decimal(a), as_decimal(b)
    first, second = np.array([float(a)]), np.array([float(b)])
    for name in ("add", "multiply", "divide", "lesser", "greater"):
        digits, column = getattr(DIGITS, name)(one, two), getattr(COLUMNS, name)(first, second)
        assert column[0] == pytest.approx(float(digits), rel=1e-12)
    beside = COLUMNS.beside_lesser(first, np.array([float(c)]), second, np.array([float(d)]))
    assert beside[0] == float(DIGITS.beside_lesser(one, as_decimal(c), two, as_decimal(d)))
    assert COLUMNS.down(first)[0] == int(DIGITS.down(one))


@pytest.mark.parametrize(
    ("amounts", "counts"),
    [
        (["0.0500", "0.1000"], [1, 2]),
        (["2.00", "3.01", "1.99"], [2, 3, 2]),
        (["0.333", "0.444"], [3, 4]),
        (["1.00", "2.11"], [1, 2]),  # in no ratio of small numbers that fits: rounded as it stands
    ],
)
def test_amounts_stand_in_the_least_whole_numbers(amounts: list[str], counts: list[int]) -> None:
    digits = [Decimal(amount) for amount in amounts]
    columns = [np.array([float(amount)]) for amount in amounts]
    found = [int(DIGITS.least_whole(index, digits)) for index in range(len(amounts))]
    assert found == [int(COLUMNS.least_whole(index, columns)[0]) for index in range(len(amounts))]
    if len(counts) == 2:
        assert found == counts


def test_a_division_by_zero_is_an_error_for_one_and_no_number_in_columns() -> None:
    with pytest.raises(ZeroDivisionError):
        DIGITS.divide(Decimal(1), Decimal(0))
    with np.errstate(all="ignore"):
        assert np.isinf(COLUMNS.divide(np.array([1.0]), np.array([0.0])))[0]
