from __future__ import annotations

from fractions import Fraction
from typing import Any

from problemgen.plan.laws.purification import LAWS
from tests.support.law_table import LawTable

F = Fraction

CRUDE = {
    "others": ["C8H9NO"],
    "given": ["mass(C8H9NO,crude)", "mass(C8H9NO,pure)"],
    "wanted": ["mass(C8H9NO,lost)"],
}
PLATE = {"others": ["C10H10Fe"], "given": ["distance(C10H10Fe,front_edge)", "distance(C10H10Fe,edge)"]}

# law, scene, letter, values, expected in the unit, unit, what each error gives
CASES: list[tuple[str, dict[str, Any], str, dict[str, str], Fraction, str, dict[str, Fraction]]] = [
    (
        "recovery",
        CRUDE,
        "R",
        {"before": "5.00 g", "after": "4.00 g"},
        F(80),
        "%",
        {"recovery-inverted": F(125), "loss-for-recovery": F(20)},
    ),
    (
        "recovery",
        CRUDE,
        "after",
        {"before": "5.00 g", "R": "80 %"},
        F(4),
        "g",
        {"recovery-inverted": F("6.25"), "loss-for-recovery": F(1)},
    ),
    (
        "recovery",
        CRUDE,
        "before",
        {"after": "4.00 g", "R": "80 %"},
        F(5),
        "g",
        {"recovery-inverted": F("3.2"), "loss-for-recovery": F(20)},
    ),
    ("overall-recovery", CRUDE, "R", {"before": "80 %", "after": "75 %"}, F(60), "%", {"losses-added": F(55)}),
    ("overall-recovery", CRUDE, "before", {"R": "60 %", "after": "75 %"}, F(80), "%", {"losses-added": F(85)}),
    ("overall-recovery", CRUDE, "after", {"R": "60 %", "before": "80 %"}, F(75), "%", {"losses-added": F(80)}),
    ("loss", CRUDE, "lost", {"before": "5.00 g", "after": "4.00 g"}, F(1), "g", {}),
    ("loss", CRUDE, "after", {"before": "5.00 g", "lost": "1.00 g"}, F(4), "g", {}),
    (
        "pure-product",
        CRUDE,
        "actual",
        {"pure": "4.00 g", "mass(C8H9NO,crude)": "5.00 g"},
        F(4),
        "g",
        {"crude-for-pure": F(5)},
    ),
    ("pure-product", CRUDE, "pure", {"actual": "4.00 g"}, F(4), "g", {}),
    (
        "from-starting-line",
        PLATE,
        "spot",
        {"edge": "50.0 mm", "start": "10.0 mm"},
        F(40),
        "mm",
        {"measured-from-edge": F(50)},
    ),
    (
        "retention",
        PLATE,
        "F",
        {"spot": "40.0 mm", "front": "50.0 mm"},
        F("0.8"),
        "1",
        {"retention-inverted": F("1.25"), "rest-of-the-way": F("0.2")},
    ),
    (
        "retention",
        PLATE,
        "spot",
        {"F": "0.80 1", "front": "50.0 mm"},
        F(40),
        "mm",
        {"retention-inverted": F("62.5"), "rest-of-the-way": F(10)},
    ),
    (
        "retention",
        PLATE,
        "front",
        {"F": "0.80 1", "spot": "40.0 mm"},
        F(50),
        "mm",
        {"retention-inverted": F(32), "rest-of-the-way": F(200)},
    ),
]


class TestTable(LawTable):
    laws = LAWS
    cases = CASES
