"""What can be worked of a plan when given values lack."""

from __future__ import annotations

from problemgen.model.expression import names_in
from problemgen.plan.answering import datum_windows
from problemgen.plan.partial import rests_on, without, workable, worked_windows
from tests.support.every_row import for_every
from tests.support.shipped import NAMES, shipped, variant_of

ALCOHOL = "preparations/triphenylmethanol"


def test_a_part_rests_on_what_its_steps_look_up() -> None:
    plan = shipped(ALCOHOL).plan
    found = {part.id: rests_on(plan, part.asked) for part in shipped(ALCOHOL).parts}
    assert found["01"] == {"volume(bromobenzene)", "density(bromobenzene)"}
    assert found["03"] == {"mass(magnesium)"}
    acid = {"mass_fraction(hydrogen-chloride)", "density(hydrogen-chloride,solution)"}
    assert found["12"] == {quantity.id for quantity in plan.given} - acid


@for_every(NAMES)
def test_without_a_value_all_that_rests_on_it_is_gone_and_nothing_else(name: str) -> None:
    plan = shipped(name).plan
    for quantity in plan.given:
        less = without(plan, {quantity.id})
        kept = {step.quantity.id for step in less.steps}
        for asked in plan.asked:
            gone = quantity.id in rests_on(plan, asked)
            assert (asked.quantity.id in kept) == (not gone and plan.step(asked.quantity) is not None)
        known = {one.quantity.id for one in less.constants} | {one.id for one in less.given}
        for step in less.steps:
            assert step.needs <= known
            known.add(step.quantity.id)
        for mistake in less.mistakes:
            assert all(set(names_in(wrong)) <= known and target in known for target, wrong in mistake.rewrites)


def test_the_whole_plan_is_workable_with_all_values() -> None:
    plan = shipped(ALCOHOL).plan
    assert workable(plan, datum_windows(variant_of(ALCOHOL).given)) == plan


def test_a_division_by_zero_takes_what_rests_on_it_away() -> None:
    plan = shipped(ALCOHOL).plan
    given = datum_windows(variant_of(ALCOHOL).given)
    zero = {**given, "volume(bromobenzene)": given["volume(bromobenzene)"].__class__(0, 0, 0, 3)}
    assert worked_windows(plan, zero) is None
    less = workable(plan, zero)
    kept = {step.quantity.id for step in less.steps}
    assert "percent_yield(triphenylmethanol)" not in kept
    assert {"amount(bromobenzene)", "mass(triphenylmethanol,theoretical)"} <= kept
    assert worked_windows(less, zero) is not None
