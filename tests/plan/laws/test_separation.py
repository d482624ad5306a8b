from __future__ import annotations

from fractions import Fraction
from typing import Any

from problemgen.plan.laws.separation import LAWS
from tests.support.law_table import LawTable

F = Fraction

SHAKEN = {"others": ["C7H6O2"], "given": ["volume(C7H6O2,organic)"]}
ONCE = {**SHAKEN, "wanted": ["mass(C7H6O2,after_one)"]}
THRICE = {**SHAKEN, "wanted": ["mass(C7H6O2,by_three)"]}

# law, scene, letter, values, expected in the unit, unit, what each error gives
CASES: list[tuple[str, dict[str, Any], str, dict[str, str], Fraction, str, dict[str, Fraction]]] = [
    (
        "layer-content",
        SHAKEN,
        "c",
        {"content": "2.00 g", "V": "50.0 mL", "volume(C7H6O2,aqueous)": "80.0 mL"},
        F(40),
        "g/L",
        {"other-layers-volume": F(25)},
    ),
    (
        "layer-content",
        SHAKEN,
        "content",
        {"c": "40.0 g/L", "V": "50.0 mL", "volume(C7H6O2,aqueous)": "80.0 mL"},
        F(2),
        "g",
        {"other-layers-volume": F("3.2")},
    ),
    ("layer-content", SHAKEN, "V", {"c": "40.0 g/L", "content": "2.00 g"}, F(50), "mL", {}),
    (
        "both-layers",
        SHAKEN,
        "organic",
        {"total": "2.50 g", "aqueous": "0.50 g"},
        F(2),
        "g",
        {"all-in-one-layer": F("2.5")},
    ),
    ("both-layers", SHAKEN, "aqueous", {"total": "2.50 g", "organic": "2.00 g"}, F("0.5"), "g", {}),
    ("both-layers", SHAKEN, "total", {"aqueous": "0.50 g", "organic": "2.00 g"}, F("2.5"), "g", {}),
    (
        "distribution",
        SHAKEN,
        "D",
        {
            "organic": "40.0 g/L",
            "aqueous": "5.00 g/L",
            "mass(C7H6O2,organic)": "2.00 g",
            "mass(C7H6O2,aqueous)": "0.50 g",
        },
        F(8),
        "1",
        {"distribution-inverted": F("0.125"), "volumes-left-out": F(4)},
    ),
    (
        "distribution",
        SHAKEN,
        "organic",
        {"D": "8.00 1", "aqueous": "5.00 g/L"},
        F(40),
        "g/L",
        {"distribution-inverted": F("0.625")},
    ),
    (
        "distribution",
        SHAKEN,
        "aqueous",
        {"D": "8.00 1", "organic": "40.0 g/L"},
        F(5),
        "g/L",
        {"distribution-inverted": F(320)},
    ),
    ("portion", THRICE, "part", {"V": "60.0 mL"}, F(20), "mL", {"whole-volume-each-time": F(60)}),
    (
        "left-by-portion",
        ONCE,
        "q",
        {"aqueous": "80.0 mL", "organic": "60.0 mL", "D": "4.00 1"},
        F(25),
        "%",
        {
            "distribution-inverted": F(8000, 95),
            "layers-exchanged": F(6000, 380),
            "extracted-for-left": F(75),
            "volumes-left-out-of-fraction": F(20),
        },
    ),
    ("left-by-portion", ONCE, "D", {"aqueous": "80.0 mL", "organic": "60.0 mL", "q": "25 %"}, F(4), "1", {}),
    (
        "left-by-portions",
        THRICE,
        "q",
        {"each": "50 %"},
        F("12.5"),
        "%",
        {"portions-divided": F(50, 3), "one-portion-for-all": F(50)},
    ),
    ("left-in-water", ONCE, "left", {"total": "2.00 g", "q": "25 %"}, F("0.5"), "g", {}),
    ("left-in-water", ONCE, "q", {"total": "2.00 g", "left": "0.50 g"}, F(25), "%", {}),
    ("extracted", ONCE, "out", {"total": "2.00 g", "left": "0.50 g"}, F("1.5"), "g", {"left-for-extracted": F("0.5")}),
    ("extracted", ONCE, "left", {"total": "2.00 g", "out": "1.50 g"}, F("0.5"), "g", {}),
    ("fraction-extracted", ONCE, "out", {"q": "25 %"}, F(75), "%", {"fraction-left-for-extracted": F(25)}),
    ("fraction-extracted", ONCE, "q", {"out": "75 %"}, F(25), "%", {"fraction-left-for-extracted": F(75)}),
]


class TestTable(LawTable):
    laws = LAWS
    cases = CASES
