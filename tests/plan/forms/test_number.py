from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from problemgen.model.blocks import Line, Prose, Strong
from problemgen.model.policy import Tolerance
from problemgen.model.problem import Asked, Scene
from problemgen.model.quantity import Quantity
from problemgen.model.truths import NumberTruth
from problemgen.plan.forms.form import Cells, SpreadRow
from problemgen.plan.forms.number import NUMBER, is_wide

NOWHERE = Scene({}, frozenset(), {})
ASKED = Asked(Quantity("amount", "iron"), "mmol")
IN_MOL = Asked(Quantity("amount", "iron"), "mol")
SMALL = NumberTruth(Fraction("0.0000924"), Fraction("0.0000922"), Fraction("0.0000926"), 3, "9.24e-5")


@pytest.mark.parametrize(
    ("value", "half", "figures", "wide"),
    [
        ("2.00", "0.06", 3, False),
        ("2.00", "0.061", 3, True),
        ("2.0", "0.16", 2, False),
        ("2.0", "0.17", 2, True),
        ("0", "0.01", 3, True),
        ("0", "0", 1, False),
        ("-2.00", "0.05", 3, False),
    ],
)
def test_a_window_is_wide_by_its_half_width(value: str, half: str, figures: int, wide: bool) -> None:
    middle, by = Fraction(value), Fraction(half)
    truth = NumberTruth(middle, middle - by, middle + by, figures, value)
    assert is_wide(truth) == wide
    assert bool([*NUMBER.notes(NOWHERE, truth)]) == wide


def test_a_number_is_printed_with_its_window_and_unit() -> None:
    assert NUMBER.cells(NOWHERE, IN_MOL, SMALL) == Cells(
        (Strong("9.24\u00a0×\u00a010⁻⁵"),), "9.2200\u00a0×\u00a010⁻⁵", "9.2600\u00a0×\u00a010⁻⁵", "mol"
    )
    assert NUMBER.text(NOWHERE, IN_MOL, SMALL) == "9.24e-5 mol"
    four = NumberTruth(Fraction(4), Fraction(4), Fraction(4), 1, "4")
    assert NUMBER.text(NOWHERE, replace(IN_MOL, unit="1"), four) == "4"


def test_an_explanation_tells_the_window() -> None:
    truth = NumberTruth(Fraction("0.0459"), Fraction("0.0458"), Fraction("0.0461"), 3, "0.0459")
    assert NUMBER.explained(NOWHERE, ASKED, truth) == "0.0459, accepted from 0.0458000 to 0.0461000 mmol"


@pytest.mark.parametrize(
    ("read", "line"),
    [
        ("47 mmol", (Prose("47\u00a0mmol"),)),
        ("-1.5e-3", (Prose("−1.5\u00a0×\u00a010⁻³"),)),
        ("iron 3", (Prose("iron 3"),)),
    ],
)
def test_what_was_read_is_printed_as_on_the_sheet(read: str, line: Line) -> None:
    assert NUMBER.read_as(read) == line


def test_only_another_window_changes_an_answer() -> None:
    assert NUMBER.tolerated(SMALL, Tolerance()) is SMALL
    widened = NUMBER.tolerated(SMALL, Tolerance("replaced", Fraction(1, 100)))
    assert widened == replace(SMALL, low=SMALL.value * Fraction(99, 100), high=SMALL.value * Fraction(101, 100))


def test_a_class_is_told_by_least_median_and_greatest_number() -> None:
    spread = NUMBER.spread(NOWHERE, ASKED)
    for value in (Fraction(3), Fraction(1), Fraction(2)):
        spread.add(NumberTruth(value, value * Fraction(99, 100), value * Fraction(101, 100), 3, f"{value}.00"))
    assert spread.row() == SpreadRow("", ("1.00", "2.00", "3.00", "mmol", "1.00", "1.00"))


@pytest.mark.parametrize(("unit", "text"), [("mmol", "5.0 mmol"), ("1", "5.0")])
def test_a_number_is_handed_in_with_its_unit(unit: str, text: str) -> None:
    asked = Asked(Quantity("amount", "iron"), unit)
    assert NUMBER.handed_in(NOWHERE, NoPlan, asked, {}, lambda: "5.0") == text  # type: ignore[arg-type]


class NoPlan:
    """Stands where no plan is looked at."""
