from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from problemgen.audit.acceptance import NARROW, WIDE, by_tolerances, by_windows
from problemgen.audit.ways import ways_of


def test_an_honest_worker_is_accepted_in_each_part_and_in_all(simulated: Any) -> None:
    group = simulated("limiting-reagent/silver-chromate", 30)
    acceptance = by_windows(group.template, group.kept)
    each = acceptance.of_each(group.worker, group.worker.workings)
    assert each.keys() == {part.id for part in group.template.parts}
    assert all(masks[WIDE].all() for masks in each.values())
    assert acceptance.of_all(group.worker, group.worker.workings)[WIDE].all()


def test_bounds_with_and_without_the_noise_of_floats(simulated: Any) -> None:
    group = simulated("titrations/oxalic-acid", 30)
    for name, (low, high) in by_windows(group.template, group.kept).bounds.items():
        window = group.kept.answers[name]
        assert (low[WIDE] < window.low).all()
        assert (window.low < low[NARROW]).all()
        assert (high[NARROW] < window.high).all()
        assert (window.high < high[WIDE]).all()
        assert low[WIDE] == pytest.approx(low[NARROW], rel=1e-8)


def test_a_whole_number_has_no_bound_that_rounding_could_come_near(simulated: Any) -> None:
    group = simulated("hydrates/weathered-epsom-salt", 30)
    acceptance = by_windows(group.template, group.kept)
    whole = [part for part in group.template.parts if _exact(group.kept.answers[part.id])]
    assert whole
    for part in whole:
        accepted = acceptance.of_each(group.worker, group.worker.workings)[part.id]
        assert accepted[WIDE].all()
        assert accepted[NARROW].all()


def _exact(window: Any) -> bool:
    return bool((window.high == window.low).all())


def test_a_mistake_is_seen_in_the_part_that_shows_it(simulated: Any) -> None:
    group = simulated("titrations/oxalic-acid", 30)
    acceptance = by_windows(group.template, group.kept)
    honest = acceptance.honest(group.worker)
    with np.errstate(all="ignore"):
        for way in (way for way in ways_of(group.template) if way.single):
            accepted, made = acceptance.of_mistaken(group.worker, way.rewrites, way.steps, honest)
            assert not (accepted & made).any()
            *_, (_, paper) = group.worker.mistaken(way.rewrites, way.steps)
            assert not (acceptance.of_all(group.worker, paper) & made).any()


def test_what_changes_nothing_is_not_to_be_seen(simulated: Any) -> None:
    group = simulated("titrations/oxalic-acid", 30)
    acceptance = by_windows(group.template, group.kept)
    step = group.template.plan.steps[-1]
    for times, seen in (("1.009", False), ("1.02", True), ("-1", False)):
        rewrites = {step.quantity.id: ("mul", ("num", times), step.expression)}
        _, made = acceptance.of_mistaken(group.worker, rewrites, [step], acceptance.honest(group.worker))
        assert made.all() == made.any() == seen, times


def test_fixed_tolerances_lie_around_the_exact_answer(simulated: Any) -> None:
    group = simulated("titrations/oxalic-acid", 30)
    acceptance = by_tolerances(group.template, group.kept, (0.01, 0.05))
    for name, (low, high) in acceptance.bounds.items():
        value = group.kept.answers[name].value
        assert low == pytest.approx(np.stack([0.99 * value, 0.95 * value]), rel=1e-8)
        assert high == pytest.approx(np.stack([1.01 * value, 1.05 * value]), rel=1e-8)
