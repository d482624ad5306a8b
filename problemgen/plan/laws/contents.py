"""What a compound or a sample contains: percent composition, parts of one sample, whole portions."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from problemgen.language.messages import N_
from problemgen.model.problem import Scene, Species
from problemgen.model.quantity import Quantity, Role
from problemgen.plan.laws.amounts import has_mass
from problemgen.plan.table import Place, error, law

__all__ = ["LAWS", "SAMPLE"]

SAMPLE = Quantity("mass", "", Role.SAMPLE)
"""The mass of one sample in which several parts are found."""


def _compound_of(part: Species, scene: Scene) -> tuple[Species, int] | None:
    """The compound whose percentage of a part is meant, and how often its formula holds the part.

    A percentage of a compound is meant where the problem weighs no sample and no part of it.
    """
    share = Quantity("mass_fraction", part.id)
    weighed = any(q == SAMPLE or (q.of == part.id and q.kind == "mass") for q in scene.given)
    if part.coefficient or share not in scene.wanted or weighed or not has_mass(part):
        return None
    holding = [(one, times) for one in scene.species.values() if (times := _times(part, one, scene))]
    return holding[0] if len(holding) == 1 else None


def _times(part: Species, compound: Species, scene: Scene) -> int:
    """How often a compound's formula holds an element, an ion or a group."""
    impure = {Quantity("mass", compound.id, Role.IMPURE), Quantity("mass_fraction", compound.id)}
    if part.id == compound.id or not has_mass(compound) or compound.coefficient or scene.told & impure:
        return 0
    assert part.formula is not None
    assert compound.formula is not None
    inside = dict(compound.formula.counts)
    atoms = min(inside.get(symbol, 0) // count for symbol, count in part.formula.counts)
    return (compound.formula.crystal_water if part.formula.text == "H2O" else 0) or atoms


def _parts(scene: Scene) -> Iterator[Place]:
    """X is the part, Y the compound that holds it."""
    for part in scene.species.values():
        found = _compound_of(part, scene)
        if found is not None:
            compound, times = found
            yield Place(part.id, compound.id, values={"times": Fraction(times)})


COMPOSITION = law(
    "composition", N_("Percent composition"),
    where={"w": "mass_fraction(X)", "part": "molar_mass(X)", "compound": "molar_mass(Y)"}, each=_parts,
    says={
        "w := times part / compound": N_("The mass of the part in one mole, divided by the molar mass of the "
                                         "compound, gives the mass percent."),
    },
    source="green-book-2007 2.10: mass fraction w; derived: the formula counts the atoms",
    errors=[
        error("subscript-left-out", "w := part / compound", N_("the subscript left out"),
              N_("How many are there in one formula unit?")),
        error("rest-taken-as-whole", "w := times part / (compound - times part)",
              N_("compared with the rest, not with the whole"),
              N_("A percentage compares a part with the whole: is the part itself in what stands below the line?")),
    ],
)  # fmt: skip

MASS_OF_PART = law(
    "mass-of-part", N_("Mass of a part"), "m = w whole",
    where={"m": "mass(X)", "w": "mass_fraction(X)", "whole": "mass(Y)"}, each=_parts,
    says={
        "m": N_("The mass of the compound times the mass percent gives the mass of the part."),
        "whole": N_("The mass of the part divided by the mass percent gives the mass of the compound."),
    },
    source="green-book-2007 2.10: mass fraction w",
)  # fmt: skip

SHARE = law(
    "share", N_("Part of a sample"), "m = w sample",
    where={"w": "mass_fraction(X)", "sample": "mass(,sample)", "m": "mass(X)"}, told="sample w",
    says={
        "w": N_("The mass of the part divided by that of the sample gives the mass percent."),
        "m": N_("The mass of the sample times the mass percent gives the mass of the part."),
        "sample": N_("The mass of the part divided by the mass percent gives the mass of the sample."),
    },
    source="green-book-2007 2.10: mass fraction w",
    errors=[
        error("share-inverted", "w = sample / m", N_("part and sample exchanged"),
              N_("Can a part weigh more than the sample that it is in?"), at="w"),
    ],
)  # fmt: skip


def _portions(scene: Scene) -> Iterator[Place]:
    for species in scene.species.values():
        role = Role.THEORETICAL if species.is_product else Role.PLAIN
        yield from (Place(species.id, role=role, words={"kind": kind}) for kind in ("mass", "amount", "volume"))


PORTIONS = law(
    "portions", N_("Equal portions"), "N = m / portion",
    where={"N": "portions(X)", "portion": "{kind}(X,serving)", "m": "{kind}(X,*)"}, each=_portions, told="portion",
    says={
        "N": N_("The whole divided by what one portion holds gives the number of portions."),
        "m": N_("The number of portions times what one holds gives the whole."),
        "portion": N_("The whole divided by the number of portions gives what one holds."),
    },
    source="derived: the whole over one part is the number of parts",
    errors=[
        error("portions-inverted", "N = portion / m", N_("portion and whole exchanged"),
              N_("Is the whole larger or smaller than one portion, and does your number say so?"), at="N"),
    ],
)  # fmt: skip

LAWS = (COMPOSITION, MASS_OF_PART, SHARE, PORTIONS)
