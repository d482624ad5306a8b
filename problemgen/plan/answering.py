"""The given values of a problem as it is worked from them: the same for drawn and for measured ones."""

from __future__ import annotations

from collections.abc import Mapping

from problemgen.chemistry.units import read_unit
from problemgen.model.fixed import Datum
from problemgen.model.quantity import kind_named
from problemgen.plan.arithmetic import Exact, Window
from problemgen.plan.windows import given_window

__all__ = ["datum_windows"]

_EXACT = Exact()


def datum_windows(given: Mapping[str, Datum]) -> dict[str, Window]:
    """The windows of given values, in engine units, by quantity id."""
    return {
        name: given_window(datum.written.value, datum.written.place, read_unit(datum.unit), _EXACT, kind_named(name))
        for name, datum in given.items()
    }
