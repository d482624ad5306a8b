"""The shape of a template file."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from problemgen.load.documents import Document, Identifier, Number, Text, UnitText

__all__ = ["GivenDocument", "ObtainedDocument", "PartDocument", "TemplateDocument", "ValueDocument"]


class ValueDocument(Document):
    """A given value: drawn from a range on a scale (`from`, `to`, `read` or `step`), from a list, or fixed."""

    unit: UnitText
    start: Annotated[Number | None, Field(alias="from")] = None
    to: Number | None = None
    read: Identifier | None = None
    step: Number | None = None
    choose: tuple[Number, ...] = ()
    value: Number | None = None


class ObtainedDocument(Document):
    """What was obtained of a product: the range of percent yield, and the balance."""

    percent_yield: tuple[Number, Number]
    unit: UnitText
    read: Identifier


class StageDocument(Document):
    """The values of one stage of a dilution."""

    volume: ValueDocument | None = None
    concentration: ValueDocument | None = None
    mass: ValueDocument | None = None
    mass_fraction: ValueDocument | None = None


class GivenDocument(Document):
    """How one substance is measured out."""

    mass: ValueDocument | None = None
    volume: ValueDocument | None = None
    amount: ValueDocument | None = None
    concentration: ValueDocument | None = None
    mass_fraction: ValueDocument | None = None
    purity: ValueDocument | None = None
    percent_yield: ValueDocument | None = None
    density: ValueDocument | None = None
    pressure: ValueDocument | None = None
    temperature: ValueDocument | None = None
    bottle: Identifier | None = None
    weighed_as: Identifier | None = None
    in_excess: bool = False
    obtained: ObtainedDocument | None = None
    initial: StageDocument | None = None
    final: StageDocument | None = None


class PartDocument(Document):
    """One asked part, or several where `of` or `from` says "each reagent"."""

    quantity: Identifier | Literal["molar_mass", "percent_yield", "mass_fraction", "limiting_reagent"]
    of: Text | None = None
    source: Annotated[Text | None, Field(alias="from")] = None
    role: Literal["left", "consumed", "initial", "final", "added", "solution", "impure", "actual"] | None = None
    unit: UnitText | None = None
    points: Number | None = None
    prompt: str = ""
    session: int = Field(default=1, ge=1, le=3)


class TemplateDocument(Document):
    """A template."""

    title: Text
    topic: Text
    difficulty: int = Field(ge=1, le=5)
    trains: str = ""
    reaction: Identifier | None = None
    story: str = ""
    given: dict[Identifier, GivenDocument]
    part: tuple[PartDocument, ...] = Field(min_length=1)
