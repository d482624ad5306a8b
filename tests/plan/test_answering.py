"""Answers from a plan and its given values: the same for drawn and for measured ones."""

from __future__ import annotations

from fractions import Fraction

import pytest

from problemgen.model.answers import Truth
from problemgen.plan.answering import answer_to, datum_windows, equation_text, is_wide, truth_of, undecided
from problemgen.plan.arithmetic import Exact, Window
from problemgen.plan.evaluate import window_values
from tests.support.own_set import drawn_key
from tests.support.shipped import NAMES, shipped, variant_of


@pytest.mark.parametrize("name", NAMES)
def test_an_answer_is_the_same_after_its_way_through_the_file(name: str) -> None:
    _, key = drawn_key(name)
    assert {one.part: truth_of(one) for one in variant_of(name).answers} == key.problems[0].truths


def test_a_problem_is_answered_from_its_plan_alone() -> None:
    template, variant = shipped("yield/fluorescein"), variant_of("yield/fluorescein")
    windows = window_values(template.plan, datum_windows(variant.given), Exact())
    answers = [answer_to(template.plan, template.scene, part.id, part.asked, windows) for part in template.parts]
    assert tuple(answers) == variant.answers


def test_an_equation_is_told_balanced() -> None:
    assert equation_text(shipped("equations/butane-burns").scene) == "2 C4H10 + 13 O2 -> 8 CO2 + 10 H2O"


def extents(*bounds: tuple[str, str, str]) -> dict[str, Window]:
    names = ("resorcinol", "phthalic-anhydride")
    return {
        f"extent({name})": Window(*(Fraction(one) for one in bound), 3)
        for name, bound in zip(names, bounds, strict=True)
    }


@pytest.mark.parametrize(
    ("bounds", "also"),
    [
        ((("1.00", "0.99", "1.01"), ("1.20", "1.19", "1.21")), ()),
        ((("1.00", "0.99", "1.01"), ("1.015", "1.005", "1.025")), ("phthalic-anhydride",)),
        ((("1.02", "1.01", "1.03"), ("1.01", "1.00", "1.02")), ("resorcinol",)),
        ((("1.00", "1.00", "1.00"), ("1.00", "1.00", "1.00")), ("phthalic-anhydride",)),
        ((("1.00", "0.99", "1.01"), ("1.03", "1.011", "1.04")), ()),
    ],
)
def test_reagents_whose_windows_overlap_are_undecided(
    bounds: tuple[tuple[str, str, str], ...], also: tuple[str, ...]
) -> None:
    assert undecided(shipped("yield/fluorescein").plan, extents(*bounds)) == also


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
    assert is_wide(Truth(middle, middle - by, middle + by, figures, value, "")) == wide
