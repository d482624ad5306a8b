"""Which mistakes every variant owes to show: what the numbers could show, and nothing for which they would be bent."""

from __future__ import annotations

from typing import Any

import pytest

from problemgen.make.admissible import Judge
from problemgen.make.duties import COULD_SHOW

LEAST_MASS, LEAST_AMOUNT = "least-mass-taken:extent()", "least-amount-taken:extent()"

ASKS = """
[[part]]
quantity = "limiting_reagent"
[[part]]
quantity = "mass"
of = "product"
unit = "g"
"""
COMPARES = """
[[part]]
quantity = "amount"
of = "product"
from = "each reagent"
unit = "mmol"
"""
TIN = """
reaction = "tin-iv-iodide"
[given.tin]
mass = { from = 0.500, to = 1.200, unit = "g", read = "balance-0.001" }
[given.iodine]
mass = { from = 2.800, to = 4.600, unit = "g", read = "balance-0.001" }
"""


def ids(mistakes: Any) -> set[str]:
    return {one.id for one in mistakes}


def test_all_that_could_show_is_owed_listed_or_derived(bench: Any) -> None:
    duties = Judge(bench.shipped("amounts/four-ways")).duties
    assert "density-divided:mass(acetic-anhydride)" in ids(duties.owed)
    assert any(name.startswith("upside-down:") for name in ids(duties.owed))
    assert all(duties.shares[name] >= COULD_SHOW for name in ids(duties.owed))


def test_what_may_hide_is_not_owed(bench: Any) -> None:
    name = "other-molar-mass:amount(tin)"
    assert name in ids(Judge(bench.template(TIN + ASKS)).duties.all)
    assert name not in ids(Judge(bench.template(f'may_hide = ["{name}"]\n{TIN}{ASKS}')).duties.all)


def test_where_each_product_is_asked_a_mistake_about_the_reagent_shows_where_it_can(bench: Any) -> None:
    """SnI₄ takes two of iodine: where tin limits, its amount is the least as well; where iodine does, it is not."""
    duties = Judge(bench.template(TIN + COMPARES + ASKS)).duties
    assert [LEAST_AMOUNT in ids(turn) for turn in duties.by_turn] == [False, True]
    assert LEAST_AMOUNT not in ids(duties.owed)


def test_where_no_comparison_is_on_paper_mistakes_with_either_reagent_exclude_each_other(bench: Any) -> None:
    """A wrong amount of tin shows where tin limits, and there the least amount is the limiting one."""
    duties = Judge(bench.template(TIN + ASKS)).duties
    assert duties.by_turn == ()
    assert "other-molar-mass:amount(tin)" in ids(duties.owed)
    assert duties.shares[LEAST_AMOUNT] > COULD_SHOW
    assert LEAST_AMOUNT not in ids(duties.owed)


def test_what_hardly_any_numbers_show_is_not_owed(bench: Any) -> None:
    """Tin weighs less than iodine throughout, and limits in part of the candidates only where it is scarce."""
    duties = Judge(bench.template(TIN.replace("to = 1.200", "to = 0.700") + ASKS)).duties
    assert duties.shares[LEAST_MASS] < COULD_SHOW
    assert LEAST_MASS not in ids(duties.owed)


def test_the_sum_and_the_average_of_what_the_reagents_allow_are_owed(bench: Any) -> None:
    duties = Judge(bench.template(TIN + COMPARES + ASKS)).duties
    assert {"sum:extent()", "average:extent()"} <= ids(duties.owed)


@pytest.mark.parametrize("name", ["yield/tin-iodide", "limiting-reagent/silver-chloride"])
def test_no_variant_hides_what_it_owes(bench: Any, name: str) -> None:
    template = bench.shipped(name)
    judge = Judge(template)
    judgement = judge.judge(bench.drawn(template, 300))
    assert judgement.admitted.any()
    assert sum(judgement.hidden.values()) == (judgement.turned_away == 5).sum()


def test_a_mistake_about_the_reagent_changes_the_reaction_s_extent_alone(bench: Any) -> None:
    about = [one.id for one in bench.template(TIN + ASKS).plan.mistakes if one.is_about_the_reagent]
    assert about == ["excess-taken:extent()", LEAST_AMOUNT, LEAST_MASS]
