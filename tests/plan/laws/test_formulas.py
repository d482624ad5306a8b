"""Formulas from analyses: by hand, against compounds whose formula is known, and in every arithmetic alike."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from math import gcd
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from problemgen.chemistry.formula import read_formula
from problemgen.model.expression import Expression
from problemgen.model.problem import Asked, Scene, Species
from problemgen.model.quantity import Quantity, Role, read_quantity
from problemgen.plan.arithmetic import LEAST_WHOLE, Exact, Window, Windows
from problemgen.plan.batch import Batch
from problemgen.plan.chain import chain
from problemgen.plan.constants import constants
from problemgen.plan.evaluate import evaluate
from problemgen.plan.laws.formulas import COMPOUND, SAMPLE, formula_text
from tests.support.worked_values import mistaken_values

F = Fraction
EXACT, BATCH = Exact(), Batch()


def worked(problems: Any, elements: str, given_: Mapping[str, str], *, rest: str = "", mistake: str = "") -> list[str]:
    """The empirical formula, and the molecular one where a molar mass is given."""
    symbols = tuple(elements.split())
    species = {symbol: Species(symbol, symbol, read_formula(symbol)) for symbol in symbols}
    species |= {COMPOUND: Species(COMPOUND, "the compound")}
    roles = [Role.EMPIRICAL, Role.MOLECULAR] if f"molar_mass({COMPOUND})" in given_ else [Role.EMPIRICAL]
    quantities = frozenset(parsed(name) for name in given_)
    scene = Scene(species, quantities, problems.weights, unknown=symbols, unknown_rest=rest)
    asked = [Asked(Quantity("molar_mass", COMPOUND, role), "g/mol", "formula") for role in roles]
    plan = chain(scene, asked, constants())
    values = problems.exact(plan, given_)
    if mistake:
        (made,) = [one for one in plan.mistakes if one.id == mistake]
        values = mistaken_values(plan, [made], values, EXACT)
    return [formula_text(plan, role, values) for role in roles]


def parsed(text: str) -> Quantity:
    kind, _, inside = text.partition("(")
    of, _, role = inside[:-1].partition(",")
    return read_quantity(kind, of, role)


@pytest.mark.parametrize(
    ("elements", "data", "rest", "formulas"),
    [
        # glucose: 40.00 % C, 6.71 % H, the rest O
        (
            "C H O",
            {"mass_fraction(C)": "40.00 %", "mass_fraction(H)": "6.71 %", "molar_mass(compound)": "180.2 g/mol"},
            "O",
            ["CH2O", "C6H12O6"],
        ),
        # haematite: 69.94 g of iron in 100 g; 1 : 1.5 is 2 : 3
        ("Fe O", {"mass(Fe)": "69.94 g", "mass(O)": "30.06 g"}, "", ["Fe2O3"]),
        ("Fe O", {"mass(,sample)": "1.0000 g", "mass(Fe)": "0.7236 g"}, "O", ["Fe3O4"]),
        # caffeine: 49.48 % C, 5.19 % H, 28.85 % N, the rest O
        (
            "C H N O",
            {
                "mass_fraction(C)": "49.48 %",
                "mass_fraction(H)": "5.19 %",
                "mass_fraction(N)": "28.85 %",
                "molar_mass(compound)": "194.2 g/mol",
            },
            "O",
            ["C4H5N2O", "C8H10N4O2"],
        ),
        (
            "P S",
            {"mass(P)": "56.29 mg", "mass(S)": "43.71 mg", "molar_mass(compound)": "220 g/mol"},
            "",
            ["P4S3", "P4S3"],
        ),
    ],
)
def test_a_formula_from_an_analysis(
    problems: Any, elements: str, data: Mapping[str, str], rest: str, formulas: list[str]
) -> None:
    assert worked(problems, elements, data, rest=rest) == formulas


@pytest.mark.parametrize(
    ("elements", "data", "mistake", "formulas"),
    [
        ("Mn O", {"mass(Mn)": "77.45 g", "mass(O)": "22.55 g"}, "masses-compared", ["Mn24O7"]),  # 3.435 : 1
        ("Fe O", {"mass(Fe)": "69.94 g", "mass(O)": "30.06 g"}, "ratio-rounded", ["FeO2"]),  # 1.5 rounded up
        (
            "C H",
            {"mass(C)": "92.26 g", "mass(H)": "7.74 g", "molar_mass(compound)": "78.1 g/mol"},
            "multiple-left-out",
            ["CH", "CH"],
        ),
    ],
)
def test_a_usual_mistake_leads_to_another_formula(
    problems: Any, elements: str, data: Mapping[str, str], mistake: str, formulas: list[str]
) -> None:
    assert worked(problems, elements, data) != formulas
    assert worked(problems, elements, data, mistake=mistake) == formulas


def test_an_elements_own_molecule_has_one_empirical_atom(problems: Any) -> None:
    assert worked(problems, "S", {"mass(S)": "1.00 g", "molar_mass(compound)": "256.5 g/mol"}) == ["S", "S8"]


def test_a_sample_of_its_own_is_no_hundred_grams(problems: Any) -> None:
    data = {SAMPLE.id: "0.5000 g", "mass(Cu)": "0.3994 g"}
    assert worked(problems, "Cu O", data, rest="O") == ["CuO"]


# the operations in every arithmetic

counts = st.lists(st.integers(1, 12), min_size=1, max_size=4)
amounts = st.fractions(F(1, 1000), F(1000), max_denominator=10_000)


def in_all_arithmetics(expression: Expression, values: Mapping[str, Fraction]) -> set[int]:
    """One expression evaluated exactly, in floats, and in windows over both."""
    floats = {name: np.array([float(value)] * 3) for name, value in values.items()}
    windows: list[tuple[Windows, Mapping[str, Any]]] = [(Windows(EXACT), values), (Windows(BATCH), floats)]
    results = [evaluate(expression, values, EXACT), *evaluate(expression, floats, BATCH)]
    for arithmetic, known in windows:
        window = evaluate(expression, {name: Window(v, v, v, 4) for name, v in known.items()}, arithmetic)
        for bound in (window.value, window.low, window.high):
            results += [bound] if isinstance(bound, Fraction) else list(bound)
    assert all(result == int(result) for result in results)
    return {int(result) for result in results}


def named(values: list[Fraction]) -> dict[str, Fraction]:
    return {f"amount({index})": value for index, value in enumerate(values)}


def far_from_the_edge(values: list[Fraction]) -> bool:
    """Whether no multiple of a ratio lies where a float could fall on the other side."""
    ratios = [n * value / min(values) for value in values for n in range(1, 9)]
    apart = [abs(abs(r - round(r)) - edge) for r in ratios for edge in (LEAST_WHOLE, F(1, 2))]
    return min(apart) > F(1, 10**9)


@given(counts, amounts)
def test_amounts_in_the_ratio_of_small_numbers_give_those_numbers(atoms: list[int], unit: Fraction) -> None:
    least = gcd(*atoms)
    reduced = [atom // least for atom in atoms]
    values = named([atom * unit for atom in atoms])
    for index, atom in enumerate(reduced):
        found = in_all_arithmetics(("whole", index, *values), values)
        assert len(found) == 1
        if min(reduced) == 1:
            assert found == {atom}


@given(st.lists(amounts, min_size=1, max_size=4).filter(far_from_the_edge))
def test_least_whole_numbers_agree_in_every_arithmetic(some: list[Fraction]) -> None:
    values = named(some)
    for index in range(len(some)):
        assert len(in_all_arithmetics(("whole", index, *values), values)) == 1


@given(st.fractions(F(-1000), F(1000), max_denominator=1000))
def test_the_nearest_whole_number_agrees_in_every_arithmetic(value: Fraction) -> None:
    if abs(value - round(value)) == F(1, 2) and value < 0:
        value = -value  # halves go away from zero exactly and upwards in floats: no formula has a negative ratio
    assert len(in_all_arithmetics(("round", "a"), {"a": value})) == 1


@pytest.mark.parametrize(
    ("ratio", "wholes"),
    [
        (("1", "1.09"), (1, 1)),
        (("1", "1.5"), (2, 3)),
        (("1", "1.33"), (3, 4)),
        (("1", "1.25"), (4, 5)),
        (("1", "1.67"), (3, 5)),
        (("1", "1.2"), (5, 6)),
        (("1", "1.167"), (6, 7)),
        (("1", "1.143"), (7, 8)),
        (("2", "3", "4"), (2, 3, 4)),
    ],
)
def test_ratios_become_whole_by_the_least_multiple(ratio: tuple[str, ...], wholes: tuple[int, ...]) -> None:
    values = named([F(text) for text in ratio])
    assert tuple(in_all_arithmetics(("whole", i, *values), values).pop() for i in range(len(ratio))) == wholes
