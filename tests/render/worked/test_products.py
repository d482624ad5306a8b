"""Expressions taken apart: nothing is lost, and signs stand in front."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from problemgen.model.expression import Expression
from problemgen.plan.arithmetic import Exact
from problemgen.plan.evaluate import evaluate
from problemgen.render.worked.products import Product, products

NAMES = st.sampled_from(["a", "b", "c"])
LEAVES = NAMES | st.integers(1, 9).map(lambda n: ("num", str(n)))
EXPRESSIONS: st.SearchStrategy[Expression] = st.recursive(
    LEAVES,
    lambda inner: st.one_of(
        st.tuples(st.sampled_from(["add", "mul", "div", "min"]), inner, inner),
        st.tuples(st.just("neg"), inner),
        st.tuples(st.just("pow"), inner, st.sampled_from([-2, -1, 1, 2, 3])),
    ),
    max_leaves=6,
)
VALUES = {"a": Fraction(3), "b": Fraction(5, 7), "c": Fraction(11, 2)}


@given(EXPRESSIONS)
def test_the_terms_add_up_to_the_expression(expression: Expression) -> None:
    try:
        expected = evaluate(expression, VALUES, Exact())
    except ZeroDivisionError:
        return
    terms = products(expression)
    total = sum((-1 if t.negative else 1) * evaluate(t.expression, VALUES, Exact()) for t in terms)
    assert total == expected


@pytest.mark.parametrize(
    ("expression", "terms"),
    [
        ("a", (Product(("a",)),)),
        (("mul", ("num", "1"), "a"), (Product(("a",)),)),
        (("num", "1"), (Product((Fraction(1),)),)),
        (("div", ("num", "1"), "a"), (Product((), ("a",)),)),
        (("num", "3/7"), (Product((Fraction(3),), (Fraction(7),)),)),
        (("add", ("neg", "a"), "b"), (Product(("b",)), Product(("a",), negative=True))),
        (("div", "a", ("div", "b", "c")), (Product(("a", "c"), ("b",)),)),
        (("pow", "a", -2), (Product((), ("a", "a")),)),
        (("mul", "a", ("neg", ("neg", "b"))), (Product(("a", "b")),)),
        (("mul", "a", ("add", "b", "c")), (Product(("a", ("whole", ("add", "b", "c")))),)),
    ],
)
def test_terms(expression: Expression, terms: tuple[Product, ...]) -> None:
    assert products(expression) == terms
