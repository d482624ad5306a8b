"""What can go wrong in a step follows from its algebra: each operation with all that is made of it."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from problemgen.plan.missteps import COMMONEST, commonest, factors_of, missteps_of, product_of, replaced
from problemgen.plan.plain import plain_value
from tests.support.shipped import shipped

N, M, C, V = "mass(a)", "molar_mass(a)", "concentration(a)", "volume(a)"
TWO_THIRDS = ("div", ("mul", ("num", "2"), N), ("num", "3"))


@pytest.mark.parametrize(
    ("expression", "how", "worked"),
    [
        (("div", N, M), "inverted", ("mul", N, M)),
        (("div", N, M), "left-out", N),
        (("div", N, M), "upside-down", ("div", M, N)),
        (("div", N, M), "twice", ("div", N, ("pow", M, 2))),
        (("mul", C, V), "inverted", ("div", V, C)),
        (("mul", C, V), "inverted", ("div", C, V)),
        (("div", ("mul", ("num", "2"), N), ("num", "3")), "coefficient-left-out", N),
        (
            ("div", ("mul", ("num", "2"), N), ("num", "3")),
            "coefficient-inverted",
            ("div", ("mul", ("num", "3"), N), ("num", "2")),
        ),
        (("div", N, ("num", "2")), "coefficient-twice", ("div", N, ("num", "4"))),
        (("div", ("mul", N, M), "molar_mass(b)"), "ratio-left-out", N),
        (("div", ("mul", N, M), "molar_mass(b)"), "ratio-inverted", ("div", ("mul", N, "molar_mass(b)"), M)),
        (
            ("add", N, ("neg", ("mul", ("num", "2"), "extent()"))),
            "coefficient-left-out",
            ("add", N, ("neg", "extent()")),
        ),
        (("add", N, ("neg", V)), "term-left-out", V),
        (("add", N, ("neg", V)), "sign", ("add", N, V)),
        (("add", N, V, C), "term-left-out", ("add", N, C)),
        (("min", N, V), "another", V),
        (("min", N, V), "sum", ("add", N, V)),
        (("min", N, V), "average", ("div", ("add", N, V), ("num", "2"))),
        (("round", ("div", N, M)), "left-out", ("round", N)),
    ],
)
def test_an_operation_goes_wrong_in_these_ways(expression: Any, how: str, worked: Any) -> None:
    assert (how, worked) in [(one.how, one.expression) for one in missteps_of(expression)]


@pytest.mark.parametrize("expression", ["mass(a)", ("num", "2"), ("whole", 0, N, V)])
def test_what_has_no_operation_cannot_go_wrong(expression: Any) -> None:
    assert missteps_of(expression) == ()


def test_nobody_works_one_over_two_measured_values() -> None:
    worked = [one.expression for one in missteps_of(("mul", C, V))]
    assert ("div", ("num", "1"), ("mul", C, V)) not in worked
    assert ("div", N, M) not in worked


NUMBERS = st.fractions(min_value=Fraction(1, 9), max_value=9).filter(bool)


@given(NUMBERS, st.dictionaries(st.sampled_from([N, M, C, V]), st.sampled_from([-2, -1, 1, 2]), min_size=1))
def test_a_product_taken_apart_and_put_together_is_worth_the_same(number: Fraction, powers: dict[str, int]) -> None:
    values = {N: 2.0, M: 3.0, C: 5.0, V: 7.0}
    whole = product_of(number, powers.items())
    expected = float(number)
    for name, power in powers.items():
        expected *= values[name] ** power
    assert plain_value(whole, values) == pytest.approx(expected, rel=1e-12)
    assert factors_of(whole)[0] == number


def test_a_quantity_is_replaced_wherever_it_stands() -> None:
    assert replaced(("add", N, ("neg", ("pow", N, 2)), ("num", "1")), N, V) == (
        "add",
        V,
        ("neg", ("pow", V, 2)),
        ("num", "1"),
    )


def test_the_commonest_of_a_plan_are_none_that_its_laws_list() -> None:
    plan = shipped("solutions/dilution").plan
    listed = {rewrite for mistake in plan.mistakes for rewrite in mistake.rewrites}
    found = commonest(plan)
    assert found
    assert all(mistake.id.split(":")[0] in COMMONEST for mistake in found)
    assert not listed & {rewrite for mistake in found for rewrite in mistake.rewrites}


def test_what_a_calculator_fits_is_not_taken_apart() -> None:
    """A sum of few quantities goes wrong term by term; a line through many points is worked by a program."""
    few: Any = ("add", *(f"volume(a{n})" for n in range(7)))
    many: Any = ("add", *(f"volume(a{n})" for n in range(8)))
    assert len(missteps_of(few)) > 10
    assert missteps_of(many) == ()
