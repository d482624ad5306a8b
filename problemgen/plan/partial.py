"""What of a plan can be worked with some of its given values lacking."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import replace

from problemgen.model.answers import ProblemKey, TemplateKey
from problemgen.model.expression import names_in
from problemgen.model.plan import Plan, Step
from problemgen.model.problem import Asked
from problemgen.model.quantity import Quantity
from problemgen.plan.answering import datum_windows
from problemgen.plan.arithmetic import Exact, Window
from problemgen.plan.evaluate import window_values

__all__ = ["as_far_as_known", "rests_on", "without", "workable", "worked_windows"]


def rests_on(plan: Plan, asked: Asked) -> frozenset[str]:
    """The given values, by quantity id, that an asked quantity is worked out from."""
    name = asked.quantity.id
    needed = frozenset[str]().union({name}, *(step.needs for step in plan.steps_to(name)))
    return frozenset(quantity.id for quantity in plan.given if quantity.id in needed)


def without(plan: Plan, missing: Collection[str]) -> Plan:
    """The plan without some quantities, by id, and without all that needs them: steps, reagents, usual mistakes."""
    gone = set(missing)
    steps: list[Step] = []
    for step in plan.steps:
        if step.quantity.id in gone or not gone.isdisjoint(step.needs):
            gone.add(step.quantity.id)
        else:
            steps.append(step)
    mistakes = tuple(
        mistake
        for mistake in plan.mistakes
        if all(name not in gone and gone.isdisjoint(names_in(wrong)) for name, wrong in mistake.rewrites)
    )
    routes = tuple(
        route
        for route in plan.routes
        if gone.isdisjoint(one for step in route.steps for one in (step.quantity.id, *step.needs))
    )
    return replace(
        plan,
        routes=routes,
        given=tuple(quantity for quantity in plan.given if quantity.id not in gone),
        steps=tuple(steps),
        sources=tuple(source for source in plan.sources if Quantity("extent", source).id not in gone),
        asked=tuple(asked for asked in plan.asked if asked.quantity.id not in gone),
        mistakes=mistakes,
    )


def workable(plan: Plan, given: Mapping[str, Window]) -> Plan:
    """The plan as far as these values allow: without what lacks a value, or would divide by 0."""
    plan = without(plan, {quantity.id for quantity in plan.given} - given.keys())
    if worked_windows(plan, given) is not None:
        return plan
    impossible: set[str] = set()
    for count in range(1, len(plan.steps) + 1):
        tried = without(replace(plan, steps=plan.steps[:count]), impossible)
        if worked_windows(tried, given) is None:
            impossible.add(plan.steps[count - 1].quantity.id)
    return without(plan, impossible)


def worked_windows(
    plan: Plan, given: Mapping[str, Window], steps: Iterable[Step] | None = None
) -> dict[str, Window] | None:
    """All windows of a plan (or of some of its steps), exact; None where it divides by 0.

    Values that it does not need are taken along.
    """
    try:
        return window_values(plan, given, Exact(), steps)
    except ZeroDivisionError:
        return None


def as_far_as_known(template: TemplateKey, problem: ProblemKey) -> TemplateKey:
    """The template without what cannot be worked out from the data that a student has given; else itself."""
    if not problem.own:
        return template
    return replace(template, plan=workable(template.plan, datum_windows(problem.given)))
