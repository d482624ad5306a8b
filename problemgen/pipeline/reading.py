"""Showing how an answer is read."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from problemgen.chemistry.units import Unit, read_unit
from problemgen.exact.digits import Written
from problemgen.exact.rounding import plain_text
from problemgen.grade.reading import Reading, read_answer
from problemgen.grade.spelling import quoted

__all__ = ["AnswerReading", "reading_of"]

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


def reading_of(text: str, unit: str | None = None, decimal_mark: str = ".") -> AnswerReading:
    """A text as the grader reads it; without a unit asked for, the unit written counts as asked for.

    Raises:
        UnitError: for a unit asked for that is not in the list.
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
    reading = read_answer(text, unit, decimal_mark=decimal_mark)
    if unit is None and reading.status == "wrong_dimension" and reading.unit is not None:
        return read_answer(text, reading.unit, decimal_mark=decimal_mark)
    return reading


def _decimal(written: Written) -> str:
    """A number in plain decimal notation: a fraction to the place where it ends, or to twelve figures."""
    return plain_text(written.value, min(written.place, 0))
