from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

import pytest
import sympy
from hypothesis import given
from hypothesis import strategies as st

from problemgen.model.problem import Scene
from problemgen.model.quantity import Quantity
from problemgen.plan.arithmetic import Exact
from problemgen.plan.evaluate import evaluate
from problemgen.plan.law import CommonError, Instance, Law, as_expression, solved

a, b, c, x, nu = sympy.symbols("a b c x nu", positive=True)
NAMES = {name: f"quantity({name})" for name in "abcx"}


@pytest.mark.parametrize(
    ("relation", "expression"),
    [
        (a, "quantity(a)"),
        (sympy.Integer(3), ("num", "3")),
        (sympy.Rational(3, 2), ("num", "3/2")),
        (a * b, ("mul", "quantity(a)", "quantity(b)")),
        (a / b, ("div", "quantity(a)", "quantity(b)")),
        (a * b / c, ("div", ("mul", "quantity(a)", "quantity(b)"), "quantity(c)")),
        (a / (b * c), ("div", "quantity(a)", ("mul", "quantity(b)", "quantity(c)"))),
        (a / 2, ("div", "quantity(a)", ("num", "2"))),
        (2 * a / 3, ("div", ("mul", ("num", "2"), "quantity(a)"), ("num", "3"))),
        (a**2, ("pow", "quantity(a)", 2)),
        (1 / a**2, ("div", ("num", "1"), ("pow", "quantity(a)", 2))),
        (a + b, ("add", "quantity(a)", "quantity(b)")),
        (a - b, ("add", "quantity(a)", ("neg", "quantity(b)"))),
        (-a, ("neg", "quantity(a)")),
        (a * (b + c), ("mul", "quantity(a)", ("add", "quantity(b)", "quantity(c)"))),
        (sympy.Min(b, a), ("min", "quantity(a)", "quantity(b)")),
        (sympy.Max(a, b), ("max", "quantity(a)", "quantity(b)")),
        (sympy.floor(a), ("floor", "quantity(a)")),
    ],
)
def test_a_relation_becomes_data(relation: object, expression: object) -> None:
    assert as_expression(relation, NAMES) == expression


def test_a_letter_may_stand_for_an_expression() -> None:
    assert as_expression(a * x, {**NAMES, "x": ("num", "2")}) == ("mul", "quantity(a)", ("num", "2"))


@pytest.mark.parametrize(
    ("relation", "letter", "times", "solution"),
    [
        (a * b - c, a, 1, c / b),
        (a * b - c, c, 1, a * b),
        (nu * a - b, a, 3, b / 3),
        (nu * a - b, b, 3, 3 * a),
        (nu * a - b, a, 1, b),
        (a - nu * b - c, c, 2, a - 2 * b),
        (a**2 - b, b, 1, a**2),
        (a / b - c, b, 1, a / c),  # linear once it stands on one denominator
        (a / (b + x) - c, x, 1, (a - b * c) / c),
        (a - b, c, 1, None),  # the letter is not in the relation
        ((x - a) * (x - 2 * a), x, 1, None),  # two solutions are none
    ],
)
def test_a_relation_is_solved_for_a_letter(relation: object, letter: object, times: int, solution: object) -> None:
    assert solved(relation, letter, times) == solution


positive = st.fractions(min_value=Fraction(1, 1000), max_value=1000)


@given(positive, positive, positive, st.integers(1, 6))
def test_what_is_solved_fulfils_the_relation(one: Fraction, two: Fraction, three: Fraction, times: int) -> None:
    relation = nu * a * b - c * x
    values = {"quantity(a)": one, "quantity(b)": two, "quantity(c)": three}
    expression = as_expression(solved(relation, x, times), NAMES)
    assert evaluate(expression, values, Exact()) == times * one * two / three


def nothing(_law: Law, _scene: Scene) -> Iterator[Instance]:
    yield from ()


UPSIDE_DOWN = CommonError("upside-down", "upside down", "Look again.", "a c = b", only_for=frozenset({"c"}))
DOUBLED = CommonError("doubled", "doubled", "Look again.", "c = nu a b")
FOREIGN = CommonError("foreign", "another's", "Look again.", "c = a x")
DIRECT = CommonError("direct", "direct", "Look again.", None)
LAW = Law("law", "Law", "c = a b", nothing, {"c": "So."}, "made up", (UPSIDE_DOWN, DOUBLED, FOREIGN, DIRECT))
BOUND = Instance(LAW, {letter: Quantity("amount", letter) for letter in "abc"}, nu=2)


@pytest.mark.parametrize(
    ("letter", "expression"),
    [
        ("c", ("mul", "amount(a)", "amount(b)")),
        ("a", ("div", "amount(c)", "amount(b)")),
        ("b", ("div", "amount(c)", "amount(a)")),
    ],
)
def test_an_instance_solves_its_law_over_quantities(letter: str, expression: object) -> None:
    assert BOUND.solution(letter) == expression


@pytest.mark.parametrize(
    ("error", "letter", "expression"),
    [
        (UPSIDE_DOWN, "c", ("div", "amount(b)", "amount(a)")),
        (UPSIDE_DOWN, "a", None),  # it is only for c
        (DOUBLED, "c", ("mul", ("num", "2"), "amount(a)", "amount(b)")),
        (FOREIGN, "c", None),  # nothing stands for x
        (DIRECT, "c", None),  # it has no relation, and the instance no expression for it
    ],
)
def test_an_instance_solves_a_misuse(error: CommonError, letter: str, expression: object) -> None:
    assert BOUND.error(error, letter) == expression


def test_an_instance_may_bring_what_only_a_misuse_needs() -> None:
    bound = Instance(LAW, BOUND.binding, extra={"x": "amount(x)"})
    assert bound.error(FOREIGN, "c") == ("mul", "amount(a)", "amount(x)")


def test_an_instance_may_bring_its_own_expressions() -> None:
    told = ("min", "amount(a)", "amount(b)")
    mistaken = {("direct", "c"): ("max", "amount(a)", "amount(b)")}
    bound = Instance(LAW, {"c": Quantity("amount", "c")}, direct={"c": told}, mistaken=mistaken)
    assert bound.solution("c") == told
    assert bound.solution("a") is None
    assert bound.error(DIRECT, "c") == mistaken["direct", "c"]


def test_an_instance_that_lacks_a_quantity_cannot_be_solved() -> None:
    assert Instance(LAW, {"c": Quantity("amount", "c")}).solution("c") is None
