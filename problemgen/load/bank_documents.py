"""The shapes of the bank files."""

from __future__ import annotations

import datetime
from typing import Literal

from pydantic import Field

from problemgen.load.documents import Document, Identifier, Number, Text, UnitText

__all__ = [
    "BottlesDocument",
    "ElementsDocument",
    "GlasswareDocument",
    "HazardsDocument",
    "MeasuredDocument",
    "ReactionDocument",
    "ReactionsDocument",
    "SubstanceDocument",
    "SubstancesDocument",
    "WaterVapourDocument",
]


class AboutDocument(Document):
    """The head of a bank file."""

    title: Text
    edition: Text
    source: Text
    taken: datetime.date
    maker: Text
    note: str = ""


class MeasuredDocument(Document):
    """A value with unit, conditions, source."""

    value: Number
    unit: UnitText
    at: str = ""
    source: Text


class ElementDocument(Document):
    """An element's atomic weight."""

    symbol: Text
    weight: Number
    uncertainty: Number | None = None
    earlier: tuple[Number, ...] = ()


class ElementsDocument(Document):
    """elements.toml."""

    about: AboutDocument
    element: tuple[ElementDocument, ...]


class SubstanceDocument(Document):
    """One substance."""

    id: Identifier
    name: Text
    synonyms: tuple[Text, ...] = ()
    formula: Text
    smiles: Text | None = None
    cas: Text | None = None
    state: Literal["solid", "liquid", "gas"]
    density: MeasuredDocument | None = None
    hydrate_of: Identifier | None = None


class SubstancesDocument(Document):
    """substances.toml."""

    about: AboutDocument
    substance: tuple[SubstanceDocument, ...]


class BottleDocument(Document):
    """One bottle."""

    id: Identifier
    name: Text
    of: Identifier
    mass_percent: Number
    density: MeasuredDocument
    concentration: MeasuredDocument | None = None


class BottlesDocument(Document):
    """bottles.toml."""

    about: AboutDocument
    bottle: tuple[BottleDocument, ...]


class ReactionDocument(Document):
    """One reaction."""

    id: Identifier
    name: Text
    equation: Text
    product: Identifier
    kind: Text
    purpose: Literal["laboratory", "paper"]
    above: str = ""
    below: str = ""
    yield_percent: tuple[Number, Number]
    flasks: tuple[Number, ...] = ()
    sessions: dict[Identifier, int] = Field(default_factory=dict)
    product_scale_mmol: tuple[Number, Number] | None = None
    source: Text


class ReactionsDocument(Document):
    """reactions.toml."""

    about: AboutDocument
    reaction: tuple[ReactionDocument, ...]


class ToleranceDocument(Document):
    """The permitted error of a vessel: by class, or `one` where its standard knows no classes."""

    A: Number | None = None
    B: Number | None = None
    one: Number | None = None
    source: Text


class OneGlasswareDocument(Document):
    """One vessel or balance."""

    id: Identifier
    name: Text
    kind: Text
    capacity: Number
    unit: UnitText
    step: Number
    tolerance: ToleranceDocument | None = None


class GlasswareDocument(Document):
    """glassware.toml."""

    about: AboutDocument
    glassware: tuple[OneGlasswareDocument, ...]


class HazardDocument(Document):
    """The hazards of one substance."""

    of: Identifier
    pictograms: tuple[Text, ...] = ()
    signal: Literal["Danger", "Warning", ""] = ""
    statements: tuple[Text, ...] = ()
    source: Text


class HazardsDocument(Document):
    """hazards.toml."""

    about: AboutDocument
    hazard: tuple[HazardDocument, ...]


class VapourPressureDocument(Document):
    """The saturation pressure of water at a whole temperature."""

    celsius: int
    kilopascals: Number


class WaterVapourDocument(Document):
    """water_vapour.toml."""

    about: AboutDocument
    pressure: tuple[VapourPressureDocument, ...]
