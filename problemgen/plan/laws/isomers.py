"""Several products from the same reagents: shares, the yield of each, conversion and selectivity."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from problemgen.model.expression import Expression
from problemgen.model.problem import Scene, Species
from problemgen.model.quantity import Quantity, Role
from problemgen.plan.law import Instance, Law, Misuse, coefficient_letter, letters

__all__ = ["LAWS", "SELECTIVITY"]

x, rest, ratio, area, others, mixture, own = letters("x rest ratio area others mixture own")
Y, theoretical, X, n, back, converted, S, made = letters("Y theoretical X n back converted S made")
nu = coefficient_letter

_OF_MIXTURE = ("share", "product_ratio", "peak_area")


def _mixed(scene: Scene) -> Iterator[Species]:
    """The substances of which a share among isomers is told or asked for; two products have laws of their own."""
    if scene.pair:
        return
    told = {q.of for q in scene.given | scene.wanted if q.kind in _OF_MIXTURE and q.role in (Role.PLAIN, Role.OTHER)}
    yield from (species for species in scene.species.values() if species.id in told)


def _from_ratio(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in _mixed(scene):
        binding = {"x": Quantity("share", species.id), "ratio": Quantity("product_ratio", species.id)}
        yield Instance(law, binding)


SHARE_FROM_RATIO = Law(
    id="share-from-ratio",
    title="Share from a product ratio",
    relation=x * (1 + ratio) - ratio,
    instances=_from_ratio,
    words={
        "x": "The ratio gives the parts of the product for one part of the others: all parts together are the whole.",
        "ratio": "The share over what is left for the others is the product ratio.",
    },
    source="derived: the ratio, read in parts of a whole",
    misuses=(
        Misuse(
            "part-of-part",
            "one part compared with the other in place of the whole",
            "A share refers to the whole: do both parts stand below the line?",
            x * ratio - 1,
            only_for=frozenset({"x"}),
        ),
        Misuse(
            "other-isomers-share",
            "the share of the other isomer",
            "Which number of the ratio belongs to which isomer?",
            x * (1 + ratio) - 1,
            only_for=frozenset({"x"}),
        ),
    ),
)


def _from_areas(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in _mixed(scene):
        binding = {
            "x": Quantity("share", species.id),
            "area": Quantity("peak_area", species.id),
            "others": Quantity("peak_area", species.id, Role.OTHER),
        }
        yield Instance(law, binding)


SHARE_FROM_AREAS = Law(
    id="share-from-areas",
    title="Share from peak areas",
    relation=x * (area + others) - area,
    instances=_from_areas,
    words={"x": "The peak area of the isomer over those of all isomers is its share."},
    source="common-practice: isomers give a detector the same signal for the same mass",
    misuses=(
        Misuse(
            "area-against-area",
            "one peak compared with the other in place of both",
            "A share refers to the whole: do both peaks stand below the line?",
            x * others - area,
        ),
        Misuse(
            "other-peak",
            "the peak of the other isomer",
            "Which peak belongs to which isomer?",
            x * (area + others) - others,
        ),
    ),
)


def _rests(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in _mixed(scene):
        yield Instance(law, {"x": Quantity("share", species.id), "rest": Quantity("share", species.id, Role.OTHER)})


OTHER_SHARES = Law(
    id="other-isomers",
    title="Share of the other isomers",
    relation=1 - x - rest,
    instances=_rests,
    words={"rest": "All isomers together are the whole.", "x": "All isomers together are the whole."},
    source="derived: shares add up to the whole",
)


def _parts(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in _mixed(scene):
        for role, of_part in ((Role.PLAIN, Role.ACTUAL), (Role.OTHER, Role.OTHER)):
            binding = {
                "x": Quantity("share", species.id, role),
                "mixture": Quantity("mass", species.id, Role.ISOMERS),
                "own": Quantity("mass", species.id, of_part),
            }
            yield Instance(law, binding)


ISOMER_MASS = Law(
    id="isomer-mass",
    title="Mass of one isomer",
    relation=x * mixture - own,
    instances=_parts,
    words={
        "own": "The share of the isomer times the mass of the mixture is its mass.",
        "mixture": "The mass of the isomer over its share is the mass of the mixture.",
        "x": "The mass of the isomer over that of the mixture is its share.",
    },
    source="green-book-2007 2.10: mass fraction w",
    misuses=(
        Misuse(
            "share-left-out",
            "the share left out",
            "Not all of what was weighed is this isomer.",
            mixture - own,
            only_for=frozenset({"own"}),
        ),
        Misuse(
            "share-divided",
            "the share used upside down",
            "Can there be more of the isomer than of the mixture?",
            mixture / x - own,
            only_for=frozenset({"own"}),
        ),
    ),
)


def _mixture_yields(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in scene.products:
        quantity = Quantity("percent_yield", species.id, Role.ISOMERS)
        if quantity in scene.given | scene.wanted:
            binding = {
                "Y": quantity,
                "mixture": Quantity("mass", species.id, Role.ISOMERS),
                "theoretical": Quantity("mass", species.id, Role.THEORETICAL),
            }
            yield Instance(law, binding, extra={"x": Quantity("share", species.id).id})


MIXTURE_YIELD = Law(
    id="mixture-yield",
    title="Percent yield of all isomers",
    relation=Y * theoretical - mixture,
    instances=_mixture_yields,
    words={
        "Y": "Isomers have one molar mass: the mixture is compared with the theoretical yield of either.",
        "mixture": "The theoretical yield times the percent yield of all isomers is the mass of the mixture.",
        "theoretical": "Divide the mass of the mixture by its fractional yield to get the theoretical yield.",
    },
    source="common-practice: percent yield, what was obtained over what is possible",
    misuses=(
        Misuse(
            "share-of-theoretical",
            "the share taken of the theoretical yield",
            "All of the reagent could have become any of the isomers: what is theoretically possible?",
            Y * x * theoretical - mixture,
            only_for=frozenset({"Y"}),
        ),
        Misuse(
            "mixture-yield-inverted",
            "percent yield upside down",
            "Can more be obtained than is possible? What belongs below the line?",
            Y * mixture - theoretical,
            only_for=frozenset({"Y"}),
        ),
    ),
)


_BACK = (Role.RECOVERED, Role.CONVERTED, Role.UNCONVERTED)


def _recovered(scene: Scene) -> Iterator[Species]:
    """The reagents of which some came back unchanged; of two products, the first that both are made of."""
    told = scene.given | scene.wanted
    shared = [species.id for species in scene.competing[:1]] if scene.pair else []
    for species in scene.reagents:
        if species.id in shared or any(
            q.of == species.id and (q.role in _BACK or q.kind == "conversion") for q in told
        ):
            yield species


def _converted(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in _recovered(scene):
        roles = {"n": Role.PLAIN, "back": Role.RECOVERED, "converted": Role.CONVERTED}
        yield Instance(law, {letter: Quantity("amount", species.id, role) for letter, role in roles.items()})


CONVERTED = Law(
    id="converted",
    title="What was converted",
    relation=n - back - converted,
    instances=_converted,
    words={"converted": "What was taken and did not come back was converted.", "back": "The rest came back."},
    source="derived: the amount is conserved",
    misuses=(
        Misuse(
            "recovered-for-converted",
            "what came back taken for what was converted",
            "Was the question what reacted, or what was left as it was?",
            back - converted,
            only_for=frozenset({"converted"}),
        ),
    ),
)


def _conversions(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in _recovered(scene):
        binding = {
            "X": Quantity("conversion", species.id),
            "n": Quantity("amount", species.id),
            "converted": Quantity("amount", species.id, Role.CONVERTED),
        }
        yield Instance(law, binding, extra={"back": Quantity("amount", species.id, Role.RECOVERED).id})


CONVERSION = Law(
    id="conversion",
    title="Conversion",
    relation=X * n - converted,
    instances=_conversions,
    words={
        "X": "What was converted over what was taken is the conversion.",
        "converted": "The conversion times what was taken is what was converted.",
    },
    source="common-practice: conversion, what was converted over what was taken",
    misuses=(
        Misuse(
            "conversion-inverted",
            "conversion upside down",
            "Can more react than was taken? What belongs below the line?",
            X * converted - n,
            only_for=frozenset({"X"}),
        ),
    ),
)


def _selectivities(law: Law, scene: Scene) -> Iterator[Instance]:
    formed = [(equation, name) for equation in scene.pair or (scene.main,) for name in equation.coefficients]
    for reagent in _recovered(scene):
        for equation, product in formed:
            quantity = Quantity("selectivity", product)
            if quantity in scene.wanted and equation.coefficients[product] > 0 > equation.coefficients.get(
                reagent.id, 0
            ):
                obtained = Quantity("amount", product, Role.ACTUAL).id
                reacted, all_taken = (Quantity("amount", reagent.id, role).id for role in (Role.CONVERTED, Role.PLAIN))
                ratio = Fraction(-equation.coefficients[reagent.id], equation.coefficients[product])
                mistaken = {
                    ("selectivity-against-all", "S"): _share(ratio, obtained, all_taken),
                    ("selectivity-ratio-left-out", "S"): _share(Fraction(1), obtained, reacted),
                }
                direct = {"S": _share(ratio, obtained, reacted)}
                yield Instance(law, {"S": quantity}, direct=direct, mistaken=mistaken)


def _share(ratio: Fraction, product: str, reagent: str) -> Expression:
    """The part of a reagent's amount that a product stands for."""
    top, bottom = (
        name if number == 1 else ("mul", ("num", str(number)), name)
        for number, name in ((ratio.numerator, product), (ratio.denominator, reagent))
    )
    return ("div", top, bottom)


SELECTIVITY = Law(
    id="selectivity",
    title="Selectivity",
    relation=None,
    instances=_selectivities,
    words={"S": "The part of what was converted that became this product is the selectivity."},
    source="common-practice: selectivity, the part of what was converted that became this product",
    misuses=(
        Misuse(
            "selectivity-against-all",
            "compared with all that was taken",
            "Selectivity looks only at what was converted.",
            None,
        ),
        Misuse(
            "selectivity-ratio-left-out",
            "coefficients left out of the selectivity",
            "How many of the product does the equation give for each of the reagent?",
            None,
        ),
    ),
)

LAWS = (
    SHARE_FROM_RATIO,
    SHARE_FROM_AREAS,
    OTHER_SHARES,
    ISOMER_MASS,
    MIXTURE_YIELD,
    CONVERTED,
    CONVERSION,
    SELECTIVITY,
)
