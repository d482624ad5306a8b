"""Records that are read from TOML: a field of one of these types tells how it is written and what is refused.

Unknown keys are refused. Numbers keep their digits; units are brought to their usual spelling.
"""

from __future__ import annotations

from decimal import Decimal
from typing import Annotated, Any

from pydantic import BaseModel, BeforeValidator, ConfigDict

from problemgen.chemistry.units import Unit, read_unit
from problemgen.errors import NumberError, UnitError
from problemgen.exact.digits import Written, read_written

__all__ = ["Document", "Flag", "Identifier", "Number", "Text", "UnitText", "read_number"]


_GREATEST_EXPONENT = 99
"""Of a decimal that is written out: with more zeros it would be longer than `read_written` reads."""


class Document(BaseModel):
    """A part of a file: unknown keys are faults, values are frozen. Its reader is made when it is first used."""

    model_config = ConfigDict(extra="forbid", frozen=True, arbitrary_types_allowed=True, defer_build=True)


def read_number(value: Any) -> Written:
    """A number with its digits, out of TOML. Raises ValueError."""
    if isinstance(value, Written):
        return value
    if isinstance(value, bool) or not isinstance(value, int | Decimal | str):
        raise ValueError("a number")  # noqa: TRY004 - pydantic collects ValueError only
    try:
        # What is beyond the limits of `read_written` is refused by its own digits: written out it may fill the memory.
        fits = isinstance(value, Decimal) and value.is_finite() and abs(value.adjusted()) <= _GREATEST_EXPONENT
        return read_written(format(value, "f") if fits else str(value))
    except NumberError as error:
        raise ValueError(f"a number: {error}") from None


def _unit(value: Any) -> str:
    if not isinstance(value, str):
        raise ValueError("a unit")  # noqa: TRY004 - pydantic collects ValueError only
    try:
        unit: Unit = read_unit(value)
    except UnitError as error:
        raise ValueError(f"a unit of the list: {error}") from None
    return unit.text


def _text(value: Any) -> str:
    if not isinstance(value, str) or not value.strip():
        raise ValueError("text that is not empty")
    return value.strip()


def _identifier(value: Any) -> str:
    allowed = "abcdefghijklmnopqrstuvwxyz0123456789-."
    if not isinstance(value, str) or not value or any(character not in allowed for character in value):
        raise ValueError("a name of small letters, digits, dots and hyphens")
    return value


def _flag(value: Any) -> bool:
    if not isinstance(value, bool):
        raise ValueError("true or false")  # noqa: TRY004 - pydantic collects ValueError only
    return value


Flag = Annotated[bool, BeforeValidator(_flag)]
Number = Annotated[Written, BeforeValidator(read_number)]
UnitText = Annotated[str, BeforeValidator(_unit)]
Text = Annotated[str, BeforeValidator(_text)]
Identifier = Annotated[str, BeforeValidator(_identifier)]
