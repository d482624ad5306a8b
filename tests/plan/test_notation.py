from __future__ import annotations

import pytest
import sympy
from hypothesis import given
from hypothesis import strategies as st

from problemgen.plan.notation import NotationError, are_formulas, formulas_of, letters_of, relation_of

m, V, rho, T, c, n = sympy.symbols("m V rho T c n", positive=True)


@pytest.mark.parametrize(
    ("text", "relation"),
    [
        ("m = rho V", rho * V - m),
        ("rho = m / V", m / V - rho),
        ("n = c V / (rho T)", c * V / (rho * T) - n),
        ("n = c (V + m) - 2 T", c * (V + m) - 2 * T - n),
        ("n = -c + V", V - c - n),
        ("n = 22.414 V", sympy.Rational("22.414") * V - n),
        ("n = V^2", V**2 - n),
        ("n = 1 / (1 + c)", 1 / (1 + c) - n),
        ("(m in g) = (V in mL) / (rho in g/mL)", 1000 * V / (rho / 1000) - m),
        ("n = (T in °C)", T - sympy.Rational("273.15") - n),
    ],
)
def test_an_equation_is_read_as_a_textbook_prints_it(text: str, relation: object) -> None:
    assert sympy.expand(relation_of(text) - relation) == 0
    assert not are_formulas(text)


@pytest.mark.parametrize(
    ("text", "formulas"),
    [
        ("net := more - less", {"net": ("add", "more", ("neg", "less"))}),
        ("Y := (a + b) / 2", {"Y": ("div", ("add", "a", "b"), ("num", "2"))}),
        ("a := b; b := a", {"a": "b", "b": "a"}),
        ("x := round(a / b)", {"x": ("round", ("div", "a", "b"))}),
        ("x := min(a, b, 0.5)", {"x": ("min", "a", "b", ("num", "1/2"))}),
        ("q := each^nu", {"q": ("pow", "each", "nu")}),
        ("x := b a 2", {"x": ("mul", "b", "a", ("num", "2"))}),
    ],
)
def test_a_formula_keeps_the_order_in_which_it_is_written(text: str, formulas: object) -> None:
    assert formulas_of(text) == formulas
    assert are_formulas(text)


def test_letters_are_told_in_the_order_written() -> None:
    assert letters_of("x (one + other) = one") == ("x", "one", "other")


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("a = b / c d", "'a = b / c d': 'd' where brackets around what is divided by was expected"),
        ("a = b / c / d", "'a = b / c / d': '/ d' where brackets around what is divided by was expected"),
        ("a = ", "'a = ': '' where '(' was expected"),
        ("a = b)", "'a = b)': ')' where the end was expected"),
        ("a b", "'a b': '' where '=' was expected"),
        ("a = 2 %", "'a = 2 %': '%' where a number, a letter or an operation was expected"),
        ("a = b^-1", "'a = b^-1': '-1' where a whole number or a letter was expected"),
        ("a = (b in )", "'a = (b in )': ')' where a unit and a closing bracket was expected"),
        ("a = max(b, c)", "max stands in formulas (:=) only: no equation with it is solved"),
    ],
)
def test_what_cannot_be_read_is_refused_with_its_place(text: str, message: str) -> None:
    with pytest.raises(NotationError) as refused:
        relation_of(text)
    assert str(refused.value) == message


def test_a_formula_is_for_one_letter() -> None:
    with pytest.raises(NotationError, match="'2 := a': '2 := a' where a letter was expected"):
        formulas_of("2 := a")


_LETTERS = st.sampled_from("abc")
_SUMS = st.recursive(
    _LETTERS,
    lambda inner: st.one_of(
        st.builds("({} + {})".format, inner, inner),
        st.builds("({} - {})".format, inner, inner),
        st.builds("{} {}".format, inner, inner),
        st.builds("({} / ({}))".format, inner, inner),
    ),
    max_leaves=8,
)


@given(_SUMS)
def test_an_equation_means_what_its_operations_say(text: str) -> None:
    """Against sympy's own reader, given the signs for what stands side by side."""
    symbols = {name: sympy.Symbol(name, positive=True) for name in "abc"}
    plain = text.replace(" + ", "+").replace(" - ", "-").replace(" / ", "/").replace(" ", "*")
    theirs = sympy.sympify(plain, locals=symbols)
    assert sympy.simplify(relation_of(f"x = {text}") + sympy.Symbol("x", positive=True) - theirs) == 0
