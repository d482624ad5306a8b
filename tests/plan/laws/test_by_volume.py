"""Contents by volume, worked by hand with invented bottles."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from problemgen.plan.laws.by_volume import LAWS
from tests.support.law_table import LawTable

F = Fraction

SPIRIT = {"others": ["C2H6O"], "wanted": ["volume_fraction(C2H6O)"]}
SALINE = {"others": ["NaCl"], "wanted": ["mass_volume_percent(NaCl)"]}
WELL = {"others": ["Fe"], "wanted": ["trace_fraction(Fe)"]}

# law, scene, letter, values, expected in the unit, unit, what each error gives
CASES: list[tuple[str, dict[str, Any], str, dict[str, str], Fraction, str, dict[str, Fraction]]] = [
    (
        "volume-percent",
        SPIRIT,
        "V",
        {"phi": "40.0 %", "solution": "500.0 mL"},
        F(200),
        "mL",
        {"volume-percent-left-out": F(500), "volume-percent-divided": F(1250)},
    ),
    (
        "volume-percent",
        SPIRIT,
        "solution",
        {"phi": "40.0 %", "V": "200.0 mL"},
        F(500),
        "mL",
        {"volume-percent-left-out": F(200), "volume-percent-divided": F(80)},
    ),
    (
        "volume-percent",
        SPIRIT,
        "phi",
        {"V": "200.0 mL", "solution": "500.0 mL"},
        F(40),
        "%",
        {},
    ),
    (
        "mass-per-volume-percent",
        SALINE,
        "m",
        {"gamma": "0.900 g/dL", "V": "500.0 mL"},
        F("4.5"),
        "g",
        {"per-litre-for-percent": F("0.45")},
    ),
    (
        "mass-per-volume-percent",
        SALINE,
        "gamma",
        {"m": "4.50 g", "V": "500.0 mL"},
        F("0.9"),
        "g/dL",
        {"per-litre-for-percent": F(9)},
    ),
    (
        "mass-per-volume-percent",
        SALINE,
        "V",
        {"gamma": "0.900 g/dL", "m": "4.50 g"},
        F(500),
        "mL",
        {"per-litre-for-percent": F(5000)},
    ),
    (
        "trace",
        WELL,
        "m",
        {"w": "12.5 ppm", "rho": "1.00 g/mL", "V": "2.00 L"},
        F(25),
        "mg",
        {"ppm-as-percent": F(250_000), "ppm-and-ppb": F(25_000)},
    ),
    (
        "trace",
        WELL,
        "w",
        {"m": "25.0 mg", "rho": "1.00 g/mL", "V": "2.00 L"},
        F("12.5"),
        "ppm",
        {"ppm-as-percent": F("0.00125"), "ppm-and-ppb": F("0.0125")},
    ),
    (
        "trace",
        WELL,
        "V",
        {"m": "25.0 mg", "rho": "1.00 g/mL", "w": "12.5 ppm"},
        F(2),
        "L",
        {"ppm-as-percent": F("0.0002"), "ppm-and-ppb": F("0.002")},
    ),
]


class TestTable(LawTable):
    laws = LAWS
    cases = CASES


def test_the_alcohol_of_a_glass(problems: Any) -> None:
    """0.200 L at 12.5 % hold 25.0 mL, of 0.789 g/mL."""
    given = {"volume(C2H6O,solution)": "200 mL", "volume_fraction(C2H6O)": "12.5 %", "density(C2H6O)": "0.789 g/mL"}
    plan = problems.plan(given, {"mass(C2H6O)": "g"}, others=["C2H6O"])
    assert problems.answers(plan, given) == {"mass(C2H6O)": F("19.725")}


def test_the_iron_of_a_well(problems: Any) -> None:
    """11.169 mg of iron in 2.00 L: 5.5845 ppm, and 0.2 mmol at 55.845 g/mol."""
    given = {"mass(Fe)": "11.169 mg", "volume(Fe,solution)": "2.00 L"}
    plan = problems.plan(given, {"trace_fraction(Fe)": "ppm", "amount(Fe)": "mmol"}, others=["Fe"])
    trace, amount = problems.answers(plan, given).values()
    assert trace == F("5.5845")
    assert abs(amount - F("0.2")) < F("0.0001")


def test_a_content_that_nobody_tells_or_asks_has_no_law(problems: Any) -> None:
    scene = problems.scene(["mass(NaCl)", "volume(NaCl,solution)"], others=["NaCl"])
    assert [instance for law in LAWS for instance in law.instances(law, scene)] == []
