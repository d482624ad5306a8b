from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from problemgen.make.admissible import RULES, Judge, Judgement
from problemgen.make.candidates import Stream, draw_candidates
from problemgen.make.room import has_room, room_faults, room_remarks

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

FIXED = """
[given.hydrogen-chloride]
volume = { from = 10.00, to = 25.00, unit = "mL", read = "burette-25" }
concentration = { value = 1.000, unit = "mol/L" }
[[part]]
quantity = "amount"
of = "hydrogen-chloride"
unit = "mmol"
"""

SELDOM = FIXED.replace("value = 1.000", "choose = [1.000, 1.001, 1.002, 1.003, 0.999, 0.998, 0.997, 1.200]")
"""One bottle in eight tells n = cV from n = V/c."""

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
    judge = Judge(template)
    judgement = judge.judge(draw_candidates(template, STREAM, ["a"], 0, 200))
    return [str(fault) for fault in room_faults(template, "t.toml", judge, judgement)]


def remarked(template: Any) -> list[str]:
    judge, candidates = Judge(template), draw_candidates(template, STREAM, ["a"], 0, 200)
    remarks = room_remarks(template, "t.toml", candidates, judge, judge.judge(candidates))
    return [str(remark) for remark in remarks]


@pytest.mark.parametrize("name", ["yield/zinc-iodide", "preparations/triphenylmethanol", "solutions/dilution"])
def test_a_template_with_room_has_no_fault(bench: Any, name: str) -> None:
    assert told(bench.shipped(name)) == []


def test_a_mistake_that_no_numbers_show_is_remarked(bench: Any) -> None:
    (remark,) = [one for one in remarked(bench.template(LUCKY)) if "least-mass-taken" in one]
    assert remark == (
        "t.toml: part: found the mistake 'least-mass-taken:extent()' (the least mass taken as limiting), "
        "which no asked part ever shows; expected a mistake that shows, or its id in `may_hide`. "
        "Ask for extent(), widen the ranges, or say `may_hide` in the template."
    )


def test_a_mistake_that_may_hide_is_not_remarked(bench: Any) -> None:
    waived = bench.template('may_hide = ["least-mass-taken:extent()"]\n' + LUCKY)
    assert not any("least-mass-taken" in one for one in remarked(waived))


def test_a_mistake_that_a_fixed_value_hides_is_remarked_with_the_value(bench: Any) -> None:
    """n = cV and n = V/c are one number where c is 1: the instructor's bottle, and nothing is refused."""
    template = bench.template(FIXED)
    assert told(template) == []
    (remark,) = [one for one in remarked(template) if "concentration-divided" in one]
    assert "it rests on the fixed concentration(hydrogen-chloride) = 1.000 mol/L" in remark


def test_one_limiting_reagent_for_a_whole_class_is_a_fault(bench: Any) -> None:
    assert told(bench.template(LUCKY)) == [
        (
            "t.toml: given: found one limiting reagent for a whole class (zinc in 100%, iodine in 0%); expected two "
            "reagents or more that each limit in 5% or more of the admissible candidates. Move the reagents' ranges, "
            "ask how much product each reagent could give, or name the one with `always_limits` and the reason with "
            "`because`."
        )
    ]
    why = 'always_limits = "zinc"\nbecause = "Iodine is in excess."\n'
    assert told(bench.template(why + LUCKY)) == []


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


def test_a_mistake_that_shows_with_one_reagent_alone_is_remarked(bench: Any) -> None:
    """Where zinc limits, the least mass is right; where iodine does, a wrong amount of zinc is."""
    wide = LUCKY.replace("from = 0.200, to = 0.500", "from = 0.200, to = 2.100")
    (remark,) = [one for one in remarked(bench.template(wide)) if "least-mass-taken" in one]
    assert re.fullmatch(
        r"t\.toml: part: found the mistake 'least-mass-taken:extent\(\)' \(the least mass taken as limiting\), which "
        r"[0-9]+% of candidates show, but not together with the others; expected a mistake that shows, or its id in "
        r"`may_hide`\. Ask for extent\(\), widen the ranges, or say `may_hide` in the template\.",
        remark,
    )


def test_a_mistake_that_seldom_shows_is_remarked(bench: Any) -> None:
    (remark,) = [one for one in remarked(bench.template(SELDOM)) if "concentration-divided" in one]
    assert re.fullmatch(
        r"t\.toml: part: found the mistake 'concentration-divided:amount\(hydrogen-chloride\)' \(concentration used "
        r"upside down\), which [0-9]+% of candidates show; expected 30% or more\. Widen the ranges, ask a part that "
        r"shows the mistake, or let it hide with `may_hide`\.",
        remark,
    )


def test_few_admissible_candidates_are_remarked_with_the_rule_that_turns_them_away(bench: Any) -> None:
    template = bench.shipped("yield/zinc-iodide")
    candidates = draw_candidates(template, STREAM, ["a"], 0, 200)
    doubtful = RULES.index("limiting")
    judge = Judge(template)
    few = replace(judge.judge(candidates), turned_away=np.where(np.arange(200) < 4, -1, doubtful), hidden={})
    assert [str(one) for one in room_remarks(template, "t.toml", candidates, judge, few)] == [
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


@pytest.mark.parametrize(("admitted", "rows", "room"), [(60, 2000, True), (59, 2000, False), (0, 10, False)])
def test_there_is_room_whatever_the_candidates_are_that_were_not_judged(admitted: int, rows: int, room: bool) -> None:
    judged = Judgement(np.array([-1] * admitted + [0] * 10), {})
    assert has_room(judged, rows) is room
