"""Rounding against published rules, and both customs for a half inside our windows.

NIST's rule 3 and ISO's rule A take the even neighbour of a number that is just half-way, ISO's rule B the greater one.
We round by rule B; a student may follow either.
"""

from __future__ import annotations

from collections.abc import Iterator
from decimal import ROUND_HALF_EVEN, Decimal
from fractions import Fraction
from itertools import islice

import pytest

from problemgen.exact.rounding import exponent, figures_text, plain_text, round_to_figures, round_to_place
from problemgen.grade.reading.cell import read_answer
from problemgen.model.truths import NumberTruth, Truth
from problemgen.pipeline.solve import solve_problems

NUMBER = Fraction("6.9749515")


@pytest.mark.source("nist-sp-811-2008 B.7.1: rules 1 and 2, and the first example of rule 3, an odd digit before the 5")
@pytest.mark.parametrize(("figures", "printed"), [(3, "6.97"), (2, "7.0"), (5, "6.9750"), (7, "6.974952")])
def test_nist_rounding_rules(figures: int, printed: str) -> None:
    assert figures_text(NUMBER, figures) == printed


@pytest.mark.source("nist-sp-811-2008 B.7.1: the second example of rule 3")
def test_nist_example_of_the_even_neighbour_is_where_we_differ() -> None:
    assert even_neighbour(Fraction("6.9749505"), 7) == Fraction("6.974950")
    assert round_to_figures(Fraction("6.9749505"), 7) == Fraction("6.974951")


@pytest.mark.source("nist-sp-811-2008 B.7.2: a length converted")
def test_nist_converted_length() -> None:
    """36 ft is 10.9728 m; as its first digit is less than that of 36, one figure more is kept: 11.0 m."""
    metres = 36 * Fraction("0.3048")
    assert metres == Fraction("10.9728")
    assert figures_text(metres, 3) == "11.0"


@pytest.mark.source("iso-80000-1-2009 B.2: the nearest multiple")
@pytest.mark.parametrize(
    ("given", "place", "rounded"),
    [
        ("12.223", -1, "12.2"),
        ("12.251", -1, "12.3"),
        ("12.275", -1, "12.3"),
        ("1222.3", 1, "1220"),
        ("1225.1", 1, "1230"),
        ("1227.5", 1, "1230"),
    ],
)
def test_iso_rounding_to_the_nearest_multiple(given: str, place: int, rounded: str) -> None:
    assert_rounded(given, place, rounded)


@pytest.mark.source("iso-80000-1-2009 B.3: both neighbours as near, rule B")
@pytest.mark.parametrize(
    ("given", "place", "rounded"),
    [("12.25", -1, "12.3"), ("12.35", -1, "12.4"), ("1225.0", 1, "1230"), ("1235.0", 1, "1240")],
)
def test_iso_rounding_rule_b(given: str, place: int, rounded: str) -> None:
    assert_rounded(given, place, rounded)


@pytest.mark.source("iso-80000-1-2009 B.4: in one step, not first to 12.25")
def test_iso_rounding_in_one_step() -> None:
    assert_rounded("12.254", -1, "12.3")


@pytest.mark.source("own: rule B by magnitude, for a number below 0")
def test_rule_b_below_zero() -> None:
    assert_rounded("-12.25", -1, "-12.3")


def assert_rounded(given: str, place: int, rounded: str) -> None:
    assert plain_text(Fraction(given), place) == rounded
    assert round_to_place(Fraction(given), place) == Fraction(rounded)


@pytest.mark.source("iso-80000-1-2009 B.3: both neighbours as near, rule A")
@pytest.mark.parametrize(
    ("given", "rounded"), [("12.25", "12.2"), ("12.35", "12.4"), ("1225", "1220"), ("1235", "1240")]
)
def test_iso_rounding_rule_a(given: str, rounded: str) -> None:
    assert even_neighbour(Fraction(given), 3) == Fraction(rounded)


def even_neighbour(value: Fraction, figures: int) -> Fraction:
    """Rounded by ISO's rule A, calculated apart from our own rounding."""
    place = Decimal(1).scaleb(exponent(value) - figures + 1)
    decimal = Decimal(value.numerator) / Decimal(value.denominator)
    return Fraction(decimal.quantize(place, rounding=ROUND_HALF_EVEN))


def halves(first: str, step: str, other: str, other_step: str) -> Iterator[tuple[str, str]]:
    """Pairs of three figures whose product lies half-way between two numbers of three figures, the lower one even."""
    for i in range(200):
        for k in range(200):
            one, two = Fraction(first) + i * Fraction(step), Fraction(other) + k * Fraction(other_step)
            if even_neighbour(one * two, 3) < round_to_figures(one * two, 3):
                yield figures_text(one, 3), figures_text(two, 3)


DENSITIES = list(islice(halves("0.702", "0.012", "12.5", "0.3"), 25))
CONCENTRATIONS = list(islice(halves("0.110", "0.005", "20.5", "0.5"), 25))


def problem(name: str, given: list[tuple[str, str, str]], asked: tuple[str, str]) -> dict[str, object]:
    """A problem on sodium chloride: quantities given with value and unit, and one asked."""
    lines = [{"of": "NaCl", "quantity": quantity, "value": value, "unit": unit} for quantity, value, unit in given]
    quantity, unit = asked
    return {"id": name, "given": lines, "asked": [{"of": "NaCl", "quantity": quantity, "unit": unit}]}


@pytest.fixture(scope="module")
def solved() -> dict[str, tuple[Fraction, Truth | None]]:
    """Half-way cases by name: the exact answer, and ours with its window."""
    exact: dict[str, Fraction] = {}
    problems = []
    for density, volume in DENSITIES:
        exact[f"m {density} {volume}"] = Fraction(density) * Fraction(volume)
        given = [("density", density, "g/mL"), ("volume", volume, "mL")]
        problems.append(problem(f"m {density} {volume}", given, ("mass", "g")))
    for concentration, volume in CONCENTRATIONS:
        exact[f"n {concentration} {volume}"] = Fraction(concentration) * Fraction(volume)
        given = [("concentration", concentration, "M"), ("volume", volume, "mL")]
        problems.append(problem(f"n {concentration} {volume}", given, ("amount", "mmol")))
    truths = {one.problem.id: one.answers[0].truth for one in solve_problems(problems)}
    return {name: (exact[name], truths[name]) for name in exact}


def test_there_are_half_way_cases(solved: dict[str, tuple[Fraction, Truth | None]]) -> None:
    assert len(solved) == 50
    assert all(isinstance(truth, NumberTruth) and truth.value == exact for exact, truth in solved.values())


@pytest.mark.source("derived: products that lie half-way, worked out exactly")
def test_both_customs_for_a_half_lie_in_the_window(solved: dict[str, tuple[Fraction, Truth | None]]) -> None:
    for name, (exact, truth) in solved.items():
        assert isinstance(truth, NumberTruth)
        low, high = truth.low, truth.high
        even, away = even_neighbour(exact, 3), round_to_figures(exact, 3)
        assert even < exact < away
        for typed in (even, away):
            reading = read_answer(plain_text(typed, exponent(exact) - 2), None)
            assert reading.value_in_unit is not None
            assert low <= reading.value_in_unit <= high, name
        # Two units of the last figure further: no custom of rounding leads there.
        unit = away - even
        assert not low <= even - 2 * unit <= high, name
        assert not low <= away + 2 * unit <= high, name
