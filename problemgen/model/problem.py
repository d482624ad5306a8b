"""A problem: species, what is given, what is asked. It holds no formula for the answer."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from problemgen.chemistry.formula import Formula
from problemgen.model.blocks import Chemical, Line, Prose
from problemgen.model.quantity import Quantity

__all__ = ["Asked", "Constant", "FurtherEquation", "Scene", "Species"]


@dataclass(frozen=True)
class Species:
    """A species of a problem. `coefficient` is signed: negative for reagents, 0 outside the equation."""

    id: str
    name: str
    formula: Formula | None = None
    coefficient: int = 0
    stands_for: str = ""  # the id of the species that this hydrate is weighed in the place of

    @property
    def nu(self) -> int:
        """The stoichiometric number without its sign; 1 for a species outside the equation."""
        return abs(self.coefficient) or 1

    @property
    def line(self) -> Line:
        """Its name and formula: bromobenzene (C6H5Br)."""
        if self.formula is None:
            return (Prose(self.name),)
        if self.name == self.formula.text:
            return (Chemical(self.name),)
        return (Prose(f"{self.name} ("), Chemical(self.formula.text), Prose(")"))

    @property
    def is_product(self) -> bool:
        """Whether the species stands on the right."""
        return self.coefficient > 0


@dataclass(frozen=True)
class Constant:
    """A constant that is not printed as data of the problem: its value, and the values in honest use.

    `value`, `low` and `high` are in engine units (g, L, mol, K, kPa).
    """

    quantity: Quantity
    value: Fraction
    low: Fraction
    high: Fraction


@dataclass(frozen=True)
class Asked:
    """One asked quantity, and the form of its answer.

    `form` is a name of `problemgen.plan.forms`, where all about it stands.
    """

    quantity: Quantity
    unit: str
    form: str = "number"


@dataclass(frozen=True)
class FurtherEquation:
    """An equation beside the problem's main one: `coefficients` are signed by species id, reagents negative.

    `beside`: it takes place in the same sample, as the main one does; else after the equations in front of it.
    """

    id: str
    coefficients: Mapping[str, int]
    product: str
    beside: bool = False


@dataclass(frozen=True)
class Scene:
    """What the laws look at: the species, which quantities are given, and the constants at hand."""

    species: Mapping[str, Species]
    given: frozenset[Quantity]
    weights: Mapping[str, Constant]  # element symbol -> atomic weight
    product: str = ""  # the species whose yield is asked, where there is one
    wanted: frozenset[Quantity] = field(default_factory=frozenset)
    in_excess: frozenset[str] = field(default_factory=frozenset)  # reagents that never limit
    unknown: tuple[str, ...] = ()  # the elements of a compound whose formula is asked
    unknown_rest: str = ""  # the one of them that is found by difference
    solvent: str = ""  # the species that the others are dissolved in, where amounts or masses of it are wanted
    sources: tuple[str, ...] = ()  # the reagents whose amounts follow from what is given
    further: tuple[FurtherEquation, ...] = ()  # in the order in which they take place
    driven_off: frozenset[str] = frozenset()  # the products that leave a sample when it is heated

    @property
    def competing(self) -> tuple[Species, ...]:
        """The reagents one of which limits the reaction, in the order of the equation."""
        return tuple(self.species[name] for name in self.sources)

    @property
    def reagents(self) -> tuple[Species, ...]:
        """The species on the left, in the order of the equation."""
        return tuple(s for s in self.species.values() if s.coefficient < 0)

    @property
    def products(self) -> tuple[Species, ...]:
        """The species on the right, in the order of the equation."""
        return tuple(s for s in self.species.values() if s.coefficient > 0)

    @property
    def main(self) -> FurtherEquation:
        """The main equation, in the shape of the further ones."""
        return FurtherEquation("", {s.id: s.coefficient for s in self.species.values() if s.coefficient}, self.product)

    @property
    def formed_later(self) -> tuple[Species, ...]:
        """The products of further equations that the main one does not have."""
        later = (name for equation in self.further for name, nu in equation.coefficients.items() if nu > 0)
        return tuple(self.species[name] for name in dict.fromkeys(later) if not self.species[name].coefficient)

    def is_formed(self, name: str) -> bool:
        """Whether a species is a product of any equation."""
        return self.species[name].is_product or any(one.id == name for one in self.formed_later)
