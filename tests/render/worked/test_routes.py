"""Through the stoichiometry by extents, or from each reagent to the product."""

from __future__ import annotations

from fractions import Fraction

import pytest

from problemgen.model.expression import Expression
from problemgen.model.plan import Plan, Step
from problemgen.model.problem import Asked, Scene, Species
from problemgen.model.problem_set import Method
from problemgen.model.quantity import Quantity, Role
from problemgen.render.worked.printed import Numbers, Printed
from problemgen.render.worked.routes import Copy, Ratioed, Route, Sourced, times_alone

A, B = Quantity("amount", "a"), Quantity("amount", "b")
XI_A, XI_B, XI = Quantity("extent", "a"), Quantity("extent", "b"), Quantity("extent", "")
FROM_A, FROM_B = Quantity("amount", "p", Role.FROM, source="a"), Quantity("amount", "p", Role.FROM, source="b")
P, LEFT = Quantity("amount", "p", Role.THEORETICAL), Quantity("amount", "a", Role.LEFT)
STEPS = {
    XI_A: Step(XI_A, "extent", "xi", ("div", A.id, ("num", "2")), "figures"),
    XI_B: Step(XI_B, "extent", "xi", B.id, "none"),
    FROM_A: Step(FROM_A, "product-from-reagent", "n", ("mul", ("num", "3"), XI_A.id), "figures"),
    FROM_B: Step(FROM_B, "product-from-reagent", "n", ("mul", ("num", "3"), XI_B.id), "figures"),
    XI: Step(XI, "limiting", "xi", ("min", XI_A.id, XI_B.id), "none"),
    P: Step(P, "equivalent-amounts", "n", ("mul", ("num", "3"), XI.id), "figures"),
    LEFT: Step(LEFT, "left-over", "left", ("add", A.id, ("neg", ("mul", ("num", "2"), XI.id))), "figures"),
}
VALUES = {A.id: Fraction(4), B.id: Fraction(1), XI_A.id: Fraction(2), XI_B.id: Fraction(1), XI.id: Fraction(1)}
SCENE = Scene({name: Species(name, name, None, nu) for name, nu in (("a", -2), ("b", -1), ("p", 3))}, frozenset(), {})


def route(method: Method, *asked: Asked) -> Route:
    plan = Plan((A, B), (), tuple(STEPS.values()), asked, ("a", "b"))
    return Route(Printed(SCENE, plan, Numbers(VALUES, {}, {}, {})), method)


@pytest.mark.parametrize(
    ("expression", "found"),
    [
        ("x", ("x", Fraction(1))),
        (("div", "x", ("num", "2")), ("x", Fraction(1, 2))),
        (("mul", ("num", "3"), "x"), ("x", Fraction(3))),
        (("mul", "x", "y"), None),
        (("add", "x", "y"), None),
        (("neg", "x"), None),
        (("div", ("num", "1"), "x"), None),
        (("floor", "x"), None),
    ],
)
def test_one_name_times_a_number(expression: Expression, found: tuple[str, Fraction] | None) -> None:
    assert times_alone(expression) == found


def test_from_reagent_to_product_passes_the_extents_over() -> None:
    way = route("product")
    assert [way.hidden(step) for step in STEPS.values()] == [True, True, False, False, False, False, False]
    assert way.sourced(XI_A.id) == Sourced(A, limited=False)
    assert way.sourced(XI.id) == Sourced(B, limited=True)
    assert way.sourced(P.id) is None
    assert way.shape(STEPS[FROM_A], set()) == Ratioed(A, 3, 2)
    assert way.shape(STEPS[P], set()) == Ratioed(B, 3, 1, limited=True)
    assert way.shape(STEPS[P], {FROM_B.id}) == Copy(FROM_B, limited=True)
    assert list(way.needs(STEPS[P], set())) == [B.id, XI.id]
    assert list(way.needs(STEPS[LEFT], set())) == [A.id, B.id, XI.id]
    assert list(way.needs(STEPS[XI], set())) == [A.id, B.id]
    assert list(way.needs(STEPS[XI], {FROM_A.id, FROM_B.id})) == [FROM_A.id, FROM_B.id]


def test_by_extents_nothing_is_passed_over() -> None:
    way = route("extent")
    assert not any(way.hidden(step) for step in STEPS.values())
    assert all(way.shape(step, {FROM_A.id, FROM_B.id}) is None for step in STEPS.values())
    assert list(way.needs(STEPS[XI], {FROM_A.id, FROM_B.id})) == [XI_A.id, XI_B.id]
    assert list(way.needs(STEPS[LEFT], set())) == [A.id, XI.id]


def test_an_extent_that_is_asked_is_shown() -> None:
    assert not route("product", Asked(XI_A, "mol")).hidden(STEPS[XI_A])
    assert route("product", Asked(XI, "mol", form="species")).hidden(STEPS[XI_A])
