"""The given values of a problem as it is worked from them: the same for drawn and for measured ones."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from functools import lru_cache

from problemgen.chemistry.units import read_unit
from problemgen.model.fixed import Datum
from problemgen.model.quantity import kind_named
from problemgen.plan.arithmetic import Exact, Window
from problemgen.plan.windows import given_window

__all__ = ["datum_windows"]

_EXACT = Exact()


def datum_windows(given: Mapping[str, Datum]) -> dict[str, Window]:
    """The windows of given values, in engine units, by quantity id."""
    return {name: _datum_window(datum, kind_named(name)) for name, datum in given.items()}


def _datum_window(datum: Datum, kind: str) -> Window:
    written = datum.written
    return _window(written.value.numerator, written.value.denominator, written.place, datum.unit, kind)


@lru_cache(maxsize=1 << 12)
def _window(numerator: int, denominator: int, place: int, unit: str, kind: str) -> Window:
    """Kept: students of a class are given numbers of the same few scales."""
    return given_window(Fraction(numerator, denominator), place, read_unit(unit), _EXACT, kind)
