"""The ions that a template names, of the salts that it dissolves."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping

from problemgen.chemistry.formula import read_formula
from problemgen.errors import FormulaError
from problemgen.load.fault_log import FaultLog
from problemgen.model.problem import Species
from problemgen.plan.laws.held import times_held

__all__ = ["read_ions"]


def read_ions(faults: FaultLog, named: Mapping[str, str], species: Mapping[str, Species]) -> tuple[Species, ...]:
    """The ions as species; `named` are their names by formula, `species` the others of the template.

    Keeps a fault for what is no ion, for one that no salt holds, and for ions of which a salt holds too much charge.
    """
    ions = tuple(_read(faults, named))
    for ion in ions:
        if not any(times_held(ion, salt) for salt in species.values()):
            held_by = ", ".join(one.formula.text for one in species.values() if one.formula) or "none is given"
            faults.add(
                ion.id, "an ion that no salt of this template holds", f"an ion of a salt that is given: {held_by}"
            )
    for salt in species.values():
        charge = _charge(salt, ions)
        if charge:
            found = f"ions that leave {salt.formula.text if salt.formula else salt.name} with a charge of {charge:+d}"
            faults.add("", found, "ions whose charges cancel in each formula unit")
    return ions


def _read(faults: FaultLog, named: Mapping[str, str]) -> Iterator[Species]:
    for text, name in named.items():
        try:
            formula = read_formula(text)
        except FormulaError as error:
            faults.add(text, repr(text), f"the formula of an ion: {error}")
            continue
        if formula.charge:
            yield Species(formula.text, name, formula)
        else:
            faults.add(text, "a formula without a charge", "an ion: SO4^2-, Fe^3+")


def _charge(salt: Species, ions: Collection[Species]) -> int:
    """What is left of charge in a formula unit whose atoms are all in the named ions; 0 where some are not."""
    if salt.formula is None or salt.formula.charge:
        return 0
    atoms = dict(salt.formula.composition)
    if salt.formula.crystal_water:
        atoms = {
            symbol: count - salt.formula.crystal_water * {"H": 2, "O": 1}.get(symbol, 0)
            for symbol, count in atoms.items()
        }
    charge = 0
    for ion in ions:
        assert ion.formula is not None
        times = times_held(ion, salt)
        charge += times * ion.formula.charge
        for symbol, count in ion.formula.counts:
            atoms[symbol] = atoms.get(symbol, 0) - times * count
    return 0 if any(atoms.values()) else charge
