"""The student's own data: given values of a problem that each student measures and fills in."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import groupby
from string import ascii_lowercase
from typing import Annotated

from pydantic import Field

from problemgen.model.file_types import ExactText, FilledText, LeftOut, WrittenText
from problemgen.model.fixed import Datum
from problemgen.model.quantity import Quantity

__all__ = ["Flag", "OwnKey", "OwnReading", "OwnTexts", "OwnValue", "data_of", "own_column", "with_own_columns"]


@dataclass(frozen=True)
class OwnValue:
    """A given value that the student fills in."""

    name: FilledText
    """What the set calls it: the substance and the template's key, "triphenylmethanol.obtained"."""

    quantity: Quantity
    """Which quantity it is."""

    unit: FilledText
    """The unit in which it is asked for."""

    low: ExactText
    """The least value that is usual, in the unit; a percentage of that quantity where it is a share."""

    high: ExactText
    """The greatest value that is usual."""

    step: LeftOut[WrittenText | None] = None
    """The smallest reading of the instrument, with its digits; none where nothing is known of it."""

    instrument: LeftOut[str] = ""
    """The instrument's name."""

    capacity: LeftOut[ExactText | None] = None
    """What the vessel holds, in the unit; none for no vessel."""

    share_of: LeftOut[Quantity | None] = None
    """The quantity of which it is a share; none where it is no share."""

    second: LeftOut[Quantity | None] = None
    """The quantity of the second number, where both are asked for as a ratio; bounds are of the first, in percent."""

    @property
    def quantities(self) -> tuple[Quantity, ...]:
        """All quantities that it tells: one, or the two of a ratio."""
        return (self.quantity,) if self.second is None else (self.quantity, self.second)


def own_column(problem: str, name: str) -> str:
    """The column of the responses for an own value: "1.triphenylmethanol.obtained" of problem "p1"."""
    return f"{problem.removeprefix('p')}.{name}"


def with_own_columns(parts: Sequence[str], own: Mapping[str, Sequence[str]]) -> tuple[str, ...]:
    """The columns of the responses: of each problem the student's own data, by its id, then its parts ("1a")."""
    columns: list[str] = []
    for number, mine in groupby(parts, key=lambda column: column.rstrip(ascii_lowercase)):
        columns += [*own.get(f"p{number}", ()), *mine]
    return tuple(columns)


@dataclass(frozen=True)
class OwnKey:
    """What marking knows of an own value."""

    column: Annotated[str, Field(pattern=r"^[1-9][0-9]*\.[a-z0-9_.-]+$")]
    """Its column in the responses: the problem's number and its name."""

    words: FilledText
    """What it is called in a sentence."""

    share_words: str
    """What the quantity is called of which it is a share; "" where it is no share."""

    value: OwnValue
    """The value that is asked for."""


@dataclass(frozen=True)
class OwnTexts:
    """What an own value is called in another language than the set's."""

    words: FilledText
    """What it is called in a sentence."""

    share_words: LeftOut[str] = ""
    """What the quantity is called of which it is a share; "" where it is no share."""

    instrument: LeftOut[str] = ""
    """The instrument's name."""

    def applied(self, key: OwnKey) -> OwnKey:
        """The value with these texts."""
        value = replace(key.value, instrument=self.instrument)
        return replace(key, words=self.words, share_words=self.share_words, value=value)


@dataclass(frozen=True)
class Flag:
    """Something about a student's own value that wants a second look. `sentence` is told to the student too."""

    code: str
    sentence: str


@dataclass(frozen=True)
class OwnReading:
    """An own value as one student filled it in. `datum` is None where there is none: `reason` tells why.

    Without a reason, nothing was filled in, or a dash in its place.
    """

    key: OwnKey
    wrote: str
    datum: Datum | None
    reason: str = ""
    flags: tuple[Flag, ...] = ()
    second: Datum | None = None
    """The second number of a ratio."""

    @property
    def is_blank(self) -> bool:
        """Whether nothing was filled in."""
        return self.datum is None and not self.reason


def data_of(readings: Iterable[OwnReading]) -> Mapping[str, Datum]:
    """The values that were read, by quantity id."""
    return {
        quantity.id: datum
        for one in readings
        for quantity, datum in zip(one.key.value.quantities, (one.datum, one.second), strict=False)
        if datum is not None
    }
