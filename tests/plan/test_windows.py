from __future__ import annotations

from fractions import Fraction
from typing import Any

import numpy as np
import pytest

from problemgen.chemistry.units import read_unit
from problemgen.exact.digits import read_written
from problemgen.plan.arithmetic import EXACT_FIGURES, Exact, Window, in_unit
from problemgen.plan.batch import Batch
from problemgen.plan.windows import UNLIMITED_FIGURES, answer_window, given_window

F = Fraction
EXACT = Exact()

GIVEN: list[tuple[str, str, str, str, str, int]] = [
    # text, unit, then value, low and high in engine units, figures
    ("2.50", "mL", "0.0025", "0.0025", "0.0025", 3),
    ("1.082", "g/mL", "1082", "1082", "1082", 4),
    ("37.0", "%", "0.370", "0.370", "0.370", 3),
    ("100.5", "kPa", "100.5", "100.5", "100.5", 4),
    ("0.0500", "mol/L", "0.05", "0.05", "0.05", 3),
    ("250", "mL", "0.25", "0.25", "0.25", 3),
    # more than the decimal point moves: the converted value may have been rounded to the figures of the data
    # and a temperature may have been converted with 273
    ("25.0", "°C", "298.15", "297.95", "298.2", 4),
    ("25", "°C", "298.15", "297.5", "298.65", 3),
    ("1.00", "atm", "101.325", "100.825", "101.825", 3),
    ("1.0", "atm", "101.325", "100.825", "101.825", 2),  # and to no fewer than three
    ("2.00", "lb", "907.18474", "906.68474", "907.68474", 3),
]


@pytest.mark.parametrize(("text", "unit", "value", "low", "high", "figures"), GIVEN)
def test_the_window_of_a_given_value(text: str, unit: str, value: str, low: str, high: str, figures: int) -> None:
    number = read_written(text)
    window = given_window(number.value, number.place, read_unit(unit), EXACT)
    assert window == Window(F(value), F(low), F(high), figures)


@pytest.mark.parametrize(
    ("kind", "text", "figures"),
    [("peak_area", "1843222", 3), ("peak_area", "18", 2), ("integral", "2.0000", 3), ("protons", "2", EXACT_FIGURES)],
)
def test_a_reading_supports_what_its_kind_is_good_for(kind: str, text: str, figures: int) -> None:
    """A peak area has three figures at most, whatever the integrator prints: common practice, no source."""
    number = read_written(text)
    assert given_window(number.value, number.place, read_unit("1"), EXACT, kind) == Window(
        number.value, number.value, number.value, figures
    )
    many = given_window(np.array([float(number.value)]), number.place, read_unit("1"), Batch(), kind)
    assert np.all(many.figures == figures)


def test_the_windows_of_many_given_values_at_once() -> None:
    window = given_window(np.array([25.0, 99.9]), np.array([-1, -1]), read_unit("°C"), Batch())
    assert window.value == pytest.approx([298.15, 373.05], rel=1e-15)
    assert window.low == pytest.approx([297.95, 372.85], rel=1e-12)
    assert window.high == pytest.approx([298.2, 373.1], rel=1e-15)
    assert window.figures.tolist() == [4, 4]


@pytest.mark.parametrize(
    ("value", "unit", "expected"),
    [
        ("0.0025", "mL", "2.5"),
        ("298.15", "°C", "25"),
        ("0.37", "%", "37"),
        ("101.325", "atm", "1"),
        ("58.44", "g/mol", "58.44"),
    ],
)
def test_a_value_in_a_unit(value: str, unit: str, expected: str) -> None:
    assert in_unit(F(value), read_unit(unit), EXACT) == F(expected)
    assert in_unit(np.array([float(F(value))]), read_unit(unit), Batch()) == pytest.approx([float(expected)], rel=1e-12)


def answer(problems: Any, given: dict[str, str], asked: dict[str, str], **about: Any) -> Window:
    plan = problems.plan(given, asked, **about)
    window: Window = next(iter(problems.answer_windows(plan, problems.data(given)).values()))
    return window


NEAT = {"others": ["C4H6O3"]}


@pytest.mark.parametrize(
    ("given", "asked", "about", "value", "low", "high", "figures"),
    [
        # 2.705 g: half a unit of the third figure for the step, half a unit of the fourth for rounding it again
        (
            {"volume(C4H6O3)": "2.50 mL", "density(C4H6O3)": "1.082 g/mL"},
            {"mass(C4H6O3)": "g"},
            NEAT,
            "2.705",
            "2.6995",
            "2.7105",
            3,
        ),
        # 2.7 g: three figures are kept on the way, two in the answer
        (
            {"volume(C4H6O3)": "2.5 mL", "density(C4H6O3)": "1.082 g/mL"},
            {"mass(C4H6O3)": "g"},
            NEAT,
            "2.705",
            "2.65",
            "2.76",
            2,
        ),
        # a value that is given and asked is only rounded
        ({"mass(C4H6O3)": "2.50 g"}, {"mass(C4H6O3)": "mg"}, NEAT, "2500", "2495", "2505", 3),
        # 58.44 g/mol, rounded to two decimals, and then to four figures
        ({}, {"molar_mass(NaCl)": "g/mol"}, {"others": ["NaCl"]}, "58.44", "58.43", "58.45", UNLIMITED_FIGURES),
        # counted molecules are not rounded
        (
            {"count(N2)": "5 molecules", "count(H2)": "8 molecules"},
            {"count(NH3,theoretical)": "molecules"},
            {"equation": "N2 + 3 H2 -> 2 NH3"},
            "4",
            "4",
            "4",
            1,
        ),
    ],
)
def test_the_acceptance_window(
    problems: Any,
    given: dict[str, str],
    asked: dict[str, str],
    about: dict[str, Any],
    value: str,
    low: str,
    high: str,
    figures: int,
) -> None:
    window = answer(problems, given, asked, **about)
    assert (window.value, window.figures) == (F(value), figures)
    assert float(window.low) == pytest.approx(float(low), rel=1e-12)
    assert float(window.high) == pytest.approx(float(high), rel=1e-12)


def test_the_window_is_in_the_unit_asked_for(problems: Any) -> None:
    given = {"mass(NaCl)": "2.922 g"}
    in_moles = answer(problems, given, {"amount(NaCl)": "mol"}, others=["NaCl"])
    in_millimoles = answer(problems, given, {"amount(NaCl)": "mmol"}, others=["NaCl"])
    for name in ("value", "low", "high"):
        assert getattr(in_millimoles, name) == 1000 * getattr(in_moles, name)


@pytest.mark.parametrize("text", ["2.71", "2.70", "2.705", "2.7050"])
def test_every_usual_way_of_writing_an_answer_is_inside(problems: Any, text: str) -> None:
    """2.705 g: 2.71 rounded half up, 2.70 rounded half to even, and all the figures."""
    given = {"volume(C4H6O3)": "2.50 mL", "density(C4H6O3)": "1.082 g/mL"}
    window = answer(problems, given, {"mass(C4H6O3)": "g"}, **NEAT)
    assert window.low <= F(text) <= window.high


def test_an_answer_rounded_twice_is_inside(problems: Any) -> None:
    """35.0460 mmol is written as 35.05, and that with three figures as 35.1."""
    given = {"volume(HCl,solution)": "41.23 mL", "concentration(HCl)": "0.850 mol/L"}
    window = answer(problems, given, {"amount(HCl)": "mmol"}, others=["HCl"])
    assert window.value == F("35.0455")
    assert window.low <= F("35.1") <= window.high < F("35.101")


def test_exact_windows_are_those_of_a_batch(problems: Any) -> None:
    given = {"volume(C4H6O3)": "2.5 mL", "density(C4H6O3)": "1.082 g/mL"}
    asked = {"mass(C4H6O3)": "g", "amount(C4H6O3)": "mmol", "molar_mass(C4H6O3)": "g/mol"}
    plan = problems.plan(given, asked, **NEAT)
    data = problems.data(given)
    exact = problems.answer_windows(plan, data)
    windows = problems.batch_windows(plan, [data, data])
    for one in plan.asked:
        batch = answer_window(plan, one, windows, Batch())
        for bound in ("value", "low", "high", "figures"):
            many = np.broadcast_to(getattr(batch, bound), (2,))
            assert many == pytest.approx([float(getattr(exact[one.quantity.id], bound))] * 2, rel=1e-12)
