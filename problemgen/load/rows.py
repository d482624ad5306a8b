"""The lines of a printed problem, and what they tell together."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from problemgen.model.problem import Species
from problemgen.model.quantity import Role

__all__ = ["OF_SOLUTION", "STAGES", "Entry", "Row"]

OF_SOLUTION = ("concentration", "mass_concentration", "mass_fraction", "volume_fraction")
"""The quantities that make a substance a solute."""

STAGES = (Role.INITIAL, Role.FINAL)
"""Before and after."""


@dataclass(frozen=True)
class Entry:
    """One line: the species' id, the quantity's name, the role that is said ("" for none)."""

    of: str
    quantity: str
    role: Role
    asked: bool
    has_formula: bool


@dataclass(frozen=True)
class Row:
    """All lines of one problem."""

    species: Mapping[str, Species]
    entries: tuple[Entry, ...]

    def has(self, of: str, quantity: str, role: Role | None = None) -> bool:
        """Whether a line speaks of this quantity (in this role)."""
        return any(e.of == of and e.quantity == quantity and role in (None, e.role) for e in self.entries)

    def given(self, of: str, quantity: str) -> bool:
        """Whether this quantity is given."""
        return any(e.of == of and e.quantity == quantity and not e.asked for e in self.entries)

    def shares(self, of: str) -> int:
        """How many percentages by mass the problem tells of a substance: two are a purity and a solution's."""
        return sum(e.of == of and e.quantity == "mass_fraction" for e in self.entries)

    @property
    def solute(self) -> str:
        """The substance whose concentration or percentage the problem is about; "" where there is none."""
        ordered = sorted(self.entries, key=lambda entry: not entry.has_formula)
        return next((e.of for e in ordered if e.quantity in OF_SOLUTION), "")

    @property
    def analyte(self) -> str:
        """The substance whose share of a sample the problem is about, or else the solute."""
        shares = (e.of for e in self.entries if e.quantity == "mass_fraction" and e.has_formula)
        return next(shares, self.solute)

    @property
    def staged(self) -> bool:
        """Whether the problem tells a before and an after, as a dilution does."""
        return any(e.role in STAGES for e in self.entries)
