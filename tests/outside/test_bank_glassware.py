"""The bank's balances and glassware: readings, capacities and tolerances go together."""

from __future__ import annotations

import tomllib
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

BANKS = Path(__file__).parents[2] / "banks"


def glassware() -> list[dict[str, Any]]:
    """The entries of the bank, numbers as written."""
    text = (BANKS / "glassware.toml").read_text(encoding="utf-8")
    entries: list[dict[str, Any]] = tomllib.loads(text, parse_float=Decimal)["glassware"]
    return entries


GLASSWARE = {entry["id"]: entry for entry in glassware()}
WITH_TOLERANCE = {key: entry for key, entry in GLASSWARE.items() if "tolerance" in entry}
UNIT = {"balance": "g", "micropipette": "µL"}
# ISO 385, 648, 1042 and 4788, class A, in mL; from memory.
CLASS_A = {
    "burette-50": "0.05",
    "pipette-10": "0.02",
    "pipette-25": "0.03",
    "flask-volumetric-100": "0.1",
    "flask-volumetric-250": "0.15",
    "cylinder-100": "0.5",
}


def test_each_id_stands_once() -> None:
    assert len(GLASSWARE) == len(glassware())


@pytest.mark.parametrize("identifier", GLASSWARE)
def test_capacity_is_a_whole_number_of_steps(identifier: str) -> None:
    entry = GLASSWARE[identifier]
    assert 0 < entry["step"] < entry["capacity"]
    assert entry["capacity"] % entry["step"] == 0
    assert entry["unit"] == UNIT.get(entry["kind"], "mL")


@pytest.mark.parametrize("identifier", WITH_TOLERANCE)
def test_class_a_is_closer_than_class_b(identifier: str) -> None:
    tolerance, capacity = GLASSWARE[identifier]["tolerance"], GLASSWARE[identifier]["capacity"]
    assert 0 < tolerance["A"] < tolerance["B"] <= Decimal("0.025") * capacity


@pytest.mark.parametrize("identifier", CLASS_A)
def test_class_a_tolerances_of_the_standards(identifier: str) -> None:
    assert GLASSWARE[identifier]["tolerance"]["A"] == Decimal(CLASS_A[identifier])
