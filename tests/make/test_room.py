from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from problemgen.make.admissible import RULES, judge
from problemgen.make.candidates import Stream, draw_candidates
from problemgen.make.room import room_faults, room_remarks

STREAM = Stream(b"trial", "check", "1", "trial")

LUCKY = """
reaction = "zinc-iodide"
[given.zinc]
mass = { from = 0.200, to = 0.500, unit = "g", read = "balance-0.001" }
[given.iodine]
mass = { from = 5.000, to = 8.000, unit = "g", read = "balance-0.001" }
[[part]]
quantity = "mass"
of = "product"
unit = "g"
"""
"""Zinc always weighs less and always limits: whoever goes by the least mass is right."""

FULL = """
reaction = "isopentyl-acetate"
[given.isopentyl-alcohol]
volume = { from = 150.0, to = 200.0, unit = "mL", step = 0.1 }
[given.acetic-acid]
volume = { from = 90.0, to = 200.0, unit = "mL", step = 0.1 }
[[part]]
quantity = "mass"
of = "product"
unit = "g"
"""


def told(template: Any) -> list[str]:
    judgement = judge(template, draw_candidates(template, STREAM, ["a"], 0, 200))
    return [str(fault) for fault in room_faults(template, "t.toml", judgement)]


def remarked(template: Any) -> list[str]:
    candidates = draw_candidates(template, STREAM, ["a"], 0, 200)
    return [str(remark) for remark in room_remarks(template, "t.toml", candidates, judge(template, candidates))]


@pytest.mark.parametrize("name", ["yield/zinc-iodide", "preparations/triphenylmethanol", "solutions/dilution"])
def test_a_template_with_room_has_no_fault(bench: Any, name: str) -> None:
    assert told(bench.shipped(name)) == []


def test_a_mistake_that_no_part_shows_is_a_fault(bench: Any) -> None:
    (fault,) = [fault for fault in told(bench.template(LUCKY)) if "least-mass-taken" in fault]
    assert fault == (
        "t.toml: part: found the mistake 'least-mass-taken:extent()' (the least mass taken as limiting), "
        "which no asked part ever shows; expected a part that shows it. Ask for extent()."
    )


def test_ranges_that_leave_no_room_are_a_fault(bench: Any) -> None:
    assert told(bench.template(FULL)) == [
        (
            "t.toml: given: found 0.0% of the candidates admissible (turned away: flask 100%); expected at least 1% "
            "of the candidates admissible. Lower the volumes, or give the reaction a larger flask in "
            "banks/reactions.toml."
        )
    ]


def test_the_fault_tells_each_rule_s_share(bench: Any) -> None:
    narrow = FULL.replace("from = 150.0, to = 200.0", "from = 109.0, to = 109.5").replace(
        "from = 90.0, to = 200.0", "from = 57.0, to = 58.0"
    )
    (fault,) = told(bench.template(narrow))
    assert fault.startswith("t.toml: given: found 0.0% of the candidates admissible (turned away: flask ")
    assert ", limiting " in fault


@pytest.mark.parametrize("name", ["yield/zinc-iodide", "preparations/triphenylmethanol", "formulas/percent"])
def test_of_a_template_with_room_enough_there_is_nothing_to_remark(bench: Any, name: str) -> None:
    assert remarked(bench.shipped(name)) == []


SPARE = """
reaction = "zinc-iodide"
[given.zinc]
mass = { from = 0.200, to = 0.500, unit = "g", read = "balance-0.001" }
[given.iodine]
mass = { choose = [1.50, 2.00], unit = "g" }
[[part]]
quantity = "amount"
of = "each reagent"
unit = "mmol"
[[part]]
quantity = "limiting_reagent"
[[part]]
quantity = "mass"
of = "product"
unit = "g"
"""
"""Six hundred combinations, half of which have less zinc than stands in a right proportion."""


def test_few_combinations_are_remarked(bench: Any) -> None:
    assert remarked(bench.template(SPARE))[0] == (
        "t.toml: given: found 602 combinations of drawn numbers; expected 20000 or more. "
        "Widen the ranges, or read them on a finer scale."
    )


def test_a_mistake_that_seldom_shows_is_remarked(bench: Any) -> None:
    """Zinc weighs less than iodine in nearly all candidates and limits in most: the least mass is often right."""
    wide = LUCKY.replace("from = 0.200, to = 0.500", "from = 0.200, to = 1.400")
    (remark,) = [one for one in remarked(bench.template(wide)) if "least-mass-taken" in one]
    assert re.fullmatch(
        r"t\.toml: part: found the mistake 'least-mass-taken:extent\(\)' \(the least mass taken as limiting\), which "
        r"[0-9]+% of candidates show; expected 30% or more\. Widen the ranges, or ask a part that shows the mistake\.",
        remark,
    )


def test_few_admissible_candidates_are_remarked_with_the_rule_that_turns_them_away(bench: Any) -> None:
    template = bench.shipped("yield/zinc-iodide")
    candidates = draw_candidates(template, STREAM, ["a"], 0, 200)
    doubtful = RULES.index("limiting")
    few = replace(judge(template, candidates), turned_away=np.where(np.arange(200) < 4, -1, doubtful))
    assert [str(one) for one in room_remarks(template, "t.toml", candidates, few)] == [
        (
            "t.toml: given: found 2.0% of the candidates admissible (turned away: limiting 98%); expected 3% or more. "
            "Move the reagents' ranges apart, so that one is clearly limiting more often."
        )
    ]


def test_a_template_on_which_no_mistake_is_made_is_remarked(bench: Any) -> None:
    template = bench.shipped("yield/zinc-iodide")
    bare = replace(template, plan=replace(template.plan, mistakes=()))
    assert remarked(bare) == [
        "t.toml: part: found no usual mistake on the way to any part; expected a part on the way to which one is made"
    ]
