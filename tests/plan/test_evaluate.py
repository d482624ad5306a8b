from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from problemgen.exact.digits import read_written
from problemgen.model.expression import OPERATIONS, Expression
from problemgen.model.fixed import Datum
from problemgen.model.plan import Mistake, Plan, Step
from problemgen.model.problem import Asked
from problemgen.model.quantity import Quantity
from problemgen.plan.arithmetic import EXACT_FIGURES, Exact, Window
from problemgen.plan.batch import Batch
from problemgen.plan.evaluate import (
    altered_windows,
    data_figures,
    evaluate,
    mistaken_windows,
    window_values,
)
from tests.support.worked_values import exact_values, mistaken_values

F = Fraction
VALUES = {"a": F(6), "b": F(4), "c": F(-3), "d": F(1, 2)}

TABLE: list[tuple[Expression, Fraction]] = [
    ("a", F(6)),
    (("num", "3/2"), F(3, 2)),
    (("num", "-7"), F(-7)),
    (("add", "a", "b", "c"), F(7)),
    (("mul", "a", "b", "d"), F(12)),
    (("div", "a", "b"), F(3, 2)),
    (("neg", "c"), F(3)),
    (("pow", "a", 2), F(36)),
    (("pow", "b", -2), F(1, 16)),
    (("pow", "b", 1), F(4)),
    (("min", "a", "b", "c"), F(-3)),
    (("max", "a", "b", "c"), F(6)),
    (("floor", ("div", "a", "b")), F(1)),
    (("floor", "c"), F(-3)),
    (("floor", ("neg", "d")), F(-1)),
    (("round", ("div", "a", "b")), F(2)),
    (("round", ("num", "2.4")), F(2)),
    (("whole", 0, "a", "b", "a"), F(3)),
    (("whole", 1, "a", "b", "a"), F(2)),
    (("whole", 1, ("num", "1"), ("num", "1.34")), F(4)),  # 1.34 is near 4/3
    (("whole", 0, ("num", "1"), ("num", "1.09")), F(1)),  # 1.09 is near 1
    (("least", ("a", "b"), ("b", "a"), ("d", "c")), F(-3)),
    (("least", ("b", "a"), ("b", "c")), F(6)),  # the first of equal keys
    (("div", ("mul", ("num", "2"), "a"), ("add", "b", ("neg", "d"))), F(24, 7)),
]


@pytest.mark.parametrize(("expression", "expected"), TABLE)
def test_an_expression_in_fractions(expression: Expression, expected: Fraction) -> None:
    assert evaluate(expression, VALUES, Exact()) == expected


@pytest.mark.parametrize(("expression", "expected"), TABLE)
def test_an_expression_in_a_batch(expression: Expression, expected: Fraction) -> None:
    values = {name: np.array([float(value)] * 3) for name, value in VALUES.items()}
    result = np.broadcast_to(evaluate(expression, values, Batch()), (3,))
    assert result == pytest.approx([float(expected)] * 3, rel=1e-15)


def test_every_operation_is_in_the_table() -> None:
    assert {expression[0] for expression, _ in TABLE if isinstance(expression, tuple)} == OPERATIONS


@pytest.mark.parametrize("expression", ["x", ("sqrt", "a"), ("add", "a", "x"), ("eval", "a")])
def test_a_name_without_a_value_or_an_operation_outside_the_list_is_refused(expression: Expression) -> None:
    with pytest.raises(KeyError):
        evaluate(expression, VALUES, Exact())


def step(name: str, expression: Expression, rounding: str = "figures") -> Step:
    return Step(Quantity("amount", name), "law", "n", expression, rounding)


A, B, C = (f"amount({name})" for name in "abc")
PLAN = Plan(
    given=(Quantity("amount", "a"),),
    constants=(),
    steps=(step("b", ("div", A, ("num", "3"))), step("c", ("add", A, B))),
    asked=(Asked(Quantity("amount", "c"), "mol"),),
    sources=(),
)


def point(text: str) -> Window:
    number = read_written(text)
    return Window(number.value, number.value, number.value, number.figures)


def values_in(windows: Mapping[str, Window]) -> dict[str, Fraction]:
    return {name: window.value for name, window in windows.items()}


def test_steps_are_worked_in_order() -> None:
    assert values_in(window_values(PLAN, {A: point("6.00")}, Exact())) == {A: 6, B: 2, C: 8}


def test_what_is_known_already_is_not_worked_again() -> None:
    assert values_in(window_values(PLAN, {A: point("6.00"), B: point("5.00")}, Exact())) == {A: 6, B: 5, C: 11}
    assert values_in(window_values(PLAN, {A: point("6.00"), C: point("0")}, Exact())) == {A: 6, B: 2, C: 0}


@pytest.mark.parametrize(
    ("given_text", "rounding", "low", "high", "figures"),
    [
        ("2.50", "figures", "2.495", "2.505", 3),  # three figures, as the data
        ("2.5", "figures", "2.495", "2.505", 2),  # no fewer than three, though the data have two
        ("2.5000", "figures", "2.49995", "2.50005", 5),  # five, as the data
        ("2.50", "none", "2.5", "2.5", 3),
        ("2.50", "molar mass", "2.495", "2.505", 3),  # two decimals
        ("250.0", "molar mass", "249.95", "250.05", 4),  # the figures of the data are coarser than two decimals
        ("250", "molar mass", "249.5", "250.5", 3),
        ("25", "molar mass", "24.95", "25.05", 2),  # no fewer than three
    ],
)
def test_a_step_is_rounded_as_a_worker_may(given_text: str, rounding: str, low: str, high: str, figures: int) -> None:
    plan = Plan((Quantity("amount", "a"),), (), (step("b", A, rounding),), (), ())
    window = window_values(plan, {A: point(given_text)}, Exact())[B]
    assert window == Window(F(given_text), F(low), F(high), figures)


def test_a_window_that_is_known_already_is_taken_as_it_is() -> None:
    own = Window(F(5), F(4), F(6), 2)
    windows = window_values(PLAN, {A: point("6.00"), B: own}, Exact())
    assert windows[B] == own
    assert windows[C] == Window(F(11), F("9.95"), F("12.05"), 3)


def test_a_molar_mass_that_a_student_answered_is_taken_as_it_is(problems: Any) -> None:
    given = {"mass(NaCl)": "2.922 g"}
    plan = problems.plan(given, {"amount(NaCl)": "mol"}, others=["NaCl"])
    own = Window(F(50), F(50), F(50), 4)
    windows = window_values(plan, {"mass(NaCl)": point("2.922"), "molar_mass(NaCl)": own}, Exact())
    assert windows["molar_mass(NaCl)"] == own
    assert windows["amount(NaCl)"].value == F("2.922") / 50


def test_bounds_stay_short_and_are_never_narrowed() -> None:
    plan = Plan((Quantity("amount", "a"),), (), (step("b", ("div", A, ("num", "3"))),), (), ())
    window = window_values(plan, {A: point("1.000000000000")}, Exact())[B]
    half = F(1, 2) / 10**13
    assert window.low <= F(1, 3) - half
    assert window.high >= F(1, 3) + half
    assert F(10) ** 15 % window.low.denominator == 0


def test_the_figures_of_the_data_are_the_fewest() -> None:
    assert data_figures([point("2.50"), point("0.0500"), point("2.5")], Exact()) == 2
    assert data_figures([], Exact()) == EXACT_FIGURES


FIRST = Mistake("first", "", "", ((B, ("mul", A, ("num", "3"))),))
SECOND = Mistake("second", "", "", ((B, A), (C, A)))


@pytest.mark.parametrize(
    ("mistakes", "expected"),
    [
        ([], {A: 6, B: 2, C: 8}),
        ([FIRST], {A: 6, B: 18, C: 24}),
        ([SECOND], {A: 6, B: 6, C: 6}),
        ([FIRST, SECOND], {A: 6, B: 18, C: 6}),  # where both rewrite a step, the first stands
        ([SECOND, FIRST], {A: 6, B: 6, C: 6}),
    ],
)
def test_what_follows_from_a_mistake_is_worked_again(mistakes: list[Mistake], expected: dict[str, int]) -> None:
    right = window_values(PLAN, {A: point("6.00")}, Exact())
    assert values_in(mistaken_windows(PLAN, mistakes, right, 3, Exact())) == expected
    assert values_in(right) == {A: 6, B: 2, C: 8}


def test_what_a_mistake_does_not_touch_is_left_alone() -> None:
    right = {A: point("6.00"), B: point("7.00"), C: point("8.00")}  # b as a student has it
    late = Mistake("late", "", "", ((C, ("mul", B, ("num", "2"))),))
    assert values_in(mistaken_windows(PLAN, [late], right, 3, Exact())) == {A: 6, B: 7, C: 14}


def test_a_result_that_is_altered_is_gone_on_with() -> None:
    right = window_values(PLAN, {A: point("6.00")}, Exact())

    def halved(window: Window) -> Window:
        return Window(window.value / 2, window.low / 2, window.high / 2, window.figures)

    altered = altered_windows(PLAN.steps, {B: halved}, right, 3, Exact())
    assert (altered[A], altered[B].value, altered[C].value) == (right[A], 1, 7)
    assert altered_windows(PLAN.steps, {}, right, 3, Exact()) == right
    assert altered_windows(PLAN.steps, {C: halved}, right, 3, Exact())[B] == right[B]


@pytest.mark.parametrize("mistake", [FIRST, SECOND])
def test_the_window_after_a_mistake_holds_the_mistaken_value(mistake: Mistake) -> None:
    base = Exact()
    right = window_values(PLAN, {A: point("6.00")}, base)
    wrong = mistaken_windows(PLAN, [mistake], right, data_figures([right[A]], base), base)
    values = mistaken_values(PLAN, [mistake], exact_values(PLAN, {A: F(6)}), base)
    assert values_in(wrong) == values
    assert all(wrong[name].low <= values[name] <= wrong[name].high for name in values)


# Exact, batch and windows of real plans, with random numbers.

AMMONIA = {"equation": "N2 + 3 H2 -> 2 NH3", "product": "NH3"}
PLANS: list[tuple[dict[str, Any], dict[str, str], dict[str, str]]] = [
    (
        {"others": ["HCl"]},
        {"volume(HCl,solution)": "mL", "mass_fraction(HCl)": "%", "density(HCl,solution)": "g/mL"},
        {"amount(HCl)": "mmol"},
    ),
    (
        {"others": ["HCl"]},
        {"concentration(HCl,initial)": "mol/L", "volume(HCl,initial)": "mL", "volume(HCl,final)": "mL"},
        {"concentration(HCl,final)": "mol/L", "volume(HCl,added)": "mL"},
    ),
    (
        AMMONIA,
        {"mass(N2)": "g", "mass(H2)": "g", "mass(NH3,actual)": "g"},
        {"percent_yield(NH3)": "%", "mass(N2,left)": "g", "mass(NH3,from:H2)": "g"},
    ),
    (AMMONIA, {"mass(NH3,actual)": "g", "percent_yield(NH3)": "%"}, {"mass(H2)": "g"}),
    (
        {"equation": "2 Al + 6 HCl -> 2 AlCl3 + 3 H2"},
        {"mass(Al)": "mg", "pressure(H2)": "mmHg", "temperature(H2)": "°C"},
        {"volume(H2,theoretical)": "mL"},
    ),
    ({"others": ["H2O", "H"]}, {"mass(H2O)": "mg"}, {"count(H)": "1"}),
]

readings = st.tuples(st.integers(1, 9999), st.integers(0, 3)).map(lambda n: f"{n[0]}e-{n[1]}")
"""From 0.001 to 9999, one to four figures."""

rows_of_readings = st.lists(st.lists(readings, min_size=3, max_size=3), min_size=2, max_size=4)


def data_of(units: dict[str, str], texts: list[str]) -> dict[str, Datum]:
    return {name: Datum(read_written(text), unit) for (name, unit), text in zip(units.items(), texts, strict=False)}


def at(numbers: Any, row: int) -> float:
    return float(numbers[row] if np.ndim(numbers) else numbers)


def value_of(window: Window, row: int) -> float:
    return at(window.value, row)


def bounds_of(window: Window, row: int) -> list[float]:
    return [at(window.low, row), at(window.high, row), at(window.figures, row)]


@pytest.mark.parametrize(("about", "units", "asked"), PLANS)
@given(rows=rows_of_readings)
def test_exact_batch_and_windows_agree(
    problems: Any, about: dict[str, Any], units: dict[str, str], asked: dict[str, str], rows: list[list[str]]
) -> None:
    plan = problems.plan(units, asked, **about)
    rows_of_data = [data_of(units, texts) for texts in rows]
    batch = problems.batch_windows(plan, rows_of_data)
    for row, data in enumerate(rows_of_data):
        values = problems.exact(plan, {name: f"{d.written.text} {d.unit}" for name, d in data.items()})
        windows = problems.windows(plan, data)
        assert {name: window.value for name, window in windows.items()} == values
        for name, window in windows.items():
            if window.value:  # where nothing is left, figures mean nothing
                assert bounds_of(batch[name], row) == pytest.approx(bounds_of(window, 0), rel=1e-9)
                assert value_of(batch[name], row) == pytest.approx(float(window.value), rel=1e-12)
                assert window.low <= window.value <= window.high
