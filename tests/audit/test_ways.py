"""The ways in which students go wrong: one step, every step, two steps; and right at first, wrong at last."""

from __future__ import annotations

import pytest

from problemgen.audit.ways import PAIRS, ways_of
from tests.support.shipped import shipped

CHOICE = "limiting-reagent/silver-chromate"


def test_ways_are_in_one_step_in_every_step_and_in_two() -> None:
    template = shipped(CHOICE)
    ways = ways_of(template)
    assert len({way.id for way in ways}) == len(ways)
    single = [way for way in ways if way.single]
    assert all(len(way.wrong) == 1 for way in single)
    assert {name for way in single for name in way.wrong} == {
        step.quantity.id for step in template.plan.steps if step.needs
    } - {"amount(silver-chromate,from:silver-nitrate)"}
    pairs = [way for way in ways if way.sort == "in two steps"]
    assert PAIRS / 2 < len(pairs) <= PAIRS
    assert all(len(way.wrong) == 2 for way in pairs)


def test_the_same_is_done_in_every_step_of_the_kind() -> None:
    everywhere = [way for way in ways_of(shipped(CHOICE)) if way.mode == "every step" and way.sort == "factor inverted"]
    both = {"amount(silver-nitrate)", "amount(potassium-chromate)"}
    assert [way.wrong for way in everywhere] == [both] * 3  # concentration, volume, volume as printed


def test_a_step_goes_wrong_in_the_last_part_alone() -> None:
    """The molar mass of urea: right for its share of nitrogen, wrong where the count of atoms needs it again."""
    template = shipped("composition/nitrogen-in-urea")
    late = [way for way in ways_of(template) if way.mode == "last part"]
    assert late
    asked = [part.asked.quantity.id for part in template.parts]
    for way in late:
        assert way.wrong == {"molar_mass(urea)"}
        assert way.id.endswith(" at molar_mass(urea), in the last part alone")
        assert [step.quantity.id for step in way.steps if step.quantity.id in asked] == [asked[-1]]


def test_nobody_works_anew_what_led_to_a_right_answer() -> None:
    """The subscripts of the empirical formula are right: no other ones stand behind the molecular one."""
    assert not any(way.mode == "last part" for way in ways_of(shipped("formulas/phosphorus-sulfide")))


@pytest.mark.parametrize("name", [CHOICE, "formulas/percent", "gases/magnesium-over-water"])
def test_what_follows_is_worked_again(name: str) -> None:
    template = shipped(name)
    for way in ways_of(template):
        names = [step.quantity.id for step in way.steps]
        assert way.wrong <= set(names)
        assert way.mode == "last part" or tuple(way.steps) == template.plan.stale(way.wrong)
