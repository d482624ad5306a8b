"""What the practice page looks up: the units that can be read, and the elements with their weights in use."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from problemgen.chemistry.elements import ELEMENTS
from problemgen.chemistry.unit_list import LENGTHS, SPELLINGS, UNITS
from problemgen.chemistry.units import read_unit
from problemgen.exact.rounding import plain_text
from problemgen.model.banks import Banks

__all__ = ["elements_list", "units_list"]


def units_list() -> dict[str, Any]:
    """The closed list of units: factors and offsets to engine units exact, as text; dimensions by base."""
    units = {listed.symbol: read_unit(listed.symbol) for listed in UNITS if listed.symbol}
    return {
        "units": {symbol: [str(unit.factor), str(unit.offset), dict(unit.dimension)] for symbol, unit in units.items()},
        "spellings": {spelling: listed.symbol for spelling, listed in SPELLINGS.items()},
        "lengths": sorted(LENGTHS),
    }


def elements_list(banks: Banks, names: Mapping[str, str]) -> list[Mapping[str, Any]]:
    """All elements by number; the weight in use, "" for one that has none; `names` are those in another language."""
    return [
        {
            "number": number,
            "symbol": symbol,
            "name": names.get(symbol, name),
            "weight": _decimal(banks.weights[symbol].value) if symbol in banks.weights else "",
        }
        for number, (symbol, name) in enumerate(ELEMENTS.items(), start=1)
    ]


def _decimal(value: Fraction) -> str:
    """A decimal fraction with all its decimals."""
    places = next(n for n in range(12) if (value * 10**n).denominator == 1)
    return plain_text(value, -places)
