"""What a compound or a sample contains: percent composition, parts of one sample, whole portions."""

from __future__ import annotations

from collections.abc import Iterator

from problemgen.model.expression import Expression
from problemgen.model.problem import Scene, Species
from problemgen.model.quantity import Quantity, Role
from problemgen.plan.law import Instance, Law, Misuse, letters
from problemgen.plan.laws.amounts import has_mass

__all__ = ["LAWS", "SAMPLE"]

w, m, whole, sample, N, portion = letters("w m whole sample N portion")

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
    told = scene.given | scene.wanted
    impure = {Quantity("mass", compound.id, Role.IMPURE), Quantity("mass_fraction", compound.id)}
    if part.id == compound.id or not has_mass(compound) or compound.coefficient or told & impure:
        return 0
    assert part.formula is not None
    assert compound.formula is not None
    inside = dict(compound.formula.counts)
    atoms = min(inside.get(symbol, 0) // count for symbol, count in part.formula.counts)
    return (compound.formula.waters if part.formula.text == "H2O" else 0) or atoms


def _compositions(law: Law, scene: Scene) -> Iterator[Instance]:
    for part in scene.species.values():
        found = _compound_of(part, scene)
        if found is not None:
            compound, times = found
            one, all_of_it = Quantity("molar_mass", part.id).id, Quantity("molar_mass", compound.id).id
            parts: Expression = ("mul", ("num", str(times)), one) if times > 1 else one
            mistaken: dict[tuple[str, str], Expression] = {
                ("subscript-left-out", "w"): ("div", one, all_of_it),
                ("rest-taken-as-whole", "w"): ("div", parts, ("add", all_of_it, ("neg", parts))),
            }
            binding = {"w": Quantity("mass_fraction", part.id)}
            yield Instance(law, binding, direct={"w": ("div", parts, all_of_it)}, mistaken=mistaken)


COMPOSITION = Law(
    id="composition",
    title="Percent composition",
    relation=None,
    instances=_compositions,
    words={"w": "The mass of the part in one mole, divided by the molar mass of the compound, gives the mass percent."},
    source="green-book-2007 2.10: mass fraction w; derived: the formula counts the atoms",
    misuses=(
        Misuse("subscript-left-out", "the subscript left out", "How many are there in one formula unit?", None),
        Misuse(
            "rest-taken-as-whole",
            "compared with the rest, not with the whole",
            "A percentage compares a part with the whole: is the part itself in what stands below the line?",
            None,
        ),
    ),
)


def _masses_of_parts(law: Law, scene: Scene) -> Iterator[Instance]:
    for part in scene.species.values():
        found = _compound_of(part, scene)
        if found is not None:
            binding = {
                "m": Quantity("mass", part.id),
                "w": Quantity("mass_fraction", part.id),
                "whole": Quantity("mass", found[0].id),
            }
            yield Instance(law, binding)


MASS_OF_PART = Law(
    id="mass-of-part",
    title="Mass of a part",
    relation=w * whole - m,
    instances=_masses_of_parts,
    words={
        "m": "The mass of the compound times the mass percent gives the mass of the part.",
        "whole": "The mass of the part divided by the mass percent gives the mass of the compound.",
    },
    source="green-book-2007 2.10: mass fraction w",
)


def _shares(law: Law, scene: Scene) -> Iterator[Instance]:
    told = scene.given | scene.wanted
    for species in scene.species.values():
        share = Quantity("mass_fraction", species.id)
        if SAMPLE in told and share in told:
            yield Instance(law, {"w": share, "sample": SAMPLE, "m": Quantity("mass", species.id)})


SHARE = Law(
    id="share",
    title="Part of a sample",
    relation=w * sample - m,
    instances=_shares,
    words={
        "w": "The mass of the part divided by that of the sample gives the mass percent.",
        "m": "The mass of the sample times the mass percent gives the mass of the part.",
        "sample": "The mass of the part divided by the mass percent gives the mass of the sample.",
    },
    source="green-book-2007 2.10: mass fraction w",
    misuses=(
        Misuse(
            "share-inverted",
            "part and sample exchanged",
            "Can a part weigh more than the sample that it is in?",
            w * m - sample,
            only_for=frozenset({"w"}),
        ),
    ),
)


def _portions(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in scene.species.values():
        role = Role.THEORETICAL if species.is_product else Role.PLAIN
        for kind in ("mass", "amount", "volume"):
            each = Quantity(kind, species.id, Role.SERVING)
            if each in scene.given | scene.wanted:
                number = Quantity("portions", species.id)
                yield Instance(law, {"N": number, "portion": each, "m": Quantity(kind, species.id, role)})


PORTIONS = Law(
    id="portions",
    title="Equal portions",
    relation=N * portion - m,
    instances=_portions,
    words={
        "N": "The whole divided by what one portion holds gives the number of portions.",
        "m": "The number of portions times what one holds gives the whole.",
        "portion": "The whole divided by the number of portions gives what one holds.",
    },
    source="derived: the whole over one part is the number of parts",
    misuses=(
        Misuse(
            "portions-inverted",
            "portion and whole exchanged",
            "Is the whole larger or smaller than one portion, and does your number say so?",
            N * m - portion,
            only_for=frozenset({"N"}),
        ),
    ),
)

LAWS = (COMPOSITION, MASS_OF_PART, SHARE, PORTIONS)
