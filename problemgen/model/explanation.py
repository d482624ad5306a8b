"""Why a part was given its points: what the marking tried, in the order in which it tried it. For the instructor."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from problemgen.model.answers import PartKey
from problemgen.model.quantity import Quantity
from problemgen.model.truths import Truth
from problemgen.model.verdict import PartResult

__all__ = ["Bounds", "Explanation", "OnTheWay", "Trial"]


@dataclass(frozen=True)
class Bounds:
    """A value and what may stand in its place, in some unit, and the significant figures that its data support."""

    value: Fraction
    low: Fraction
    high: Fraction
    figures: int


@dataclass(frozen=True)
class OnTheWay:
    """One value on the way to a part's answer, in engine units.

    source: "given", "constant", "worked", or "answered" (the student's own wrong answer). why: what makes its window.
    """

    quantity: Quantity
    source: str
    bounds: Bounds
    why: str


@dataclass(frozen=True)
class Trial:
    """One explanation of an answer that was tried.

    kind: "window", "slip", "follow-through", "mistake", "two mistakes" or "rounding". what: what was tried, in words.
    leads_to: the value that it leads to, in the unit asked for; None where it leads to none, or to no number.
    why: what speaks for or against it.
    """

    kind: str
    what: str
    fits: bool
    why: str
    leads_to: Bounds | None = None


@dataclass(frozen=True)
class Explanation:
    """One part explained. `value` is what was read, in the unit asked for, `figures` those that count as written.

    `way` are the steps to the right answer, `carried` those to the student's own, where it builds on a wrong one;
    `follows` is the number that these lead to, in the unit asked for.
    """

    part: PartKey
    truth: Truth | None  # None where it rests on data that the student did not give
    result: PartResult
    value: Fraction | None
    figures: int
    way: tuple[OnTheWay, ...]
    carried: tuple[OnTheWay, ...]
    trials: tuple[Trial, ...]
    follows: Bounds | None = None
