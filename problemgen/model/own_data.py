"""The student's own data: given values of a problem that each student measures and fills in."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby
from string import ascii_lowercase

from problemgen.exact.digits import Written
from problemgen.model.fixed import Datum
from problemgen.model.quantity import Quantity

__all__ = ["Flag", "OwnKey", "OwnReading", "OwnValue", "data_of", "own_column", "with_own_columns"]


@dataclass(frozen=True)
class OwnValue:
    """A given value that the student fills in.

    `name` is what the set calls it: the substance and the template's key, "triphenylmethanol.obtained". `low` and
    `high` are what is usual, in `unit`; where there is `share_of`, they are percentages of that quantity. `step` is
    the smallest reading, None where nothing is known of it; `capacity` what the vessel holds, in `unit`.
    """

    name: str
    quantity: Quantity
    unit: str
    low: Fraction
    high: Fraction
    step: Written | None = None
    instrument: str = ""
    capacity: Fraction | None = None
    share_of: Quantity | None = None


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
    """What marking knows of an own value: its column, and words for it and for what it is a share of."""

    column: str
    words: str
    share_words: str
    value: OwnValue


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

    @property
    def is_blank(self) -> bool:
        """Whether nothing was filled in."""
        return self.datum is None and not self.reason


def data_of(readings: Iterable[OwnReading]) -> Mapping[str, Datum]:
    """The values that were read, by quantity id."""
    return {one.key.value.quantity.id: one.datum for one in readings if one.datum is not None}
