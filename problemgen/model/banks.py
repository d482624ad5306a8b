"""The chemistry banks as records: elements, substances, bottles, reactions, glassware, hazards, water vapour."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from problemgen.chemistry.formula import Formula
from problemgen.exact.digits import Written
from problemgen.model.problem import Constant

__all__ = ["Banks", "Bottle", "Glassware", "Hazard", "Measured", "Reaction", "Substance"]


@dataclass(frozen=True)
class Measured:
    """A value with its unit, conditions and source."""

    value: Written
    unit: str
    at: str
    source: str


@dataclass(frozen=True)
class Substance:
    """A substance. `state` is "solid", "liquid" or "gas" at 25 °C; `hydrate_of` names the anhydrous substance."""

    id: str
    name: str
    synonyms: tuple[str, ...]
    formula: Formula
    smiles: str | None
    cas: str | None
    state: str
    density: Measured | None
    hydrate_of: str | None


@dataclass(frozen=True)
class Bottle:
    """A usual bottle of a solution: mass percent and density, and the handbook's rounded concentration."""

    id: str
    name: str
    of: str
    mass_percent: Written
    density: Measured
    concentration: Measured | None


@dataclass(frozen=True)
class Reaction:
    """A reaction. `coefficients` are signed by substance id, reagents negative, in the order of the equation."""

    id: str
    name: str
    coefficients: Mapping[str, int]
    product: str
    kind: str
    purpose: str
    above: str
    below: str
    yield_percent: tuple[Written, Written]
    flasks: tuple[Written, ...]  # capacities in mL, rising
    sessions: Mapping[str, int]  # reagents added in a later session
    source: str


@dataclass(frozen=True)
class Glassware:
    """A vessel or balance: its capacity, and the smallest step that a student reads off."""

    id: str
    name: str
    kind: str
    capacity: Written
    unit: str
    step: Written


@dataclass(frozen=True)
class Hazard:
    """The hazards of a substance: GHS pictogram codes, signal word, H-statements, source."""

    of: str
    pictograms: tuple[str, ...]
    signal: str
    statements: tuple[str, ...]
    source: str


@dataclass(frozen=True)
class Banks:
    """All banks, each by id (elements by symbol, hazards by substance, the vapour pressure of water, kPa, by °C)."""

    weights: Mapping[str, Constant]
    edition: str
    substances: Mapping[str, Substance]
    bottles: Mapping[str, Bottle]
    reactions: Mapping[str, Reaction]
    glassware: Mapping[str, Glassware]
    hazards: Mapping[str, Hazard]
    water_vapour: Mapping[int, Written]
