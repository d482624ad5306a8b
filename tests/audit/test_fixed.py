from __future__ import annotations

from itertools import pairwise

import pytest

from problemgen.audit.fixed import TOLERANCES, fixed_tolerances
from problemgen.audit.records import FixedTolerance
from problemgen.audit.students import drawn_groups
from problemgen.audit.ways import ways_of
from tests.support.shipped import shipped


def compared(name: str) -> tuple[FixedTolerance, ...]:
    template = shipped(name)
    return fixed_tolerances(drawn_groups(template, 300, "three glass beads"), ways_of(template))


@pytest.mark.parametrize("name", ["limiting-reagent/silver-chromate", "preparations/camphor", "formulas/percent"])
def test_a_wider_tolerance_refuses_fewer_and_rewards_more(name: str) -> None:
    fixed = compared(name)
    assert tuple(one.tolerance for one in fixed) == TOLERANCES
    for narrow, wide in pairwise(fixed):
        assert narrow.refused >= wide.refused
        assert narrow.rewarded <= wide.rewarded
        assert narrow.lucky <= wide.lucky
        assert (narrow.students, narrow.mistakes) == (300, wide.mistakes)


def test_blind_numbers_reward_some_mistake() -> None:
    """A student is counted once, however many mistakes are rewarded."""
    *_, wide = compared("preparations/camphor")
    assert wide.lucky > 0.1 * wide.students
    assert wide.lucky <= wide.rewarded
