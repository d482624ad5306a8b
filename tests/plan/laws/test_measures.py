from __future__ import annotations

from fractions import Fraction
from typing import Any

from problemgen.plan.laws.measures import LAWS
from tests.support.law_table import LawTable

F = Fraction

MADE = {"equation": "2 C7H6O + C3H6O -> C17H14O + 2 H2O", "sources": ["C3H6O"]}
COUNTED = {**MADE, "wanted": ["equivalents(C7H6O,from:C3H6O)"]}
BY_PARTS = {**MADE, "given": ["equivalents(C7H6O)"]}
OVER = {**MADE, "wanted": ["excess(C7H6O)"]}
WITH = {**MADE, "given": ["excess(C7H6O)"]}

# law, scene, letter, values, expected in the unit, unit, what each error gives
CASES: list[tuple[str, dict[str, Any], str, dict[str, str], Fraction, str, dict[str, Fraction]]] = [
    (
        "equivalents",
        COUNTED,
        "r",
        {"n": "50.0 mmol", "reference": "20.0 mmol", "mass(C7H6O)": "5.30 g", "mass(C3H6O)": "1.06 g"},
        F("2.5"),
        "1",
        {"equivalents-inverted": F("0.4"), "equivalents-of-masses": F(5)},
    ),
    (
        "by-equivalents",
        BY_PARTS,
        "taken",
        {"n": "20.0 mmol", "r": "2.50 1"},
        F(50),
        "mmol",
        {"equivalents-left-out": F(20), "equivalents-divided": F(8)},
    ),
    (
        "by-equivalents",
        BY_PARTS,
        "n",
        {"taken": "50.0 mmol", "r": "2.50 1"},
        F(20),
        "mmol",
        {"equivalents-left-out": F(50), "equivalents-divided": F(125)},
    ),
    (
        "needed",
        OVER,
        "n",
        {"xi": "20.0 mmol"},
        F(40),
        "mmol",
        {"ratio-left-out": F(20), "ratio-inverted": F(10)},
    ),
    (
        "surplus",
        OVER,
        "surplus",
        {"n": "50.0 mmol", "needed": "40.0 mmol"},
        F(10),
        "mmol",
        {"excess-of-all": F(50)},
    ),
    (
        "excess",
        OVER,
        "exc",
        {"surplus": "10.0 mmol", "needed": "40.0 mmol", "amount(C7H6O)": "50.0 mmol"},
        F(25),
        "%",
        {"excess-against-total": F(20), "excess-inverted": F(400)},
    ),
    (
        "with-excess",
        WITH,
        "taken",
        {"needed": "40.0 mmol", "exc": "25.0 %"},
        F(50),
        "mmol",
        {"excess-left-out": F(40), "excess-alone-taken": F(10), "excess-of-total": F(160, 3)},
    ),
]


class TestTable(LawTable):
    laws = LAWS
    cases = CASES
