"""The bank files: a head, and the records of one kind."""

from __future__ import annotations

import datetime

from pydantic import Field

from problemgen.model.banks import (
    Bottle,
    Element,
    Glassware,
    Package,
    Publication,
    Reaction,
    Statement,
    Substance,
    VapourPressure,
)
from problemgen.model.citation import Citations
from problemgen.model.document import Document, Text
from problemgen.model.hazards import Hazard, HazardStatement

__all__ = [
    "BankDocument",
    "BottlesDocument",
    "ElementsDocument",
    "GlasswareDocument",
    "HazardsDocument",
    "NamesDocument",
    "ReactionsDocument",
    "SourcesDocument",
    "SubstancesDocument",
    "WaterVapourDocument",
]


class AboutDocument(Document):
    """The head of a bank file. `source` is that of every entry that names none; `checked`: what it is compared with."""

    title: Text
    edition: Text
    source: Citations
    checked: Citations = ()
    taken: datetime.date
    maker: Text
    note: str = ""


class BankDocument(Document):
    """A bank file; those that come with the program have a head."""

    about: AboutDocument | None = None


class ElementsDocument(BankDocument):
    """elements.toml."""

    element: tuple[Element, ...]


class SubstancesDocument(BankDocument):
    """substances.toml."""

    substance: tuple[Substance, ...] = ()


class BottlesDocument(BankDocument):
    """bottles.toml."""

    bottle: tuple[Bottle, ...] = ()


class ReactionsDocument(BankDocument):
    """reactions.toml."""

    reaction: tuple[Reaction, ...] = ()


class GlasswareDocument(BankDocument):
    """glassware.toml."""

    glassware: tuple[Glassware, ...] = ()


class HazardsDocument(BankDocument):
    """hazards.toml."""

    statement: tuple[HazardStatement, ...] = ()
    hazard: tuple[Hazard, ...] = ()


class NamesDocument(BankDocument):
    """names/LANGUAGE.toml: what the entries of the other banks are called in a language.

    The file's name is the language's code (BCP 47). Elements go by symbol, statements by code, all else by id.
    """

    substances: dict[Text, Text] = Field(default_factory=dict)
    elements: dict[Text, Text] = Field(default_factory=dict)
    glassware: dict[Text, Text] = Field(default_factory=dict)
    bottles: dict[Text, Text] = Field(default_factory=dict)
    statements: dict[Text, Text] = Field(default_factory=dict)


class WaterVapourDocument(BankDocument):
    """water_vapour.toml."""

    pressure: tuple[VapourPressure, ...]


class SourcesDocument(BankDocument):
    """sources.toml."""

    publication: tuple[Publication, ...] = ()
    package: tuple[Package, ...] = ()
    statement: tuple[Statement, ...] = ()
