"""Which problem is next: on the same idea, where the mistake shows, with other substances, short."""

from __future__ import annotations

from functools import cache

import pytest

from problemgen.make.admissible import Judge
from problemgen.make.next_problem import Had, NextProblems, substances_of
from problemgen.model.template import Template
from problemgen.plan.ideas import Idea, idea_of_mistake, ideas_in
from tests.support.shipped import shipped

SOME = (
    "amounts/four-ways",
    "amounts/volume-for-amount",
    "amounts/weighed-for-product",
    "limiting-reagent/recovered-silver",
    "limiting-reagent/silver-chromate",
    "measures/density-by-weighing",
    "neutralisation/ammonia-left-over",
    "preparations/isopentyl-acetate",
    "preparations/triphenylmethanol",
    "solutions/hand-rub",
    "yield/cyclohexene",
)
NOTHING = Had(frozenset(), frozenset())


@cache
def choice() -> NextProblems:
    return NextProblems(map(shipped, reversed(SOME)))


def had(*names: str) -> Had:
    found = [substances_of(shipped(name).plan, shipped(name).scene) for name in names]
    return Had(frozenset(names), frozenset().union(*found))


def owed(template: Template) -> set[Idea]:
    return {idea_of_mistake(template.plan, one) for one in Judge(template).duties.all}


@pytest.mark.parametrize(
    ("idea", "before", "expected"),
    [
        (Idea("density", "density-divided"), (), "measures/density-by-weighing"),
        (Idea("density", "density-divided"), ("measures/density-by-weighing",), "amounts/volume-for-amount"),
        (Idea("density", "density-forgotten"), (), "amounts/volume-for-amount"),
        (Idea("density"), (), "measures/density-by-weighing"),
        (Idea("limiting", "least-mass-taken"), (), "neutralisation/ammonia-left-over"),
        (Idea("limiting", "least-amount-taken"), (), "limiting-reagent/recovered-silver"),
        (
            Idea("limiting", "least-amount-taken"),
            ("limiting-reagent/recovered-silver",),
            "limiting-reagent/silver-chromate",
        ),
    ],
)
def test_a_short_problem_that_shows_the_mistake(idea: Idea, before: tuple[str, ...], expected: str) -> None:
    found = choice().on(idea, had(*before))
    assert found is not None
    assert found.id == expected
    assert not idea.error or idea in owed(found)


def test_nothing_comes_twice_and_no_law_is_made_up() -> None:
    for name in SOME:
        found = choice().on(Idea("amount"), had(name))
        assert found is not None
        assert found.id != name
    assert choice().on(Idea("no such law", "density-divided"), NOTHING) is None
    assert NextProblems([]).on(Idea("amount"), NOTHING) is None


def test_other_substances_go_first() -> None:
    plain = choice().on(Idea("density", "density-forgotten"), NOTHING)
    assert plain is not None
    met = Had(frozenset(), substances_of(plain.plan, plain.scene))
    other = choice().on(Idea("density", "density-forgotten"), met)
    assert other is not None
    assert not substances_of(other.plan, other.scene) & met.substances


def test_what_takes_several_sessions_is_left_out() -> None:
    several = [shipped("preparations/triphenylmethanol")]
    assert {part.session for part in several[0].parts} == {1, 2}
    assert NextProblems(several).on(Idea("amount"), NOTHING) is None


def test_a_harder_one_is_as_hard_as_the_hardest_before_and_has_laws_of_it() -> None:
    before = had("amounts/volume-for-amount")
    ideas = ideas_in(shipped("amounts/volume-for-amount").plan)
    difficulty = {name: shipped(name).difficulty for name in SOME}
    found = choice().harder(before, ideas, difficulty)
    assert found is not None
    assert found.difficulty >= difficulty["amounts/volume-for-amount"]
    assert ideas & ideas_in(found.plan)
    assert choice().harder(before, (), difficulty) is None


def test_water_is_everywhere() -> None:
    template = shipped("measures/density-by-weighing")
    assert "water" not in substances_of(template.plan, template.scene)
