from __future__ import annotations

from fractions import Fraction
from typing import Any

from problemgen.plan.laws.optics import LAWS
from tests.support.law_table import LawTable

F = Fraction

TURNED = {
    "others": ["C8H10O"],
    "given": ["path_length(C8H10O)", "specific_rotation(C8H10O,pure)", "mass(C8H10O,major)", "mass(C8H10O,minor)"],
    "wanted": ["enantiomeric_excess(C8H10O)"],
}
ROTATORY = "° cm3 g^-1 dm^-1"

# law, scene, letter, values, expected in the unit, unit, what each error gives
CASES: list[tuple[str, dict[str, Any], str, dict[str, str], Fraction, str, dict[str, Fraction]]] = [
    (
        "rotation",
        TURNED,
        "specific",
        {"alpha": "8.00 °", "length": "2.00 dm", "gamma": "0.100 g/mL"},
        F(40),
        ROTATORY,
        {"path-in-centimetres": F(4), "path-left-out": F(80), "rotation-multiplied": F("1.6")},
    ),
    (
        "rotation",
        TURNED,
        "alpha",
        {"specific": f"40.0 {ROTATORY}", "length": "2.00 dm", "gamma": "0.100 g/mL"},
        F(8),
        "°",
        {"path-in-centimetres": F(80), "path-left-out": F(4)},
    ),
    (
        "rotation",
        TURNED,
        "gamma",
        {"specific": f"40.0 {ROTATORY}", "length": "2.00 dm", "alpha": "8.00 °"},
        F("0.1"),
        "g/mL",
        {"path-in-centimetres": F("0.01"), "path-left-out": F("0.2")},
    ),
    (
        "enantiomeric-excess",
        TURNED,
        "ee",
        {"specific": f"20.0 {ROTATORY}", "pure": f"40.0 {ROTATORY}"},
        F(50),
        "%",
        {"enantiomeric-excess-inverted": F(200)},
    ),
    (
        "enantiomeric-excess",
        TURNED,
        "specific",
        {"ee": "50 %", "pure": f"40.0 {ROTATORY}"},
        F(20),
        ROTATORY,
        {"enantiomeric-excess-inverted": F(80)},
    ),
    ("main-enantiomer", TURNED, "major", {"ee": "50 %"}, F(75), "%", {"excess-for-share": F(50)}),
    ("main-enantiomer", TURNED, "ee", {"major": "75 %"}, F(50), "%", {"excess-for-share": F(75)}),
    ("minor-enantiomer", TURNED, "minor", {"major": "75 %"}, F(25), "%", {}),
    ("minor-enantiomer", TURNED, "major", {"minor": "25 %"}, F(75), "%", {}),
    (
        "share-from-both",
        TURNED,
        "share",
        {"major": "3.00 g", "minor": "1.00 g"},
        F(75),
        "%",
        {"part-to-part": F(300)},
    ),
]


class TestTable(LawTable):
    laws = LAWS
    cases = CASES
