from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

import problemgen.audit.sample as sample_module
from problemgen.audit.acceptance import Acceptance, by_windows
from problemgen.audit.sample import PAIRS, VARIANTS, named_in_sample
from problemgen.audit.students import ways_of
from problemgen.make.mistakes import Kept
from problemgen.model.template import Template


@pytest.mark.parametrize(
    "name", ["titrations/oxalic-acid", "limiting-reagent/silver-chromate", "formulas/combustion", "gases/impure-marble"]
)
def test_the_marking_agrees_with_the_audit_and_names_most_mistakes(simulated: Any, name: str) -> None:
    group = simulated(name)
    plan = group.template.plan
    naming = named_in_sample(group, ways_of(plan), ())
    assert naming.honest == VARIANTS
    assert naming.disagreements == 0
    assert naming.compared > VARIANTS * len(group.template.parts)
    assert naming.mistakes <= VARIANTS * len(plan.mistakes)
    assert naming.named >= 0.8 * naming.mistakes
    assert 0 < naming.pairs <= PAIRS
    assert naming.pairs_named <= naming.pairs


def test_a_verdict_that_differs_from_the_marking_is_counted(monkeypatch: pytest.MonkeyPatch, simulated: Any) -> None:
    """Windows that accept everything here: the marking refuses, and the audit says that it differs."""

    def generous(template: Template, kept: Kept) -> Acceptance:
        acceptance = by_windows(template, kept)
        wide = {name: (0 * low, 1e6 + high) for name, (low, high) in acceptance.bounds.items()}
        return replace(acceptance, bounds=wide)

    monkeypatch.setattr(sample_module, "by_windows", generous)
    group = simulated("titrations/oxalic-acid")
    assert named_in_sample(group, ways_of(group.template.plan), ()).disagreements > 0


def test_pairs_that_undo_each_other_are_not_in_the_sample(simulated: Any) -> None:
    group = simulated("titrations/oxalic-acid")
    ways = ways_of(group.template.plan)
    pairs = [way.id for way in ways if not way.single]
    assert named_in_sample(group, ways, pairs).pairs == 0
