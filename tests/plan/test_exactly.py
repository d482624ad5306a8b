"""Windows in whole numbers against the same windows in Fractions, operation by operation and through whole chains."""

from __future__ import annotations

import copy
import pickle
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from problemgen.chemistry.units import read_unit
from problemgen.exact.rounding import trimmed
from problemgen.model.expression import Expression
from problemgen.plan.arithmetic import EXACT_FIGURES, Exact, Window, Windows
from problemgen.plan.batch import Batch
from problemgen.plan.evaluate import evaluate
from problemgen.plan.exactly import TRIM, windows_over

F = Fraction
EXACTLY, PLAIN = windows_over(Exact()), Windows(Exact())

numbers = st.builds(
    lambda number, power: number * F(10) ** power,
    st.one_of(st.fractions(-1000, 1000, max_denominator=10**6), st.integers(-99, 99).map(F)),
    st.integers(-12, 12),
)
figures = st.one_of(st.integers(1, 20), st.just(EXACT_FIGURES))
points = st.builds(lambda number, shown: Window(number, number, number, shown), numbers, figures)
spans = st.builds(
    lambda three, shown: Window(three[1], three[0], three[2], shown),
    st.tuples(numbers, numbers, numbers).map(sorted),
    figures,
)
narrow = st.builds(
    lambda number, shown: Window(number, number * F("0.998"), number * F("1.003"), shown),
    numbers.map(abs).filter(bool),
    figures,
)
windows = st.one_of(points, spans, narrow)


def told(work: Callable[[], Window]) -> Any:
    """What a window comes to, in reduced Fractions; or the error."""
    try:
        window = work()
    except (ZeroDivisionError, OverflowError) as error:
        return type(error)
    return window.value, window.low, window.high, window.figures


@pytest.mark.parametrize("operation", ["add", "multiply", "divide", "lesser", "greater"])
@given(a=windows, b=windows)
def test_an_operation_on_two_windows(operation: str, a: Window, b: Window) -> None:
    assert told(lambda: getattr(EXACTLY, operation)(a, b)) == told(lambda: getattr(PLAIN, operation)(a, b))


@pytest.mark.parametrize("operation", ["negate", "floor", "nearest"])
@given(a=windows)
def test_an_operation_on_one_window(operation: str, a: Window) -> None:
    assert told(lambda: getattr(EXACTLY, operation)(a)) == told(lambda: getattr(PLAIN, operation)(a))


@given(a=windows, kept=figures)
def test_a_rounded_window(a: Window, kept: int) -> None:
    rounded = PLAIN.rounded(a, kept)
    assert told(lambda: EXACTLY.rounded(a, kept)) == told(lambda: rounded)
    low, high = trimmed(rounded.low, TRIM, up=False), trimmed(rounded.high, TRIM, up=True)
    assert told(lambda: EXACTLY.kept(a, kept)) == (a.value, low, high, a.figures)


@pytest.mark.parametrize(
    ("low", "high", "kept"),
    [
        ("1", "9.995", 3),  # the lower bound loses a figure, the upper one comes to 10.00
        ("1.000000000000001", "9.9999999999999999", 3),  # as many figures as are kept, and more
        ("1", "99.5", 2),
        ("1", "1", 14),
        ("1", "1", 15),
        ("1", "1", EXACT_FIGURES),
        ("1/3", "2/3", 1),
        ("1e-130", "1e130", 4),
        ("0", "0", 3),
        ("-2/3", "-1/3", 3),
        ("-2/3", "0", 3),
    ],
)
def test_bounds_at_the_edge_of_a_power_of_ten(low: str, high: str, kept: int) -> None:
    a = Window(F(high), F(low), F(high), 3)
    rounded = PLAIN.rounded(a, kept)
    bounds = trimmed(rounded.low, TRIM, up=False), trimmed(rounded.high, TRIM, up=True)
    window = EXACTLY.kept(a, kept)
    assert (window.low, window.high) == bounds
    shortened = EXACTLY.shortened(rounded)
    assert (shortened.low, shortened.high) == bounds


@given(
    a=windows, shown=figures, last=figures, unit=st.sampled_from(["g", "mL", "mmol", "°C", "K", "torr", "%", "g/mL"])
)
def test_the_window_of_an_answer(unit: str, a: Window, shown: int, last: int) -> None:
    read = read_unit(unit)
    assert told(lambda: EXACTLY.answered(a, read, shown, last)) == told(lambda: PLAIN.answered(a, read, shown, last))


NAMES = ("x", "y", "z")


def _deeper(inner: st.SearchStrategy[Expression]) -> st.SearchStrategy[Expression]:
    several = st.lists(inner, min_size=1, max_size=3).map(tuple)
    return st.one_of(
        st.tuples(st.sampled_from(["add", "mul", "min", "max"]), several).map(lambda one: (one[0], *one[1])),
        st.tuples(st.just("div"), inner, inner),
        st.tuples(st.sampled_from(["neg", "floor", "round"]), inner),
        st.tuples(st.just("pow"), inner, st.integers(-3, 3).filter(bool)),
        st.tuples(st.just("least"), st.tuples(inner, inner), st.tuples(inner, inner)),
    )


leaves = st.one_of(st.sampled_from(NAMES), numbers.map(lambda number: ("num", str(number))))
expressions = st.recursive(leaves, _deeper, max_leaves=8)


@given(expressions, st.tuples(windows, windows, windows), st.integers(1, 16))
def test_whole_expressions(expression: Expression, given_windows: tuple[Window, ...], kept: int) -> None:
    """Windows that nobody has opened go into the next operation, and a kept one into a step behind."""
    values = dict(zip(NAMES, given_windows, strict=True))

    def worked(one: Windows) -> Window:
        step = evaluate(expression, values, one)
        step = one.kept(step, kept) if one is EXACTLY else _trimmed(one.rounded(step, kept))
        return one.add(one.multiply(step, values["x"]), step)

    assert told(lambda: worked(EXACTLY)) == told(lambda: worked(PLAIN))


def _trimmed(window: Window) -> Window:
    return replace(window, low=trimmed(window.low, TRIM, up=False), high=trimmed(window.high, TRIM, up=True))


@given(st.lists(narrow, min_size=2, max_size=4))
def test_whole_numbers_in_a_ratio(amounts: list[Window]) -> None:
    unopened = [EXACTLY.multiply(amount, EXACTLY.number(F(2, 3))) for amount in amounts]
    plain = [PLAIN.multiply(amount, PLAIN.number(F(2, 3))) for amount in amounts]
    for index in range(len(amounts)):
        assert EXACTLY.whole(index, unopened) == PLAIN.whole(index, plain)


def test_a_window_is_the_same_opened_or_not() -> None:
    plain = Window(F(6), F(5), F(8), 3)
    half = Window(F(3), F(5, 2), F(4), 3)
    unopened = [EXACTLY.add(half, half) for _ in range(4)]
    assert unopened[0] == plain
    assert hash(unopened[1]) == hash(plain)
    assert replace(unopened[2], figures=2) == replace(plain, figures=2)
    assert pickle.loads(pickle.dumps(unopened[3])) == copy.copy(unopened[3]) == plain  # noqa: S301 - our own
    with pytest.raises(AttributeError):
        _ = unopened[0].middle  # type: ignore[attr-defined]


def test_what_is_worked_from_points_is_a_point() -> None:
    point = Window(F("2.50"), F("2.50"), F("2.50"), 3)
    given_twice = replace(point)
    for found in (EXACTLY.add(point, given_twice), EXACTLY.multiply(point, point), EXACTLY.divide(point, given_twice)):
        assert found.is_point
    assert not EXACTLY.add(point, Window(F(1), F("0.9"), F(1))).is_point


@pytest.mark.parametrize("sign", [1, -1])
def test_numbers_without_end_are_refused(sign: int) -> None:
    expression: Expression = "x"
    for _ in range(6):
        expression = ("pow", expression, 9)
    window = Window(F(sign), F(sign) - F(1, 3), F(sign) + F(1, 3))
    with pytest.raises(OverflowError):
        evaluate(expression, {"x": window}, EXACTLY)


def test_one_arithmetic_has_the_same_windows_each_time() -> None:
    assert windows_over(Exact()) is EXACTLY
    assert windows_over(Batch()) is windows_over(Batch())
    assert windows_over(Batch()) is not EXACTLY
