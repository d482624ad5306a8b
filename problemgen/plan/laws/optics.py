"""Optical rotation: specific rotation, enantiomeric excess, shares of both enantiomers."""

from __future__ import annotations

from collections.abc import Iterator

from problemgen.language.messages import N_
from problemgen.model.problem import Scene
from problemgen.model.quantity import Quantity, Role
from problemgen.plan.table import Place, error, law

__all__ = ["LAWS"]

ROTATION = law(
    "rotation", N_("Optical rotation"), "alpha = specific length gamma",
    where={"alpha": "rotation(X)", "specific": "specific_rotation(X)", "length": "path_length(X)",
           "gamma": "mass_concentration(X)"},
    told="length",
    says={
        "specific": N_("The rotation over path length and mass concentration is the specific rotation."),
        "alpha": N_("Specific rotation, path length and mass concentration multiplied give the rotation."),
        "gamma": N_("The rotation over specific rotation and path length gives the mass concentration."),
    },
    source="green-book-2007 2.7: specific optical rotatory power, α/(γ l)",
    errors=[
        error("path-in-centimetres", "alpha = specific (length in cm) gamma", N_("the path length in centimetres"),
              N_("The specific rotation is given per decimetre: in which unit did the path length enter?")),
        error("path-left-out", "alpha = specific gamma", N_("the path length left out"), N_("How long was the tube?")),
        error("rotation-multiplied", "(specific in °·mL/g/dm) = alpha length (gamma in g/mL)",
              N_("multiplied in place of divided"),
              N_("Does a longer tube or a stronger solution change the specific rotation?"), at="specific"),
    ],
)  # fmt: skip

OPTICAL_PURITY = law(
    "enantiomeric-excess", N_("Enantiomeric excess from rotation"), "ee = specific / pure",
    where={"ee": "enantiomeric_excess(X)", "specific": "specific_rotation(X)", "pure": "specific_rotation(X,pure)"},
    given="pure",
    says={
        "ee": N_("The specific rotation found over that of the pure enantiomer is the enantiomeric excess."),
        "specific": N_("The enantiomeric excess times the specific rotation of the pure enantiomer is what is found."),
    },
    source="gold-book E02070 enantiomer excess; gold-book optical purity",
    errors=[
        error("enantiomeric-excess-inverted", "ee = pure / specific", N_("enantiomeric excess upside down"),
              N_("Can a mixture rotate more than the pure enantiomer?")),
    ],
)  # fmt: skip


def _enantiomers(scene: Scene) -> Iterator[str]:
    for species in scene.species:
        shares = {Quantity("share", species, role) for role in (Role.MAJOR, Role.MINOR)}
        if {*shares, Quantity("enantiomeric_excess", species)} & scene.told:
            yield species


MAIN_SHARE = law(
    "main-enantiomer", N_("Share of the major enantiomer"), "ee = 2 major - 1",
    where={"major": "share(X,major)", "ee": "enantiomeric_excess(X)"}, each=_enantiomers,
    says={
        "major := 0.5 + ee / 2": N_("What is not in excess is racemic: half of it belongs to each enantiomer."),
        "ee := 2 major - 1": N_("The share of the major enantiomer less that of the minor one is the enantiomeric "
                                "excess."),
    },
    source="gold-book E02070 enantiomer excess",
    errors=[
        error("excess-for-share", "major = ee", N_("the enantiomeric excess taken for the share"),
              N_("Outside the excess, the rest is racemic: does it hold some of the major enantiomer too?")),
    ],
)  # fmt: skip

OTHER_SHARE = law(
    "minor-enantiomer", N_("Share of the minor enantiomer"), "minor = 1 - major",
    where={"major": "share(X,major)", "minor": "share(X,minor)"}, each=_enantiomers,
    says={
        "minor": N_("What is not the major enantiomer is the minor one."),
        "major": N_("What is not the minor enantiomer is the major one."),
    },
    source="derived: shares add up to the whole",
)  # fmt: skip


def _measured_both(scene: Scene) -> Iterator[Place]:
    for species in _enantiomers(scene):
        yield from (Place(species, words={"kind": kind}) for kind in ("mass", "amount", "peak_area"))


SHARE_FROM_BOTH = law(
    "share-from-both", N_("Share from both enantiomers"), "share = major / (major + minor)",
    where={"major": "{kind}(X,major)", "minor": "{kind}(X,minor)", "share": "share(X,major)"}, each=_measured_both,
    given="major minor",
    says={"share": N_("One enantiomer over both together is its share.")},
    source="gold-book E02070 enantiomer excess",
    errors=[
        error("part-to-part", "share = major / minor", N_("one part compared with the other in place of the whole"),
              N_("A share refers to the whole: do both parts stand below the line?")),
    ],
)  # fmt: skip

LAWS = (ROTATION, OPTICAL_PURITY, MAIN_SHARE, OTHER_SHARE, SHARE_FROM_BOTH)
