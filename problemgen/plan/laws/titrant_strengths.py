"""Titrations that are told in a practice of their own: water hardness by EDTA, water by the Karl Fischer reagent."""

from __future__ import annotations

from collections.abc import Iterator

from problemgen.language.messages import N_
from problemgen.model.problem import Scene
from problemgen.model.quantity import Quantity, Role
from problemgen.plan.table import Place, error, law

__all__ = ["LAWS"]

_WATER = "H2O"

HARDNESS = law(
    "hardness", N_("Water hardness"), "H = m / V",
    where={"H": "hardness(X)", "m": "mass(X)", "V": "volume(X,solution)", "M": "molar_mass(X)",
           "calcium": "atomic_weight(Ca)"},
    told="H",
    says={
        "H": N_("Hardness is the mass of calcium carbonate in each litre of the water: the mass over the volume."),
        "m": N_("The hardness times the volume gives the mass of calcium carbonate."),
    },
    source="common-practice: hardness counts calcium and magnesium as calcium carbonate, in milligrams in a litre",
    errors=[
        error("sample-not-scaled", "H = m", N_("what the sample holds taken for a litre's"),
              N_("Was a whole litre titrated?"), at="H"),
        error("hardness-per-millilitre", "H = m / (V in mL)", N_("divided by millilitres in place of litres"),
              N_("Hardness is given per litre: in which unit did the volume enter?"), at="H"),
        error("calcium-for-carbonate", "H = m calcium / (M V)", N_("counted as calcium in place of calcium carbonate"),
              N_("As which substance is hardness counted?"), at="H"),
    ],
)  # fmt: skip


def _reagents(scene: Scene) -> Iterator[Place]:
    """X is a Karl Fischer reagent, Y water."""
    named = {q.of for q in scene.told if q.kind == "water_equivalent"}
    waters = [one.id for one in scene.species.values() if one.formula is not None and one.formula.text == _WATER]
    for name in scene.species:
        if name in named and waters:
            has_blank = Quantity("volume", name, Role.BLANK) in scene.given
            yield Place(name, waters[0], role=Role.NET if has_blank else Role.PLAIN)


WATER_EQUIVALENT = law(
    "water-equivalent", N_("Water equivalent of the reagent"), "T = m / V",
    where={"T": "water_equivalent(X)", "V": "volume(X,standardising)", "m": "mass(Y,standardising)"}, each=_reagents,
    says={"T": N_("The mass of water over the volume of reagent that it took is the water equivalent.")},
    source="common-practice: the Karl Fischer reagent is standardised with weighed water, in mg for each mL",
    errors=[
        error("equivalent-inverted", "(T in mg/mL) = (V in mL) / (m in mg)", N_("the water equivalent upside down"),
              N_("The equivalent is the water for each millilitre of reagent: what belongs below the line?"), at="T"),
    ],
)  # fmt: skip

WATER = law(
    "water-found", N_("Water by the Karl Fischer reagent"), "m = T V",
    where={"m": "mass(Y)", "T": "water_equivalent(X)", "V": "volume(X,*)"}, each=_reagents,
    says={
        "m": N_("The volume of reagent times its water equivalent gives the mass of water."),
        "V": N_("The mass of water over the water equivalent gives the volume of reagent."),
    },
    source="common-practice: the water found is the volume of reagent times its water equivalent",
    errors=[
        error("equivalent-divided", "m = V / T", N_("divided by the water equivalent"),
              N_("Does more reagent mean more water, or less? And a stronger one?"), at="m"),
    ],
)  # fmt: skip

LAWS = (HARDNESS, WATER_EQUIVALENT, WATER)
