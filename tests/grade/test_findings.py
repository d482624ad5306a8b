"""Rounding by one figure too much is no wrong method; by more it is told as rounding."""

from __future__ import annotations

from fractions import Fraction

import pytest

from problemgen.chemistry.units import read_unit
from problemgen.grade.findings import RIGHT, Finding, rounded_once_more, rounded_too_far
from problemgen.grade.reading import read_answer
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
    reading = read_answer(wrote, read_unit("mmol"))
    assert rounded_once_more(reading, PART, TRUTH) is forgiven


@pytest.mark.parametrize(
    ("wrote", "too_far"),
    [
        ("21 mmol", True),
        ("20 mmol", False),
        ("0.021 mol", True),
        ("22 mmol", False),
        ("20.80 mmol", False),
        ("?", False),
    ],
)
def test_two_figures_are_told_as_rounding(wrote: str, *, too_far: bool) -> None:
    assert rounded_too_far(read_answer(wrote, read_unit("mmol")), PART, TRUTH) is too_far
