"""The values of a problem as they are marked by: the same for drawn and for measured ones."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from problemgen.chemistry.units import read_unit
from problemgen.exact.digits import read_written
from problemgen.exact.rounding import figures_text, outward_text
from problemgen.model.answers import Truth
from problemgen.model.file_types import KEY_FIGURES
from problemgen.model.fixed import Datum
from problemgen.model.variant import Answer
from problemgen.plan.arithmetic import Exact, Window
from problemgen.plan.windows import given_window

__all__ = ["datum_windows", "truth_of"]

_EXACT = Exact()


def datum_windows(given: Mapping[str, Datum]) -> dict[str, Window]:
    """The windows of given values, in engine units, by quantity id."""
    return {
        name: given_window(datum.written.value, datum.written.place, read_unit(datum.unit), _EXACT)
        for name, datum in given.items()
    }


def truth_of(answer: Answer) -> Truth:
    """An answer as it is marked by: the same numbers as after a way through answers.json."""
    value = _rounded(figures_text(answer.value, KEY_FIGURES))
    if answer.choice:
        nothing = Fraction(0)
        return Truth(nothing, nothing, nothing, 0, "", answer.choice, also=answer.also)
    if answer.text:
        return Truth(value, value, value, 0, answer.text, "", answer.text)
    return Truth(
        value=value,
        low=_rounded(outward_text(answer.low, KEY_FIGURES, up=False)),
        high=_rounded(outward_text(answer.high, KEY_FIGURES, up=True)),
        figures=answer.figures,
        printed=figures_text(answer.value, answer.figures),
        choice="",
    )


def _rounded(text: str) -> Fraction:
    return read_written(text).value
