"""Rounding by one figure too much is no wrong method; by more it is told as rounding."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from problemgen.chemistry.units import read_unit
from problemgen.exact.rounding import exponent, figures_text
from problemgen.grade.judging.closeness import rounded_once_more, rounded_too_far, within_last_digit
from problemgen.grade.judging.findings import (
    RIGHT,
    AnsweredNumber,
    Finding,
    said_in,
)
from problemgen.grade.reading.cell import read_answer
from problemgen.model.answers import PartKey
from problemgen.model.blocks import Prose
from problemgen.model.problem import Asked
from problemgen.model.quantity import Quantity
from problemgen.model.truths import NumberTruth

F = Fraction
PART = PartKey("01", "a", Asked(Quantity("amount", "iron"), "mmol"), F(1), (Prose("The amount of iron"),), 1)
TRUTH = NumberTruth(F("20.82"), F("20.811"), F("20.829"), 4, "20.82")


def test_an_answer_that_is_not_right_is_told_in_one_phrase() -> None:
    assert [Finding.not_right().sentence, Finding.not_right("Compare the amounts.").sentence, RIGHT.sentence] == [
        "Not right.",
        "Not right. Compare the amounts.",
        "Right.",
    ]


@pytest.mark.parametrize(
    ("wrote", "forgiven"),
    [
        ("20.8 mmol", True),
        ("20,8", True),
        ("0.0208 mol", True),
        ("20.9 mmol", False),  # rounded the wrong way
        ("21 mmol", False),  # two figures
        ("20.80 mmol", False),  # four figures, and wrong in the last
        ("3/4", False),
    ],
)
def test_one_figure_fewer_is_forgiven_from_three_figures_on(wrote: str, *, forgiven: bool) -> None:
    assert any(rounded_once_more(answer, TRUTH) for answer in said_of(wrote)) is forgiven


@pytest.mark.parametrize(
    ("wrote", "too_far"),
    [
        ("21 mmol", True),
        ("20 mmol", True),  # cut
        ("20.7", False),  # neither rounded nor cut
        ("0.021 mol", True),
        ("22 mmol", False),
        ("20.80 mmol", False),
        ("?", False),
    ],
)
def test_two_figures_are_told_as_rounding(wrote: str, *, too_far: bool) -> None:
    assert any(rounded_too_far(answer, TRUTH) for answer in said_of(wrote)) is too_far


@pytest.mark.parametrize(
    ("wrote", "within"),
    [("20.83", True), ("20.81 mmol", True), ("0.02083 mol", True), ("20.84", False), ("20.80", False), ("20.8", False)],
)
def test_one_unit_of_the_last_digit(wrote: str, *, within: bool) -> None:
    assert any(within_last_digit(answer, TRUTH) for answer in said_of(wrote)) is within


def test_a_count_has_no_last_digit() -> None:
    twelve = NumberTruth(F(12), F(12), F(12), 2, "12")
    (answer,) = said_in(read_answer("13", read_unit("1")), PART, twelve)
    assert not within_last_digit(answer, twelve)


@pytest.mark.parametrize(
    ("wrote", "figures"),
    [("170", [3, 2]), ("1700", [3, 2]), ("17", [2]), ("1.70e2", [3]), ("20.0", [3]), ("1000", [3, 2, 1])],
)
def test_zeros_at_the_end_of_a_whole_number_are_figures_or_none(wrote: str, figures: list[int]) -> None:
    truth = NumberTruth(F("166.25"), F("166.1"), F("166.4"), 3, "166")
    assert [answer.written for answer in said_in(read_answer(wrote, read_unit("mmol")), PART, truth)] == figures


@pytest.mark.parametrize("figures", [3, 4, 5])
@given(st.decimals("0.001", "1000", places=6).map(F))
def test_the_nearer_form_of_the_key_is_never_worth_less(figures: int, value: F) -> None:
    """Rounded and cut to 2, 3, 4 and 5 figures: right, half right, or not, by nothing but the distance."""
    truth = NumberTruth(value, value * F("0.9995"), value * F("1.0005"), figures, figures_text(value, figures))
    forms = [
        worth(text, truth) for places in (2, 3, 4, 5) for text in (figures_text(value, places), cut(value, places))
    ]
    for distance, points in forms:
        assert all(points >= other for farther, other in forms if farther > distance)


def worth(text: str, truth: NumberTruth) -> tuple[F, F]:
    """The distance from the key, and the best that a reading of it is worth."""
    (answer, *_) = found = said_in(read_answer(text, read_unit("mmol")), PART, truth)
    right = any(
        truth.low <= one.value <= truth.high or rounded_once_more(one, truth) or within_last_digit(one, truth)
        for one in found
    )
    half = any(rounded_too_far(one, truth) for one in found)
    return abs(answer.value - truth.value), F(1) if right else F(1, 2) if half else F(0)


def cut(value: F, figures: int) -> str:
    place = exponent(value) - figures + 1
    unit = F(10) ** place
    return figures_text(value // unit * unit, figures)


def said_of(wrote: str) -> tuple[AnsweredNumber, ...]:
    return said_in(read_answer(wrote, read_unit("mmol")), PART, TRUTH)
