"""Answers from a plan and its given values: the same for drawn and for measured ones."""

from __future__ import annotations

from dataclasses import replace

from problemgen.model.truths import ChoiceTruth
from problemgen.plan.answering import datum_windows
from problemgen.plan.arithmetic import Exact
from problemgen.plan.evaluate import window_values
from problemgen.plan.forms import form_of
from tests.support.every_row import for_every
from tests.support.own_set import drawn_key
from tests.support.shipped import NAMES, shipped, variant_of


@for_every(NAMES)
def test_an_answer_is_the_same_after_its_way_through_the_file(name: str) -> None:
    _, key = drawn_key(name)
    variant = variant_of(name)
    # The numbers of these variants may leave reagents undecided; no sheet has such numbers, and no key tells of them.
    truths = [replace(one, also=()) if isinstance(one, ChoiceTruth) else one.in_file for one in variant.answers]
    assert dict(zip((part.id for part in variant.template.parts), truths, strict=True)) == key.problems[0].truths


def test_a_problem_is_answered_from_its_plan_alone() -> None:
    template, variant = shipped("yield/fluorescein"), variant_of("yield/fluorescein")
    windows = window_values(template.plan, datum_windows(variant.given), Exact())
    plan, scene = template.plan, template.scene
    answers = [form_of(part.asked).answer(plan, scene, part.asked, windows) for part in template.parts]
    assert tuple(answers) == variant.answers
