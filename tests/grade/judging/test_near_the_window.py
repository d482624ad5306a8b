"""What lies beside the window: accepted and followed, a number before it is rounded to a whole, rounding to both sides.

Numbers are those that the templates draw for s1, worked by hand.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

import pytest

from problemgen.grade.judging.judge import judge_student
from problemgen.model.verdict import PartResult
from tests.support.judged import Judge, parts
from tests.support.own_set import drawn_key

EPSOM = "hydrates/weathered-epsom-salt"  # 3.2022 g, heated 1.5635 g: x = 90.963 mmol / 12.990 mmol = 7.0025
TABLET = "pinned/antacid-tablet"  # 75.18 % of 0.5240 g
ALUMINIUM = "pinned/hydrogen-from-aluminium"  # 6.067 mmol of Al, 14.22 mmol of HCl: 6.067 - 14.22/3 = 1.327 mmol left


def marked(template: str, cells: Mapping[str, str]) -> Mapping[str, PartResult]:
    return parts(judge_student(*drawn_key(template), cells))


# a whole number


@pytest.mark.parametrize("wrote", ["7.002", "7.00246"])
def test_what_rounds_to_the_whole_number_is_right(wrote: str) -> None:
    part = marked(EPSOM, {"1d": wrote})["1d"]
    assert (part.verdict, part.reason, part.points) == ("right", "not-rounded", 2)
    assert part.remarks == ("A whole number is asked for: 7.",)


@pytest.mark.parametrize("wrote", ["7", "7.0", "7.000"])
def test_a_count_has_no_figures_to_remark_on(wrote: str) -> None:
    part = marked(EPSOM, {"1d": wrote})["1d"]
    assert (part.verdict, part.remarks) == ("right", ())


@pytest.mark.parametrize("wrote", ["7.1", "6.9", "6.55", "0.875"])
def test_no_other_number_between_whole_ones_is(wrote: str) -> None:
    assert marked(EPSOM, {"1d": wrote})["1d"].points == 0


def test_it_follows_from_own_answers_before_it_is_rounded() -> None:
    # the mass of the dry salt taken for the loss: 86.788 mmol / 12.990 mmol
    found = marked(EPSOM, {"1a": "1.5635 g", "1b": "86.788", "1d": "6.681"})
    assert [found[label].verdict for label in ("1a", "1b", "1d")] == ["mistake", "follows", "follows"]


@pytest.mark.parametrize(
    ("wrote", "reason"),
    [
        ("0.1428", "hydrate-ratio-inverted:crystal_water(magnesium-sulfate)"),
        ("1.048", "hydrate-masses-compared:crystal_water(magnesium-sulfate)"),
    ],
)
def test_its_mistakes_are_known_before_they_are_rounded(wrote: str, reason: str) -> None:
    part = marked(EPSOM, {"1d": wrote})["1d"]
    assert (part.verdict, part.reason) == ("mistake", reason)


# what was accepted


@pytest.mark.parametrize(("label", "wrote"), [("1c", "7.850"), ("1f", "2.262")])
def test_what_follows_from_an_accepted_answer_is_right(label: str, wrote: str) -> None:
    # 15.684 mmol written as 15.7, which is right; half of that is 7.850 mmol, and 7.842 mmol is the key
    key = drawn_key("pinned/fluorescein", "s2")
    assert parts(judge_student(*key, {label: wrote}))[label].verdict == "rounded"
    found = parts(judge_student(*key, {"1a": "15.7", label: wrote}))
    assert (found["1a"].reason, found["1a"].points) == ("one-figure-fewer", found["1a"].of)
    assert (found[label].verdict, found[label].reason) == ("right", "follows-accepted")
    assert found[label].points == found[label].of


# rounding, to either side


@pytest.mark.parametrize("wrote", ["74.5", "75.9", "75.8", "74.6"])
def test_rounding_counts_to_either_side_alike(wrote: str) -> None:
    part = marked(TABLET, {"1d": wrote})["1d"]
    assert (part.verdict, part.reason, part.points) == ("rounded", "rounded-early", 1)


@pytest.mark.parametrize(
    ("wrote", "verdict", "points"),
    [
        ("74", "rounded", 1),
        ("70", "rounded", 0),  # one figure tells nothing
        ("80", "rounded", 0),
    ],
)
def test_cutting_counts_as_far_as_rounding_leads(wrote: str, verdict: str, points: int) -> None:
    part = marked(TABLET, {"1d": wrote})["1d"]
    assert (part.verdict, part.points) == (verdict, points)


def test_a_cut_beyond_that_is_no_rounding() -> None:
    # 3.936 mmol: 4.0 is one unit of the second figure off or less, and 2 %; 1.4 for 1.327 mmol is 5 %
    assert marked(TABLET, {"1c": "4.0"})["1c"].reason == "rounded-too-far"
    assert marked(ALUMINIUM, {"1h": "1.4"})["1h"].points == 0


# what goes before what


def test_a_fraction_for_a_percentage_goes_before_an_error_derived() -> None:
    # by the algebra alone, 0.752 is also what comes of the molar mass left out
    part = marked(TABLET, {"1c": "3.94", "1d": "0.752"})["1d"]
    assert (part.verdict, part.reason, part.points) == ("mistake", "fraction-for-percent", 1)


def test_the_rest_of_a_percentage_is_known_as_far_off_as_the_part_is() -> None:
    part = marked(TABLET, {"1d": "24.9"})["1d"]  # 24.82, and 0.1 is as much as 75.18 may be off
    assert part.reason == "complement:mass_fraction(calcium-carbonate)"


def test_coefficients_left_out_of_what_is_left_over() -> None:
    cells = {"1a": "6.067", "1b": "14.22", "1c": "9.10", "1d": "7.11", "1e": "hydrogen chloride"}
    part = marked(ALUMINIUM, {**cells, "1h": "8.153"})["1h"]  # 14.22 - 6.067
    assert "coefficient-left-out:amount(hydrogen-chloride,left)" in part.mistakes


def test_right_answers_are_told_in_a_row() -> None:
    cells = {"1a": "6.067", "1b": "14.22", "1c": "9.10", "1d": "7.11", "1e": "hydrogen chloride"}
    part = marked(ALUMINIUM, {**cells, "1h": "1.28"})["1h"]
    assert part.sentence == "Not right. Your answers to 1a, 1b and 1e are right: look at what comes after."


def test_the_share_of_what_is_rounded_is_the_policys(judge: Judge) -> None:
    part = parts(judge({"2c": "5.90 g"}, "rounded_early = 0.25"))["2c"]
    assert part.points == part.of * Fraction(1, 4)
