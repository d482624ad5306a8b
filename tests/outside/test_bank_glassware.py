"""The bank's balances and glassware: readings, capacities and tolerances go together."""

from __future__ import annotations

import tomllib
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from tests.support.every_row import for_every

BANKS = Path(__file__).parents[2] / "banks"


def glassware() -> list[dict[str, Any]]:
    """The entries of the bank, numbers as written."""
    text = (BANKS / "glassware.toml").read_text(encoding="utf-8")
    entries: list[dict[str, Any]] = tomllib.loads(text, parse_float=Decimal)["glassware"]
    return entries


GLASSWARE = {entry["id"]: entry for entry in glassware()}
WITH_TOLERANCE = {key: entry for key, entry in GLASSWARE.items() if "tolerance" in entry}
WITH_CLASSES = {key: entry for key, entry in WITH_TOLERANCE.items() if "one" not in entry["tolerance"]}
WITHOUT_CLASSES = {key: entry for key, entry in WITH_TOLERANCE.items() if "one" in entry["tolerance"]}
STANDARD = {
    "burette": "iso-385-2005",
    "cylinder": "iso-4788-2005",
    "graduated pipette": "iso-835-2007",
    "micropipette": "iso-8655-2",
    "pipette": "iso-648-2008",
    "syringe": "iso-7886-1",
    "volumetric flask": "iso-1042-1998",
}
# Neither standard nor tolerance: read roughly, or made to no standard that we know.
WITHOUT_STANDARD = frozenset({"burette-gas-50", "burette-gas-100", "pipette-pasteur-2", "syringe-gas-100"})
UNIT = {"balance": "g", "micropipette": "µL"}
# In mL.
CLASS_A = {
    "burette-5": "0.01",
    "burette-10": "0.02",
    "burette-50": "0.05",
    "burette-100": "0.1",
    "pipette-0.5": "0.005",
    "pipette-5": "0.015",
    "pipette-10": "0.02",
    "pipette-25": "0.03",
    "flask-volumetric-100": "0.1",
    "flask-volumetric-250": "0.15",
    "flask-volumetric-1000": "0.4",
    "flask-volumetric-2000": "0.6",
    "cylinder-10": "0.1",
    "cylinder-100": "0.5",
}


def test_each_id_stands_once() -> None:
    assert len(GLASSWARE) == len(glassware())


@for_every(GLASSWARE)
def test_capacity_is_a_whole_number_of_steps(identifier: str) -> None:
    entry = GLASSWARE[identifier]
    assert 0 < entry["step"] < entry["capacity"]
    assert entry["capacity"] % entry["step"] == 0
    assert entry["unit"] == UNIT.get(entry["kind"], "mL")


@for_every(WITH_CLASSES)
def test_class_a_is_closer_than_class_b(identifier: str) -> None:
    tolerance, capacity = GLASSWARE[identifier]["tolerance"], GLASSWARE[identifier]["capacity"]
    assert 0 < tolerance["A"] < tolerance["B"] <= Decimal("0.025") * capacity


@pytest.mark.source(
    "iso-7886-1: 5 % of a volume delivered from a syringe below 5 mL, 4 % from 5 mL on; "
    "iso-8655-2: 0.8 % of the capacity from 100 µL on, 1.0 % to 1.2 % below"
)
@for_every(WITHOUT_CLASSES)
def test_syringes_and_micropipettes_have_one_limit(identifier: str) -> None:
    entry = GLASSWARE[identifier]
    share = Decimal(entry["tolerance"]["one"]) / entry["capacity"]
    if entry["kind"] == "syringe":
        assert share == Decimal("0.05") if entry["capacity"] < 5 else share == Decimal("0.04")
    else:
        assert share == Decimal("0.008") if entry["capacity"] >= 100 else Decimal("0.008") < share <= Decimal("0.012")


@for_every(sorted(set(GLASSWARE) - WITHOUT_STANDARD))
def test_every_kind_of_measuring_glassware_has_its_standard(identifier: str) -> None:
    entry = GLASSWARE[identifier]
    source = entry.get("tolerance", {}).get("source", "")
    expected = STANDARD.get(entry["kind"])
    assert source == (expected or "")


@pytest.mark.source("common-practice: sizes of round-bottom and conical flasks")
def test_reaction_flasks_come_in_the_usual_sizes() -> None:
    sizes = [entry["capacity"] for entry in GLASSWARE.values() if entry["kind"] == "reaction flask"]
    assert {10, 25, 50, 100, 250, 500, 1000} <= set(sizes)


@pytest.mark.source(
    "iso-385-2005: burettes, class A; "
    "iso-648-2008: pipettes, class A; "
    "iso-1042-1998: flasks, class A; "
    "iso-4788-2005: cylinders, class A"
)
@for_every(CLASS_A)
def test_class_a_tolerances_of_the_standards(identifier: str) -> None:
    assert GLASSWARE[identifier]["tolerance"]["A"] == Decimal(CLASS_A[identifier])
