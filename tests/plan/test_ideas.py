"""What a part is about: the law of the step that went wrong, and its error."""

from __future__ import annotations

import pytest

from problemgen.plan.ideas import Idea, error_of, idea_of_mistake, idea_of_part, ideas_in
from tests.support.every_row import for_every
from tests.support.shipped import NAMES, shipped

PREPARATION = "preparations/isopentyl-acetate"


@pytest.mark.parametrize(
    ("mistake", "error"),
    [
        ("density-divided:mass(acetone)", "density-divided"),
        ("ratio-left-out", "ratio-left-out"),
        ("left-out:mass(a):density(a)", "left-out"),
    ],
)
def test_a_misuse_is_a_mistake_without_its_place(mistake: str, error: str) -> None:
    assert error_of(mistake) == error


def test_a_part_is_about_the_step_that_went_wrong_or_its_own() -> None:
    plan = shipped(PREPARATION).plan
    mass = next(one for one in plan.asked if one.quantity.kind == "mass")
    yielded = plan.step(mass.quantity)
    assert yielded is not None
    assert idea_of_part(plan, mass) == Idea(yielded.law)
    first = plan.steps_to(mass.quantity.id)[0]
    assert idea_of_part(plan, mass, ("no such step", first.quantity.id), ("m:there", "n")) == Idea(first.law, "m")


def test_what_no_law_leads_to_is_its_kind() -> None:
    template = next(shipped(name) for name in NAMES if name.startswith("equations/"))
    asked = template.plan.asked[0]
    assert idea_of_part(template.plan, asked) == Idea(asked.quantity.kind)
    assert Idea(asked.quantity.kind) in ideas_in(template.plan)


@for_every(NAMES)
def test_every_listed_mistake_is_about_a_law_of_its_plan(name: str) -> None:
    plan = shipped(name).plan
    about = ideas_in(plan)
    assert [one.id for one in plan.mistakes if idea_of_mistake(plan, one).plain not in about] == []
