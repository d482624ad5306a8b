"""Several products from the same reagents: shares, the yield of each, conversion and selectivity."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from problemgen.language.messages import N_
from problemgen.model.problem import Scene, Species
from problemgen.model.quantity import Role
from problemgen.plan.table import Place, error, law

__all__ = ["LAWS", "SELECTIVITY"]

_OF_MIXTURE = ("share", "product_ratio", "peak_area")


def _mixed(scene: Scene) -> Iterator[Species]:
    """The substances of which a share among isomers is told or asked for; two products have laws of their own."""
    if scene.pair:
        return
    told = {q.of for q in scene.told if q.kind in _OF_MIXTURE and q.role in (Role.PLAIN, Role.OTHER)}
    yield from (species for species in scene.species.values() if species.id in told)


SHARE_FROM_RATIO = law(
    "share-from-ratio", N_("Share from a product ratio"), "x = ratio / (1 + ratio)",
    where={"x": "share(X)", "ratio": "product_ratio(X)"}, each=_mixed,
    says={
        "x": N_("The ratio gives the parts of the product for one part of the others: all parts together are the "
                "whole."),
        "ratio": N_("The share over what is left for the others is the product ratio."),
    },
    source="derived: the ratio, read in parts of a whole",
    errors=[
        error("part-of-part", "x = 1 / ratio", N_("one part compared with the other in place of the whole"),
              N_("A share refers to the whole: do both parts stand below the line?"), at="x"),
        error("other-isomers-share", "x = 1 / (1 + ratio)", N_("the share of the other isomer"),
              N_("Which number of the ratio belongs to which isomer?"), at="x"),
    ],
)  # fmt: skip

SHARE_FROM_AREAS = law(
    "share-from-areas", N_("Share from peak areas"), "x = area / (area + others)",
    where={"x": "share(X)", "area": "peak_area(X)", "others": "peak_area(X,other)"}, each=_mixed,
    says={"x": N_("The peak area of the isomer over those of all isomers is its share.")},
    source="common-practice: isomers give a detector the same signal for the same mass",
    errors=[
        error("area-against-area", "x = area / others", N_("one peak compared with the other in place of both"),
              N_("A share refers to the whole: do both peaks stand below the line?")),
        error("other-peak", "x = others / (area + others)", N_("the peak of the other isomer"),
              N_("Which peak belongs to which isomer?")),
    ],
)  # fmt: skip

OTHER_SHARES = law(
    "other-isomers", N_("Share of the other isomers"), "rest = 1 - x",
    where={"x": "share(X)", "rest": "share(X,other)"}, each=_mixed,
    says={
        "rest": N_("All isomers together are the whole."),
        "x": N_("All isomers together are the whole."),
    },
    source="derived: shares add up to the whole",
)  # fmt: skip


def _parts(scene: Scene) -> Iterator[Place]:
    for species in _mixed(scene):
        yield Place(species.id, words={"share": Role.PLAIN, "own": Role.ACTUAL})
        yield Place(species.id, words={"share": Role.OTHER, "own": Role.OTHER})


ISOMER_MASS = law(
    "isomer-mass", N_("Mass of one isomer"), "own = x mixture",
    where={"x": "share(X,{share})", "mixture": "mass(X,isomers)", "own": "mass(X,{own})"}, each=_parts,
    says={
        "own": N_("The share of the isomer times the mass of the mixture is its mass."),
        "mixture": N_("The mass of the isomer over its share is the mass of the mixture."),
        "x": N_("The mass of the isomer over that of the mixture is its share."),
    },
    source="green-book-2007 2.10: mass fraction w",
    errors=[
        error("share-left-out", "own = mixture", N_("the share left out"),
              N_("Not all of what was weighed is this isomer."), at="own"),
        error("share-divided", "own = mixture / x", N_("the share used upside down"),
              N_("Can there be more of the isomer than of the mixture?"), at="own"),
    ],
)  # fmt: skip

MIXTURE_YIELD = law(
    "mixture-yield", N_("Percent yield of all isomers"), "Y = mixture / theoretical",
    where={"Y": "percent_yield(X,isomers)", "mixture": "mass(X,isomers)", "theoretical": "mass(X,theoretical)",
           "x": "share(X)"},
    each=lambda scene: scene.products, told="Y",
    says={
        "Y": N_("Isomers have one molar mass: the mixture is compared with the theoretical yield of either."),
        "mixture": N_("The theoretical yield times the percent yield of all isomers is the mass of the mixture."),
        "theoretical": N_("Divide the mass of the mixture by its fractional yield to get the theoretical yield."),
    },
    source="common-practice: percent yield, what was obtained over what is possible",
    errors=[
        error("share-of-theoretical", "Y = mixture / (x theoretical)", N_("the share taken of the theoretical yield"),
              N_("All of the reagent could have become any of the isomers: what is theoretically possible?"), at="Y"),
        error("mixture-yield-inverted", "Y = theoretical / mixture", N_("percent yield upside down"),
              N_("Can more be obtained than is possible? What belongs below the line?"), at="Y"),
    ],
)  # fmt: skip

_BACK = (Role.RECOVERED, Role.CONVERTED, Role.UNCONVERTED)


def _recovered(scene: Scene) -> Iterator[Species]:
    """The reagents of which some came back unchanged; of two products, the first that both are made of."""
    shared = [species.id for species in scene.competing[:1]] if scene.pair else []
    for species in scene.reagents:
        if species.id in shared or any(
            q.of == species.id and (q.role in _BACK or q.kind == "conversion") for q in scene.told
        ):
            yield species


CONVERTED = law(
    "converted", N_("What was converted"), "converted = n - back",
    where={"n": "amount(X)", "back": "amount(X,recovered)", "converted": "amount(X,converted)"}, each=_recovered,
    says={
        "converted": N_("What was taken and did not come back was converted."),
        "back": N_("The rest came back."),
    },
    source="derived: the amount is conserved",
    errors=[
        error("recovered-for-converted", "converted = back", N_("what came back taken for what was converted"),
              N_("Was the question what reacted, or what was left as it was?"), at="converted"),
    ],
)  # fmt: skip

CONVERSION = law(
    "conversion", N_("Conversion"), "X = converted / n",
    where={"X": "conversion(X)", "n": "amount(X)", "converted": "amount(X,converted)", "back": "amount(X,recovered)"},
    each=_recovered,
    says={
        "X": N_("What was converted over what was taken is the conversion."),
        "converted": N_("The conversion times what was taken is what was converted."),
    },
    source="common-practice: conversion, what was converted over what was taken",
    errors=[
        error("conversion-inverted", "X = n / converted", N_("conversion upside down"),
              N_("Can more react than was taken? What belongs below the line?"), at="X"),
    ],
)  # fmt: skip


def _selective(scene: Scene) -> Iterator[Place]:
    """X is a product, Y the reagent of which some came back."""
    formed = [
        (equation.coefficients, name) for equation in scene.pair or (scene.main,) for name in equation.coefficients
    ]
    for reagent in _recovered(scene):
        for coefficients, product in formed:
            if coefficients[product] > 0 > coefficients.get(reagent.id, 0):
                ratio = Fraction(-coefficients[reagent.id], coefficients[product])
                values = {"reagents": Fraction(ratio.numerator), "products": Fraction(ratio.denominator)}
                yield Place(product, reagent.id, values=values)


SELECTIVITY = law(
    "selectivity", N_("Selectivity"),
    where={"S": "selectivity(X)", "made": "amount(X,actual)", "converted": "amount(Y,converted)", "taken": "amount(Y)"},
    each=_selective, asked="S",
    says={
        "S := (reagents made) / (products converted)": N_("The part of what was converted that became this "
                                                          "product is the selectivity."),
    },
    source="common-practice: selectivity, the part of what was converted that became this product",
    errors=[
        error("selectivity-against-all", "S := (reagents made) / (products taken)",
              N_("compared with all that was taken"), N_("Selectivity looks only at what was converted.")),
        error("selectivity-ratio-left-out", "S := made / converted", N_("coefficients left out of the selectivity"),
              N_("How many of the product does the equation give for each of the reagent?")),
    ],
)  # fmt: skip

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
