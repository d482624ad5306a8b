"""Two mistakes together: what hides them is not handed out, what cancels is no mistake."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from problemgen.make.admissible import RULES, judge, worked
from problemgen.make.candidates import Stream, draw_candidates
from problemgen.make.mistakes import shown_by
from problemgen.make.pairs import EXACTLY, Pair, hidden_by_pairs, led_to, pairs_of
from problemgen.plan.arithmetic import Window

COINCIDENT, CANCELLING = "mixtures/caked-bicarbonate", "preparations/benzhydrol"


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
    kept = worked(template, candidates)
    with np.errstate(all="ignore"):
        hidden = ~shown_by(template, (pair.first, pair.second), kept).shown
        singles = [shown_by(template, [one], kept).shown for one in (pair.first, pair.second)]
    assert 0 < np.count_nonzero(hidden) < 120
    assert all(single.all() for single in singles)
    judged = judge(template, candidates)
    assert (judged.turned_away[hidden] == RULES.index("mistake")).all()
    assert judged.admitted.any()


def test_a_pair_that_always_cancels_is_no_mistake(bench: Any) -> None:
    """With the ratio left out, borohydride seems to limit; whoever then takes the excess reagent is right again."""
    template = bench.shipped(CANCELLING)
    candidates = drawn(template)
    admitted = judge(template, candidates).admitted
    kept = worked(template, candidates.taken(np.flatnonzero(admitted)))
    values = {name: window.value for name, window in kept.windows.items()}
    pair = pair_of(template, "ratio-left-out", "excess-taken:extent()")
    near, same = led_to(template, pair, kept, values)
    assert kept.rows > 100
    assert near.all()
    assert same.all()
    assert EXACTLY < 1e-9


@pytest.mark.parametrize("always", [True, False])
def test_what_cancels_for_some_numbers_only_is_a_coincidence(bench: Any, always: bool) -> None:
    """`trial` tells whether two mistakes cancel whatever the numbers."""
    template = bench.shipped(CANCELLING)
    kept = worked(template, drawn(template))
    right = judge(template, drawn(template)).admitted
    looked_at = np.flatnonzero(right)
    shown = {one.id: shown_by(template, [one], kept) for one in template.plan.mistakes}
    trial = kept.taken(looked_at)
    if not always:
        amount = trial.windows["amount(benzophenone)"]
        twice = Window(2 * amount.value, 2 * amount.low, 2 * amount.high, amount.figures)
        trial = replace(trial, windows={**trial.windows, "amount(benzophenone)": twice})
    hidden = hidden_by_pairs(template, kept, shown, looked_at, lambda: trial)
    assert hidden.any() == (not always)


def test_nobody_to_look_at_hides_nothing(bench: Any) -> None:
    template = bench.shipped(CANCELLING)
    kept = worked(template, drawn(template, 20))
    shown = {one.id: shown_by(template, [one], kept) for one in template.plan.mistakes}
    assert hidden_by_pairs(template, kept, shown, np.zeros(0, dtype=np.int64), lambda: kept).size == 0
