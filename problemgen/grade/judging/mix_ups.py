"""Answers that stand in the wrong place: another part's right answer, or a value of the sheet copied."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from problemgen.chemistry.units import read_unit
from problemgen.grade.judging.findings import AnsweredNumber
from problemgen.grade.judging.paper import Paper
from problemgen.language.messages import N_, _
from problemgen.language.numbers import in_digits
from problemgen.model.answers import PartKey
from problemgen.model.fixed import Datum

__all__ = ["RULES", "MixUp", "mixed_up"]

_FIGURES = 3
"""A given value counts as copied with so many figures or more: a shorter one is met by chance."""

RULES: Mapping[str, object] = {"figures": _FIGURES}
"""What the practice page reads of this: `problemgen.practice.rules` carries it into the page."""


@dataclass(frozen=True)
class MixUp:
    """What stands here in the place of the answer."""

    reason: str
    title: str
    sentence: str


def mixed_up(paper: Paper, part: PartKey, answer: AnsweredNumber) -> MixUp | None:
    """What a wrong answer is a copy of; None where it is none."""
    return next((one for one in (*_other_parts(paper, part, answer), *_given(paper, answer))), None)


def _other_parts(paper: Paper, part: PartKey, answer: AnsweredNumber) -> Iterator[MixUp]:
    dimension = read_unit(part.asked.unit).dimension
    for other, unit, low, high in paper.right_bounds:
        if other is not part and unit.dimension == dimension and low <= answer.engine <= high:
            label = paper.label(other)
            sentence = _("This is the answer to {part}: have two answers changed places?").format(part=label)
            yield MixUp(f"answer-of:{other.label}", N_("the answer to another part"), sentence)


def _given(paper: Paper, answer: AnsweredNumber) -> Iterator[MixUp]:
    """A given value, with as many figures as it is printed with."""
    for name, datum in paper.problem.given.items():
        if _same(datum, answer) and answer.written >= datum.written.figures >= _FIGURES:
            text = in_digits(datum.written.text)
            number = text if datum.unit == "1" else f"{text} {datum.unit}"
            sentence = _("{value} stands on the sheet: it is not yet the answer.").format(value=number)
            yield MixUp(f"copied:{name}", N_("a value of the sheet in the place of a result"), sentence)


def _same(datum: Datum, answer: AnsweredNumber) -> bool:
    """Whether an answer is a given number, or a given value in another unit."""
    unit, asked = read_unit(datum.unit), read_unit(answer.asked.unit)
    value = datum.written.value
    if unit is asked or unit.dimension != asked.dimension:
        return value == answer.value
    return value == answer.value or unit.to_engine(value) == answer.engine
