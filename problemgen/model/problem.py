"""A problem: species, what is given, what is asked. It holds no formula for the answer."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Annotated

from pydantic import Field

from problemgen.model.blocks import Chemical, Line, Prose
from problemgen.model.file_types import ExactText, FilledText, FormulaText, InMemory, LeftOut, SortedTexts
from problemgen.model.quantity import Quantity, Role, RoleWords

__all__ = ["Asked", "Constant", "FurtherEquation", "Scene", "Species"]


@dataclass(frozen=True)
class Species:
    """A species of a problem."""

    id: FilledText
    """Its id."""

    name: FilledText
    """The name that sheets print."""

    formula: LeftOut[FormulaText | None] = None
    """Its formula, hydrates with a dot; none for a mixture or an object."""

    coefficient: Annotated[int, Field(ge=-1_000_000, le=1_000_000)] = 0
    """Its stoichiometric number: negative for reagents, 0 outside the equation."""

    stands_for: LeftOut[str] = ""
    """The id of the species that this hydrate is weighed in the place of; "" for none."""

    synonyms: LeftOut[tuple[FilledText, ...]] = ()
    """Other names under which it may be answered."""

    @property
    def names(self) -> tuple[str, ...]:
        """The names under which it may be answered, the printed one first."""
        return (self.name, *self.synonyms)

    def called(self, name: str) -> Species:
        """It under another name; it may be answered by the one that it had all the same."""
        if name == self.name:
            return self
        also = dict.fromkeys((self.name, *self.synonyms))
        return replace(self, name=name, synonyms=tuple(one for one in also if one != name))

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
    """A constant that is not printed as data of the problem, in engine units (g, L, mol, K, kPa)."""

    quantity: Quantity
    """Which quantity it is the value of."""

    value: ExactText
    """The value."""

    low: ExactText
    """The least value in honest use."""

    high: ExactText
    """The greatest value in honest use."""

    written: LeftOut[str] = ""
    """The value with the digits of its table; "" for one that stands in none."""


@dataclass(frozen=True)
class Asked:
    """One asked quantity, and the form of its answer.

    `form` is a name of `problemgen.plan.forms`, where all about it stands.
    """

    quantity: Quantity
    """What is asked. For a choice, the extent of the reaction, which the reagent to be named decides."""

    unit: FilledText
    """The unit in which the answer is asked for, in its canonical spelling; "1" for a plain number."""

    form: FilledText = "number"
    """What the answer is: "number" (in the unit), "species" (a substance to be named), "formula", "equation", …"""


@dataclass(frozen=True)
class FurtherEquation:
    """An equation beside the problem's main one."""

    id: str
    """The reaction's id."""

    coefficients: Mapping[str, int]
    """The stoichiometric numbers by species id, negative for reagents."""

    product: str
    """The id of the species that it is carried out for; "" for none."""

    beside: bool = False
    """Whether it takes place in the same sample, as the main one does; else after the equations in front of it."""

    parallel: LeftOut[bool] = False
    """Whether it competes with the main one for the same reagents, and makes another product of them."""


@dataclass(frozen=True)
class Scene:
    """What the laws look at: the species, which quantities are given, and the constants at hand."""

    species: Mapping[str, Species]
    """The species by id, in the order of the equation."""

    given: InMemory[frozenset[Quantity]]
    """What is given."""

    weights: InMemory[Mapping[str, Constant]]
    """The atomic weights by element symbol."""

    product: LeftOut[str] = ""
    """The id of the species whose yield is asked, where there is one."""

    wanted: InMemory[frozenset[Quantity]] = field(default_factory=frozenset)
    """What is asked."""

    in_excess: LeftOut[SortedTexts] = field(default_factory=frozenset)
    """The ids of reagents that never limit."""

    unknown: LeftOut[tuple[str, ...]] = ()
    """The elements of a compound whose formula is asked."""

    unknown_rest: LeftOut[str] = ""
    """The one of them that is found by difference."""

    solvent: LeftOut[str] = ""
    """The id of the species that the others are dissolved in, where amounts or masses of it are wanted."""

    sources: InMemory[tuple[str, ...]] = ()
    """The reagents whose amounts follow from what is given."""

    further: LeftOut[tuple[FurtherEquation, ...]] = ()
    """The equations beside the main one, in the order in which they take place."""

    standard: LeftOut[str] = ""
    """The id of the species that is added as an internal standard; "" for none."""

    driven_off: LeftOut[SortedTexts] = frozenset()
    """The ids of the products that leave a sample when it is heated."""

    @cached_property
    def told(self) -> frozenset[Quantity]:
        """All quantities that it speaks of: what is given, and what is asked."""
        return self.given | self.wanted

    @cached_property
    def isomers(self) -> frozenset[str]:
        """The ids of the species whose formula another one has too."""
        counted = Counter(species.formula for species in self.species.values())
        return frozenset(name for name, species in self.species.items() if counted[species.formula] > 1)

    def words_of(self, quantity: Quantity) -> str:
        """A quantity as it is read aloud: "theoretical mass of aspirin"."""
        names = {one: self.species[one].name for one in (quantity.of, quantity.source) if one in self.species}
        name, source = (names.get(one, one) for one in (quantity.of, quantity.source))
        words = self.role_words(quantity)
        return quantity.said(words.aloud if name else words.alone, name, source)

    def role_words(self, quantity: Quantity) -> RoleWords:
        """The words of a quantity's role: what is weighed in an analysis has been obtained, it is no theory."""
        return Role.ACTUAL.words if self.is_analysed(quantity) else quantity.role.words

    def is_analysed(self, quantity: Quantity) -> bool:
        """Whether it is of a product that all of a substance is turned into, to find how much a sample holds."""
        if quantity.role is not Role.THEORETICAL or quantity.source:
            return False
        given = {one.role for one in self.given}
        return Role.THEORETICAL in given and bool(given & {Role.IMPURE, Role.SAMPLE})

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
    def pair(self) -> tuple[FurtherEquation, ...]:
        """The two equations that compete for one reagent, the main one first; () where none compete."""
        rival = next((one for one in self.further if one.parallel), None)
        return (self.main, rival) if rival is not None and self.product else ()

    def numbers(self, one: str, other: str) -> tuple[int, int]:
        """The stoichiometric numbers, without signs, of two species in an equation that has both."""
        for equation in self.pair[1:]:
            found = [abs(equation.coefficients.get(name, 0)) for name in (one, other)]
            if all(found) and not (self.species[one].coefficient and self.species[other].coefficient):
                return found[0], found[1]
        return self.species[one].nu, self.species[other].nu

    @property
    def formed_later(self) -> tuple[Species, ...]:
        """The products of further equations that the main one does not have."""
        later = (name for equation in self.further for name, nu in equation.coefficients.items() if nu > 0)
        return tuple(self.species[name] for name in dict.fromkeys(later) if not self.species[name].coefficient)

    def is_formed(self, name: str) -> bool:
        """Whether a species is a product of any equation."""
        return self.species[name].is_product or any(one.id == name for one in self.formed_later)
