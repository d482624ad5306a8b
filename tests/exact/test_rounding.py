"""The rounding rule, the texts it makes, and what they read back as."""

from __future__ import annotations

import decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from problemgen.exact.digits import read_written
from problemgen.exact.rounding import (
    POWERS,
    exponent,
    figures_text,
    half_unit,
    lowest_exponent,
    outward_text,
    plain_text,
    ratio_exponent,
    round_to_figures,
    round_to_place,
    short,
)

NUMBERS = st.builds(
    lambda number, power: number * Fraction(10) ** power,
    st.fractions(min_value=-1000, max_value=1000, max_denominator=10**9),
    st.integers(-30, 30),
)
NOT_ZERO = NUMBERS.filter(bool)
FIGURES = st.integers(1, 15)
PLACES = st.integers(-12, 8)


@pytest.mark.source("iso-80000-1-2009 B.2, B.3: the nearest multiple, both neighbours as near by rule B")
@pytest.mark.parametrize(
    ("value", "place", "expected"),
    [
        ("12.223", -1, "12.2"),
        ("12.275", -1, "12.3"),
        ("12.25", -1, "12.3"),
        ("12.35", -1, "12.4"),
        ("1225", 1, "1230"),
        ("1235", 1, "1240"),
    ],
)
def test_rounds_as_the_standard_prints_it(value: str, place: int, expected: str) -> None:
    assert round_to_place(Fraction(value), place) == Fraction(expected)


@pytest.mark.source("own: rule B by magnitude, far places, and numbers that have nothing to round")
@pytest.mark.parametrize(
    ("value", "place", "expected"),
    [
        ("-12.25", -1, "-12.3"),
        ("0.125", -2, "0.13"),
        ("2.5", 0, "3"),
        ("-2.5", 0, "-3"),
        ("2.4999999999999999999", 0, "2"),
        ("4", 1, "0"),
        ("0", -3, "0"),
        ("1", 200, "0"),
        ("1.5", -200, "1.5"),
    ],
)
def test_rounds_half_away_from_zero(value: str, place: int, expected: str) -> None:
    assert round_to_place(Fraction(value), place) == Fraction(expected)


@given(NUMBERS, PLACES)
def test_agrees_with_the_decimal_module(value: Fraction, place: int) -> None:
    scaled = value / Fraction(10) ** place
    doubled = decimal.Decimal(int(scaled * 2)) / 2  # keeps the half, drops what cannot change the rounding
    exact_half = scaled * 2 == int(scaled * 2)
    with decimal.localcontext(prec=100, rounding=decimal.ROUND_HALF_UP):
        quotient = doubled if exact_half else decimal.Decimal(scaled.numerator) / scaled.denominator
        expected = int(quotient.to_integral_value())
    assert round_to_place(value, place) == expected * Fraction(10) ** place


@given(NUMBERS, PLACES)
def test_rounding_is_within_half_a_unit_and_settles(value: Fraction, place: int) -> None:
    rounded = round_to_place(value, place)
    assert abs(rounded - value) <= Fraction(10) ** place / 2
    assert round_to_place(rounded, place) == rounded
    assert round_to_place(-value, place) == -rounded


@pytest.mark.parametrize(
    ("value", "expected"),
    [("1", 0), ("9.999999", 0), ("10", 1), ("0.1", -1), ("0.0999999", -2), ("-250", 2), ("6.022e23", 23)],
)
def test_exponent(value: str, expected: int) -> None:
    assert exponent(Fraction(value)) == expected


@pytest.mark.parametrize("power", [*range(-40, 41), -500, -129, -128, 127, 128, 500])
def test_exponent_at_and_beside_powers_of_ten(power: int) -> None:
    value = Fraction(10) ** power
    beside = value / 10**30
    assert exponent(value) == power
    assert exponent(value - beside) == power - 1
    assert exponent(value + beside) == power


@given(NOT_ZERO)
def test_exponent_brackets_the_magnitude(value: Fraction) -> None:
    assert Fraction(10) ** exponent(value) <= abs(value) < Fraction(10) ** (exponent(value) + 1)


def test_zero_has_no_exponent() -> None:
    with pytest.raises(ValueError, match=r"^zero has no decimal exponent$"):
        exponent(Fraction(0))


@pytest.mark.parametrize(
    ("value", "figures", "expected"),
    [
        ("2.4681", 3, "2.47"),
        ("9.996", 3, "10.0"),
        ("0.00012345", 2, "0.00012"),
        ("-98765", 1, "-100000"),
        ("0", 3, "0"),
    ],
)
def test_round_to_figures(value: str, figures: int, expected: str) -> None:
    assert round_to_figures(Fraction(value), figures) == Fraction(expected)


@pytest.mark.parametrize(
    ("value", "figures", "expected"),
    [("2.4681", 3, "0.005"), ("-0.05", 1, "0.005"), ("1234", 2, "50"), ("0", 3, "0")],
)
def test_half_unit(value: str, figures: int, expected: str) -> None:
    assert half_unit(Fraction(value), figures) == Fraction(expected)


@given(NUMBERS, FIGURES)
def test_half_unit_bounds_the_rounding(value: Fraction, figures: int) -> None:
    assert abs(round_to_figures(value, figures) - value) <= half_unit(value, figures)


@pytest.mark.parametrize("figures", [0, -3])
def test_at_least_one_figure(figures: int) -> None:
    message = rf"^at least one significant figure is needed, not {figures}$"
    value = Fraction(1)
    with pytest.raises(ValueError, match=message):
        round_to_figures(value, figures)
    with pytest.raises(ValueError, match=message):
        half_unit(value, figures)
    with pytest.raises(ValueError, match=message):
        figures_text(value, figures)
    with pytest.raises(ValueError, match=message):
        outward_text(value, figures, up=True)


@pytest.mark.parametrize(
    ("value", "place", "expected"),
    [
        ("0.05", -4, "0.0500"),
        ("-3.2", -2, "-3.20"),
        ("1249", 2, "1200"),
        ("1250", 2, "1300"),
        ("-0.004", -2, "0.00"),
        ("0", 0, "0"),
        ("0.5", 0, "1"),
        ("12.3456", -3, "12.346"),
        ("49", 2, "0"),
        ("6.022e23", 20, "602200000000000000000000"),
    ],
)
def test_plain_text(value: str, place: int, expected: str) -> None:
    assert plain_text(Fraction(value), place) == expected


@given(NUMBERS, PLACES)
def test_plain_text_reads_back(value: Fraction, place: int) -> None:
    written = read_written(plain_text(value, place))
    assert written.value == round_to_place(value, place)
    assert written.place == min(place, 0)


@pytest.mark.parametrize(
    ("value", "figures", "expected"),
    [
        ("0.05", 3, "0.0500"),
        ("1203", 3, "1.20e3"),
        ("1203", 4, "1203"),
        ("200", 3, "200"),
        ("200", 1, "2e2"),
        ("200", 5, "200.00"),
        ("0.0001", 2, "0.00010"),
        ("0.00009999", 2, "0.00010"),
        ("0.000099", 2, "9.9e-5"),
        ("999999", 6, "999999"),
        ("999999.5", 6, "1.00000e6"),
        ("1000000", 7, "1.000000e6"),
        ("9.99", 2, "10"),
        ("99.6", 2, "1.0e2"),
        ("-4.46e-7", 2, "-4.5e-7"),
        ("6.02214076e23", 4, "6.022e23"),
        ("0", 3, "0.00"),
        ("0", 1, "0"),
    ],
)
def test_figures_text(value: str, figures: int, expected: str) -> None:
    assert figures_text(Fraction(value), figures) == expected


@given(NOT_ZERO, FIGURES)
def test_figures_text_reads_back_with_its_figures(value: Fraction, figures: int) -> None:
    written = read_written(figures_text(value, figures))
    assert written.value == round_to_figures(value, figures)
    assert written.figures == figures


@pytest.mark.parametrize(
    ("value", "figures", "up", "expected"),
    [
        ("2/3", 4, True, "0.6667"),
        ("2/3", 4, False, "0.6666"),
        ("-2/3", 4, True, "-0.6666"),
        ("-2/3", 4, False, "-0.6667"),
        ("1/4", 12, True, "0.25"),
        ("1/4", 12, False, "0.25"),
        ("9.995", 3, True, "10"),
        ("9.995", 3, False, "9.99"),
        ("123456", 3, True, "124000"),
        ("1234567", 3, False, "1.23e6"),
        ("1/30000", 3, True, "3.34e-5"),
        ("0", 5, True, "0"),
    ],
)
def test_outward_text(value: str, figures: int, up: bool, expected: str) -> None:
    assert outward_text(Fraction(value), figures, up=up) == expected


@given(NUMBERS, FIGURES)
def test_outward_text_encloses(value: Fraction, figures: int) -> None:
    low = read_written(outward_text(value, figures, up=False)).value
    high = read_written(outward_text(value, figures, up=True)).value
    assert low <= value <= high
    assert high - low <= 2 * half_unit(value, figures)


@given(NOT_ZERO, FIGURES)
def test_outward_text_is_exact_where_the_figures_suffice(value: Fraction, figures: int) -> None:
    short = round_to_figures(value, figures)
    assert read_written(outward_text(short, figures + 1, up=True)).value == short
    assert read_written(outward_text(short, figures + 1, up=False)).value == short


def test_a_number_that_only_grows_is_refused() -> None:
    value = Fraction(10) ** 9_000
    assert short(value) is value
    assert short(1 / value) == 1 / value
    for endless in (value * value, 1 / (value * value)):
        with pytest.raises(OverflowError):
            short(endless)


@pytest.mark.parametrize("power", [0, 1, 22, 127, 128, 500])
def test_powers_of_ten_are_at_hand_or_worked(power: int) -> None:
    assert POWERS[power] == 10**power
    assert (power in POWERS) == (power < 128)


@pytest.mark.parametrize("power", [-13_301, -1_024, -485, -1, 0, 1, 93, 485, 1_023, 1_024, 13_301])
@pytest.mark.parametrize("beside", [-1, 0, 1])
def test_the_exponent_near_a_power_of_two(power: int, beside: int) -> None:
    """Where the number of bits tells least; 2**485 and 2**13301 lie just below a power of ten."""
    numerator, denominator = max(2**power + beside if power >= 0 else 1, 1), 1 if power >= 0 else 2**-power + beside
    found = ratio_exponent(numerator, denominator)
    assert Fraction(10) ** found <= Fraction(numerator, denominator) < Fraction(10) ** (found + 1)
    assert found - lowest_exponent(numerator, denominator) in (0, 1)


@given(NOT_ZERO, st.integers(1, 10**6))
def test_the_exponent_of_a_ratio_that_is_not_reduced(value: Fraction, times: int) -> None:
    found = ratio_exponent(value.numerator * times, value.denominator * times)
    assert Fraction(10) ** found <= abs(value) < Fraction(10) ** (found + 1)
    assert found == exponent(value)
