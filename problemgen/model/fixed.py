"""A problem with fixed numbers: what is given, what is asked, and perhaps the published answer."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

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
    """A choice among the substances given: the one with the greatest, or the least, mass, amount or count.

    `part` is what is counted in each: the id of an element, an ion or a group; ATOMS; "" for the substance itself.
    """

    kind: str
    greatest: bool
    part: str = ""


@dataclass(frozen=True)
class Question:
    """One asked thing of a fixed problem: the line as it was written, and the published answer, where there is one.

    `target` is None where the problem cannot be expressed.
    """

    line: Mapping[str, Any]
    target: Asked | Ranking | None
    answer: str | None


@dataclass(frozen=True)
class FixedProblem:
    """A problem with fixed numbers. `error` tells why it cannot be expressed; then there is no scene.

    `words` tell each given quantity as its line does: "purity of limestone".
    """

    id: str
    scene: Scene | None
    given: Mapping[Quantity, Datum]
    words: Mapping[Quantity, str]
    questions: tuple[Question, ...]
    error: str | None = None
