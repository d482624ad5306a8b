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
SYRINGES = [key for key, entry in WITHOUT_CLASSES.items() if entry["kind"] == "syringe"]
MICROPIPETTES = [key for key, entry in WITHOUT_CLASSES.items() if entry["kind"] == "micropipette"]
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
# Class A, in mL, by capacity.
BURETTES = {"5": "0.01", "10": "0.02", "50": "0.05", "100": "0.1"}
PIPETTES = {"0.5": "0.005", "5": "0.015", "10": "0.02", "25": "0.03"}
FLASKS = {"100": "0.1", "250": "0.15", "1000": "0.4", "2000": "0.6"}
CYLINDERS = {"10": "0.1", "100": "0.5"}


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


def share_of_capacity(identifier: str) -> Decimal:
    """The one limit of a piece without classes, as a share of its capacity."""
    entry = GLASSWARE[identifier]
    return Decimal(entry["tolerance"]["one"]) / entry["capacity"]


def test_nothing_but_syringes_and_micropipettes_has_one_limit() -> None:
    assert set(WITHOUT_CLASSES) == {*SYRINGES, *MICROPIPETTES}


@pytest.mark.source("iso-7886-1: 5 % of a volume delivered from a syringe below 5 mL, 4 % from 5 mL on")
@for_every(SYRINGES)
def test_limit_of_a_syringe(identifier: str) -> None:
    expected = "0.05" if GLASSWARE[identifier]["capacity"] < 5 else "0.04"
    assert share_of_capacity(identifier) == Decimal(expected)


@pytest.mark.source("iso-8655-2: 0.8 % of the capacity from 100 µL on, 1.0 % to 1.2 % below")
@for_every(MICROPIPETTES)
def test_limit_of_a_micropipette(identifier: str) -> None:
    share = share_of_capacity(identifier)
    if GLASSWARE[identifier]["capacity"] >= 100:
        assert share == Decimal("0.008")
    else:
        assert Decimal("0.010") <= share <= Decimal("0.012")


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


@pytest.mark.source("iso-385-2005: burettes, class A")
@for_every(BURETTES)
def test_class_a_of_burettes(capacity: str) -> None:
    assert class_a(f"burette-{capacity}") == Decimal(BURETTES[capacity])


@pytest.mark.source("iso-648-2008: one-mark pipettes, class A")
@for_every(PIPETTES)
def test_class_a_of_pipettes(capacity: str) -> None:
    assert class_a(f"pipette-{capacity}") == Decimal(PIPETTES[capacity])


@pytest.mark.source("iso-1042-1998: one-mark flasks, class A")
@for_every(FLASKS)
def test_class_a_of_flasks(capacity: str) -> None:
    assert class_a(f"flask-volumetric-{capacity}") == Decimal(FLASKS[capacity])


@pytest.mark.source("iso-4788-2005: cylinders, class A")
@for_every(CYLINDERS)
def test_class_a_of_cylinders(capacity: str) -> None:
    assert class_a(f"cylinder-{capacity}") == Decimal(CYLINDERS[capacity])


def class_a(identifier: str) -> Decimal:
    """The tolerance of class A, in mL."""
    return Decimal(GLASSWARE[identifier]["tolerance"]["A"])
