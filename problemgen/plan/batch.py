"""The arithmetic of numpy batches: thousands of candidates worked at once, each as on every other machine."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

import numpy as np
import numpy.typing as npt

from problemgen.plan.arithmetic import LEAST_WHOLE, MULTIPLES, OF_ZERO

__all__ = ["Batch"]

Floats = npt.NDArray[np.float64]

_LOWEST = OF_ZERO + 1
"""The decimal exponent of the least number that counts; 2**±140 spans the numbers from there to 1e40."""

_POWERS: Floats = np.array([float(f"1e{power}") for power in range(_LOWEST, 41)])
"""Powers of ten as read from text. No logarithm: its last bit differs between machines, and with it a variant."""

_HALVES: Floats = np.concatenate([[0.0], 0.5 * _POWERS])
"""Halves of them; first the half of what is too small to count."""

# A float's bits above the 52 of its fraction are the power of two below it, and 1023.
_FRACTION_BITS, _BIASED = 52, 1023
_BINARY: Floats = np.ldexp(1.0, np.clip(np.arange(2048) - _BIASED, -141, 139))
_BINARY[-1] = 0.5  # no number, or an infinite one: any will do, the same on every machine
_DECIMAL = (np.searchsorted(_POWERS, _BINARY, side="right") - 1 + _LOWEST).astype(np.int8)
_NEXT: Floats = np.append(_POWERS, np.inf)[_DECIMAL - _LOWEST + 1]
"""For a float between two powers of two: the decimal exponent of the lower, and the next power of ten above."""

_NEARLY = 1.0 + 2.0**-40
"""How far below a power of ten a float may lie and still stand for it: 1e-12, the noise of thousands of operations."""


@dataclass(frozen=True)
class Batch:
    """Float arrays: a candidate an element. Only IEEE operations, so that every machine keeps the same ones."""

    def number(self, value: Fraction) -> Floats:
        """The nearest float, as an array without dimensions."""
        return np.float64(value)  # type: ignore[return-value]  # a scalar broadcasts as an array does

    def add(self, a: Floats, b: Floats) -> Floats:
        """The sums."""
        return a + b

    def multiply(self, a: Floats, b: Floats) -> Floats:
        """The products."""
        return a * b

    def divide(self, a: Floats, b: Floats) -> Floats:
        """The quotients; nan or infinite where the divisor is 0."""
        return np.true_divide(a, b)

    def negate(self, a: Floats) -> Floats:
        """The negatives."""
        return -a

    def lesser(self, a: Floats, b: Floats) -> Floats:
        """The lesser of each pair."""
        return np.minimum(a, b)

    def greater(self, a: Floats, b: Floats) -> Floats:
        """The greater of each pair."""
        return np.maximum(a, b)

    def floor(self, a: Floats) -> Floats:
        """The whole parts, downwards."""
        return np.floor(a)

    def nearest(self, a: Floats) -> Floats:
        """The nearest whole numbers."""
        return np.floor(a + 0.5)

    def whole(self, index: int, amounts: Sequence[Floats]) -> Floats:
        """One of the least whole numbers in the ratio of the amounts, a candidate each."""
        stacked = np.stack(np.broadcast_arrays(*amounts))
        ratios = stacked / stacked.min(axis=0)
        times = np.ones(ratios.shape[1:])
        for multiple in reversed(MULTIPLES):
            scaled = ratios * multiple
            fits = (np.abs(scaled - np.floor(scaled + 0.5)) <= float(LEAST_WHOLE)).all(axis=0)
            times = np.where(fits, multiple, times)
        return self.nearest(times * ratios[index])

    def beside_lesser(self, key_a: Floats, a: Floats, key_b: Floats, b: Floats) -> Floats:
        """`a` where `key_a` is not above `key_b`, else `b`."""
        return np.where(key_a <= key_b, a, b)

    def exponent(self, a: Floats) -> npt.NDArray[np.int64]:
        """The decimal exponents of the leading figures, found among the written powers of ten.

        What is below a power by the error of a few operations counts as that power: the exact value may be it.
        """
        size = np.abs(a) * _NEARLY
        binary = size.view(np.int64) >> _FRACTION_BITS
        above = size >= _NEXT.take(binary, mode="clip")
        # Bytes are added to bytes: numpy takes four times as long to add what it has to convert on the way.
        return np.asarray(_DECIMAL.take(binary, mode="clip") + above.view(np.int8)).astype(np.int64)

    def half_unit(self, a: Floats, figures: Any) -> Floats:
        """Half a unit of the last of so many significant figures."""
        return np.asarray(_HALVES.take(self.exponent(a) - (figures + (_LOWEST - 2)), mode="clip"))

    def positive(self, a: Floats) -> bool:
        """Whether every number is above 0."""
        return bool(a.min() > 0.0)

    def divides(self, low: Floats, high: Floats) -> bool:  # noqa: ARG002 - as in every arithmetic
        """Always: a candidate that divides by 0 comes out as nan or infinite, and is not kept."""
        return True
