"""The right way, rounded too early: told apart from a wrong method, and paid by its own share."""

from __future__ import annotations

from fractions import Fraction

import pytest

from problemgen.grade.judging.judge import explain_student, judge_student
from tests.support.judged import RIGHT, Judge, parts
from tests.support.own_set import drawn_key


@pytest.mark.parametrize(
    ("label", "wrote"),
    [
        ("2c", "5.90 g"),  # 4.05 g over 88 g/mol, times 130 g/mol, and a little less
        ("2d", "71.2 %"),  # 4.20 g over that
        ("1f", "412.6 mg"),  # 330 g/mol for 331.7
    ],
)
def test_rounding_on_the_way_is_told_apart(judge: Judge, label: str, wrote: str) -> None:
    part = parts(judge({label: wrote}))[label]
    assert (part.verdict, part.reason, part.points) == ("rounded", "rounded-early", part.of / 2)
    assert part.at
    assert part.sentence == (
        "The way is right, but a result on the way was rounded too early: "
        "keep at least one figure more than the data support until the end."
    )
    assert part.mistakes == ()


@pytest.mark.parametrize(
    ("label", "wrote", "share"),
    [
        ("1f", "0.41 g", Fraction(1, 2)),  # two figures of four
        ("1a", "2.5 mmol", Fraction(1)),  # the very number
        ("2b", "0.05 mol", Fraction(0)),  # one figure fits too much to earn anything
    ],
)
def test_rounding_the_answer_too_far(judge: Judge, label: str, wrote: str, share: Fraction) -> None:
    part = parts(judge({label: wrote}))[label]
    assert part.points == part.of * share
    assert (part.verdict, part.reason) == (("right", "in-window") if share == 1 else ("rounded", "rounded-too-far"))


@pytest.mark.parametrize(
    ("policy", "cells", "points"),
    [
        ("rounded_early = 0.25", {"2c": "5.90 g"}, Fraction(1, 2)),
        ("rounded_early = 0", {"2c": "5.90 g"}, Fraction(0)),
        ("rounded_early = 1", {"2c": "5.90 g"}, Fraction(2)),
        # from the student's own wrong mass, and only then rounded: both shares count
        ("follow_through = 0.5", {"2a": "3.50 g", "2c": "5.22 g"}, Fraction(1, 2)),
    ],
)
def test_the_share_is_the_policys(judge: Judge, policy: str, cells: dict[str, str], points: Fraction) -> None:
    part = parts(judge(cells, policy))["2c"]
    assert (part.verdict, part.points) == ("rounded", points)


def test_a_mistake_is_named_before_rounding_is_thought_of(judge: Judge) -> None:
    # 663.5 mg is what the excess reagent gives; 5.00 g the forgotten density
    assert parts(judge({"1f": "663.5 mg"}))["1f"].verdict == "mistake"
    assert parts(judge({"2a": "5.00 g"}))["2a"].verdict == "mistake"


@pytest.mark.parametrize("wrote", ["800 mg", "200.0 mg", "397.5 mg", "120 mg"])
def test_what_no_rounding_leads_to_is_wrong(judge: Judge, wrote: str) -> None:
    assert parts(judge({"1f": wrote}))["1f"].verdict == "wrong"


def test_what_is_gone_on_with_is_followed(judge: Judge) -> None:
    found = parts(judge({**RIGHT, "2c": "5.90 g", "2d": "71.2 %"}))
    assert [found[label].verdict for label in ("2c", "2d")] == ["rounded", "follows"]


@pytest.mark.parametrize("third", ["33 %", "0.4", "0"])
@pytest.mark.parametrize("same", ["2.2 g", "1.9856 g", "0.001 g", "9e30 g", "1e400 g"])
def test_own_values_that_cannot_be_gone_on_with_are_no_way_to_an_answer(same: str, third: str) -> None:
    # The mass percent divides by the difference of the first two: 0 for who answered the same to both.
    head, key = drawn_key("mixtures/table-salt-with-potassium")
    marked = parts(judge_student(head, key, {"1a": same, "1b": same, "1c": third, "1d": "0.4 g"}))
    assert (marked["1c"].verdict, marked["1c"].points) == ("wrong", 0)
    told = explain_student(head, key, {"1a": same, "1b": same, "1c": third})
    assert [one.result.verdict for one in told][2:] == ["wrong", "blank"]
