from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from problemgen.plan.laws import LAWS_BY_ID
from problemgen.plan.laws.held import LAWS
from tests.support.law_table import LawTable

F = Fraction

FLOCCULANT = {"others": ["Al2(SO4)3", "Al^3+", "SO4^2-"], "wanted": ["concentration(Al2(SO4)3)"]}
ALUMINIUM = {**FLOCCULANT, "of": "Al^3+"}
SULFATE = {**FLOCCULANT, "of": "SO4^2-"}
ALONE = {"others": ["Na2SO4", "Na+"], "wanted": ["concentration(Na2SO4)"]}
SEA = {
    "others": ["NaCl", "MgCl2", "CaCl2", "Cl-"],
    "given": ["mass(NaCl)", "mass(MgCl2)", "mass(CaCl2)"],
    "wanted": ["concentration(Cl-)"],
}

# law, scene, letter, values, expected in the unit, unit, what each error gives
CASES: list[tuple[str, dict[str, Any], str, dict[str, str], Fraction, str, dict[str, Fraction]]] = [
    (
        "content",
        {"others": ["Na2SO4", "Na+"], "given": ["amount(Na2SO4)"]},
        "n",
        {"parent": "5.00 mmol"},
        F(10),
        "mmol",
        {"subscript-left-out": F(5)},
    ),
    (
        "content",
        {"others": ["Na2SO4", "Na+"], "given": ["amount(Na+)"]},
        "parent",
        {"n": "10.0 mmol"},
        F(5),
        "mmol",
        {"subscript-left-out": F(10)},
    ),
    (
        "ion",
        ALUMINIUM,
        "c",
        {"parent": "6.00 mmol/L"},
        F(12),
        "mmol/L",
        {"subscript-left-out": F(6), "subscript-inverted": F(3), "other-ions-subscript": F(18)},
    ),
    (
        "ion",
        SULFATE,
        "c",
        {"parent": "6.00 mmol/L"},
        F(18),
        "mmol/L",
        {"subscript-left-out": F(6), "subscript-inverted": F(2), "other-ions-subscript": F(12)},
    ),
    (
        "ion",
        ALONE,
        "parent",
        {"c": "6.00 mmol/L"},
        F(3),
        "mmol/L",
        {"subscript-left-out": F(6), "subscript-inverted": F(12)},
    ),
    (
        "shared-ion",
        SEA,
        "c",
        {"parent0": "400 mmol/L", "parent1": "50 mmol/L", "parent2": "10 mmol/L"},
        F(520),
        "mmol/L",
        {"subscript-left-out": F(460), "subscript-inverted": F(430)},
    ),
    (
        "shared-ion",
        SEA,
        "parent0",
        {"c": "520 mmol/L", "parent1": "50 mmol/L", "parent2": "10 mmol/L"},
        F(400),
        "mmol/L",
        {},
    ),
    (
        "shared-ion",
        SEA,
        "parent1",
        {"c": "520 mmol/L", "parent0": "400 mmol/L", "parent2": "10 mmol/L"},
        F(50),
        "mmol/L",
        {},
    ),
]


class TestTable(LawTable):
    laws = LAWS
    cases = CASES

    def test_every_letter_that_has_words_is_worked_above(self, bench: Any) -> None:
        """The salts beyond the second are as the second."""
        beyond = {f"parent{index}" for index in range(2, 6)}
        told = {(law, letter) for law, letter in bench.letters_told(LAWS) if letter not in beyond}
        assert told == {(case[0], case[2]) for case in CASES}


@pytest.mark.parametrize(
    ("part", "whole", "times"),
    [
        ("O", "H2O", 1),
        ("H", "C4H10", 10),
        ("Na+", "Na2SO4", 2),
        ("SO4^2-", "Na2SO4", 1),
        ("NH4+", "(NH4)2SO4", 2),
        ("NO3-", "Ca(NO3)2", 2),
        ("H2O", "CuSO4.5H2O", 5),
        ("H2O", "H2C2O4.2H2O", 2),  # there are hydrogen and oxygen for three, but two are crystal water
        ("H2O", "C2H6O", 0),  # ethanol holds the atoms of water, and no water
        ("C2H4O2", "C6H12O6", 0),
        ("Cu", "FeSO4", 0),
        ("e-", "Cu", 0),
    ],
)
def test_what_a_substance_contains(problems: Any, part: str, whole: str, times: int) -> None:
    law = LAWS_BY_ID["content"]
    scene = problems.scene((), others=[part, whole])
    bound = {
        (instance.binding["n"].of, instance.binding["parent"].of): instance.nu for instance in law.instances(law, scene)
    }
    small, large = scene.species
    assert bound.get((small, large), 0) == times


def test_two_measured_portions_do_not_contain_each_other(problems: Any) -> None:
    given = {"amount(CuSO4)": "0.0200 mol", "mass(Cu)": "3.1773 g"}
    plan = problems.plan(given, {"amount(Cu)": "mol"}, others=["CuSO4", "Cu"])
    assert problems.answers(plan, given) == {"amount(Cu)": F("0.05")}


def test_the_ions_of_a_weighed_hydrate(problems: Any) -> None:
    """0.010 mol of alum, KAl(SO4)2.12H2O, in 0.250 L: 0.040 mol/L, and twice that of sulfate."""
    given = {"amount(KAl(SO4)2.12H2O)": "0.0100 mol", "volume(KAl(SO4)2.12H2O,solution)": "250.0 mL"}
    asked = {"concentration(K+)": "mol/L", "concentration(SO4^2-)": "mol/L"}
    plan = problems.plan(given, asked, others=["KAl(SO4)2.12H2O", "K+", "SO4^2-"])
    assert list(problems.answers(plan, given).values()) == [F("0.04"), F("0.08")]


def test_the_ions_of_salts_in_one_solution_add_up(problems: Any) -> None:
    given = {"amount(NaCl)": "0.200 mol", "amount(MgCl2)": "0.0250 mol", "volume(,common)": "500.0 mL"}
    plan = problems.plan(given, {"concentration(Cl-)": "mol/L"}, others=["NaCl", "MgCl2", "Cl-"])
    assert problems.answers(plan, given) == {"concentration(Cl-)": F("0.5")}
    assert {step.law for step in plan.steps} == {"concentration", "shared-ion"}
    assert "subscript-left-out:concentration(Cl-)" in {mistake.id for mistake in plan.mistakes}


def test_what_one_of_two_salts_gives_of_an_ion_is_not_all_of_it(problems: Any) -> None:
    scene = problems.scene(["amount(NaCl)", "amount(MgCl2)"], others=["NaCl", "MgCl2", "Cl-"])
    assert [list(LAWS_BY_ID[law].instances(LAWS_BY_ID[law], scene)) for law in ("content", "ion")] == [[], []]
