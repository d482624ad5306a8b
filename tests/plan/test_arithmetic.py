from __future__ import annotations

from fractions import Fraction
from math import gcd
from typing import Any

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from problemgen.exact.digits import read_written
from problemgen.plan.arithmetic import EXACT_FIGURES, Exact, Window, Windows
from problemgen.plan.batch import Batch

F = Fraction
EXACT, BATCH = Exact(), Batch()
WINDOWS = Windows(EXACT)

numbers = st.fractions(min_value=-1000, max_value=1000, max_denominator=10_000)
positive = st.fractions(min_value=F(1, 10_000), max_value=1000, max_denominator=10_000)


def written(text: str) -> Window:
    """A measured value: its figures are those it is written with."""
    number = read_written(text)
    return Window(number.value, number.value, number.value, number.figures)


def between(low: Fraction, high: Fraction) -> Window:
    return Window((low + high) / 2, low, high)


BINARY = ("add", "multiply", "divide", "lesser", "greater")
UNARY = ("negate", "floor")


@pytest.mark.parametrize("operation", BINARY)
@given(a=numbers, b=numbers)
def test_a_batch_works_as_fractions_do(operation: str, a: Fraction, b: Fraction) -> None:
    assume(operation != "divide" or b)
    exact = getattr(EXACT, operation)(a, b)
    batch = getattr(BATCH, operation)(np.array([float(a)]), np.array([float(b)]))
    assert batch == pytest.approx([float(exact)], rel=1e-12, abs=1e-12)


@pytest.mark.parametrize("operation", UNARY)
@given(a=st.integers(-4000, 4000).map(lambda n: F(n, 8)))
def test_a_batch_works_single_operations_as_fractions_do(operation: str, a: Fraction) -> None:
    assert getattr(BATCH, operation)(np.array([float(a)])) == float(getattr(EXACT, operation)(a))


@given(numbers, numbers, numbers, numbers)
def test_the_value_beside_the_lesser_key(key_a: Fraction, a: Fraction, key_b: Fraction, b: Fraction) -> None:
    expected = a if key_a <= key_b else b
    assert EXACT.beside_lesser(key_a, a, key_b, b) == expected
    floats = (np.array([float(x)]) for x in (key_a, a, key_b, b))
    assert BATCH.beside_lesser(*floats) == float(expected)


def test_a_division_by_zero_raises_in_fractions_and_is_infinite_in_a_batch() -> None:
    with pytest.raises(ZeroDivisionError):
        EXACT.divide(F(1), F(0))
    with np.errstate(divide="ignore"):
        assert BATCH.divide(np.array([1.0]), np.array([0.0])) == np.inf


@pytest.mark.parametrize(
    ("value", "exponent"),
    [("1", 0), ("9.99", 0), ("10", 1), ("0.1", -1), ("0.0999", -2), ("6.02e23", 23), ("1e-7", -7), ("250", 2)],
)
def test_the_exponent_of_the_leading_figure(value: str, exponent: int) -> None:
    assert EXACT.exponent(F(value)) == exponent
    assert EXACT.exponent(-F(value)) == exponent
    assert BATCH.exponent(np.array([float(value), -float(value)])).tolist() == [exponent, exponent]


@pytest.mark.parametrize("divisor", [(-2, 1), (0, 1), (-1, 0), (0, 0)])
def test_no_window_is_divided_by_one_that_may_be_zero(divisor: tuple[int, int]) -> None:
    low, high = map(F, divisor)
    with pytest.raises(ZeroDivisionError):
        WINDOWS.divide(between(F(1), F(2)), Window(F(1, 2), low, high))
    assert WINDOWS.divide(between(F(1), F(2)), between(F(-2), F(-1))) == Window(F(-1), F(-2), F(-1, 2))


def test_zero_stands_below_every_number() -> None:
    """0.00 mL on a burette, in litres: the difference to 20.35 mL is known to hundredths all the same."""
    assert EXACT.exponent(F(0)) == BATCH.exponent(np.array([0.0]))[0] < -40
    end, start = Window(F("0.02035"), F("0.02035"), F("0.02035"), 4), Window(F(0), F(0), F(0), 1)
    assert WINDOWS.add(end, WINDOWS.negate(start)).figures == 4


@pytest.mark.parametrize(
    ("a", "b", "exponent"),
    [(0.3, 0.2, -1), (0.8, 0.7, -1), (1.3, 1.2, -1), (0.07, 0.06, -2)],
)
def test_what_floats_miss_by_their_error_counts_as_the_power_of_ten(a: float, b: float, exponent: int) -> None:
    """0.3 − 0.2 is 0.09999999999999998 in binary floats, and 0.1."""
    assert BATCH.exponent(np.array([a - b])).tolist() == [exponent]
    assert EXACT.exponent(F(str(a)) - F(str(b))) == exponent


@pytest.mark.parametrize(
    ("value", "figures", "half"),
    [("2.4681", 3, "0.005"), ("10.0", 3, "0.05"), ("9.99", 3, "0.005"), ("0.0500", 2, "0.0005"), ("1234", 2, "50")],
)
def test_half_a_unit_of_the_last_figure(value: str, figures: int, half: str) -> None:
    assert EXACT.half_unit(F(value), figures) == F(half)
    assert BATCH.half_unit(np.array([float(value)]), figures) == pytest.approx([float(half)], rel=1e-15)


def test_what_sets_no_limit_of_figures_is_not_rounded() -> None:
    assert BATCH.half_unit(np.array([58.44]), EXACT_FIGURES) == 0.0
    assert EXACT.half_unit(F("58.44"), EXACT_FIGURES) < F(1, 10**90)


def test_half_a_unit_by_the_figures_of_each_candidate() -> None:
    halves = BATCH.half_unit(np.array([12.0, 12.0, 120.0]), np.array([2, 3, 3]))
    assert halves.tolist() == [0.5, 0.05, 0.5]


@given(st.lists(numbers, min_size=1, max_size=4))
def test_whether_all_are_above_zero(values: list[Fraction]) -> None:
    assert BATCH.positive(np.array([float(v) for v in values])) is all(v > 0 for v in values)
    assert [EXACT.positive(v) for v in values] == [v > 0 for v in values]


spans = st.tuples(numbers, numbers).map(sorted).map(tuple)
shares = st.fractions(min_value=0, max_value=1, max_denominator=7)


@pytest.mark.parametrize("operation", BINARY)
@given(first=spans, second=spans, one=shares, two=shares)
def test_a_window_holds_what_any_two_values_inside_give(
    operation: str, first: Any, second: Any, one: Fraction, two: Fraction
) -> None:
    (a, b), (c, d) = first, second
    assume(operation != "divide" or c > 0 or d < 0)
    window = getattr(WINDOWS, operation)(between(a, b), between(c, d))
    inside = getattr(EXACT, operation)(a + (b - a) * one, c + (d - c) * two)
    assert window.low <= inside <= window.high
    assert window.low <= window.value <= window.high


@pytest.mark.parametrize("operation", UNARY)
@given(span=spans, share=shares)
def test_a_window_holds_what_any_value_inside_gives(operation: str, span: Any, share: Fraction) -> None:
    low, high = span
    window = getattr(WINDOWS, operation)(between(low, high))
    assert window.low <= getattr(EXACT, operation)(low + (high - low) * share) <= window.high


def in_floats(window: Window) -> Window:
    value, low, high = (np.array([float(bound)]) for bound in (window.value, window.low, window.high))
    return Window(value, low, high)


@pytest.mark.parametrize("operation", BINARY)
@given(first=st.tuples(positive, positive), second=st.tuples(positive, positive))
def test_windows_over_floats_are_those_over_fractions(operation: str, first: Any, second: Any) -> None:
    (a, b), (c, d) = (sorted(pair) for pair in (first, second))
    exact = getattr(WINDOWS, operation)(between(a, b), between(c, d))
    floats = [in_floats(window) for window in (between(a, b), between(c, d))]
    batch = getattr(Windows(BATCH), operation)(*floats)
    bounds = [float(batch.value[0]), float(batch.low[0]), float(batch.high[0])]
    assert bounds == pytest.approx([float(exact.value), float(exact.low), float(exact.high)], rel=1e-12)


@pytest.mark.source(
    "nist-sp-811-2008 B.7: sums to the last common place; common-practice: products to the fewest figures"
)
@pytest.mark.parametrize(
    ("operation", "a", "b", "figures"),
    [
        # products and quotients: the fewest figures
        ("multiply", "2.50", "1.082", 3),
        ("divide", "1.15", "22.990", 3),
        ("multiply", "0.0500", "2.0", 2),
        # sums and differences: the last common place
        ("add", "12.1", "0.357", 3),
        ("add", "99.5", "0.7", 4),  # 100.2
        ("add", "250.0", "-249.1", 1),
        ("add", "0.02", "1.234", 3),
        ("add", "250.0", "-20.00", 4),
        ("lesser", "2.50", "2.5000", 3),
        ("lesser", "2.50", "2.4000", 5),
        ("greater", "2.50", "2.4000", 3),
        ("greater", "2.4000", "2.50", 3),
    ],
)
def test_significant_figures_are_carried_along(operation: str, a: str, b: str, figures: int) -> None:
    assert getattr(WINDOWS, operation)(written(a), written(b)).figures == figures


def test_an_exact_number_limits_nothing() -> None:
    assert WINDOWS.number(F(3)).figures == EXACT_FIGURES
    assert WINDOWS.multiply(WINDOWS.number(F(3)), written("2.50")).figures == 3
    assert WINDOWS.floor(written("2.50")).figures == EXACT_FIGURES


@given(span=spans, share=shares, figures=st.integers(1, 6))
def test_a_rounded_window_holds_every_rounding_of_what_was_inside(span: Any, share: Fraction, figures: int) -> None:
    """Rounding to more figures moves a value less, so the fewest decide."""
    low, high = span
    inside = low + (high - low) * share
    assume(inside)
    window = WINDOWS.rounded(between(low, high), figures)
    unit = F(10) ** (EXACT.exponent(inside) - figures + 1)
    assert window.low <= inside // unit * unit + (unit if inside % unit > unit / 2 else 0) <= window.high


@pytest.mark.parametrize(
    ("key_a", "key_b", "expected"),
    [
        ((1, 2), (3, 4), (5, 6)),  # surely the first
        ((3, 4), (1, 2), (7, 8)),  # surely the second
        ((1, 3), (2, 4), (5, 8)),  # either may be the lesser: both answers are possible
        ((2, 4), (1, 3), (5, 8)),
        ((1, 2), (2, 3), (5, 8)),  # at the edge they may be equal
    ],
)
@pytest.mark.parametrize("base", [EXACT, BATCH], ids=["fractions", "floats"])
def test_beside_keys_in_doubt_both_values_are_possible(base: Any, key_a: Any, key_b: Any, expected: Any) -> None:
    def window(low: int, high: int) -> Window:
        return Window(*(base.number(one) for one in (F(low + high, 2), F(low), F(high))))

    found = Windows(base).beside_lesser(window(*key_a), window(5, 6), window(*key_b), window(7, 8))
    assert (found.low, found.high) == expected
    assert found.value == (F(11, 2) if sum(key_a) <= sum(key_b) else F(15, 2))


def test_a_widened_window_keeps_its_value() -> None:
    assert WINDOWS.widened(between(F(1), F(3)), F(1, 2)) == Window(F(2), F(1, 2), F(7, 2))


@given(st.lists(st.integers(1, 8), min_size=2, max_size=4), positive, st.lists(st.integers(-3, 3), min_size=4))
def test_the_least_whole_numbers_are_found_again(counts: list[int], mole: Fraction, errors: list[int]) -> None:
    """Amounts in a ratio of small whole numbers, each wrong by up to 0.3 %."""
    least = [count // gcd(*counts) for count in counts]
    amounts = [count * mole * (1 + F(error, 1000)) for count, error in zip(counts, errors, strict=False)]
    assert [EXACT.whole(index, amounts) for index in range(len(counts))] == least
    arrays = [np.array([float(amount)]) for amount in amounts]
    assert [BATCH.whole(index, arrays).tolist() for index in range(len(counts))] == [[n] for n in least]


@pytest.mark.parametrize(("value", "nearest"), [("2.4", 2), ("2.5", 3), ("0.49", 0), ("7", 7)])
def test_the_nearest_whole_number(value: str, nearest: int) -> None:
    assert EXACT.nearest(F(value)) == nearest
    assert BATCH.nearest(np.array([float(value)])) == nearest
    assert WINDOWS.nearest(between(F(value) - 1, F(value) + 1)) == Window(F(nearest), F(nearest), F(nearest))
