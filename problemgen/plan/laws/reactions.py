"""Stoichiometry: extents, the limiting reagent, product and remainder."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from problemgen.language.messages import N_
from problemgen.model.expression import Expression
from problemgen.model.problem import Scene, Species
from problemgen.model.quantity import KINDS, OVERALL_EXTENT, Quantity, Role
from problemgen.plan.law import Instance, Law, scaled
from problemgen.plan.laws.amounts import has_mass, molar_mass_expression
from problemgen.plan.table import Place, by, error, law

__all__ = ["EXTENT", "LAWS", "RATIO_INVERTED", "RATIO_LEFT_OUT"]

MIXED_VOLUME = Quantity("volume", "", Role.MIXED)

RATIO_LEFT_OUT = error(
    "ratio-left-out", "n = xi", N_("coefficients left out"),
    N_("Read the equation once more: how many of one substance go with how many of the other?"), everywhere=True,
)  # fmt: skip

RATIO_INVERTED = error(
    "ratio-inverted", "xi = nu n", N_("ratio of coefficients upside down"),
    N_("Test your ratio on the equation itself: does it give the product's coefficient for the reagent's?"),
    everywhere=True,
)  # fmt: skip


def _competing(scene: Scene) -> tuple[Species, ...]:
    return scene.competing


EXTENT = law(
    "extent", N_("Extent that a reagent allows"), "n = nu xi",
    where={"n": "amount(X)", "xi": "extent(X)"}, each=_competing,
    says={"xi": N_("The amount divided by its coefficient gives the extent that this reagent allows.")},
    source="green-book-2007 2.10: extent of reaction ξ = Δn/ν",
    errors=[
        RATIO_LEFT_OUT,
        RATIO_INVERTED,
        error("reagent-ratio-left-out", "xi = n", N_("the reagents' coefficients left out"),
              N_("Does one unit of the reaction use up one of this reagent, or more?"), everywhere=True),
    ],
)  # fmt: skip


def _limits(law: Law, scene: Scene) -> Iterator[Instance]:
    sources = scene.competing
    if len(sources) < 2:
        return
    extents = [Quantity("extent", species.id).id for species in sources]
    amounts = [Quantity("amount", species.id).id for species in sources]
    mistaken: dict[tuple[str, str], Expression] = {("excess-taken", "xi"): ("max", *extents)}
    if len({species.nu for species in sources}) > 1:
        mistaken["least-amount-taken", "xi"] = ("least", *zip(amounts, extents, strict=True))
    weighable = [
        (("mul", amount, molar_mass_expression(scene, species)), extent)
        for species, amount, extent in zip(sources, amounts, extents, strict=True)
        if has_mass(species)
    ]
    if len(weighable) == len(sources):
        mistaken["least-mass-taken", "xi"] = ("least", *weighable)
    yield Instance(law, {"xi": OVERALL_EXTENT}, direct={"xi": ("min", *extents)}, mistaken=mistaken)


LIMITING = law(
    "limiting", N_("Limiting reagent"),
    instances=_limits,
    says={"xi": N_("The reagent that allows the least reaction is used up first: it is the limiting reagent.")},
    source=("green-book-2007 2.10: extent of reaction ξ; common-practice: the limiting reagent is the one that allows "
            "the least extent"),
    errors=[
        error("excess-taken", None, N_("the reagent in excess taken as limiting"),
              N_("The reaction stops when the first reagent is used up: which one is that?")),
        error("least-amount-taken", None, N_("the least amount taken as limiting, without the coefficients"),
              N_("The smallest amount need not be the limiting one: how much of each does the equation ask for?")),
        error("least-mass-taken", None, N_("the least mass taken as limiting"),
              N_("Grams of different substances cannot be compared: compare what each could give.")),
    ],
    rounding="none",
)  # fmt: skip

_PRODUCT_ERRORS = (
    RATIO_LEFT_OUT,
    RATIO_INVERTED,
    error("product-ratio-left-out", "n = xi", N_("the product's coefficient left out"),
          N_("How many of the product does the equation give each time the reaction takes place?"), everywhere=True),
)  # fmt: skip


def _products_from(scene: Scene) -> Iterator[Place]:
    """X is a product, Y a reagent that allows so much of it."""
    for species in scene.products:
        yield from (Place(species.id, reagent.id, nu=species.nu) for reagent in scene.competing)


PRODUCT_FROM = law(
    "product-from-reagent", N_("Product obtainable from a reagent"), "n = nu xi",
    where={"n": "amount(X,from:Y)", "xi": "extent(Y)"}, each=_products_from,
    says={"n": N_("Multiply the reagent's amount by the mole ratio to get the product's.")},
    source="green-book-2007 2.10: extent of reaction ξ",
    errors=_PRODUCT_ERRORS,
)  # fmt: skip


def _equivalents(law: Law, scene: Scene) -> Iterator[Instance]:
    """What was taken of a reagent in excess tells nothing about the extent: only what reacts of it follows.

    Where it is told how much was taken, that is its amount, and no other follows. In a mixture what is measured belongs
    to two equations, and to neither alone.
    """
    if any(equation.beside for equation in scene.further):
        return
    competing = {species.id for species in scene.competing} if len(scene.competing) > 1 else set()
    measured = {quantity.of for quantity in scene.given if KINDS[quantity.kind].extensive}
    for species in (*scene.reagents, *scene.products):
        if species.id not in competing and not (species.id in scene.in_excess and species.id in measured):
            role = Role.THEORETICAL if species.is_product else Role.PLAIN
            binding = {"n": Quantity("amount", species.id, role), "xi": OVERALL_EXTENT}
            reacting = {"n": scaled(OVERALL_EXTENT.id, Fraction(species.nu))}
            yield Instance(law, binding, nu=species.nu, direct=reacting if species.id in scene.in_excess else {})


EQUIVALENT = law(
    "equivalent-amounts", N_("Amounts that react together"), "n = nu xi",
    instances=_equivalents,
    says={
        "n": N_("The coefficient times the extent of reaction gives the amount."),
        "xi": N_("The amount divided by its coefficient gives the extent of reaction."),
    },
    source="green-book-2007 2.10: extent of reaction ξ",
    errors=_PRODUCT_ERRORS,
)  # fmt: skip


def _left_over(scene: Scene) -> tuple[Species, ...]:
    """What is left over shows beside another reagent only: measured against itself, nothing is left of any."""
    return scene.competing if len(scene.competing) > 1 else ()


REMAINDER = law(
    "left-over", N_("What is left over"), "left = n - nu xi",
    where={"n": "amount(X)", "xi": "extent()", "left": "amount(X,left)"}, each=_left_over,
    says={"left": N_("What was taken less what was used up is left over.")},
    source="green-book-2007 2.10: n = n₀ + νξ",
    errors=[
        by(RATIO_LEFT_OUT, "left = n - xi"),
        by(RATIO_INVERTED, "left = n - xi / nu"),
        error("consumed-for-left", "left = nu xi", N_("what is used up taken for what is left"),
              N_("Was the question how much reacts, or how much remains?")),
    ],
)  # fmt: skip


def _left_of_the_one_in_excess(law: Law, scene: Scene) -> Iterator[Instance]:
    """Of two reagents nothing is left of the one that limits: more than nothing is left of the other."""
    if len(scene.competing) != 2:
        return
    for kind in ("amount", "mass"):
        of_each = [Quantity(kind, species.id, Role.LEFT).id for species in scene.competing]
        yield Instance(law, {"left": Quantity(kind, "", Role.UNUSED)}, direct={"left": ("max", *of_each)})


EXCESS_LEFT = law(
    "excess-left-over", N_("What is left over of the reagent in excess"),
    instances=_left_of_the_one_in_excess,
    says={"left": N_("Nothing is left of the limiting reagent; of the other, what was taken less what was used up.")},
    source="green-book-2007 2.10: n = n₀ + νξ",
    rounding="none",
)  # fmt: skip

CONSUMED = law(
    "used-up", N_("What is used up"), "left = nu xi",
    where={"xi": "extent()", "left": "amount(X,consumed)"}, each=_competing,
    says={"left": N_("The coefficient times the extent of reaction gives the amount that is used up.")},
    source="green-book-2007 2.10: n = n₀ + νξ",
    errors=[by(RATIO_LEFT_OUT, "left = xi"), by(RATIO_INVERTED, "left = xi / nu")],
)  # fmt: skip


def _mixed_volumes(scene: Scene) -> list[Quantity]:
    """The volumes of the solutions that are poured together; empty where fewer than two are given."""
    volumes = [Quantity("volume", species.id, Role.SOLUTION) for species in scene.competing]
    return volumes if len(volumes) > 1 and scene.given.issuperset(volumes) else []


def _mixtures(law: Law, scene: Scene) -> Iterator[Instance]:
    volumes = _mixed_volumes(scene)
    if volumes:
        yield Instance(law, {"V": MIXED_VOLUME}, direct={"V": ("add", *(volume.id for volume in volumes))})


MIXTURE = law(
    "mixture", N_("Volume of the mixture"),
    instances=_mixtures,
    says={"V": N_("The volumes of dilute solutions very nearly add up.")},
    source="common-practice: volumes of dilute aqueous solutions taken as additive",
)  # fmt: skip


def _poured_together(scene: Scene) -> tuple[Species, ...]:
    return scene.competing if _mixed_volumes(scene) else ()


MIXED_CONCENTRATION = law(
    "mixed-concentration", N_("Concentration in the mixture"), "c = n / V",
    where={"c": "concentration(X,mixed)", "V": "volume(,mixed)", "n": "amount(X,left)", "taken": "amount(X)",
           "own": "volume(X,solution)"},
    each=_poured_together,
    says={"c": N_("The amount left over, in the volume of the mixture.")},
    source="green-book-2007 2.10: c = n/V",
    errors=[
        error("own-volume-alone", "c = n / own", N_("divided by the volume of one solution"),
              N_("In which volume is the rest dissolved once both solutions are together?"), at="c"),
        error("all-in-the-mixture", "c = taken / V", N_("all that was taken counted as left over"),
              N_("Some of it has reacted: how much is still there?"), at="c"),
    ],
)  # fmt: skip

LAWS = (
    EXTENT,
    LIMITING,
    PRODUCT_FROM,
    EQUIVALENT,
    REMAINDER,
    EXCESS_LEFT,
    CONSUMED,
    MIXTURE,
    MIXED_CONCENTRATION,
)
