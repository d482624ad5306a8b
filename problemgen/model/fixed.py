"""A problem with fixed numbers: what is given, what is asked, and perhaps the published answer."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from problemgen.model.file_types import WrittenText
from problemgen.model.problem import Asked, Scene
from problemgen.model.quantity import Quantity

__all__ = ["ATOMS", "Datum", "FixedProblem", "Question", "Ranking"]


ATOMS = "atoms"
"""What a ranking counts where all atoms count."""


@dataclass(frozen=True)
class Datum:
    """A given value as written, with its unit."""

    written: WrittenText
    """The number with its digits as printed."""

    unit: str
    """Its unit, in its canonical spelling."""


@dataclass(frozen=True)
class Ranking:
    """A choice among substances: the one with the most (or fewest) particles of a kind, or mass of an element."""

    most: bool
    part: str  # an element's symbol, or ATOMS; "" for whole particles


@dataclass(frozen=True)
class Question:
    """One asked thing of a fixed problem, with the labels that it came with.

    `target` is the asked quantity, a ranking, or an unbalanced equation in text; `answer` the published answer.
    """

    quantity: str
    of: str | None
    unit: str | None
    target: Asked | Ranking | str
    answer: str | None


@dataclass(frozen=True)
class FixedProblem:
    """A problem with fixed numbers. `error` tells why it cannot be expressed; then the rest is empty."""

    id: str
    kind: str
    scene: Scene | None
    given: Mapping[Quantity, Datum]
    questions: tuple[Question, ...]
    error: str | None = None
    suspected: bool = False  # the published answer is thought to be wrong
