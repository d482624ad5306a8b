"""Which quantity of a gas a line of a printed problem means.

Problems tell of a mixture of gases by a name without a formula ("mixture"); of a gas collected over water by the
mixture's pressure and that of the water vapour; of two states by the roles "initial" and "final".
"""

from __future__ import annotations

from problemgen.load.rows import STAGES, Entry, Row
from problemgen.model.quantity import Quantity, Role

__all__ = ["gas_quantity"]

_CONDITIONS = ("pressure", "temperature")
_OF_GASES = (*_CONDITIONS, "volume", "amount", "mass", "mole_fraction", "volume_fraction")
_MIXTURE_WORDS = ("mixture", "gas", "air", "total", "vessel", "container", "flask", "cylinder", "tank", "bulb")
_WATER = "H2O"
_COLLECTED = ("H2", "O2", "N2", "CO", "CO2", "CH4", "C2H2", "NO", "N2O")
"""Gases that are usually collected over water: common practice, no source."""


def gas_quantity(name: str, role: Role, entry: Entry, row: Row) -> Quantity | None:
    """The quantity of a gas that a line means; None for a line about anything else."""
    mixture = _mixture(row)
    if not mixture:
        return _in_state(name, role, entry, row) if _has_states(row) else None
    collected = _collected(mixture, row)
    if collected:
        return _over_water(name, entry, row, mixture, collected)
    return Quantity(name, "", Role.MIXED) if entry.of in mixture else None


def _mixture(row: Row) -> frozenset[str]:
    """The names of a mixture of gases and of its vessel; none where no mixture is told of."""
    if row.staged or not any(e.has_formula and e.quantity in _OF_GASES for e in row.entries):
        return frozenset()
    named = {e.of for e in row.entries if not e.has_formula and any(word in e.of.lower() for word in _MIXTURE_WORDS)}
    told = any(e.of in named and e.quantity in _CONDITIONS for e in row.entries)
    return frozenset(named) if told else frozenset()


def _collected(mixture: frozenset[str], row: Row) -> str:
    """The one gas that is collected over water; "" where there is none, or more than one."""
    if not (any(row.has(name, "pressure") for name in mixture) and row.has(_WATER, "pressure")):
        return ""
    told = {e.of for e in row.entries if e.has_formula and e.quantity in (*_CONDITIONS, "volume")} - {_WATER}
    gases = told or {name for name in row.species if name in _COLLECTED and row.species[name].coefficient}
    return next(iter(gases)) if len(gases) == 1 else ""


def _over_water(name: str, entry: Entry, row: Row, mixture: frozenset[str], gas: str) -> Quantity | None:
    stated = Role.THEORETICAL if gas in row.species and row.species[gas].is_product else Role.PLAIN
    if name == "pressure" and entry.of in (*mixture, _WATER):
        return Quantity(name, gas, Role.TOTAL if entry.of in mixture else Role.VAPOUR)
    if name == "temperature" and entry.of in (*mixture, _WATER):
        return Quantity(name, gas)
    if name == "volume" and entry.of in (*mixture, gas):
        moist = any(row.given(one, "volume") for one in (*mixture, gas))
        return Quantity(name, gas, Role.DRY if entry.asked and moist else stated)
    return None


def _has_states(row: Row) -> bool:
    """Whether the problem tells of a gas before and afterwards."""
    gaseous = any(e.quantity in (*_CONDITIONS, "amount") for e in row.entries)
    return row.staged and gaseous and not row.solute


def _in_state(name: str, role: Role, entry: Entry, row: Row) -> Quantity:
    """A quantity of a gas in one of two states: one told without a state is of the state not told otherwise."""
    if role in STAGES:
        return Quantity(name, entry.of, role)
    others = {e.role for e in row.entries if e.quantity == name and e.of == entry.of} & set(STAGES)
    if len(others) == 1:
        return Quantity(name, entry.of, Role.FINAL if Role.INITIAL in others else Role.INITIAL)
    return Quantity(name, entry.of, role)
