"""Many ways of working one problem at once, in floats: a first look that tells which are worth working exactly.

Each row is one way: usual mistakes made alone or together, or results rounded too early on the way.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, TypeAlias

import numpy as np
import numpy.typing as npt

from problemgen.model.expression import Expression
from problemgen.model.plan import Step
from problemgen.plan.batch import Batch
from problemgen.plan.evaluate import evaluate

__all__ = ["Changes", "Rounding", "as_float", "changes_of", "rounded", "varied_values"]

Floats = npt.NDArray[np.float64]
Rows = npt.NDArray[np.int64]

_BATCH = Batch()


@dataclass(frozen=True)
class Rounding:
    """How one result is rounded: to significant figures, or to a decimal place in engine units."""

    figures: int = 0  # 0: to `place`
    place: int = 0


@dataclass(frozen=True)
class Change:
    """What some rows do at one step: another expression, or a rounding of its result."""

    rows: Rows
    to: Expression | Rounding


Changes: TypeAlias = Mapping[str, Sequence[Change]]
"""The changes by the id of the step's quantity."""


def changes_of(ways: Sequence[Mapping[str, Expression | Rounding]]) -> Changes:
    """What each row changes, gathered by step; `ways` holds for each row the steps' ids with what is done there."""
    rows: dict[tuple[str, Expression | Rounding], list[int]] = {}
    for row, way in enumerate(ways):
        for change in way.items():
            rows.setdefault(change, []).append(row)
    changes: dict[str, list[Change]] = {}
    for (name, to), those in rows.items():
        changes.setdefault(name, []).append(Change(np.array(those), to))
    return changes


def varied_values(steps: Sequence[Step], changes: Changes, values: Mapping[str, float], rows: int) -> dict[str, Floats]:
    """The values of the steps that some row changes, a row each; what cannot be worked is nan or infinite.

    `values` holds all values of the problem as it is worked without any change, in engine units.
    """
    known: dict[str, Any] = dict(values)
    varied: dict[str, Floats] = {}
    stale: dict[str, npt.NDArray[np.bool_]] = {}
    with np.errstate(all="ignore"):
        for step in steps:
            name = step.quantity.id
            touched = [stale[needed] for needed in step.needs if needed in stale]
            if name not in changes and not touched:
                continue
            # A row that changes nothing here keeps its value: it may be the student's own, not the step's.
            rework = np.logical_or.reduce(touched) if touched else np.zeros(rows, np.bool_)
            result = np.full(rows, values[name])
            if touched:
                result = np.where(rework, evaluate(step.expression, known, _BATCH), result)
            for change in changes.get(name, ()):
                result[change.rows] = _changed(change, result, known)
                rework[change.rows] = True
            known[name] = varied[name] = result
            stale[name] = rework
    return varied


def _changed(change: Change, result: Floats, known: Mapping[str, Any]) -> Any:
    if isinstance(change.to, Rounding):
        return rounded(result[change.rows], change.to)
    return evaluate(change.to, _Rows(known, change.rows), _BATCH)


def as_float(value: Fraction) -> float:
    """The nearest float; infinite where none is near: a student may write 1e400."""
    try:
        return float(value)
    except OverflowError:
        return math.inf if value > 0 else -math.inf


class _Rows(Mapping[str, Any]):
    """The values of some rows, taken as they are looked up."""

    def __init__(self, known: Mapping[str, Any], rows: Rows) -> None:
        self.known, self.rows = known, rows

    def __getitem__(self, name: str) -> Any:
        value = self.known[name]
        return value[self.rows] if np.ndim(value) else value

    def __iter__(self) -> Iterator[str]:
        return iter(self.known)

    def __len__(self) -> int:
        return len(self.known)


def rounded(values: Floats, rounding: Rounding) -> Floats:
    """Floats rounded, near enough for a first look."""
    place = _BATCH.exponent(values) - rounding.figures + 1 if rounding.figures else rounding.place
    unit = np.power(10.0, place)
    return np.asarray(np.floor(values / unit + 0.5) * unit)
