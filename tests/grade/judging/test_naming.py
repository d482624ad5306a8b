"""How mistakes are named: one, two together, several that cannot be told apart; never against what was shown."""

from __future__ import annotations

from fractions import Fraction

import pytest

from problemgen.plan.tellings import OTHER_REAGENT
from tests.support.judged import RIGHT, Judge, parts


def test_with_the_right_reagent_ticked_the_sentence_says_so(judge: Judge) -> None:
    cells = {one: text for one, text in RIGHT.items() if one < "1f"}
    part = parts(judge({**cells, "1f": "663.5 mg"}))["1f"]
    assert part.verdict == "mistake"
    assert part.at == ("extent()",)
    assert OTHER_REAGENT in part.sentence


@pytest.mark.parametrize(("policy", "points"), [("", Fraction(1, 2)), ("unit_slip = 0.25", Fraction(1, 4))])
def test_a_unit_that_was_not_converted_earns_what_a_slip_of_it_does(
    judge: Judge, policy: str, points: Fraction
) -> None:
    part = parts(judge({"1a": "2500"}, policy))["1a"]
    assert part.mistakes == ("millilitres-as-litres:amount(silver-nitrate)",)
    assert part.points == part.of * points


def test_the_unit_of_the_students_calculation_is_told(judge: Judge) -> None:
    part = parts(judge({"2b": "21.8 mol"}))["2b"]  # 88.15 over 4.05
    assert part.reason.startswith("upside-down:amount(isopentyl-alcohol)")
    assert part.sentence == (
        "This looks like: a quotient upside down. Amount from mass: the quotient for the amount of 3-methylbutan-1-ol "
        "seems to be upside down (that gives 1/mol, which is no amount)."
    )
