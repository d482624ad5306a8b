from __future__ import annotations

from itertools import pairwise

import pytest

from problemgen.audit.fixed import TOLERANCES, fixed_tolerances
from problemgen.audit.records import FixedTolerance
from problemgen.audit.students import drawn_groups, ways_of
from tests.support.shipped import shipped


def compared(name: str, undone: tuple[str, ...] = ()) -> tuple[FixedTolerance, ...]:
    template = shipped(name)
    return fixed_tolerances(drawn_groups(template, 300, "three glass beads"), ways_of(template.plan), undone)


@pytest.mark.parametrize("name", ["limiting-reagent/silver-chromate", "preparations/camphor", "formulas/percent"])
def test_a_wider_tolerance_refuses_fewer_and_rewards_more(name: str) -> None:
    fixed = compared(name)
    assert tuple(one.tolerance for one in fixed) == TOLERANCES
    for narrow, wide in pairwise(fixed):
        assert narrow.refused >= wide.refused
        assert narrow.rewarded <= wide.rewarded
        assert narrow.pairs_rewarded <= wide.pairs_rewarded
        assert narrow.lucky <= wide.lucky
        assert (narrow.students, narrow.mistakes, narrow.pairs) == (300, wide.mistakes, wide.pairs)


def test_blind_numbers_reward_whoever_goes_by_the_least_mass() -> None:
    """In a preparation with two reagents the lighter one limits about as often as not: whoever weighs is right."""
    one, *_ = compared("preparations/camphor")
    assert 0.1 < one.lucky / one.students < 0.6
    assert one.lucky <= one.rewarded  # a student is counted once, however many mistakes are rewarded


def test_pairs_that_undo_each_other_are_left_out() -> None:
    undone = ("ratio-left-out + excess-taken:extent()", "ratio-inverted + excess-taken:extent()")
    every, some = compared("preparations/benzhydrol"), compared("preparations/benzhydrol", undone)
    assert every[0].pairs - some[0].pairs == 600
    assert every[0].pairs_rewarded - some[0].pairs_rewarded >= 400
