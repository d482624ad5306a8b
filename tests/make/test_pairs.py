"""Two mistakes together: what hides them is not handed out, what cancels is no mistake."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from problemgen.make.admissible import RULES, Judge
from problemgen.make.candidates import Stream, draw_candidates
from problemgen.make.mistakes import shown_by
from problemgen.make.pairs import Pair, PairsOwed, led_near, pairs_of
from problemgen.make.rules import work
from problemgen.plan.arithmetic import Window

COINCIDENT, CANCELLING = "mixtures/caked-bicarbonate", "preparations/triphenylmethanol"
ALWAYS = ("other-molar-mass:mass(hydrogen-chloride)", "percent-divided:mass(hydrogen-chloride,solution)")
SOLUTION, VOLUME = "mass(hydrogen-chloride,solution)", "11"
"""The mass of the acid's solution, and the part that asks for its volume."""


def pair_of(template: Any, first: str, second: str) -> Pair:
    (pair,) = [one for one in pairs_of(template.plan) if (one.first.id, one.second.id) == (first, second)]
    return pair


def drawn(template: Any, size: int = 600) -> Any:
    return draw_candidates(template, Stream(b"pairs", "tests", "p1"), ["s"], 0, size)


def test_mistakes_that_rewrite_one_step_are_no_pair(bench: Any) -> None:
    plan = bench.shipped("preparations/triphenylmethanol").plan
    for pair in pairs_of(plan):
        first, second = ({name for name, _ in one.rewrites} for one in (pair.first, pair.second))
        assert first.isdisjoint(second)
        assert set(pair.rewrites) == first | second
        assert [step.quantity.id for step in pair.steps] == [step.quantity.id for step in plan.stale(pair.rewrites)]


def test_a_pair_that_comes_out_right_by_coincidence_is_turned_away(bench: Any) -> None:
    """The amount halved and the share upside down: at a purity near 71 % both together give the right percentage."""
    template = bench.shipped(COINCIDENT)
    candidates = drawn(template)
    pair = pair_of(template, "coefficient-in-amount", "share-inverted:mass_fraction(sodium-hydrogencarbonate)")
    kept = work(template, candidates)
    with np.errstate(all="ignore"):
        hidden = ~shown_by(template, (pair.first, pair.second), kept).shown
        singles = [shown_by(template, [one], kept).shown for one in (pair.first, pair.second)]
    assert 0 < np.count_nonzero(hidden) < 120
    assert all(single.all() for single in singles)
    judged = Judge(template).judge(candidates)
    assert (judged.turned_away[hidden] == RULES.index("mistake")).all()
    assert judged.admitted.any()


def test_a_pair_that_nearly_always_cancels_is_not_owed(bench: Any) -> None:
    """Once hydrogen chloride is worked with the product's molar mass and the percentage multiplied, two wrong constants
    stand for one right one: no drawn number changes that.
    """
    template = bench.shipped(CANCELLING)
    candidates = drawn(template)
    judge = Judge(template)
    kept = work(template, candidates.taken(np.flatnonzero(judge.judge(candidates).admitted)))
    pair = pair_of(template, *ALWAYS)
    values = {name: window.value for name, window in kept.windows.items()}
    assert {pair.first, pair.second} <= set(judge.duties.owed)
    assert kept.rows > 100
    assert led_near(template, pair, kept, values).all()


@pytest.mark.parametrize("always", [True, False])
def test_what_cancels_for_some_numbers_only_is_a_coincidence(bench: Any, always: bool) -> None:
    """The trial draw tells whether two mistakes cancel nearly whatever the numbers."""
    template = bench.shipped(CANCELLING)
    kept = work(template, drawn(template))
    looked_at = np.flatnonzero(Judge(template).judge(drawn(template)).admitted)
    shown = {one.id: shown_by(template, [one], kept) for one in template.plan.mistakes}
    trial = kept.taken(looked_at)
    if not always:
        mass = trial.windows[SOLUTION]
        twice = Window(2 * mass.value, 2 * mass.low, 2 * mass.high, mass.figures)
        trial = replace(trial, answers={**trial.answers, VOLUME: twice}, windows={**trial.windows, SOLUTION: twice})
    pairs = PairsOwed(template, template.plan.mistakes, lambda: (trial, None))
    assert pairs.hidden(kept, shown, looked_at, None).any() == (not always)


def test_nobody_to_look_at_hides_nothing(bench: Any) -> None:
    template = bench.shipped(CANCELLING)
    kept = work(template, drawn(template, 20))
    shown = {one.id: shown_by(template, [one], kept) for one in template.plan.mistakes}
    pairs = PairsOwed(template, template.plan.mistakes, lambda: (kept, None))
    assert pairs.hidden(kept, shown, np.zeros(0, dtype=np.int64), None).size == 0
