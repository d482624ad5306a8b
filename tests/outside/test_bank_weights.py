"""The bank's atomic weights and molar masses against tables that others keep."""

from __future__ import annotations

import tomllib
from decimal import ROUND_HALF_UP, Decimal
from pathlib import Path
from typing import Any

import periodictable
import pytest
from rdkit import Chem

from problemgen.chemistry.elements import ELEMENTS
from problemgen.chemistry.formula import read_formula
from tests.support.every_row import for_every

BANKS = Path(__file__).parents[2] / "banks"
TABLE = Chem.GetPeriodicTable()


def bank(name: str) -> list[dict[str, Any]]:
    """The entries of one bank file, numbers as written."""
    text = (BANKS / f"{name}s.toml").read_text(encoding="utf-8")
    entries: list[dict[str, Any]] = tomllib.loads(text, parse_float=Decimal)[name]
    return entries


ATOMS = {entry["symbol"]: entry for entry in bank("element")}
SUBSTANCES = {entry["id"]: entry for entry in bank("substance")}
REVISED = {symbol: entry for symbol, entry in ATOMS.items() if "earlier" in entry}
WITHOUT_STANDARD_WEIGHT = frozenset({"Tc", "Pm", "Po", "At", "Rn", "Fr", "Ra", "Ac"})  # and all beyond uranium


def last_place(number: Decimal) -> int:
    """The decimal exponent of the last written digit."""
    exponent = number.as_tuple().exponent
    assert isinstance(exponent, int)
    return exponent


def rounded(number: Decimal, place: int) -> Decimal:
    """A number rounded half up to a decimal place."""
    return number.quantize(Decimal(1).scaleb(place), rounding=ROUND_HALF_UP)


@pytest.mark.source("prohaska-2022: elements without a standard atomic weight")
def test_every_element_with_a_standard_weight_stands_once_in_order() -> None:
    order = list(ELEMENTS)
    expected = [s for s in order[: order.index("U") + 1] if s not in WITHOUT_STANDARD_WEIGHT]
    assert [entry["symbol"] for entry in bank("element")] == expected


@pytest.mark.source("periodictable: atomic weights")
@for_every(ATOMS)
def test_weight_agrees_with_periodictable(symbol: str) -> None:
    mass = getattr(periodictable, symbol).mass
    assert float(ATOMS[symbol]["weight"]) == pytest.approx(mass, rel=1e-4)


@pytest.mark.source("prohaska-2022: the abridged table has at most five figures")
@for_every(ATOMS)
def test_weight_is_written_with_five_figures_or_as_far_as_it_is_known(symbol: str) -> None:
    weight, uncertainty = ATOMS[symbol]["weight"], ATOMS[symbol]["uncertainty"]
    assert len(weight.as_tuple().digits) <= 5
    assert len(weight.as_tuple().digits) == 5 or uncertainty >= Decimal(1).scaleb(last_place(weight))
    assert last_place(weight) == last_place(uncertainty)


@pytest.mark.source("periodictable: atomic weights")
@for_every(SUBSTANCES)
def test_molar_mass_agrees_with_periodictable(identifier: str) -> None:
    composition = read_formula(SUBSTANCES[identifier]["formula"]).composition
    ours = sum(count * ATOMS[symbol]["weight"] for symbol, count in composition.items())
    theirs = sum(count * getattr(periodictable, symbol).mass for symbol, count in composition.items())
    assert float(ours) == pytest.approx(theirs, rel=1e-4)


@for_every(REVISED)
def test_earlier_value_differs_beyond_rounding(symbol: str) -> None:
    weight = ATOMS[symbol]["weight"]
    for text in REVISED[symbol]["earlier"]:
        earlier = Decimal(text)
        place = max(last_place(earlier), last_place(weight))
        assert rounded(earlier, place) != rounded(weight, place)


@pytest.mark.source("rdkit: atomic weights of an older table; from-memory: earlier values")
@for_every(REVISED)
def test_earlier_values_are_near_the_older_table_of_rdkit(symbol: str) -> None:
    # RDKit keeps at most three decimals of an older table; 0.002 covers a step in the last place of both.
    older = TABLE.GetAtomicWeight(symbol)
    assert min(abs(float(text) - older) for text in REVISED[symbol]["earlier"]) <= 0.002


@pytest.mark.source("rdkit: atomic weights of an older table")
def test_no_element_of_the_substances_is_missing_where_rdkit_still_has_an_older_weight() -> None:
    used = {s for entry in SUBSTANCES.values() for s in read_formula(entry["formula"]).composition}
    differing = {
        symbol
        for symbol in used
        if abs(TABLE.GetAtomicWeight(symbol) - float(ATOMS[symbol]["weight"])) > 0.5 * 10.0**-2
    }
    assert differing <= set(REVISED)
