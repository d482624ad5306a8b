from __future__ import annotations

from fractions import Fraction
from typing import Any

from problemgen.plan.laws.green import LAWS
from tests.support.law_table import LawTable

F = Fraction

MADE = {
    "equation": "2 C7H6O + C3H6O -> C17H14O + 2 H2O",
    "given": ["mass(C17H14O,auxiliaries)"],
    "wanted": ["atom_economy(C17H14O)", "e_factor(C17H14O)"],
}
MOLAR = {
    "molar_mass(C7H6O)": "106 g/mol",
    "molar_mass(C3H6O)": "58 g/mol",
    "molar_mass(C17H14O)": "234 g/mol",
    "molar_mass(H2O)": "18 g/mol",
}

# law, scene, letter, values, expected in the unit, unit, what each error gives
CASES: list[tuple[str, dict[str, Any], str, dict[str, str], Fraction, str, dict[str, Fraction]]] = [
    (
        "atom-economy",
        MADE,
        "economy",
        MOLAR,
        F(23400, 270),
        "%",
        {
            "coefficients-left-out": F(23400, 164),
            "economy-inverted": F(27000, 234),
            "economy-of-the-rest": F(3600, 270),
            "one-reagent-counted": F(23400, 212),
        },
    ),
    (
        "input",
        MADE,
        "total",
        {"mass(C7H6O)": "4.0 g", "mass(C3H6O)": "1.0 g", "mass(C17H14O,auxiliaries)": "45.0 g"},
        F(50),
        "g",
        {"auxiliaries-left-out": F(5)},
    ),
    ("waste", MADE, "waste", {"total": "50.0 g", "product": "2.0 g"}, F(48), "g", {"input-for-waste": F(50)}),
    ("waste", MADE, "total", {"waste": "48.0 g", "product": "2.0 g"}, F(50), "g", {"input-for-waste": F(48)}),
    (
        "e-factor",
        MADE,
        "E",
        {"waste": "48.0 g", "product": "2.0 g", "mass(C17H14O,input)": "50.0 g"},
        F(24),
        "1",
        {"e-factor-inverted": F(1, 24), "waste-against-input": F("0.96")},
    ),
    ("e-factor", MADE, "waste", {"E": "24 1", "product": "2.0 g"}, F(48), "g", {"e-factor-inverted": F(1, 12)}),
    (
        "mass-intensity",
        MADE,
        "PMI",
        {"total": "50.0 g", "product": "2.0 g"},
        F(25),
        "1",
        {"intensity-inverted": F("0.04")},
    ),
    (
        "mass-intensity",
        MADE,
        "total",
        {"PMI": "25 1", "product": "2.0 g"},
        F(50),
        "g",
        {"intensity-inverted": F("0.08")},
    ),
]


class TestTable(LawTable):
    laws = LAWS
    cases = CASES
