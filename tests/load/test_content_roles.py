"""Printed problems on contents, as their lines would stand in a file: the answers are worked by hand."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from problemgen.load.banks import load_weights
from problemgen.load.fixed_problems import load_fixed_problems
from problemgen.plan.constants import constants
from problemgen.plan.solve import Solution, solve

WEIGHTS = load_weights(Path(__file__).parents[2] / "banks")[0]


def line(text: str, value: str) -> dict[str, Any]:
    """A line from "name | formula | quantity | number or answer | unit | role"."""
    of, formula, quantity, number, unit, role = [part.strip() or None for part in (text + "|" * 5).split("|")[:6]]
    return {"of": of, "formula": formula, "quantity": quantity, value: number, "unit": unit, "role": role}


def solved(tmp_path: Path, given: list[str], asked: list[str], equation: str | None = None) -> Solution:
    path = tmp_path / "problem.json"
    problem = {
        "id": "one",
        "kind": "contents",
        "equation": equation,
        "given": [line(text, "value") for text in given],
        "asked": [line(text, "answer") for text in asked],
    }
    path.write_text(json.dumps([problem]), encoding="utf-8")
    (loaded,) = load_fixed_problems(path, WEIGHTS)
    return solve(loaded, constants())


PROBLEMS = {
    "molality, the solvent without its role": (
        ["salt|NaCl|mass|11.7|g", "water|H2O|mass|250.0|g"],
        ["salt|NaCl|molality|0.801|mol/kg"],  # 11.7 / 58.44 / 0.2500
    ),
    "from concentration and density": (
        ["acid|H2SO4|concentration|3.75|M", "acid|H2SO4|density|1.230|g/mL|solution"],
        [
            "acid|H2SO4|mole_fraction|0.0727|",  # of 1 L: 3.75 mol, 367.8 g; 862.2 g, 47.86 mol of water
            "acid|H2SO4|molality|4.35|mol/kg",
            "acid|H2SO4|mass_fraction|29.9|%",
        ],
    ),
    "from mass percent and the density of the solution": (
        ["acid|HCl|mass_fraction|37.0|%", "solution||density|1.19|g/mL"],
        ["acid|HCl|concentration|12.1|M", "acid|HCl|molality|16.1|mol/kg", "acid|HCl|mole_fraction|0.225|"],
    ),
    "from molality": (
        ["glucose|C6H12O6|molality|1.50|mol/kg"],
        ["glucose|C6H12O6|mole_fraction|0.0263|", "glucose|C6H12O6|mass_fraction|21.3|%"],
    ),
    "from mole fraction": (["ethanol|C2H5OH|mole_fraction|0.250|"], ["ethanol|C2H5OH|mass_fraction|46.0|%"]),
    "mole fraction in another solvent": (
        ["iodine|I2|mole_fraction|0.100|", "hexane|C6H14|solvent_formula|C6H14|"],
        ["iodine|I2|molality|1.29|mol/kg"],  # 0.100 / (0.900 × 0.08618)
    ),
    "solute for a solvent": (
        ["salt|KCl|molality|0.500|mol/kg", "water|H2O|mass|250.0|g|solvent"],
        ["salt|KCl|mass|9.32|g"],
    ),
    "solvent by volume": (
        ["salt|KCl|mass|9.32|g", "water|H2O|volume|250.0|mL|solvent", "water|H2O|density|1.00|g/mL"],
        ["salt|KCl|molality|0.500|mol/kg"],
    ),
    "a mixture of two": (
        ["benzene|C6H6|mass|14.2|g", "toluene|C7H8|mass|36.6|g"],
        ["benzene|C6H6|mole_fraction|0.314|"],  # 0.1818 / (0.1818 + 0.3972)
    ),
    "mass per volume, from the solution": (
        ["salt|NaCl|mass_per_volume_percent|0.900|%", "solution||volume|500.0|mL|solution"],
        ["salt|NaCl|mass|4.50|g"],
    ),
    "mass per volume, without a portion": (
        ["salt|NaCl|mass_volume_percent|0.900|%"],
        ["salt|NaCl|concentration|0.154|M"],
    ),
    "parts per million as a concentration": (
        ["fluoride|F-|mass_fraction|1.20|ppm"],
        ["fluoride|F-|concentration|6.32e-5|M"],
    ),
    "parts per billion in water": (
        ["lead|Pb|mass_fraction|15.0|ppb", "water|H2O|volume|2.00|L"],
        ["lead|Pb|mass|30.0|ug"],
    ),
    "parts per million of a solid": (
        ["mercury|Hg|mass|0.120|mg", "fish||mass|250.0|g|sample"],
        ["mercury|Hg|mass_fraction|0.480|ppm"],
    ),
    "volume percent, the liquid": (
        ["propanol|C3H8O|volume_fraction|70.0|%", "rub||volume|250.0|mL"],
        ["propanol|C3H8O|volume|175|mL"],
    ),
    "volume percent to concentration": (
        ["ethanol|C2H6O|volume_fraction|40.0|%", "ethanol|C2H6O|density|0.789|g/mL"],
        ["ethanol|C2H6O|concentration|6.85|M"],
    ),
    "volume percent asked": (
        ["ethanol|C2H6O|volume|35.0|mL", "solution||volume|115.0|mL|solution"],
        ["ethanol|C2H6O|volume_fraction|30.4|%"],
    ),
    "one part of a sample": (["compound||mass|12.04|g", "C|C|mass|7.34|g"], ["C|C|mass_fraction|61.0|%"]),
    "several parts of a sample": (
        ["alloy||mass|12.50|g", "Cu|Cu|mass|8.000|g", "Zn|Zn|mass|4.500|g"],
        ["Cu|Cu|mass_fraction|64.00|%", "Zn|Zn|mass_fraction|36.00|%"],
    ),
    "a compound and a part of it, both weighed": (
        ["oxide|CuO|mass|4.000|g", "Cu|Cu|mass|3.196|g"],
        ["Cu|Cu|mass_fraction|79.90|%"],
    ),
    "an element in a compound": (
        ["urea|CO(NH2)2|mass|25.0|g"],
        ["N|N|mass_fraction|46.65|%", "N|N|mass|11.7|g"],
    ),
    "tablets": (
        ["aspirin|C9H8O4|amount|0.0500|mol", "aspirin|C9H8O4|mass_per_tablet|325.0|mg"],
        ["tablet||tablets|27.7|tablets"],  # 9.008 g / 0.3250 g
    ),
    "the fewest atoms": (
        ["water|H2O|amount|1.0|mol", "carbon monoxide|CO|amount|1.2|mol"],
        ["||fewest_atoms|CO|"],  # 2.4 mol of atoms against 3.0 mol
    ),
}


@pytest.mark.parametrize(("given", "asked"), PROBLEMS.values(), ids=PROBLEMS.keys())
def test_a_printed_problem_means_what_its_reader_takes_it_to_mean(
    given: list[str], asked: list[str], tmp_path: Path
) -> None:
    solution = solved(tmp_path, given, asked)
    assert solution.error is None
    assert [answer.accepted for answer in solution.answers] == [True] * len(asked)


def test_a_salt_in_a_sample_from_its_precipitate(tmp_path: Path) -> None:
    given = ["mixture||mass|0.8870|g", "AgCl|AgCl|mass|1.913|g"]
    asked = ["NaCl|NaCl|mass_fraction|87.94|%"]  # 1.913 / 143.32 × 58.44 / 0.8870
    solution = solved(tmp_path, given, asked, "NaCl + AgNO3 -> AgCl + NaNO3")
    assert [answer.accepted for answer in solution.answers] == [True]


def test_a_density_that_is_told_is_used_and_no_litre_counts_as_a_kilogram(tmp_path: Path) -> None:
    given = ["lead|Pb|mass_fraction|15.0|ppb", "brine||volume|2.00|L|solution", "brine||density|1.20|g/mL|solution"]
    (answer,) = solved(tmp_path, given, ["lead|Pb|mass|36.0|ug"]).answers
    assert answer.accepted


def test_a_solvent_that_nobody_names_leaves_a_mixture_of_gases_alone(tmp_path: Path) -> None:
    given = ["oxygen|O2|mole_fraction|0.209|", "air||pressure|99.5|kPa"]
    (answer,) = solved(tmp_path, given, ["oxygen|O2|pressure|20.8|kPa"]).answers
    assert answer.accepted
