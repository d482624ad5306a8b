"""Equations in words."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from problemgen.chemistry.formula import read_formula
from problemgen.errors import FaultsError
from problemgen.pipeline.adding.equations import WordTerm, balanced, left_over, read_words, words_text


@pytest.mark.parametrize(
    ("text", "left", "right"),
    [
        ("a + b -> c", [(1, "a"), (1, "b")], [(1, "c")]),
        ("2 2-methylfuran+x  + b --> 12 c", [(2, "2-methylfuran+x"), (1, "b")], [(12, "c")]),
        ("maleic anhydride → fumaric acid", [(1, "maleic anhydride")], [(1, "fumaric acid")]),
    ],
)
def test_terms_are_read(text: str, left: list[tuple[int, str]], right: list[tuple[int, str]]) -> None:
    assert read_words(text) == (tuple(WordTerm(*one) for one in left), tuple(WordTerm(*one) for one in right))


NAME = st.from_regex(r"[a-z]{3,8}(-[a-z]{3,5})?", fullmatch=True)


@given(st.lists(st.tuples(st.integers(1, 99), NAME), min_size=2, max_size=6, unique_by=lambda term: term[1]))
def test_what_is_written_is_read_again(terms: list[tuple[int, str]]) -> None:
    left, right = read_words(words_text(terms[:1], terms[1:]))
    assert [(one.coefficient, one.name) for one in (*left, *right)] == terms


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("a + b", "equation: found 'a + b'; expected reagents, an arrow written ->, and products."),
        ("a -> b -> c", "equation: found 'a -> b -> c'; expected reagents, an arrow written ->, and products."),
        ("a -> ", "equation: found 'a -> '; expected reagents, an arrow written ->, and products."),
        ("a + + b -> c", "equation: found the term ''; expected a coefficient, where it is not 1, a space, and a name"),
        ("a + A -> c", "equation: found 'a' 2 times; expected each substance once"),
    ],
)
def test_what_is_no_equation_is_told(text: str, fault: str) -> None:
    with pytest.raises(FaultsError) as caught:
        read_words(text)
    assert fault in str(caught.value)


def counted(*terms: str) -> list[tuple[int, object]]:
    return [(int(number), read_formula(formula)) for number, formula in (term.split() for term in terms)]


@pytest.mark.parametrize(
    ("left", "right", "number", "formula"),
    [
        (["1 C5H6O", "1 C4H2O3"], [], 1, "C9H8O4"),
        (["2 C8H8O2", "1 C3H6O"], ["2 H2O"], 1, "C19H18O3"),
        (["1 CrCl3.6H2O", "3 C5H8O2", "3 NH3"], ["3 NH4Cl", "6 H2O"], 1, "C15H21CrO6"),
        (["1 C4H6O3", "1 H2O"], [], 2, "C2H4O2"),
    ],
)
def test_the_unknown_product_is_what_is_left_over(left: list[str], right: list[str], number: int, formula: str) -> None:
    assert left_over(counted(*left), counted(*right), WordTerm(number, "product")) == formula  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("left", "right", "number", "found"),
    [
        (["1 C8H8O2", "1 C3H6O"], ["9 H2O"], 1, "more on the right than on the left: 4 H, 6 O"),
        (["1 H2O"], ["1 H2O"], 1, "no atom is left over"),
        (["1 C3H6O"], [], 2, "C3H6O left over"),
    ],
)
def test_where_nothing_fits_it_is_told(left: list[str], right: list[str], number: int, found: str) -> None:
    with pytest.raises(FaultsError) as caught:
        left_over(counted(*left), counted(*right), WordTerm(number, "stuff"))  # type: ignore[arg-type]
    assert f"add: equation: found {found}; expected the atoms of {number} stuff left over" in str(caught.value)


def coefficients(text: str) -> tuple[int, ...]:
    sides = tuple([(one, read_formula(one.name)) for one in side] for side in read_words(text))
    others = {"water": read_formula("H2O"), "ethanol": read_formula("C2H6O")}
    return balanced(sides[0], sides[1], others)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("C8H8O2 + C3H6O -> C19H18O3 + H2O", (2, 1, 1, 2)),
        ("4 H2 + 2 O2 -> 4 H2O", (4, 2, 4)),  # balanced as it is
        # two changes at once: only the author knows in which proportion
        ("4 Mg + 3 CO2 + H2O -> 4 MgO + 3 CO + H2", (4, 3, 1, 4, 3, 1)),
    ],
)
def test_an_equation_is_balanced_and_a_balanced_one_is_left_alone(text: str, expected: tuple[int, ...]) -> None:
    assert coefficients(text) == expected


@pytest.mark.parametrize(
    ("text", "hint"),
    [
        ("C3H8O + C3H6O2 -> C6H12O2", "It balances with water or with ethanol on the right."),
        ("C6H6 -> CO2", "Write all that forms."),
        ("Mg + CO2 + H2O -> MgO + CO + H2", "Write the coefficients that you mean."),
    ],
)
def test_what_would_help_is_told(text: str, hint: str) -> None:
    with pytest.raises(FaultsError) as caught:
        coefficients(text)
    assert str(caught.value).endswith(hint)
