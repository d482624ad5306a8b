"""The bank's bottles: 10 × mass percent × density / molar mass against published amount concentrations."""

from __future__ import annotations

import tomllib
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from problemgen.chemistry.formula import read_formula
from tests.support.every_row import for_every

BANKS = Path(__file__).parents[2] / "banks"


def bank(name: str) -> list[dict[str, Any]]:
    """The entries of one bank file, numbers as written."""
    text = (BANKS / f"{name}s.toml").read_text(encoding="utf-8")
    entries: list[dict[str, Any]] = tomllib.loads(text, parse_float=Decimal)[name]
    return entries


BOTTLES = {entry["id"]: entry for entry in bank("bottle")}
SUBSTANCES = {entry["id"]: entry for entry in bank("substance")}
WEIGHTS = {entry["symbol"]: entry["weight"] for entry in bank("element")}

# In mol/L, rounded as each source rounds them.
CHARTS = {
    "hydrochloric-acid-37": 12.0,
    "sulfuric-acid-96": 18.0,
    "nitric-acid-70": 16.0,
    "phosphoric-acid-85": 14.8,
    "acetic-acid-glacial": 17.4,
    "hydrobromic-acid-48": 8.9,
    "ammonia-28": 14.8,
    "sodium-hydroxide-50": 19.1,
    "sulfuric-acid-95": 17.8,
    "ammonia-35": 18.1,
    "phosphoric-acid-75": 12.1,
}
HANDBOOK = {"hydrochloric-acid-20": 6.0, "sodium-hydroxide-20": 6.1}
CUSTOMARY = {"hydrogen-peroxide-30": 9.79}


def concentration(entry: dict[str, Any]) -> float:
    """The amount concentration in mol/L that follows from mass percent and density in g/mL."""
    formula = read_formula(SUBSTANCES[entry["of"]]["formula"])
    mass = sum(WEIGHTS[symbol] * count for symbol, count in formula.counts)
    return float(10 * entry["mass_percent"] * entry["density"]["value"] / mass)


def test_at_least_forty_two_bottles_each_once() -> None:
    assert len(BOTTLES) == len(bank("bottle")) >= 42


@pytest.mark.source("from-memory: makers' charts of concentrated reagents")
@for_every(CHARTS)
def test_concentrated_reagents_agree_with_the_charts(identifier: str) -> None:
    # 2.5 %: the charts' nitric acid is "16 mol/L", two figures for 15.7 to 15.9.
    assert concentration(BOTTLES[identifier]) == pytest.approx(CHARTS[identifier], rel=0.025)


@pytest.mark.source("crc-handbook: concentrative properties of aqueous solutions")
@for_every(HANDBOOK)
def test_dilute_reagents_agree_with_the_handbook(identifier: str) -> None:
    # 2 %: two figures.
    assert concentration(BOTTLES[identifier]) == pytest.approx(HANDBOOK[identifier], rel=0.02)


@pytest.mark.source("common-practice: hydrogen peroxide of 30 % counts as 9.79 mol/L")
@for_every(CUSTOMARY)
def test_a_reagent_agrees_with_what_is_usually_taken(identifier: str) -> None:
    assert concentration(BOTTLES[identifier]) == pytest.approx(CUSTOMARY[identifier], rel=0.005)


@for_every(BOTTLES)
def test_own_rounded_concentration_agrees(identifier: str) -> None:
    entry = BOTTLES[identifier]
    assert entry["concentration"]["unit"] == "mol/L"
    assert float(entry["concentration"]["value"]) == pytest.approx(concentration(entry), rel=0.015)


@for_every(BOTTLES)
def test_bottle_is_physically_possible(identifier: str) -> None:
    entry = BOTTLES[identifier]
    assert 0 < entry["mass_percent"] < 100
    assert Decimal("0.7") < entry["density"]["value"] < 2
    assert entry["density"]["unit"] == "g/mL"
    assert read_formula(SUBSTANCES[entry["of"]]["formula"]).crystal_water == 0


@for_every(sorted({entry["of"] for entry in BOTTLES.values()}))
def test_density_moves_one_way_with_mass_percent(solute: str) -> None:
    ones = sorted((e for e in BOTTLES.values() if e["of"] == solute), key=lambda e: e["mass_percent"])
    densities = [entry["density"]["value"] for entry in ones]
    assert densities == sorted(densities, reverse=solute in {"ammonia", "ethanol"})
