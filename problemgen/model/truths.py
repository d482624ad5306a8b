"""The right answer to a part: a number with its window, a species, or a text. As a key holds it, and a variant."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, is_dataclass, replace
from typing import Annotated, Any, Self, TypeAlias

from pydantic import Discriminator, Tag

from problemgen.exact.digits import read_written
from problemgen.exact.rounding import figures_text, outward_text
from problemgen.model.file_types import KEY_FIGURES, Count, DecimalText, FileForm, FilledText, InMemory

__all__ = ["ChoiceTruth", "NumberTruth", "TextTruth", "Truth", "number_in", "truth_data"]


@dataclass(frozen=True)
class NumberTruth:
    """A number that is right, with its window, in the unit asked for."""

    value: DecimalText
    """The exact value, rounded to 12 figures."""

    low: DecimalText
    """The least value that is accepted, rounded down."""

    high: DecimalText
    """The greatest value that is accepted, rounded up."""

    figures: Count
    """The significant figures that the data support."""

    printed: FilledText
    """The number as the key prints it."""

    @property
    def in_file(self) -> Self:
        """The same numbers as after a way through the file."""
        value = read_written(figures_text(self.value, KEY_FIGURES)).value
        low = read_written(outward_text(self.low, KEY_FIGURES, up=False)).value
        high = read_written(outward_text(self.high, KEY_FIGURES, up=True)).value
        return replace(self, value=value, low=low, high=high)


@dataclass(frozen=True)
class ChoiceTruth:
    """A species that is right."""

    choice: FilledText
    """The id of the species to be named."""

    also: InMemory[tuple[str, ...]] = ()
    """The species beside it that the student's own data leave possible."""

    @property
    def in_file(self) -> Self:
        """Itself: nothing in it is rounded."""
        return self


@dataclass(frozen=True)
class TextTruth:
    """A text that is right."""

    text: FilledText
    """A formula or a balanced equation, in ASCII."""

    @property
    def in_file(self) -> Self:
        """Itself: nothing in it is rounded."""
        return self


def _kind(truth: Any) -> str:
    """Which of the three a right answer is, in the file or as a record; a number where nothing tells."""
    keys = truth if isinstance(truth, Mapping) else vars(truth) if is_dataclass(truth) else ()
    return next(
        (f"{FileForm.ALTERNATIVE}{key}" for key in ("choice", "text") if key in keys), f"{FileForm.ALTERNATIVE}value"
    )


Truth: TypeAlias = Annotated[
    Annotated[NumberTruth, Tag(f"{FileForm.ALTERNATIVE}value")]
    | Annotated[ChoiceTruth, Tag(f"{FileForm.ALTERNATIVE}choice")]
    | Annotated[TextTruth, Tag(f"{FileForm.ALTERNATIVE}text")],
    Discriminator(_kind),
]
"""The right answer to one part for one student. A form of part says which of these it has."""


def number_in(truth: Truth) -> NumberTruth:
    """The right answer of a part whose form has a window. Raises TypeError for any other."""
    if not isinstance(truth, NumberTruth):
        raise TypeError(f"{truth} is no number with a window")
    return truth


_TRUTH_FORMS = {one: FileForm[Any](one) for one in (NumberTruth, ChoiceTruth, TextTruth)}


def truth_data(truth: Truth) -> dict[str, Any]:
    """A right answer as the file has it."""
    return _TRUTH_FORMS[type(truth)].data(truth)
