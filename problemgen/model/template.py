"""A problem template, read: its species, what is drawn and from which scale, and the parts that are asked."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from problemgen.exact.digits import Written
from problemgen.model.banks import Hazard, Reaction, Substance
from problemgen.model.plan import Plan
from problemgen.model.problem import Asked, Scene
from problemgen.model.quantity import Quantity

__all__ = ["Draw", "Fixed", "Obtained", "Part", "Template"]


@dataclass(frozen=True)
class Draw:
    """A given value that is drawn: one of evenly spaced values on a scale, or one of a list.

    A scale's values are `first` × `step`, (`first` + 1) × `step`, … , `count` of them. A list stands in
    `choices`, and then `step` is unused.
    """

    quantity: Quantity
    unit: str
    step: Written
    first: int
    count: int
    choices: tuple[Written, ...] = ()
    instrument: str = ""  # the name of the glassware or balance


@dataclass(frozen=True)
class Obtained:
    """A product's mass as obtained: a percent yield is drawn between bounds, and the mass read on a balance."""

    quantity: Quantity
    unit: str
    step: Written
    low: Written
    high: Written
    theoretical: Quantity
    instrument: str = ""


@dataclass(frozen=True)
class Fixed:
    """A given value that is the same for everybody: a density, the percentage on a bottle."""

    quantity: Quantity
    written: Written
    unit: str
    note: str = ""  # conditions or the bottle's name, for print


@dataclass(frozen=True)
class Part:
    """One asked part. `prompt` is the author's, "" where the engine writes it."""

    id: str
    asked: Asked
    points: Written
    prompt: str
    session: int


@dataclass(frozen=True)
class Template:
    """A template with its plan. `substances` holds the bank entries of the scene's species, by id."""

    id: str
    title: str
    topic: str
    difficulty: int
    story: str
    reaction: Reaction | None
    substances: Mapping[str, Substance]
    hazards: Mapping[str, Hazard]
    scene: Scene
    draws: tuple[Draw, ...]
    obtained: tuple[Obtained, ...]
    fixed: tuple[Fixed, ...]
    parts: tuple[Part, ...]
    plan: Plan
    sessions: int
    session_of: Mapping[str, int]  # reagent id -> the session in which it is used

    def parts_of(self, session: int) -> tuple[Part, ...]:
        """The parts that stand on one session's sheet."""
        return tuple(part for part in self.parts if part.session == session)
