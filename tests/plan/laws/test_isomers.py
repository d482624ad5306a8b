from __future__ import annotations

from fractions import Fraction
from typing import Any

from problemgen.plan.laws.isomers import LAWS
from tests.support.law_table import LawTable

F = Fraction

MADE = {
    "equation": "2 C7H6O + C3H6O -> C17H14O + 2 H2O",
    "given": ["share(C17H14O)", "mass(C7H6O,recovered)"],
    "wanted": ["percent_yield(C17H14O,isomers)", "selectivity(C17H14O)"],
    "of": "C17H14O",
}
REAGENT = {**MADE, "of": "C7H6O"}

# law, scene, letter, values, expected in the unit, unit, what each error gives
CASES: list[tuple[str, dict[str, Any], str, dict[str, str], Fraction, str, dict[str, Fraction]]] = [
    (
        "share-from-ratio",
        MADE,
        "x",
        {"ratio": "4 1"},
        F(80),
        "%",
        {"part-of-part": F(25), "other-isomers-share": F(20)},
    ),
    ("share-from-ratio", MADE, "ratio", {"x": "80 %"}, F(4), "1", {}),
    (
        "share-from-areas",
        MADE,
        "x",
        {"area": "8000 1", "others": "2000 1"},
        F(80),
        "%",
        {"area-against-area": F(400), "other-peak": F(20)},
    ),
    ("other-isomers", MADE, "rest", {"x": "80 %"}, F(20), "%", {}),
    ("other-isomers", MADE, "x", {"rest": "20 %"}, F(80), "%", {}),
    (
        "isomer-mass",
        MADE,
        "own",
        {"x": "80 %", "mixture": "5.00 g"},
        F(4),
        "g",
        {"share-left-out": F(5), "share-divided": F("6.25")},
    ),
    ("isomer-mass", MADE, "mixture", {"x": "80 %", "own": "4.00 g"}, F(5), "g", {}),
    ("isomer-mass", MADE, "x", {"mixture": "5.00 g", "own": "4.00 g"}, F(80), "%", {}),
    (
        "mixture-yield",
        MADE,
        "Y",
        {"mixture": "5.00 g", "theoretical": "8.00 g", "share(C17H14O)": "80 %"},
        F("62.5"),
        "%",
        {"share-of-theoretical": F("78.125"), "mixture-yield-inverted": F(160)},
    ),
    ("mixture-yield", MADE, "mixture", {"Y": "62.5 %", "theoretical": "8.00 g"}, F(5), "g", {}),
    ("mixture-yield", MADE, "theoretical", {"Y": "62.5 %", "mixture": "5.00 g"}, F(8), "g", {}),
    (
        "converted",
        REAGENT,
        "converted",
        {"n": "50.0 mmol", "back": "10.0 mmol"},
        F(40),
        "mmol",
        {"recovered-for-converted": F(10)},
    ),
    ("converted", REAGENT, "back", {"n": "50.0 mmol", "converted": "40.0 mmol"}, F(10), "mmol", {}),
    (
        "conversion",
        REAGENT,
        "X",
        {"n": "50.0 mmol", "converted": "40.0 mmol"},
        F(80),
        "%",
        {"conversion-inverted": F(125)},
    ),
    ("conversion", REAGENT, "converted", {"n": "50.0 mmol", "X": "80 %"}, F(40), "mmol", {}),
    (
        "selectivity",
        MADE,
        "S",
        {"amount(C17H14O,actual)": "15.0 mmol", "amount(C7H6O,converted)": "40.0 mmol", "amount(C7H6O)": "50.0 mmol"},
        F(75),
        "%",
        {"selectivity-against-all": F(60), "selectivity-ratio-left-out": F("37.5")},
    ),
]


class TestTable(LawTable):
    laws = LAWS
    cases = CASES
