"""Titrations that are told in a practice of their own: water hardness by EDTA, water by the Karl Fischer reagent."""

from __future__ import annotations

from collections.abc import Iterator

from problemgen.model.problem import Scene
from problemgen.model.quantity import Quantity, Role
from problemgen.plan.law import Instance, Law, Misuse, letters

__all__ = ["LAWS"]

H, V, m, M, T, calcium = letters("H V m M T calcium")

_WATER = "H2O"


def _hardnesses(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in scene.species:
        hardness = Quantity("hardness", species)
        if hardness in scene.given | scene.wanted:
            binding = {"H": hardness, "m": Quantity("mass", species), "V": Quantity("volume", species, Role.SOLUTION)}
            of_calcium = scene.weights["Ca"].quantity.id
            yield Instance(law, binding, extra={"M": Quantity("molar_mass", species).id, "calcium": of_calcium})


HARDNESS = Law(
    id="hardness",
    title="Water hardness",
    relation=H * V - m,
    instances=_hardnesses,
    words={
        "H": "Hardness is the mass of calcium carbonate in each litre of the water: the mass over the volume.",
        "m": "The hardness times the volume gives the mass of calcium carbonate.",
    },
    source="common-practice: hardness counts calcium and magnesium as calcium carbonate, in milligrams in a litre",
    misuses=(
        Misuse(
            "sample-not-scaled",
            "what the sample holds taken for a litre's",
            "Was a whole litre titrated?",
            H - m,
            only_for=frozenset({"H"}),
        ),
        Misuse(
            "hardness-per-millilitre",
            "divided by millilitres in place of litres",
            "Hardness is given per litre: in which unit did the volume enter?",
            1000 * H * V - m,
            only_for=frozenset({"H"}),
        ),
        Misuse(
            "calcium-for-carbonate",
            "counted as calcium in place of calcium carbonate",
            "As which substance is hardness counted?",
            H * V * M - m * calcium,
            only_for=frozenset({"H"}),
        ),
    ),
)


def _reagents(scene: Scene) -> Iterator[tuple[str, str]]:
    """The Karl Fischer reagents, each with the id of water."""
    told = {q.of for q in scene.given | scene.wanted if q.kind == "water_equivalent"}
    waters = [one.id for one in scene.species.values() if one.formula is not None and one.formula.text == _WATER]
    yield from ((name, waters[0]) for name in scene.species if name in told and waters)


def _standardisations(law: Law, scene: Scene) -> Iterator[Instance]:
    for name, water in _reagents(scene):
        binding = {
            "T": Quantity("water_equivalent", name),
            "V": Quantity("volume", name, Role.STANDARDISING),
            "m": Quantity("mass", water, Role.STANDARDISING),
        }
        yield Instance(law, binding)


WATER_EQUIVALENT = Law(
    id="water-equivalent",
    title="Water equivalent of the reagent",
    relation=T * V - m,
    instances=_standardisations,
    words={"T": "The mass of water over the volume of reagent that it took is the water equivalent."},
    source="common-practice: the Karl Fischer reagent is standardised with weighed water, in mg for each mL",
    misuses=(
        Misuse(
            "equivalent-inverted",
            "the water equivalent upside down",
            "The equivalent is the water for each millilitre of reagent: what belongs below the line?",
            T * m - V,  # millilitres over milligrams
            only_for=frozenset({"T"}),
        ),
    ),
)


def _waters(law: Law, scene: Scene) -> Iterator[Instance]:
    for name, water in _reagents(scene):
        has_blank = Quantity("volume", name, Role.BLANK) in scene.given
        taken = Quantity("volume", name, Role.NET if has_blank else Role.PLAIN)
        binding = {"m": Quantity("mass", water), "T": Quantity("water_equivalent", name), "V": taken}
        yield Instance(law, binding)


WATER = Law(
    id="water-found",
    title="Water by the Karl Fischer reagent",
    relation=T * V - m,
    instances=_waters,
    words={
        "m": "The volume of reagent times its water equivalent gives the mass of water.",
        "V": "The mass of water over the water equivalent gives the volume of reagent.",
    },
    source="common-practice: the water found is the volume of reagent times its water equivalent",
    misuses=(
        Misuse(
            "equivalent-divided",
            "divided by the water equivalent",
            "Does more reagent mean more water, or less? And a stronger one?",
            m * T - V,
            only_for=frozenset({"m"}),
        ),
    ),
)

LAWS = (HARDNESS, WATER_EQUIVALENT, WATER)
