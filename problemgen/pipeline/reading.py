"""Showing how an answer is read."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from problemgen.chemistry.units import Unit, read_unit
from problemgen.exact.digits import Written
from problemgen.exact.rounding import plain_text
from problemgen.grade.reading.cell import Reading
from problemgen.grade.reading.cell import read_answer as read_cell
from problemgen.grade.reading.spelling import quoted
from problemgen.pipeline.arguments import checked

__all__ = ["AnswerReading", "read_answer"]

_NO_ANSWER = "No answer is written."


@dataclass(frozen=True)
class AnswerReading:
    """How a text is read. Number and unit belong together and are as written.

    `status` is "number", "ambiguous", "wrong_dimension" or "unreadable"; `number` is in plain decimal notation (a
    fraction to twelve figures), `unit` in its usual spelling; `figures` are the significant figures written, None for a
    fraction, which is exact. `reason` tells why a text is not read, or how one that is ambiguous was.
    """

    text: str
    status: str
    number: str | None
    unit: str | None
    figures: int | None
    reason: str | None

    def __str__(self) -> str:
        """The reading in words: "3.95 x 10^1 g": 39.5 g; 3 figures."""
        return f"{quoted(self.text)}: {'; '.join(self._pieces())}"

    def _pieces(self) -> Iterator[str]:
        if self.number is not None:
            yield f"{self.number} {self.unit or ''}".strip()
            if self.figures is not None:
                yield f"{self.figures} figure{'s' if self.figures != 1 else ''}"
        if self.status != "number":
            yield self.status.replace("_", " ")
        if self.reason:
            yield self.reason


@checked
def read_answer(text: str, *, unit: str | None = None, decimal_mark: Literal[".", ","] = ".") -> AnswerReading:
    """How the grader reads an answer: number, unit, figures, or why not. No text raises an error.

    `unit` is the unit asked for, by which the dimension is judged; without it, the unit written will do.
    `decimal_mark` is that of the sheet, and decides about "1,234".

    Raises:
        UnitError: for a unit asked for that is not in the list.
        FaultsError: for what is not text.

    >>> read_answer("m = 3,95 x 10^1 g", unit="mg")
    AnswerReading(text='m = 3,95 x 10^1 g', status='number', number='39.5', unit='g', figures=3, reason=None)
    >>> print(read_answer("about a spoonful", unit="g"))
    "about a spoonful": unreadable; No number is found in "about a spoonful".
    """
    reading = _read(text, None if unit is None else read_unit(unit), decimal_mark)
    blank = reading.status == "blank"
    return AnswerReading(
        text=reading.text,
        status="unreadable" if blank else reading.status,
        number=_decimal(reading.written) if reading.written else None,
        unit=reading.unit.text if reading.unit else None,
        figures=reading.written.figures if reading.written and reading.counts_figures else None,
        reason=(_NO_ANSWER if blank else reading.reason) or None,
    )


def _read(text: str, unit: Unit | None, decimal_mark: str) -> Reading:
    reading = read_cell(text, unit, decimal_mark=decimal_mark)
    if unit is None and reading.status == "wrong_dimension" and reading.unit is not None:
        return read_cell(text, reading.unit, decimal_mark=decimal_mark)
    return reading


def _decimal(written: Written) -> str:
    """A number in plain decimal notation: a fraction to the place where it ends, or to twelve figures."""
    return plain_text(written.value, min(written.place, 0))
