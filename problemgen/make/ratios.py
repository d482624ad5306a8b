"""Formulas from analyses: candidates whose amounts tell the least whole numbers beyond doubt."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np
import numpy.typing as npt

from problemgen.model.expression import Expression
from problemgen.model.plan import Plan
from problemgen.plan.arithmetic import LEAST_WHOLE, MULTIPLES, Window, Windows
from problemgen.plan.batch import Batch
from problemgen.plan.evaluate import evaluate

__all__ = ["may_come_to", "uncertain_ratios"]

Floats = npt.NDArray[np.float64]
Mask = npt.NDArray[np.bool_]

_NEAR = float(LEAST_WHOLE)
_WINDOWS = Windows(Batch())


def uncertain_ratios(plan: Plan, windows: Mapping[str, Window]) -> Mask:
    """Where a worker who rounds honestly may come to other whole numbers than the exact amounts tell."""
    doubtful = np.zeros(1, dtype=np.bool_)
    expressions = [step.expression for step in plan.steps]
    for amounts in sorted({one[2:] for one in expressions if one[0] == "whole"}):
        doubtful = doubtful | _uncertain([windows[name] for name in amounts])
    for number in sorted({one[1] for one in expressions if one[0] == "round"}, key=str):
        window = evaluate(number, windows, _WINDOWS)
        doubtful = doubtful | (np.floor(window.low + 0.5) != np.floor(window.high + 0.5))
    sizes = [step.quantity.id for step in plan.steps if step.rounding == "whole" and step.expression[0] == "least"]
    for name in sizes:  # of sizes that are picked, the next one may be right to who rounds otherwise
        doubtful = doubtful | (windows[name].low != windows[name].high)
    return doubtful


def may_come_to(counts: Sequence[Any], expression: Expression, windows: Mapping[str, Window]) -> Mask:
    """Where a worker's rounding may lead to these whole numbers, by an expression that gives whole numbers.

    `windows` are those of the worker, who may have made a mistake. For a rounded number `counts` is one, for a ratio
    of amounts it has a count for each. Where amounts are in no whole ratio, the ratio to the least of them is rounded.
    """
    if expression[0] == "round":
        number = evaluate(expression[1], windows, _WINDOWS)
        return np.asarray((np.floor(number.low + 0.5) <= counts[0]) & (counts[0] <= np.floor(number.high + 0.5)))
    whole = np.stack(np.broadcast_arrays(*counts))
    low, high = _ratios([evaluate(amount, windows, _WINDOWS) for amount in expression[2:]])
    may = ((low - 0.5 <= whole) & (whole <= high + 0.5)).all(axis=0)
    for multiple in MULTIPLES:
        may = may | ((multiple * low - _NEAR <= whole) & (whole <= multiple * high + _NEAR)).all(axis=0)
    return np.asarray(may)


def _ratios(amounts: Sequence[Window]) -> tuple[Floats, Floats]:
    """The bounds of each amount's ratio to the least of them."""
    values = np.stack(np.broadcast_arrays(*(amount.value for amount in amounts)))
    lows = np.stack(np.broadcast_arrays(*(amount.low for amount in amounts), values[0])[:-1])
    highs = np.stack(np.broadcast_arrays(*(amount.high for amount in amounts), values[0])[:-1])
    least = values.argmin(axis=0)[None]
    low = lows / np.take_along_axis(highs, least, axis=0)
    high = highs / np.take_along_axis(lows, least, axis=0)
    np.put_along_axis(low, least, 1.0, axis=0)
    np.put_along_axis(high, least, 1.0, axis=0)
    return low, high


def _uncertain(amounts: Sequence[Window]) -> Mask:
    low, high = _ratios(amounts)
    settled = np.zeros(low.shape[1:], dtype=np.bool_)
    doubtful = np.zeros(low.shape[1:], dtype=np.bool_)
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
