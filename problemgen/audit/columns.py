"""The given values of many candidates as they are printed, in columns, and of one of them in decimal digits."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np

from problemgen.audit.calculators import as_decimal
from problemgen.audit.worker import Measured
from problemgen.exact.digits import Written
from problemgen.make.candidates import Candidates
from problemgen.model.fixed import Datum
from problemgen.model.template import Analysed, Draw, Obtained, Reading, Template

__all__ = ["measured_columns", "measured_digits"]


def measured_columns(template: Template, candidates: Candidates) -> dict[str, Measured]:
    """All given values as printed, a candidate a row, by quantity id."""
    columns = {
        fixed.quantity.id: Measured(
            np.full(candidates.rows, float(fixed.written.value)), fixed.written.place, fixed.unit
        )
        for fixed in template.fixed
    }
    for draw in template.draws:
        columns[draw.quantity.id] = _drawn(draw, candidates.steps[draw.quantity.id])
    read_off: list[Analysed | Obtained | Reading] = [*template.obtained, *template.readings]
    if template.unknown is not None:
        read_off.extend(template.unknown.analysed)
    for one in read_off:
        steps = candidates.steps[one.quantity.id]
        columns[one.quantity.id] = Measured(_on_scale(steps, one.step), one.step.place, one.unit)
    return columns


def _drawn(draw: Draw, steps: Any) -> Measured:
    if not draw.choices:
        return Measured(_on_scale(steps, draw.step), draw.step.place, draw.unit)
    values = np.array([float(choice.value) for choice in draw.choices])
    places = np.array([choice.place for choice in draw.choices])
    return Measured(values[steps], places[steps], draw.unit)


def _on_scale(steps: Any, step: Written) -> Any:
    return steps * step.value.numerator / step.value.denominator


def measured_digits(given: Mapping[str, Datum]) -> dict[str, Measured]:
    """The given values of one variant, in decimal digits."""
    return {
        name: Measured(as_decimal(datum.written.value), datum.written.place, datum.unit)
        for name, datum in given.items()
    }
