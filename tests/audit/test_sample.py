"""What the marking makes of a sample, counted by hand for markings that are made up."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

import pytest

import problemgen.audit.sample as sample_module
from problemgen.audit.marked import marking_of
from problemgen.audit.misuses import Misuse
from problemgen.audit.records import Marked
from problemgen.audit.sample import HONEST, marked_sample
from problemgen.audit.ways import Way, ways_of
from problemgen.model.plan import Plan, Step
from problemgen.model.verdict import PartResult
from tests.support.shipped import shipped

TITRATION = "titrations/oxalic-acid"
Change = Callable[[PartResult], PartResult]


def marked(simulated: Any, monkeypatch: pytest.MonkeyPatch, change: Change, ways: list[Way] | None = None) -> Marked:
    """A sample, with every result of the marking changed."""

    @dataclass
    class Changed:
        marking: Any

        def mark(self, row: int, answers: Mapping[str, str]) -> dict[str, PartResult]:
            return {part: change(result) for part, result in self.marking.mark(row, answers).items()}

    @contextmanager
    def changed(*arguments: Any) -> Any:
        with marking_of(*arguments) as marking:
            yield Changed(marking)

    monkeypatch.setattr(sample_module, "marking_of", changed)
    group = simulated(TITRATION, 20)
    return marked_sample(group, ways_of(shipped(TITRATION)) if ways is None else ways, "beads")


def wrong_is(verdict: str, *at: str) -> Change:
    def change(result: PartResult) -> PartResult:
        if result.verdict == "right":
            return result
        return replace(result, verdict=verdict, at=at, points=Fraction(0))

    return change


def test_honest_students_are_accepted(simulated: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    found = marked(simulated, monkeypatch, lambda result: result)
    assert (found.honest, found.refused) == (HONEST, 0)
    assert found.mistakes.made > 100
    assert found.mistakes.rewarded == 0
    total = found.mistakes
    assert total.rightly + total.wrongly + total.unnamed == total.made
    assert sum(found.unnamed.values()) == total.unnamed


def test_a_marking_that_refuses_all_is_found_out(simulated: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    found = marked(simulated, monkeypatch, lambda result: replace(result, verdict="wrong", points=Fraction(0)))
    assert (found.refused, found.cut_refused) == (HONEST, HONEST)


def test_a_marking_that_pays_all_is_found_out(simulated: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    found = marked(simulated, monkeypatch, lambda result: replace(result, verdict="right", points=result.of))
    assert found.mistakes.rewarded + found.mistakes.by_chance == found.mistakes.made > 100
    assert found.mistakes.rewarded > 0
    assert found.credit.guesses_paid == found.credit.guesses > 0
    assert found.credit.upside_down == 0


def test_a_step_that_was_worked_wrongly_is_named_rightly(simulated: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    every = [step.quantity.id for step in shipped(TITRATION).plan.steps]
    found = marked(simulated, monkeypatch, wrong_is("mistake", *every))
    assert found.mistakes.rightly == found.mistakes.made
    assert found.credit.guesses_named == found.credit.guesses > 0
    assert found.credit.guesses_paid == 0


def test_any_other_step_is_named_wrongly(simulated: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    found = marked(simulated, monkeypatch, wrong_is("mistake", "mass(nothing)"))
    assert found.mistakes.wrongly == found.mistakes.made > 100


def test_another_step_that_gives_the_same_number_is_no_wrong_name(
    simulated: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Twice the concentration: the last step was doubled, and it is told that the one before it was."""
    plan = shipped(TITRATION).plan
    *_, before, last = plan.steps
    doubled, other = (_twice(plan, step) for step in (last, before))
    told = wrong_is("mistake", before.quantity.id)
    (alone,) = (one for one in marked(simulated, monkeypatch, told, [doubled]).sorts if one.name == "twice")
    (both,) = (one for one in marked(simulated, monkeypatch, told, [doubled, other]).sorts if one.name == "twice")
    assert (alone.made, alone.wrongly) == (4, 4)
    assert (both.made, both.wrongly) == (8, 0)


def _twice(plan: Plan, step: Step) -> Way:
    name = step.quantity.id
    misuse = Misuse("twice", name, "", ("mul", ("num", "2"), step.expression))
    return Way((misuse,), {name: misuse.expression}, plan.stale([name]))


def test_what_is_no_mistake_is_not_named(simulated: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    found = marked(simulated, monkeypatch, wrong_is("slip"))
    assert found.mistakes.unnamed == found.mistakes.made
    assert found.unnamed == {"slip": found.mistakes.made}


def test_what_follows_is_not_paid_again(simulated: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    assert marked(simulated, monkeypatch, wrong_is("follows")).mistakes.paid_again == 0
    assert marked(simulated, monkeypatch, wrong_is("wrong")).mistakes.paid_again > 0
