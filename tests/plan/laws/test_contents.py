from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from problemgen.plan.laws.contents import LAWS
from tests.support.law_table import LawTable

F = Fraction

UREA = {"others": ["CO(NH2)2", "N"], "wanted": ["mass_fraction(N)"], "of": "N"}
SAMPLE = {"others": ["C"], "given": ["mass(,sample)"], "wanted": ["mass_fraction(C)"]}
LUMPS = {"others": ["C12H22O11"], "given": ["mass(C12H22O11,serving)"]}

# law, scene, letter, values, expected in the unit, unit, what each error gives
CASES: list[tuple[str, dict[str, Any], str, dict[str, str], Fraction, str, dict[str, Fraction]]] = [
    (
        "composition",
        UREA,
        "w",
        {"molar_mass(N)": "14 g/mol", "molar_mass(CO(NH2)2)": "60 g/mol"},
        F(140, 3),  # 28 / 60
        "%",
        {"subscript-left-out": F(70, 3), "rest-taken-as-whole": F("87.5")},  # 14 / 60, 28 / 32
    ),
    ("mass-of-part", UREA, "m", {"w": "46.0 %", "whole": "25.0 g"}, F("11.5"), "g", {}),
    ("mass-of-part", UREA, "whole", {"w": "46.0 %", "m": "11.5 g"}, F(25), "g", {}),
    ("share", SAMPLE, "w", {"m": "5.00 g", "sample": "12.5 g"}, F(40), "%", {"share-inverted": F(250)}),
    ("share", SAMPLE, "m", {"w": "40.0 %", "sample": "12.5 g"}, F(5), "g", {}),
    ("share", SAMPLE, "sample", {"w": "40.0 %", "m": "5.00 g"}, F("12.5"), "g", {}),
    ("portions", LUMPS, "N", {"m": "120 g", "portion": "4.00 g"}, F(30), "1", {"portions-inverted": F(1, 30)}),
    ("portions", LUMPS, "m", {"N": "30 1", "portion": "4.00 g"}, F(120), "g", {}),
    ("portions", LUMPS, "portion", {"N": "30 1", "m": "120 g"}, F(4), "g", {}),
]


class TestTable(LawTable):
    laws = LAWS
    cases = CASES


@pytest.mark.parametrize(
    ("part", "compound", "times"),
    [
        ("NH3", "Co(NH3)6Cl3", 6),
        ("H2O", "H2C2O4.2H2O", 2),  # not the three that its hydrogen would make
        ("SO4^2-", "Al2(SO4)3", 3),
        ("Na", "NaCl", 1),
    ],
)
def test_how_often_a_formula_holds_a_part(bench: Any, part: str, compound: str, times: int) -> None:
    about = {"others": [compound, part], "wanted": [f"mass_fraction({part})"], "of": part}
    expression = bench.instance("composition", about).solution("w")
    one, whole = f"molar_mass({part})", f"molar_mass({compound})"
    assert expression == ("div", ("mul", ("num", str(times)), one) if times > 1 else one, whole)


@pytest.mark.parametrize(
    "about",
    [
        {"others": ["NaCl", "KCl", "Cl"], "wanted": ["mass_fraction(Cl)"]},  # of which of the two?
        {"others": ["NaCl", "Cl"], "wanted": ["mass_fraction(Cl)"], "given": ["mass(NaCl,impure)"]},  # of the sample
        {"others": ["NaCl", "Cl"], "wanted": ["mass_fraction(Cl)"], "given": ["mass(Cl)"]},  # weighed
        {"others": ["NaCl", "Cl"], "wanted": ["mass(Cl)"]},  # no percentage is asked
        {"others": ["NaCl", "K"], "wanted": ["mass_fraction(K)"]},  # there is none in it
    ],
)
def test_a_percentage_of_something_else_than_one_pure_compound(bench: Any, about: dict[str, Any]) -> None:
    with pytest.raises(AssertionError, match="no instance of composition"):
        bench.instance("composition", about)
