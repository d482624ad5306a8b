"""The shape of a template file."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import Field, create_model

from problemgen.load.documents import Document, Identifier, Number, Text, UnitText
from problemgen.model.quantity import CONSTANT_KINDS, KINDS, ROLES

__all__ = ["GivenDocument", "ObtainedDocument", "PartDocument", "RoleDocument", "TemplateDocument", "ValueDocument"]


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


_VALUE: Any = (ValueDocument | None, None)
_GIVABLE = [kind for kind in KINDS if kind not in CONSTANT_KINDS]

RoleDocument = create_model(
    "RoleDocument",
    __base__=Document,
    __doc__="The values of a substance in one role.",
    **dict.fromkeys(_GIVABLE, _VALUE),
)
"""Every kind of quantity can be given in every role."""


_ROLE: Any = (RoleDocument | None, None)


class MeasuringDocument(Document):
    """How one substance is measured out, beside its quantities."""

    purity: ValueDocument | None = None
    bottle: Identifier | None = None
    weighed_as: Identifier | None = None
    in_excess: bool = False
    obtained: ObtainedDocument | None = None


GivenDocument: Any = create_model(
    "GivenDocument",
    __base__=MeasuringDocument,
    __doc__="Everything that is given of one substance: quantities without a role, and tables by role.",
    **{**dict.fromkeys(_GIVABLE, _VALUE), **dict.fromkeys(ROLES, _ROLE)},
)


class PartDocument(Document):
    """One asked part, or several where `of` or `from` says "each reagent"."""

    quantity: Text
    of: Text | None = None
    source: Annotated[Text | None, Field(alias="from")] = None
    role: Text | None = None
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
