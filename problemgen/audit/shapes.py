"""What a step of a plan is, found from its numbers alone: a product, a sum, the least of some, or something else.

A step is a black box that gives a number for the numbers that it needs. It is tried at made-up numbers, and what it is
follows from how the result changes with each of them:

- the result equals one of them, always or the least or the greatest of them: a copy, an extreme;
- doubling one of them multiplies the result by the same whole power of two at all points: a factor of a product. What
  is left when the result is divided by all factors is a constant ratio (2 : 3, 100 for a percentage);
- adding to one of them adds the same multiple of it at all points: a term of a sum;
- some are factors, and what is left is a sum of the others, above or below the line.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, TypeAlias

import numpy as np
import numpy.typing as npt

from problemgen.audit.calculators import Columns
from problemgen.audit.worker import key_in
from problemgen.make.draws import draw_numbers, shares
from problemgen.model.expression import Expression

__all__ = [
    "BlackBox",
    "Copied",
    "Extreme",
    "Product",
    "Scaled",
    "Shape",
    "Sum",
    "Unclear",
    "made_up",
    "shape_of",
    "tried",
]

Floats = npt.NDArray[np.float64]

BlackBox: TypeAlias = Callable[[Mapping[str, Floats]], Floats]
"""A step: columns of numbers in, by quantity id, a column of results out."""

POINTS = 16
"""Made-up numbers at which a step is tried: each of five terms is the least one somewhere, but for 3 in 100 (0.8¹⁶)."""

_NOISE = 1e-9
"""How far apart, relatively, two numbers may come out that are one: a million times an operation's noise."""

_LARGEST = 10_000
"""The greatest denominator of a constant ratio: coefficients, subscripts, percent are far below it."""


@dataclass(frozen=True)
class Copied:
    """The number of another quantity."""

    name: str


@dataclass(frozen=True)
class Extreme:
    """The least of some numbers, or the greatest."""

    names: tuple[str, ...]
    greatest: bool = False


@dataclass(frozen=True)
class Product:
    """A constant ratio times powers of some numbers."""

    ratio: Fraction
    powers: tuple[tuple[str, int], ...]


@dataclass(frozen=True)
class Sum:
    """A constant and multiples of some numbers."""

    constant: Fraction
    terms: tuple[tuple[str, Fraction], ...]


@dataclass(frozen=True)
class Scaled:
    """Factors times a sum, or divided by one."""

    factors: Product
    total: Sum
    divided: bool = False


@dataclass(frozen=True)
class Unclear:
    """None of these."""


Shape: TypeAlias = Copied | Extreme | Product | Sum | Scaled | Unclear


def tried(expression: Expression) -> BlackBox:
    """A calculation as a black box."""
    return lambda numbers: np.asarray(key_in(expression, numbers, Columns())) + np.zeros(POINTS)


def made_up(names: Sequence[str]) -> dict[str, Floats]:
    """Columns of numbers from 0.1 to 10 for some quantities, the same each time."""
    return {name: 10 ** (2 * shares(draw_numbers(b"", ("made up", name), POINTS)) - 1) for name in names}


def shape_of(work: BlackBox, names: Sequence[str]) -> Shape:
    """What a black box that needs these quantities is."""
    if not names:
        return Unclear()
    numbers = made_up(names)
    with np.errstate(all="ignore"):
        return (
            _equal_to_one(work, numbers)
            or _product(work, numbers)
            or _sum(work, numbers)
            or _scaled(work, numbers)
            or Unclear()
        )


def _equal_to_one(work: BlackBox, numbers: Mapping[str, Floats]) -> Shape | None:
    result, columns = work(numbers), np.stack([*numbers.values()])
    for name, column in numbers.items():
        if _same(result, column):
            return Copied(name)
    for greatest, extreme in ((False, columns.min(axis=0)), (True, columns.max(axis=0))):
        if _same(result, extreme):
            return Extreme(tuple(numbers), greatest)
    return None


def _product(work: BlackBox, numbers: Mapping[str, Floats]) -> Product | None:
    powers = _powers(work, numbers)
    if len(powers) < len(numbers) or not powers:
        return None
    ratio = _constant(work(numbers) / _raised(powers, numbers))
    return None if not ratio else Product(ratio, tuple(powers.items()))


def _powers(work: BlackBox, numbers: Mapping[str, Floats]) -> dict[str, int]:
    """The powers of those that are factors."""
    result = work(numbers)
    found = {}
    for name, column in numbers.items():
        power = np.log2(np.abs(work({**numbers, name: 2 * column}) / result))
        if np.isfinite(power).all() and _same(power, np.rint(power[0])) and np.rint(power[0]):
            found[name] = int(np.rint(power[0]))
    return found


def _raised(powers: Mapping[str, int], numbers: Mapping[str, Floats]) -> Any:
    product: Any = np.ones(POINTS)
    for name, power in powers.items():
        product = product * numbers[name] ** float(power)
    return product


def _sum(work: BlackBox, numbers: Mapping[str, Floats]) -> Sum | None:
    result = work(numbers)
    terms, left = [], result
    for name, column in numbers.items():
        slope = _constant((work({**numbers, name: 2 * column}) - result) / column)
        if not slope:
            return None
        terms.append((name, slope))
        left = left - float(slope) * column
    constant = _constant(left)
    return None if constant is None else Sum(constant, tuple(terms))


def _scaled(work: BlackBox, numbers: Mapping[str, Floats]) -> Scaled | None:
    powers = _powers(work, numbers)
    others = {name: column for name, column in numbers.items() if name not in powers}
    if not powers or not others:
        return None
    alike = {name: np.ones(POINTS) for name in powers}
    for divided in (False, True):

        def rest(some: Mapping[str, Floats], divided: bool = divided) -> Floats:
            result = work({**alike, **some})
            return 1 / result if divided else result

        total = _sum(rest, others)
        if total is not None:
            return Scaled(Product(Fraction(1), tuple(powers.items())), total, divided)
    return None


def _constant(column: Floats) -> Fraction | None:
    """The number that a column is throughout; None where it varies."""
    first = float(column[0])
    if not np.isfinite(column).all() or not bool((np.abs(column - first) <= _NOISE * max(1.0, abs(first))).all()):
        return None
    return Fraction(first).limit_denominator(_LARGEST)


def _same(column: Floats, other: Any) -> bool:
    return bool((np.abs(column - other) <= _NOISE * np.abs(column)).all())
