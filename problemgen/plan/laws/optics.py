"""Optical rotation: specific rotation, enantiomeric excess, shares of both enantiomers."""

from __future__ import annotations

from collections.abc import Iterator

from problemgen.model.expression import Expression
from problemgen.model.problem import Scene
from problemgen.model.quantity import Quantity, Role
from problemgen.plan.law import Instance, Law, Misuse, letters

__all__ = ["LAWS"]

alpha, specific, length, gamma, pure, ee = letters("alpha specific length gamma pure ee")
major, minor, share = letters("major minor share")

_ENANTIOMERS = (Role.MAJOR, Role.MINOR)


def _rotations(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in scene.species:
        tube = Quantity("path_length", species)
        if tube in scene.given | scene.wanted:
            binding = {
                "alpha": Quantity("rotation", species),
                "specific": Quantity("specific_rotation", species),
                "length": tube,
                "gamma": Quantity("mass_concentration", species),
            }
            yield Instance(law, binding)


ROTATION = Law(
    id="rotation",
    title="Optical rotation",
    relation=specific * length * gamma - alpha,
    instances=_rotations,
    words={
        "specific": "The rotation over path length and mass concentration is the specific rotation.",
        "alpha": "Specific rotation, path length and mass concentration multiplied give the rotation.",
        "gamma": "The rotation over specific rotation and path length gives the mass concentration.",
    },
    source="green-book-2007 2.7: specific optical rotatory power, α/(γ l)",
    misuses=(
        Misuse(
            "path-in-centimetres",
            "the path length in centimetres",
            "The specific rotation is given per decimetre: in which unit did the path length enter?",
            10 * specific * length * gamma - alpha,
        ),
        Misuse(
            "path-left-out",
            "the path length left out",
            "How long was the tube?",
            specific * gamma - alpha,
        ),
        Misuse(
            "rotation-multiplied",
            "multiplied in place of divided",
            "Does a longer tube or a stronger solution change the specific rotation?",
            specific - alpha * length * gamma / 10**6,
            only_for=frozenset({"specific"}),
        ),
    ),
)


def _resolved(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in scene.species:
        pure_value = Quantity("specific_rotation", species, Role.PURE)
        if pure_value in scene.given:
            binding = {
                "ee": Quantity("enantiomeric_excess", species),
                "specific": Quantity("specific_rotation", species),
                "pure": pure_value,
            }
            yield Instance(law, binding)


OPTICAL_PURITY = Law(
    id="enantiomeric-excess",
    title="Enantiomeric excess from rotation",
    relation=ee * pure - specific,
    instances=_resolved,
    words={
        "ee": "The specific rotation found over that of the pure enantiomer is the enantiomeric excess.",
        "specific": "The enantiomeric excess times the specific rotation of the pure enantiomer is what is found.",
    },
    source="gold-book E02070 enantiomer excess; gold-book optical purity",
    misuses=(
        Misuse(
            "enantiomeric-excess-inverted",
            "enantiomeric excess upside down",
            "Can a mixture rotate more than the pure enantiomer?",
            ee * specific - pure,
        ),
    ),
)


def _enantiomers(scene: Scene) -> Iterator[str]:
    for species in scene.species:
        shares = {Quantity("share", species, role) for role in _ENANTIOMERS}
        if {*shares, Quantity("enantiomeric_excess", species)} & (scene.given | scene.wanted):
            yield species


def _halves(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in _enantiomers(scene):
        excess = Quantity("enantiomeric_excess", species)
        direct: dict[str, Expression] = {
            "major": ("add", ("num", "1/2"), ("div", excess.id, ("num", "2"))),
            "ee": ("add", ("mul", ("num", "2"), Quantity("share", species, Role.MAJOR).id), ("neg", ("num", "1"))),
        }
        yield Instance(law, {"major": Quantity("share", species, Role.MAJOR), "ee": excess}, direct=direct)


MAIN_SHARE = Law(
    id="main-enantiomer",
    title="Share of the major enantiomer",
    relation=2 * major - 1 - ee,
    instances=_halves,
    words={
        "major": "What is not in excess is racemic: half of it belongs to each enantiomer.",
        "ee": "The share of the major enantiomer less that of the minor one is the enantiomeric excess.",
    },
    source="gold-book E02070 enantiomer excess",
    misuses=(
        Misuse(
            "excess-for-share",
            "the enantiomeric excess taken for the share",
            "Outside the excess, the rest is racemic: does it hold some of the major enantiomer too?",
            major - ee,
        ),
    ),
)


def _other_halves(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in _enantiomers(scene):
        yield Instance(law, {role.value: Quantity("share", species, role) for role in _ENANTIOMERS})


OTHER_SHARE = Law(
    id="minor-enantiomer",
    title="Share of the minor enantiomer",
    relation=1 - major - minor,
    instances=_other_halves,
    words={
        "minor": "What is not the major enantiomer is the minor one.",
        "major": "What is not the minor enantiomer is the major one.",
    },
    source="derived: shares add up to the whole",
)


def _from_amounts(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in _enantiomers(scene):
        for kind in ("mass", "amount", "peak_area"):
            both = {role.value: Quantity(kind, species, role) for role in _ENANTIOMERS}
            if scene.given.issuperset(both.values()):
                yield Instance(law, {**both, "share": Quantity("share", species, Role.MAJOR)})


SHARE_FROM_BOTH = Law(
    id="share-from-both",
    title="Share from both enantiomers",
    relation=share * (major + minor) - major,
    instances=_from_amounts,
    words={"share": "One enantiomer over both together is its share."},
    source="gold-book E02070 enantiomer excess",
    misuses=(
        Misuse(
            "part-to-part",
            "one part compared with the other in place of the whole",
            "A share refers to the whole: do both parts stand below the line?",
            share * minor - major,
        ),
    ),
)

LAWS = (ROTATION, OPTICAL_PURITY, MAIN_SHARE, OTHER_SHARE, SHARE_FROM_BOTH)
