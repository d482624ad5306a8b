"""Other ways than the plan's own: which there are, and that they lead to the same."""

from __future__ import annotations

import pytest

from problemgen.plan.answering import datum_windows
from problemgen.plan.arithmetic import Exact
from problemgen.plan.evaluate import data_figures, is_near, route_window, window_values
from tests.support.contract import made_from
from tests.support.shipped import NAMES, shipped


@pytest.mark.parametrize(
    ("template", "asked", "laws"),
    [
        ("gases/three-gases-in-a-vessel", "pressure(carbon-dioxide)", ("partial-pressure",)),
        ("purification/acetanilide-twice", "recovery(acetanilide)", ("overall-recovery",)),
        ("gases/impure-marble", "amount(hydrogen-chloride)", ("equivalent-amounts", "equivalent-amounts")),
        ("particles/sugar-lumps", "count(C)", ("particles", "content", "particles")),
    ],
)
def test_a_route_is_found(template: str, asked: str, laws: tuple[str, ...]) -> None:
    routes = [route for route in shipped(template).plan.routes if route.to.id == asked]
    assert laws in [tuple(step.law for step in route.steps) for route in routes]


@pytest.mark.parametrize("name", [name for name in NAMES if shipped(name).plan.routes])
def test_every_route_leads_to_what_the_plan_leads_to(name: str) -> None:
    """By the right numbers: a route that came to something else would be another problem."""
    made = made_from(shipped(name))
    given = datum_windows(made.variants[0].given)
    plan = made.template.plan
    known = window_values(plan, given, Exact())
    least = data_figures(given.values(), Exact())
    for route in plan.routes:
        reached = route_window(route, known, least, Exact())
        assert reached is not None
        right = known[route.to.id]
        assert reached.low <= right.high
        assert right.low <= reached.high


def test_windows_are_as_wide_as_near_routes_lead() -> None:
    made = made_from(shipped("purification/acetanilide-twice"))
    plan, given = made.template.plan, datum_windows(made.variants[0].given)
    known = window_values(plan, given, Exact())
    near = [route for route in plan.routes if is_near(plan, route)]
    assert near
    for route in near:
        reached = route_window(route, known, data_figures(given.values(), Exact()), Exact())
        assert reached is not None
        assert known[route.to.id].low <= reached.low
        assert reached.high <= known[route.to.id].high
