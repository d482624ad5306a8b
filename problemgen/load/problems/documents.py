"""The shape of a problem with fixed numbers."""

from __future__ import annotations

from decimal import Decimal
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field

from problemgen.load.templates.document import AskedDocument
from problemgen.model.document import Document, Number, Text, UnitText

__all__ = ["GivenLine", "ProblemDocument", "QuestionLine", "UnknownLine", "as_written"]


def as_written(value: Any) -> Any:
    """A number in a JSON file as the text that it was written as; anything else as it is. ValueError for a float."""
    if isinstance(value, float):
        raise ValueError(f"text, such as '{value}', which keeps its figures")  # noqa: TRY004 - pydantic collects it
    if isinstance(value, Decimal | int) and not isinstance(value, bool):
        return str(value)
    return value


class GivenLine(Document):
    """One given value."""

    quantity: Text
    of: Text
    role: str | None = None
    stage: int = Field(default=0, ge=0)
    value: Annotated[Number, BeforeValidator(as_written)]
    unit: UnitText | None = None


class QuestionLine(AskedDocument):
    """One asked thing, with the published answer."""

    which: Literal["greatest", "least"] | None = None
    answer: Annotated[Text | None, BeforeValidator(as_written)] = None


class UnknownLine(Document):
    """The compound whose formula is asked: its elements, and the one of them that is found by difference."""

    elements: tuple[Text, ...] = Field(min_length=1)
    rest: Text | None = None


class ProblemDocument(Document):
    """One problem."""

    id: Annotated[Text | None, BeforeValidator(as_written)] = None
    source: str | None = None
    note: str | None = None
    equation: Text | None = None
    substances: dict[Text, Text | None] = Field(default_factory=dict)
    product: Text | None = None
    in_excess: tuple[Text, ...] = ()
    solvent: Text | None = None
    unknown: UnknownLine | None = None
    given: tuple[GivenLine, ...] = ()
    asked: tuple[QuestionLine, ...] = Field(min_length=1)
