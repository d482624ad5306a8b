"""A problem template, read: its species, what is drawn and from which scale, and the parts that are asked."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property
from typing import TypeAlias

from problemgen.exact.digits import Written
from problemgen.model.banks import Reaction, Substance
from problemgen.model.expression import Expression, names_in
from problemgen.model.hazards import Hazard
from problemgen.model.plan import Plan
from problemgen.model.problem import Asked, Scene
from problemgen.model.quantity import Quantity

__all__ = [
    "Analysed",
    "Draw",
    "Fixed",
    "Obtained",
    "Part",
    "Reading",
    "Series",
    "Source",
    "Template",
    "Unknown",
    "is_second",
    "label_of",
    "second_of",
]

_IN_RATIO = "relative_amount"
"""The kind of the numbers that are told as a ratio."""


@dataclass(frozen=True)
class Draw:
    """A given value that is drawn: one of evenly spaced values on a scale, or one of a list.

    A scale's values are `first` × `step`, (`first` + 1) × `step`, … , `count` of them. A list stands in
    `choices`, and then `step` is unused. A value that `follows` another draw is no draw of its own: its `choices`
    hold one value for each of that draw's, in their order (the vapour pressure of water at the drawn temperature).
    """

    quantity: Quantity
    unit: str
    step: Written
    first: int
    count: int
    choices: tuple[Written, ...] = ()
    instrument: str = ""  # the name of the glassware or balance
    follows: Quantity | None = None


@dataclass(frozen=True)
class Obtained:
    """A mass as obtained: a percentage of `theoretical` is drawn between bounds, and the mass read on a balance."""

    quantity: Quantity
    unit: str
    step: Written
    low: Written
    high: Written
    theoretical: Quantity
    instrument: str = ""


@dataclass(frozen=True)
class Reading:
    """A given value that follows from others and is read on a scale: a burette behind a titre, a point of a line.

    `expression` tells where it stands, in engine units, from given values, readings before it and hidden draws. A
    reading scatters: a number of steps is added, drawn from `least` to `most`.
    """

    quantity: Quantity
    unit: str
    step: Written
    expression: Expression
    least: int = 0
    most: int = 0
    instrument: str = ""

    @property
    def bases(self) -> frozenset[str]:
        """The ids of what it follows from."""
        return frozenset(names_in(self.expression))


@dataclass(frozen=True)
class Series:
    """Values that hang together: what is drawn and told, what is drawn and told nowhere, and what both lead to."""

    draws: tuple[Draw, ...]
    hidden: tuple[Draw, ...]
    readings: tuple[Reading, ...]


@dataclass(frozen=True)
class Fixed:
    """A given value that is the same for everybody: a density, the percentage on a bottle."""

    quantity: Quantity
    written: Written
    unit: str
    note: str = ""  # conditions or the bottle's name, for print


@dataclass(frozen=True)
class Analysed:
    """A given value that follows from the hidden formula of an unknown compound, read on a scale.

    `factors` has a number for each of the formulas: the value in `unit`, or the multiple of what `times` leads to from
    other given values, in engine units. An analysis scatters: up to `spread` steps are added or taken away.
    """

    quantity: Quantity
    unit: str
    step: Written
    factors: tuple[Fraction, ...]
    times: Expression | None = None
    spread: int = 0


@dataclass(frozen=True)
class Unknown:
    """An unknown compound: its formulas, one of which is drawn, and what its analysis gives.

    `truths` holds, by the id of an asked formula's mass, the right mass for each of the formulas (g/mol).
    """

    formulas: tuple[str, ...]
    analysed: tuple[Analysed, ...]
    truths: Mapping[str, tuple[Fraction, ...]]


Source: TypeAlias = Draw | Obtained | Reading | Analysed | Fixed


@dataclass(frozen=True)
class Part:
    """One asked part. `prompt` is the author's, "" where the engine writes it.

    `usual_points` are the template's own, where a set gives others; None where they are the same.
    """

    id: str
    asked: Asked
    points: Written
    prompt: str
    session: int
    usual_points: Written | None = None


@dataclass(frozen=True)
class Template:
    """A template with its plan. `substances` holds the bank entries of the scene's species, by id.

    `auxiliaries` are those that stand at the arrows of its reactions; `hazards` holds both, `hazard_statements` the
    sentences of their codes. `samples` tells by substance what the impure sample that holds it is called.
    """

    id: str
    title: str
    topic: str
    difficulty: int
    story: str
    reaction: Reaction | None
    substances: Mapping[str, Substance]
    auxiliaries: Mapping[str, Substance]
    hazards: Mapping[str, Hazard]
    hazard_statements: Mapping[str, str]
    scene: Scene
    draws: tuple[Draw, ...]
    obtained: tuple[Obtained, ...]
    fixed: tuple[Fixed, ...]
    parts: tuple[Part, ...]
    plan: Plan
    sessions: int
    session_of: Mapping[str, int]  # reagent id -> the session in which it is used
    unknown: Unknown | None = None
    samples: Mapping[str, str] = field(default_factory=dict)
    further: tuple[Reaction, ...] = ()  # the reactions beside the main one, in the order of the scene's equations
    may_hide: frozenset[str] = frozenset()  # the ids of mistakes that its variants need not show
    always_limits: str = ""  # the id of the reagent that limits in all variants; "" where who limits varies
    because: str = ""  # why, as a sentence for instructors
    hidden: tuple[Draw, ...] = ()  # drawn, and told on no sheet: what readings are made from
    readings: tuple[Reading, ...] = ()

    @cached_property
    def sources(self) -> Mapping[str, Source]:
        """What each given value is from, by the quantity's id."""
        analysed = self.unknown.analysed if self.unknown is not None else ()
        every: list[Source] = [*self.draws, *self.obtained, *self.readings, *analysed, *self.fixed]
        return {one.quantity.id: one for one in every}

    @property
    def is_drawn(self) -> bool:
        """Whether students get numbers of their own; one that only asks for an equation gives everybody the same."""
        return bool(self.draws or self.obtained or self.readings or self.unknown)

    def parts_of(self, session: int) -> tuple[Part, ...]:
        """The parts that stand on one session's sheet."""
        return tuple(part for part in self.parts if part.session == session)


def second_of(template: Template, quantity: Quantity) -> Draw | None:
    """The draw of the second number of a ratio whose first number is this quantity; None for any other quantity."""
    pairs = (one for one in template.draws if quantity.kind == _IN_RATIO and one.follows == quantity)
    return next(pairs, None)


def is_second(template: Template, quantity: Quantity) -> bool:
    """Whether a quantity is the second number of a ratio."""
    one = next((one for one in template.draws if one.quantity == quantity), None)
    return one is not None and one.follows is not None and quantity.kind == _IN_RATIO


def label_of(index: int) -> str:
    """The letter of a part, by its place among the parts (from 0): a, b, … z, aa, ab, …"""
    letters = "abcdefghijklmnopqrstuvwxyz"
    return (
        letters[index] if index < len(letters) else letters[index // len(letters) - 1] + letters[index % len(letters)]
    )
