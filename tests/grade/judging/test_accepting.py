"""A given answer is judged as a student's is: by the judge of its form, for itself."""

from __future__ import annotations

from fractions import Fraction

import pytest

from problemgen.exact.digits import read_written
from problemgen.grade.judging.accepting import accepts, accepts_choice
from problemgen.model.fixed import Datum
from problemgen.model.plan import Plan, Step
from problemgen.model.problem import Asked, Scene, Species
from problemgen.model.quantity import Quantity
from problemgen.model.truths import ChoiceTruth, NumberTruth, TextTruth

SHARE, PART = Quantity("mass_fraction", "Cu"), Quantity("mass", "Cu")
PLAN = Plan((PART,), (), (Step(SHARE, "share", "w", ("div", PART.id, ("num", "1")), "figures"),), (), ())
GIVEN = {PART.id: Datum(read_written("0.6994"), "g")}
SCENE = Scene({}, frozenset(GIVEN), {})


@pytest.mark.parametrize(
    ("wrote", "right"),
    [
        ("69.94", True),
        ("69.94 %", True),
        ("69.9", True),
        ("w = 69.94", True),
        ("70", False),
        ("69.8", False),
        ("699.4", False),
        ("69.94 g", False),
        ("", False),
        ("69.94 or 70.1", False),
    ],
)
def test_a_number_is_read_and_judged_by_the_rules_of_marking(wrote: str, right: bool) -> None:
    truth = NumberTruth(Fraction("69.94"), Fraction("69.93"), Fraction("69.95"), 4, "69.94")
    assert accepts(PLAN, SCENE, GIVEN, Asked(SHARE, "%"), truth, wrote) is right


@pytest.mark.parametrize(("wrote", "right"), [("CuO", True), ("OCu", True), ("Cu2O", False), ("none", False)])
def test_a_formula_is_judged_by_its_composition(wrote: str, right: bool) -> None:
    asked = Asked(Quantity("molar_mass", "compound"), "g/mol", "formula")
    step = Step(asked.quantity, "x", "M", ("num", "79.545"), "none")
    plan = Plan((), (), (step,), (asked,), ())
    assert accepts(plan, SCENE, {}, asked, TextTruth("CuO"), wrote) is right


@pytest.mark.parametrize(
    ("wrote", "right"),
    [("nitrogen", True), ("N2", True), ("oxygen", True), ("hydrogen", False), ("", False), ("brine", False)],
)  # fmt: skip
def test_a_choice_is_right_by_name_or_formula_and_so_is_one_that_comes_to_the_same(wrote: str, right: bool) -> None:
    from_names = [Species("N2", "nitrogen"), Species("O2", "oxygen"), Species("H2", "hydrogen"), Species("x", "brine")]
    truth = ChoiceTruth("N2", ("O2",))
    assert accepts_choice(from_names, truth, wrote) is right
