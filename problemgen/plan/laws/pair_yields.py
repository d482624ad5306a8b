"""Two products of one reagent, each by its own equation: what could form, the total yield, what became of the reagent.

Yields are on the limiting reagent, which is the same for both equations: all of it could have become either product.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from problemgen.language.messages import N_
from problemgen.model.expression import Expression
from problemgen.model.problem import Scene, Species
from problemgen.model.quantity import Quantity, Role
from problemgen.plan.law import Instance, Law, scaled
from problemgen.plan.laws.isomers import SELECTIVITY
from problemgen.plan.laws.reactions import RATIO_INVERTED, RATIO_LEFT_OUT
from problemgen.plan.laws.two_products import are_of_one_mass, measures_of, products_of
from problemgen.plan.table import Place, by, error, law

__all__ = ["LAWS"]


def _are_alike(scene: Scene) -> bool:
    """Whether the products are isomers, each of which takes as much of the reagent: as much of either could form."""
    reagent = next((species.id for species in scene.competing), "")
    ratios = {product.ratio(reagent) for product in products_of(scene)} if reagent else set()
    return are_of_one_mass(scene) and len(ratios) == 1


def _in_theory(scene: Scene) -> Iterator[Place]:
    """X is the product of the other equation; the ratio is of its coefficient to the first equation's extent."""
    for product in products_of(scene)[1:] if not _are_alike(scene) else ():
        reagent = next((s for s in scene.competing if s.id in product.equation.coefficients), None)
        if reagent is not None:
            values = {
                "ratio": reagent.nu / product.ratio(reagent.id),
                "of_the_other": Fraction(scene.species[product.other].nu),
            }
            yield Place(product.id, values=values)


OTHER_IN_THEORY = law(
    "other-product-in-theory", N_("What could form of the other product"), "n = ratio xi",
    where={"n": "amount(X,theoretical)", "xi": "extent()"}, each=_in_theory,
    says={
        "n := ratio xi": N_("All of the limiting reagent could have become this product: its own equation tells "
                            "how much."),
    },
    source="green-book-2007 2.10: extent of reaction, each equation by itself",
    errors=[
        by(RATIO_LEFT_OUT, "n := xi"),
        by(RATIO_INVERTED, "n := xi / ratio"),
        error("equation-of-the-other", "n := of_the_other xi", N_("the coefficients of the other product's equation"),
              N_("Each product has an equation of its own: which of them did you read?")),
    ],
)  # fmt: skip


def _isomers(scene: Scene) -> Iterator[Place]:
    """X and Y are isomers alike, told in masses where nothing is told of their amounts."""
    if _are_alike(scene):
        one, other = products_of(scene)
        in_moles = scene.standard or not scene.told.isdisjoint((one.of("amount"), other.of("amount")))
        yield Place(one.id, other.id, words={"kind": "amount" if in_moles else "mass"})


ISOMER_IN_THEORY = law(
    "isomer-in-theory", N_("What could form of the other isomer"),
    where={"one": "{kind}(X,theoretical)", "other": "{kind}(Y,theoretical)"}, each=_isomers,
    says={
        "one := other": N_("Isomers have one molar mass: as much could form of the one as of the other."),
        "other := one": N_("Isomers have one molar mass: as much could form of the one as of the other."),
    },
    source="derived: isomers have one molar mass, and both equations take as much of the reagent",
)  # fmt: skip

_AVERAGED = error(
    "pair-yields-averaged", "Y := (one + other) / 2", N_("the average of the two yields"),
    N_("Both yields are shares of the same reagent: what do they make together?"),
)  # fmt: skip


def _both(scene: Scene) -> Iterator[Place]:
    """X and Y are the two products, and X is Z where their molar masses differ."""
    alike = are_of_one_mass(scene)
    for one in products_of(scene)[:1]:
        yield Place(one.id, one.other, "" if alike else one.id)


def _both_isomers(scene: Scene) -> Iterator[Place]:
    return _both(scene) if are_of_one_mass(scene) else iter(())


TOTAL_YIELD_OF_ISOMERS = law(
    "total-yield-of-isomers", N_("Total yield of two isomers"), "Y = both / theoretical",
    where={"Y": "percent_yield(X,both)", "both": "mass(X,both)", "theoretical": "mass(X,theoretical)",
           "one": "percent_yield(X)", "other": "percent_yield(Y)"},
    each=_both_isomers,
    says={
        "Y": N_("Isomers have one molar mass: the mixture is compared with the theoretical yield of either."),
        "both": N_("The theoretical yield times the total yield is the mass of the mixture."),
    },
    source="common-practice: percent yield, what was obtained over what is possible",
    errors=[_AVERAGED],
)  # fmt: skip

TOTAL_YIELD = law(
    "total-yield", N_("Total yield of two products"), "Y = one + other",
    where={"Y": "percent_yield(X,both)", "one": "percent_yield(X)", "other": "percent_yield(Y)", "both": "mass(Z,both)",
           "theoretical": "mass(Z,theoretical)"},
    each=_both,
    says={
        "Y := one + other": N_("Both yields are on the same reagent: together they tell how much of it became one "
                               "of the products."),
    },
    source="common-practice: percent yield, what was obtained over what is possible",
    errors=[
        _AVERAGED,
        error("mixture-against-one", "Y := both / theoretical",
              N_("the mass of the mixture over the theoretical yield of one product"),
              N_("The mixture holds two products of different molar mass: can it be compared with one of them?")),
    ],
)  # fmt: skip


def _is_measured(scene: Scene, reagent: str) -> bool:
    """Whether something was measured of what is left of a reagent itself."""
    return any(
        q.of == reagent and (q.role is Role.RECOVERED or q.kind in ("peak_area", "integral", "conversion"))
        for q in scene.given
    )


def _converted(scene: Scene) -> Iterator[Place]:
    """X is a reagent of which nothing was measured: what was converted is what is found again in Y and Z."""
    two = products_of(scene)
    for reagent in scene.competing if two else ():
        if not _is_measured(scene, reagent.id):
            values = {"per_one": two[0].ratio(reagent.id), "per_other": two[1].ratio(reagent.id)}
            yield Place(reagent.id, two[0].id, two[1].id, values=values)


CONVERTED_INTO = law(
    "converted-into-products", N_("What was converted into the two products"),
    where={"converted": "amount(X,converted)", "one": "amount(Y,actual)", "other": "amount(Z,actual)"}, each=_converted,
    says={
        "converted := per_one one + per_other other": N_("Each product tells by its own equation how much of the "
                                                         "reagent went into it."),
    },
    source="derived: the amount is conserved, each equation by itself",
    errors=[
        error("converted-coefficients-left-out", "converted := one + other",
              N_("coefficients left out of what was converted"),
              N_("How many of the reagent does each equation take for one of its product?")),
        error("one-product-only", "converted := per_one one", N_("only one of the products counted"),
              N_("Into how many products did the reagent go?")),
    ],
)  # fmt: skip


def _selectivities(law: Law, scene: Scene) -> Iterator[Instance]:
    """Where nothing was measured of the reagent itself, what of it stands in each product tells into which it went."""
    reagent = next((species.id for species in scene.competing), "")
    both_products = products_of(scene)
    if not both_products or not reagent or _is_measured(scene, reagent):
        return
    for product, rival in (both_products, both_products[::-1]):
        ratios = product.ratio(reagent), rival.ratio(reagent)
        least = min(ratios)
        found = measures_of(scene, product)
        into, others = (scaled(one.id, ratio / least) for one, ratio in zip(found, ratios, strict=True))
        share: Expression = ("div", found[0].id, ("add", found[0].id, found[1].id))
        mistaken: dict[tuple[str, str], Expression] = {
            ("selectivity-ratio-left-out", "S"): share,
            ("selectivity-against-all", "S"): (
                *("div", scaled(product.of("amount").id, ratios[0])),
                Quantity("amount", reagent).id,
            ),
        }
        binding = {"S": Quantity("selectivity", product.id), "one": found[0], "other": found[1]}
        yield Instance(law, binding, direct={"S": ("div", into, ("add", into, others))}, mistaken=mistaken)
        # From the amounts: one over the other, once, so that each one's rounding counts once.
        one, other = (found.of("amount") for found in (product, rival))
        part: Expression = ("div", scaled(other.id, ratios[1] / ratios[0]), one.id)
        by_amounts: Expression = ("div", ("num", "1"), ("add", ("num", "1"), part))
        yield Instance(law, {"S": binding["S"], "one": one, "other": other}, direct={"S": by_amounts})


SELECTIVITY_OF_PAIR = law(
    "selectivity-of-two-products", N_("Selectivity for one of two products"),
    instances=_selectivities,
    says={
        "S": N_("What was converted is found in the two products: how much there is of each, times the reagent "
                "that one of it takes, tells how much went into it."),
    },
    source=SELECTIVITY.source,
    errors=[by(one, None) for one in SELECTIVITY.errors],
)  # fmt: skip


def _of_pair(scene: Scene) -> tuple[Species, ...]:
    return scene.competing if scene.pair else ()


UNCONVERTED = law(
    "not-converted", N_("What was not converted"), "n = converted + back",
    where={"n": "amount(X)", "converted": "amount(X,converted)", "back": "amount(X,unconverted)"}, each=_of_pair,
    says={
        "back := n - converted": N_("What was taken less what was converted is the rest."),
        "converted := n - back": N_("What was taken less what was not converted was converted."),
    },
    source="derived: the amount is conserved",
    errors=[
        error("converted-for-unconverted", "back = converted", N_("what was converted taken for what was not"),
              N_("Was the question what reacted, or what was left as it was?"), at="back"),
    ],
)  # fmt: skip

LAWS = (
    ISOMER_IN_THEORY,
    OTHER_IN_THEORY,
    TOTAL_YIELD_OF_ISOMERS,
    TOTAL_YIELD,
    CONVERTED_INTO,
    SELECTIVITY_OF_PAIR,
    UNCONVERTED,
)
