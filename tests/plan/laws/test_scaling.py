"""A published procedure on another scale, worked by hand with invented batches."""

from __future__ import annotations

import tomllib
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from problemgen.plan.laws.scaling import FLASKS, LAWS
from tests.support.law_table import LawTable

F = Fraction

ESTER = "C2H4O2 + C2H6O -> C4H8O2 + H2O"
SCENE: dict[str, Any] = {"equation": ESTER, "others": ["NaOH", "C6H12"]}
OWN = ["amount(C2H4O2)", "amount(C2H4O2,published)"]
SOLVENT = "volume(C6H12,published)"
FLASK: dict[str, Any] = {**SCENE, "given": [*OWN, SOLVENT], "wanted": ["volume(,vessel)"]}

# law, scene, letter, values, expected in the unit, unit, what each error gives
CASES: list[tuple[str, dict[str, Any], str, dict[str, str], Fraction, str, dict[str, Fraction]]] = [
    (
        "scale-factor",
        {**SCENE, "given": OWN},
        "f",
        {"after": "12.0 mmol", "before": "5.00 mmol"},
        F("2.4"),
        "1",
        {"factor-upside-down": F(5, 12)},
    ),
    (
        "scale-factor",
        {**SCENE, "given": OWN},
        "after",
        {"f": "2.40 1", "before": "5.00 mmol"},
        F(12),
        "mmol",
        {"factor-upside-down": F(5) / F("2.4")},
    ),
    (
        "scaled",
        {**SCENE, "given": [*OWN, SOLVENT]},
        "taken",
        {"f": "2.40 1", "before": "15.0 mL"},
        F(36),
        "mL",
        {"solvent-not-scaled": F(15), "factor-left-out": F(15), "factor-divided": F("6.25")},
    ),
    (
        "by-loading",
        {**SCENE, "given": [*OWN, "loading(NaOH)", "equivalents(C2H6O)"]},
        "taken",
        {"loading": "5.0 %", "n": "12.0 mmol", "amount(C2H6O,taken)": "18.0 mmol"},
        F("0.6"),
        "mmol",
        {"loading-of-another": F("0.9"), "percent-not-divided": F(60)},
    ),
    (
        "loading",
        {
            **SCENE,
            "given": [*OWN, "mass(NaOH,published)", "mass(C2H6O,published)"],
            "wanted": ["loading(NaOH)"],
        },
        "loading",
        {"taken": "0.25 mmol", "n": "5.00 mmol", "amount(C2H6O,published)": "7.50 mmol"},
        F(5),
        "%",
        {"loading-of-another": F(10, 3), "loading-upside-down": F(2000)},
    ),
    ("liquids", FLASK, "total", {"volume(C6H12,taken)": "36.0 mL"}, F(36), "mL", {}),
    (
        "vessel",
        FLASK,
        "vessel",
        {"volume(,liquids)": "36.0 mL", SOLVENT: "15.0 mL"},
        F(100),
        "mL",
        {"filled-to-the-brim": F(50), "flask-not-scaled": F(25)},
    ),
]


class TestTable(LawTable):
    laws = LAWS
    cases = CASES


GIVEN = {
    "amount(C2H4O2,published)": "5.00 mmol",
    "amount(C2H4O2)": "12.00 mmol",
    "equivalents(C2H6O)": "1.20 1",
    "loading(NaOH)": "5.00 %",
    SOLVENT: "15.0 mL",
}
ASKED = {
    "scale_factor()": "1",
    "amount(C2H6O,taken)": "mmol",
    "amount(NaOH,taken)": "mmol",
    "volume(C6H12,taken)": "mL",
    "volume(,vessel)": "mL",
}


def test_five_millimoles_become_twelve(problems: Any) -> None:
    plan = problems.plan(GIVEN, ASKED, ESTER, others=("NaOH", "C6H12"))
    assert problems.answers(plan, GIVEN) == {
        "scale_factor()": F("2.4"),
        "amount(C2H6O,taken)": F("14.4"),
        "amount(NaOH,taken)": F("0.6"),
        "volume(C6H12,taken)": F(36),
        "volume(,vessel)": F(100),
    }


@pytest.mark.parametrize(
    ("mistake", "name", "expected"),
    [
        ("factor-upside-down:scale_factor()", "volume(C6H12,taken)", F("6.25")),
        ("solvent-not-scaled:volume(C6H12,taken)", "volume(C6H12,taken)", F(15)),
        ("loading-of-another:amount(NaOH,taken)", "amount(NaOH,taken)", F("0.72")),
        ("percent-not-divided:amount(NaOH,taken)", "amount(NaOH,taken)", F(60)),
        ("equivalents-left-out:amount(C2H6O,taken)", "amount(C2H6O,taken)", F(12)),
    ],
)
def test_mistakes_with_a_batch(problems: Any, after_mistake: Any, mistake: str, name: str, expected: Fraction) -> None:
    plan = problems.plan(GIVEN, ASKED, ESTER, others=("NaOH", "C6H12"))
    assert after_mistake(plan, GIVEN, mistake)[name] == expected


def test_a_published_batch_tells_its_equivalents(problems: Any) -> None:
    told = {"mass(C2H4O2,published)": "6.005 g", "mass(C2H4O2)": "2.402 g", "mass(C2H6O,published)": "6.911 g"}
    plan = problems.plan(told, {"equivalents(C2H6O,from:C2H4O2)": "1", "mass(C2H6O,taken)": "g"}, ESTER)
    found = problems.answers(plan, told)
    assert float(found["equivalents(C2H6O,from:C2H4O2)"]) == pytest.approx(1.500, abs=5e-4)  # 150 mmol over 100 mmol
    assert found["mass(C2H6O,taken)"] == F("6.911") * F("2.402") / F("6.005")


@pytest.mark.parametrize(
    ("millilitres", "flask"),
    [("6.6", 10), ("6.7", 25), ("16.6", 25), ("16.7", 50), ("66.6", 100), ("66.7", 250), ("166.6", 250), ("667", 2000)],
)
def test_the_flask_is_the_smallest_that_is_two_thirds_full(problems: Any, millilitres: str, flask: int) -> None:
    given = {"amount(C2H4O2,published)": "5.000 mmol", "amount(C2H4O2)": "5.000 mmol", SOLVENT: f"{millilitres} mL"}
    plan = problems.plan(given, {"volume(,vessel)": "mL"}, ESTER, others=("C6H12",))
    assert problems.answers(plan, given) == {"volume(,vessel)": F(flask)}


def test_a_liquid_that_is_asked_for_shares_the_flask(problems: Any) -> None:
    given = {**GIVEN, "density(C2H6O)": "0.789 g/mL"}
    asked = {"volume(C2H6O,taken)": "mL", "volume(,liquids)": "mL", "volume(,vessel)": "mL"}
    plan = problems.plan(given, asked, ESTER, others=("NaOH", "C6H12"))
    found = problems.answers(plan, given)
    assert found["volume(,liquids)"] == F(36) + found["volume(C2H6O,taken)"]


def test_the_window_of_a_flask_has_no_width(problems: Any) -> None:
    plan = problems.plan(GIVEN, ASKED, ESTER, others=("NaOH", "C6H12"))
    window = problems.answer_windows(plan, problems.data(GIVEN))["volume(,vessel)"]
    assert (window.low, window.value, window.high, window.figures) == (100, 100, 100, 3)
    batch = problems.batch_windows(plan, [problems.data(GIVEN)] * 2)["volume(,vessel)"]
    assert batch.value.tolist() == [0.1, 0.1]


def test_flasks_are_those_of_the_bank() -> None:
    """Up to a litre; what is larger stands in no teaching laboratory."""
    text = (Path(__file__).parents[3] / "banks" / "glassware.toml").read_text(encoding="utf-8")
    found = {one["capacity"] for one in tomllib.loads(text)["glassware"] if one["kind"] == "reaction flask"}
    assert found >= {size for size in FLASKS if size <= 1000}


def test_without_a_published_batch_nothing_is_scaled(problems: Any) -> None:
    scene = problems.scene(["amount(C2H4O2)"], ESTER)
    assert [instance for law in LAWS for instance in law.instances(law, scene)] == []
