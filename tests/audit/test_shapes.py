"""What a step is, found by its numbers alone."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from problemgen.audit.shapes import Copied, Extreme, Product, Scaled, Shape, Sum, Unclear, shape_of, tried
from problemgen.model.expression import names_in
from tests.support.shipped import shipped

ONE = Fraction(1)
TABLE: list[tuple[Any, Shape]] = [
    ("a", Copied("a")),
    (("add", "a", "b", ("neg", "b")), Copied("a")),
    (("min", "a", "b", "c"), Extreme(("a", "b", "c"))),
    (("max", "b", "a"), Extreme(("a", "b"), greatest=True)),
    (("least", ("a", "a"), ("b", "b")), Extreme(("a", "b"))),
    (("mul", "a", "b"), Product(ONE, (("a", 1), ("b", 1)))),
    (("div", "a", "b"), Product(ONE, (("a", 1), ("b", -1)))),
    (("div", "a", ("num", "2")), Product(Fraction(1, 2), (("a", 1),))),
    (("mul", ("num", "3/2"), "a", ("pow", "b", -2)), Product(Fraction(3, 2), (("a", 1), ("b", -2)))),
    (("mul", ("num", "-100"), ("div", "a", "b")), Product(Fraction(-100), (("a", 1), ("b", -1)))),
    (("add", "a", ("neg", "b")), Sum(Fraction(0), (("a", ONE), ("b", -ONE)))),
    (
        ("add", ("mul", ("num", "2"), "a"), "b", ("mul", ("num", "4"), "c")),
        Sum(Fraction(0), (("a", Fraction(2)), ("b", ONE), ("c", Fraction(4)))),
    ),
    (("add", ("num", "1/2"), ("div", "a", ("num", "2"))), Sum(Fraction(1, 2), (("a", Fraction(1, 2)),))),
    (
        ("add", "a", ("mul", "a", "b")),
        Scaled(Product(ONE, (("a", 1),)), Sum(ONE, (("b", ONE),))),
    ),
    (
        ("div", "a", ("add", ("mul", ("num", "2"), "b"), "c")),
        Scaled(Product(ONE, (("a", 1),)), Sum(Fraction(0), (("b", Fraction(2)), ("c", ONE))), divided=True),
    ),
    (("div", "a", ("add", "a", "b")), Unclear()),
    (("round", ("div", "a", "b")), Unclear()),
    (("num", "100"), Unclear()),
]


@pytest.mark.parametrize(("expression", "found"), TABLE, ids=[str(one) for one, _ in TABLE])
def test_what_a_step_is(expression: Any, found: Shape) -> None:
    assert shape_of(tried(expression), sorted(set(names_in(expression)))) == found


def test_steps_of_a_plan() -> None:
    plan = shipped("limiting-reagent/silver-chromate").plan
    found = {step.quantity.id: shape_of(tried(step.expression), sorted(step.needs)) for step in plan.steps}
    assert found["extent()"] == Extreme(("extent(potassium-chromate)", "extent(silver-nitrate)"))
    assert found["extent(silver-nitrate)"] == Product(Fraction(1, 2), (("amount(silver-nitrate)", 1),))
    assert found["amount(potassium-chromate,left)"] == Sum(
        Fraction(0), (("amount(potassium-chromate)", ONE), ("extent()", -ONE))
    )
    assert found["molar_mass(silver-chromate)"] == Sum(
        Fraction(0), (("atomic_weight(Ag)", Fraction(2)), ("atomic_weight(Cr)", ONE), ("atomic_weight(O)", Fraction(4)))
    )


ratios = st.builds(Fraction, st.integers(1, 200), st.integers(1, 60))
powers = st.dictionaries(st.sampled_from("abcde"), st.sampled_from([-2, -1, 1, 2]), min_size=2)
multiples = st.dictionaries(st.sampled_from("abcde"), st.integers(-30, 30).filter(bool), min_size=2)


@given(ratio=ratios, factors=powers)
def test_every_product_is_found(ratio: Fraction, factors: dict[str, int]) -> None:
    expression = ("mul", ("num", str(ratio)), *(("pow", name, power) for name, power in factors.items()))
    assert shape_of(tried(expression), sorted(factors)) == Product(ratio, tuple(sorted(factors.items())))


@given(constant=st.integers(-9, 9), terms=multiples)
def test_every_sum_is_found(constant: int, terms: dict[str, int]) -> None:
    expression = ("add", ("num", str(constant)), *(("mul", ("num", str(n)), name) for name, n in terms.items()))
    expected = Sum(Fraction(constant), tuple((name, Fraction(n)) for name, n in sorted(terms.items())))
    assert shape_of(tried(expression), sorted(terms)) == expected
