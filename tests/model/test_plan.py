from __future__ import annotations

import pytest

from problemgen.model.expression import Expression
from problemgen.model.plan import Mistake, Plan, Step, rewrites_of
from problemgen.model.problem import Asked
from problemgen.model.quantity import Quantity


def step(name: str, expression: Expression) -> Step:
    return Step(Quantity("amount", name), "law", "n", expression, "figures")


A, B, C, D = (f"amount({name})" for name in "abcd")
#     a (given) -> b -> c -> d, and e from b alone
STEPS = (
    step("b", ("mul", A, ("num", "2"))),
    step("c", ("add", B, A)),
    step("e", ("neg", B)),
    step("d", ("div", C, B)),
)
PLAN = Plan((Quantity("amount", "a"),), (), STEPS, (Asked(Quantity("amount", "d"), "mol"),), ())


def names(steps: tuple[Step, ...]) -> str:
    return "".join(one.quantity.of for one in steps)


def test_the_step_that_yields_a_quantity() -> None:
    assert PLAN.step(Quantity("amount", "c")) == STEPS[1]
    assert PLAN.step(Quantity("amount", "a")) is None
    assert PLAN.step(Quantity("mass", "c")) is None


@pytest.mark.parametrize(
    ("name", "needed"), [("d", "bcd"), ("c", "bc"), ("e", "be"), ("b", "b"), ("a", ""), ("unknown", "")]
)
def test_the_steps_that_a_quantity_needs(name: str, needed: str) -> None:
    assert names(PLAN.steps_to(f"amount({name})")) == needed


@pytest.mark.parametrize(
    ("changed", "stale"),
    [("a", "bced"), ("b", "bced"), ("c", "cd"), ("d", "d"), ("e", "e"), ("ce", "ced"), ("", ""), ("x", "")],
)
def test_what_changes_when_quantities_do(changed: str, stale: str) -> None:
    assert names(PLAN.stale(f"amount({name})" for name in changed)) == stale


def test_what_a_step_needs() -> None:
    assert STEPS[1].needs == {A, B}
    assert STEPS[0].needs == {A}


def test_equal_plans_are_one_key() -> None:
    again = Plan((Quantity("amount", "a"),), (), tuple(STEPS), (Asked(Quantity("amount", "d"), "mol"),), ())
    other = Plan((Quantity("amount", "a"),), (), STEPS[:1], (), ())
    assert {PLAN: 1}[again] == 1
    assert other != PLAN


def test_where_several_mistakes_rewrite_a_step_the_first_stands() -> None:
    one, other = Mistake("one", "", "", ((B, A),)), Mistake("other", "", "", ((B, C), (D, C)))
    assert rewrites_of([one, other]) == {B: A, D: C}
    assert rewrites_of([other, one]) == {B: C, D: C}
