from __future__ import annotations

from fractions import Fraction
from typing import Any

from problemgen.model.problem import Asked, Scene, Species
from problemgen.model.quantity import Quantity
from problemgen.plan.chain import chain
from problemgen.plan.laws.gas_volumes import LAWS
from tests.support.law_table import LawTable
from tests.support.worked_values import exact_values

F = Fraction

BURN = {"equation": "2 C2H6 + 7 O2 -> 4 CO2 + 6 H2O", "given": ["volume(C2H6)"], "wanted": ["volume(O2)"], "of": "O2"}
BOTH = {
    "equation": "N2 + 3 H2 -> 2 NH3",
    "given": ["volume(N2)", "volume(H2)"],
    "wanted": ["volume(NH3,theoretical)", "volume(N2,left)"],
}

# law, scene, letter, values, expected in the unit, unit, what each error gives
CASES: list[tuple[str, dict[str, Any], str, dict[str, str], Fraction, str, dict[str, Fraction]]] = [
    (
        "gas-volumes",
        BURN,
        "V",
        {"volume(C2H6)": "12.00 L"},
        F(42),
        "L",
        {"volume-ratio-left-out": F(12), "coefficients-inverted": F(24, 7)},
    ),
    (
        "limited-gas-volume",
        BOTH,
        "V",
        {"volume(NH3,from:N2)": "10.0 L", "volume(NH3,from:H2)": "8.0 L"},
        F(8),
        "L",
        {"larger-volume-taken": F(10)},
    ),
    ("gas-volume-left", BOTH, "V", {"volume(N2)": "5.0 L", "volume(H2)": "12.0 L"}, F(1), "L", {}),
]


class TestTable(LawTable):
    laws = LAWS
    cases = CASES

    def test_every_letter_that_has_words_is_worked_above(self, bench: Any) -> None:
        """The number of vessels is worked by itself below."""
        assert bench.letters_told(LAWS) == {*((case[0], case[2]) for case in CASES), ("vessels", "N")}


def test_gases_react_in_volumes_and_the_least_decides(problems: Any) -> None:
    given = {"volume(N2)": "5.00 L", "volume(H2)": "12.0 L"}
    asked = {"volume(NH3,theoretical)": "L", "volume(N2,left)": "L", "volume(H2,left)": "L"}
    plan = problems.plan(given, asked, "N2 + 3 H2 -> 2 NH3")
    assert list(problems.answers(plan, given).values()) == [8, 1, 0]


def test_volumes_of_liquids_do_not_stand_in_the_ratio_of_the_coefficients(problems: Any) -> None:
    given = ["volume(HCl,solution)", "concentration(HCl)", "concentration(NaOH)"]
    plan = problems.plan(given, {"volume(NaOH,solution)": "mL"}, "HCl + NaOH -> NaCl + H2O")
    assert "gas-volumes" not in {step.law for step in plan.steps}


def test_vessels_for_a_volume() -> None:
    tank, oxygen = Species("tank", "tank"), Species("O2", "oxygen")
    given = {Quantity("volume", "tank"): F(7000), Quantity("volume", "O2"): F(23350)}
    asked = [Asked(Quantity("volume", "O2"), "L"), Asked(Quantity("portions", "tank"), "1")]
    plan = chain(Scene({"tank": tank, "O2": oxygen}, frozenset(given), {}), asked)
    assert exact_values(plan, {q.id: value for q, value in given.items()})["portions(tank)"] == F(23350, 7000)
