"""Formulas from analyses: candidates whose amounts tell the least whole numbers beyond doubt."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
import numpy.typing as npt

from problemgen.model.plan import Plan
from problemgen.plan.arithmetic import LEAST_WHOLE, MULTIPLES, Window

__all__ = ["uncertain_ratios"]

Floats = npt.NDArray[np.float64]
Mask = npt.NDArray[np.bool_]

_NEAR = float(LEAST_WHOLE)


def uncertain_ratios(plan: Plan, windows: Mapping[str, Window]) -> Mask:
    """Where a worker who rounds honestly may come to other whole numbers than the exact amounts tell."""
    doubtful = np.zeros(1, dtype=np.bool_)
    ratios = {step.expression[2:] for step in plan.steps if step.expression[0] == "whole"}
    for amounts in sorted(ratios):
        doubtful = doubtful | _uncertain([windows[name] for name in amounts])
    return doubtful


def _uncertain(amounts: Sequence[Window]) -> Mask:
    values = np.stack(np.broadcast_arrays(*(amount.value for amount in amounts)))
    lows = np.stack(np.broadcast_arrays(*(amount.low for amount in amounts), values[0])[:-1])
    highs = np.stack(np.broadcast_arrays(*(amount.high for amount in amounts), values[0])[:-1])
    least = values.argmin(axis=0)[None]
    low = lows / np.take_along_axis(highs, least, axis=0)
    high = highs / np.take_along_axis(lows, least, axis=0)
    np.put_along_axis(low, least, 1.0, axis=0)
    np.put_along_axis(high, least, 1.0, axis=0)
    settled = np.zeros(values.shape[1:], dtype=np.bool_)
    doubtful = np.zeros(values.shape[1:], dtype=np.bool_)
    for multiple in MULTIPLES:
        fits = _surely_whole(multiple * low, multiple * high)
        doubtful |= ~settled & ~fits & ~_surely_broken(multiple * low, multiple * high)
        settled |= fits
    return np.asarray(doubtful | ~settled)


def _surely_whole(low: Floats, high: Floats) -> Mask:
    """Whether everything between the bounds is near one whole number, of all elements."""
    whole = np.floor((low + high) / 2.0 + 0.5)
    return np.asarray(((low >= whole - _NEAR) & (high <= whole + _NEAR)).all(axis=0))


def _surely_broken(low: Floats, high: Floats) -> Mask:
    """Whether nothing between the bounds is near a whole number, of at least one element."""
    below = np.floor(low)
    return np.asarray(((low > below + _NEAR) & (high < below + 1.0 - _NEAR)).any(axis=0))
