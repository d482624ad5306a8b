"""Which quantity of which substance a line of a printed problem means.

Printed problems leave roles unsaid: the volume of a substance whose concentration is known is its solution's; the
mass of "the solution" belongs to the solute; a product's mass that nobody measured is the theoretical one.
"""

from __future__ import annotations

from problemgen.errors import UnderivableError
from problemgen.load.gas_roles import gas_quantity
from problemgen.load.rows import OF_SOLUTION, STAGES, Entry, Row
from problemgen.model.quantity import KINDS, SOLUTION_AT, Quantity, Role

__all__ = ["placed"]

_RENAMED = {"theoretical_mass": ("mass", Role.THEORETICAL), "theoretical_amount": ("amount", Role.THEORETICAL)}


def placed(entry: Entry, row: Row) -> Quantity:
    """The quantity that a line means.

    Raises UnderivableError for a quantity that the laws do not know.
    """
    name, role = _RENAMED.get(entry.quantity, (entry.quantity, entry.role))
    if name == "element_mass_contribution":
        return Quantity("molar_mass", entry.of)
    if name not in KINDS:
        raise UnderivableError(f"no law leads to the quantity {entry.quantity!r}")
    if name == "count" and not entry.has_formula and row.given(entry.of, "volume"):
        name = "portions"  # of vessels
    gas = gas_quantity(name, role, entry, row)
    if gas is not None:
        return gas
    of = entry.of
    if name == "volume" and role is Role.SAMPLE:
        role = Role.PLAIN
    whole = row.analyte if role is Role.SAMPLE else row.solute
    if role in (Role.SOLUTION, Role.SOLVENT, Role.SAMPLE, *STAGES) and of != whole and not _own(of, row):
        of = whole or of
    if row.staged:
        return _staged(name, of, role, entry, row)
    return Quantity(name, of, _role(name, of, role, row))


def _own(of: str, row: Row) -> bool:
    """Whether a substance has a concentration or percentage of its own in the problem."""
    return any(row.has(of, quantity) for quantity in OF_SOLUTION)


def _role(name: str, of: str, role: Role, row: Row) -> Role:
    species = row.species.get(of)
    if role is Role.SAMPLE:
        return Role.IMPURE
    if name == "mass_fraction" and role in (Role.PURITY, Role.IMPURE, Role.SOLUTION):
        return Role.PURITY if role is not Role.SOLUTION and row.shares(of) > 1 else Role.PLAIN
    if role:
        return role
    if name in ("volume", "density") and _in_solution(of, row):
        return Role.SOLUTION
    if name == "concentration" and species is not None and not species.coefficient and _reacts(row):
        return Role.MIXED
    measured = _measured_role(name, of, row)
    if measured:
        return measured
    if species is not None and species.is_product and name in ("mass", "amount", "volume", "count"):
        return Role.THEORETICAL
    return Role.PLAIN


def _measured_role(name: str, of: str, row: Row) -> Role:
    """The role of what is to be taken with an excess, and of a product whose waste is told; `PLAIN` for others."""
    surpassed = row.given(of, "excess") or row.given(of, "equivalents")
    if surpassed and name in ("mass", "amount", "volume") and not row.given(of, name):
        return Role.TAKEN
    wasteful = row.has(of, "e_factor") or row.has(of, "mass_intensity")
    return Role.ACTUAL if name == "mass" and wasteful else Role.PLAIN


def _in_solution(of: str, row: Row) -> bool:
    """Whether the volume or density of a substance, told without a role, is its solution's."""
    is_gas = row.has(of, "pressure") or row.has(of, "temperature")
    if is_gas or (row.has(of, "volume", Role.PLAIN) and _has_solution_volume(of, row)):
        return False
    dissolved = row.has(of, "concentration") or row.has(of, "mass_concentration")
    return dissolved or row.given(of, "mass_fraction") or row.has(of, "density", Role.SOLUTION)


def _has_solution_volume(of: str, row: Row) -> bool:
    """Whether the volume of a substance's solution is told beside its own."""
    volumes = [e.of for e in row.entries if e.quantity == "volume" and e.role is Role.SOLUTION]
    return any(one == of or (of == row.solute and not _own(one, row)) for one in volumes)


def _reacts(row: Row) -> bool:
    return any(species.coefficient for species in row.species.values())


def _staged(name: str, of: str, role: Role, entry: Entry, row: Row) -> Quantity:
    """A quantity of a dilution: what is told without a stage is of the stage that is not told otherwise."""
    if role is Role.ADDED:
        return Quantity(name, row.solute or of, role)
    of = of if of in row.species and row.species[of].formula is not None else (row.solute or of)
    if role not in STAGES and name in ("mass", "volume", "concentration", "mass_fraction"):
        role = _stage_left(name, entry, row)
    if name == "mass" and role in STAGES:
        role = SOLUTION_AT[role]
    return Quantity(name, of, role)


def _stage_left(name: str, entry: Entry, row: Row) -> Role:
    told = {e.role for e in row.entries if e.quantity == name and e is not entry}
    return Role.INITIAL if Role.FINAL in told else Role.FINAL
