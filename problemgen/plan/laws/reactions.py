"""Stoichiometry: extents, the limiting reagent, product and remainder."""

from __future__ import annotations

from collections.abc import Iterator

from problemgen.model.expression import Expression
from problemgen.model.problem import Scene
from problemgen.model.quantity import KINDS, OVERALL_EXTENT, Quantity, Role
from problemgen.plan.law import Instance, Law, Misuse, coefficient_letter, letters
from problemgen.plan.laws.amounts import has_mass, molar_mass_expression

__all__ = ["CONSUMED", "EXTENT", "LAWS", "RATIO_INVERTED", "RATIO_LEFT_OUT"]

n, xi, left, c, V, taken, own = letters("n xi left c V taken own")
nu = coefficient_letter

MIXED_VOLUME = Quantity("volume", "", Role.MIXED)

RATIO_LEFT_OUT = Misuse(
    "ratio-left-out",
    "coefficients left out",
    "Read the equation once more: how many of one substance go with how many of the other?",
    n - xi,
    everywhere=True,
)
RATIO_INVERTED = Misuse(
    "ratio-inverted",
    "ratio of coefficients upside down",
    "Test your ratio on the equation itself: does it give the product's coefficient for the reagent's?",
    n * nu - xi,
    everywhere=True,
)


def _extents(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in scene.competing:
        yield Instance(
            law,
            {"n": Quantity("amount", species.id), "xi": Quantity("extent", species.id)},
            nu=species.nu,
        )


EXTENT = Law(
    id="extent",
    title="Extent that a reagent allows",
    relation=n - nu * xi,
    instances=_extents,
    words={"xi": "The amount divided by its coefficient gives the extent that this reagent allows."},
    source="green-book-2007 2.10: extent of reaction ξ = Δn/ν",
    misuses=(
        RATIO_LEFT_OUT,
        RATIO_INVERTED,
        Misuse(
            "reagent-ratio-left-out",
            "the reagents' coefficients left out",
            "Does one unit of the reaction use up one of this reagent, or more?",
            n - xi,
            everywhere=True,
        ),
    ),
)


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


LIMITING = Law(
    id="limiting",
    title="Limiting reagent",
    relation=None,
    instances=_limits,
    words={"xi": "The reagent that allows the least reaction is used up first: it is the limiting reagent."},
    source="green-book-2007 2.10: extent of reaction ξ; common-practice: the limiting reagent is the one that allows "
    "the least extent",
    misuses=(
        Misuse(
            "excess-taken",
            "the reagent in excess taken as limiting",
            "The reaction stops when the first reagent is used up: which one is that?",
            None,
        ),
        Misuse(
            "least-amount-taken",
            "the least amount taken as limiting, without the coefficients",
            "The smallest amount need not be the limiting one: how much of each does the equation ask for?",
            None,
        ),
        Misuse(
            "least-mass-taken",
            "the least mass taken as limiting",
            "Grams of different substances cannot be compared: compare what each could give.",
            None,
        ),
    ),
    rounding="none",
)


def _products_from(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in scene.products:
        for reagent in scene.competing:
            binding = {
                "n": Quantity("amount", species.id, Role.FROM, source=reagent.id),
                "xi": Quantity("extent", reagent.id),
            }
            yield Instance(law, binding, nu=species.nu)


PRODUCT_MISUSES = (
    RATIO_LEFT_OUT,
    RATIO_INVERTED,
    Misuse(
        "product-ratio-left-out",
        "the product's coefficient left out",
        "How many of the product does the equation give each time the reaction takes place?",
        n - xi,
        everywhere=True,
    ),
)

PRODUCT_FROM = Law(
    id="product-from-reagent",
    title="Product obtainable from a reagent",
    relation=n - nu * xi,
    instances=_products_from,
    words={"n": "Multiply the reagent's amount by the mole ratio to get the product's."},
    source="green-book-2007 2.10: extent of reaction ξ",
    misuses=PRODUCT_MISUSES,
)


def _equivalents(law: Law, scene: Scene) -> Iterator[Instance]:
    """What was taken of a reagent in excess tells nothing about the extent: only what reacts of it follows.

    Where it is told how much was taken, that is its amount, and no other follows. In a mixture what is measured belongs
    to two equations, and to neither alone.
    """
    if any(equation.beside for equation in scene.further):
        return
    competing = {species.id for species in scene.competing} if len(scene.competing) > 1 else set()
    told = {quantity.of for quantity in scene.given if KINDS[quantity.kind].extensive}
    for species in (*scene.reagents, *scene.products):
        if species.id not in competing and not (species.id in scene.in_excess and species.id in told):
            role = Role.THEORETICAL if species.is_product else Role.PLAIN
            binding = {"n": Quantity("amount", species.id, role), "xi": OVERALL_EXTENT}
            reacting: Expression = ("mul", ("num", str(species.nu)), OVERALL_EXTENT.id)
            direct = {"n": reacting if species.nu > 1 else OVERALL_EXTENT.id} if species.id in scene.in_excess else {}
            yield Instance(law, binding, nu=species.nu, direct=direct)


EQUIVALENT = Law(
    id="equivalent-amounts",
    title="Amounts that react together",
    relation=n - nu * xi,
    instances=_equivalents,
    words={
        "n": "The coefficient times the extent of reaction gives the amount.",
        "xi": "The amount divided by its coefficient gives the extent of reaction.",
    },
    source="green-book-2007 2.10: extent of reaction ξ",
    misuses=PRODUCT_MISUSES,
)


def _remainders(law: Law, scene: Scene) -> Iterator[Instance]:
    """What is left over shows beside another reagent only: measured against itself, nothing is left of any."""
    for species in scene.competing if len(scene.competing) > 1 else ():
        binding = {
            "n": Quantity("amount", species.id),
            "xi": OVERALL_EXTENT,
            "left": Quantity("amount", species.id, Role.LEFT),
        }
        yield Instance(law, binding, nu=species.nu)


REMAINDER = Law(
    id="left-over",
    title="What is left over",
    relation=n - nu * xi - left,
    instances=_remainders,
    words={"left": "What was taken less what was used up is left over."},
    source="green-book-2007 2.10: n = n₀ + νξ",
    misuses=(
        Misuse("ratio-left-out", RATIO_LEFT_OUT.title, RATIO_LEFT_OUT.hint, n - xi - left, everywhere=True),
        Misuse("ratio-inverted", RATIO_INVERTED.title, RATIO_INVERTED.hint, n - xi / nu - left, everywhere=True),
        Misuse(
            "consumed-for-left",
            "what is used up taken for what is left",
            "Was the question how much reacts, or how much remains?",
            nu * xi - left,
        ),
    ),
)


def _left_of_the_one_in_excess(law: Law, scene: Scene) -> Iterator[Instance]:
    """Of two reagents nothing is left of the one that limits: more than nothing is left of the other."""
    if len(scene.competing) != 2:
        return
    for kind in ("amount", "mass"):
        of_each = [Quantity(kind, species.id, Role.LEFT).id for species in scene.competing]
        yield Instance(law, {"left": Quantity(kind, "", Role.UNUSED)}, direct={"left": ("max", *of_each)})


EXCESS_LEFT = Law(
    id="excess-left-over",
    title="What is left over of the reagent in excess",
    relation=None,
    instances=_left_of_the_one_in_excess,
    words={"left": "Nothing is left of the limiting reagent; of the other, what was taken less what was used up."},
    source="green-book-2007 2.10: n = n₀ + νξ",
    rounding="none",
)


def _consumed(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in scene.competing:
        binding = {"xi": OVERALL_EXTENT, "left": Quantity("amount", species.id, Role.CONSUMED)}
        yield Instance(law, binding, nu=species.nu)


CONSUMED = Law(
    id="used-up",
    title="What is used up",
    relation=nu * xi - left,
    instances=_consumed,
    words={"left": "The coefficient times the extent of reaction gives the amount that is used up."},
    source="green-book-2007 2.10: n = n₀ + νξ",
    misuses=(
        Misuse("ratio-left-out", RATIO_LEFT_OUT.title, RATIO_LEFT_OUT.hint, xi - left, everywhere=True),
        Misuse("ratio-inverted", RATIO_INVERTED.title, RATIO_INVERTED.hint, xi / nu - left, everywhere=True),
    ),
)


def _mixed_volumes(scene: Scene) -> list[Quantity]:
    """The volumes of the solutions that are poured together; empty where fewer than two are given."""
    volumes = [Quantity("volume", species.id, Role.SOLUTION) for species in scene.competing]
    return volumes if len(volumes) > 1 and scene.given.issuperset(volumes) else []


def _mixtures(law: Law, scene: Scene) -> Iterator[Instance]:
    volumes = _mixed_volumes(scene)
    if volumes:
        yield Instance(law, {"V": MIXED_VOLUME}, direct={"V": ("add", *(volume.id for volume in volumes))})


def _mixed_concentrations(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in scene.competing if _mixed_volumes(scene) else ():
        binding = {
            "c": Quantity("concentration", species.id, Role.MIXED),
            "V": MIXED_VOLUME,
            "n": Quantity("amount", species.id, Role.LEFT),
        }
        own = {"taken": Quantity("amount", species.id).id, "own": Quantity("volume", species.id, Role.SOLUTION).id}
        yield Instance(law, binding, extra=own)


MIXTURE = Law(
    id="mixture",
    title="Volume of the mixture",
    relation=None,
    instances=_mixtures,
    words={"V": "The volumes of dilute solutions very nearly add up."},
    source="common-practice: volumes of dilute aqueous solutions taken as additive",
)

MIXED_CONCENTRATION = Law(
    id="mixed-concentration",
    title="Concentration in the mixture",
    relation=c * V - n,
    instances=_mixed_concentrations,
    words={"c": "The amount left over, in the volume of the mixture."},
    source="green-book-2007 2.10: c = n/V",
    misuses=(
        Misuse(
            "own-volume-alone",
            "divided by the volume of one solution",
            "In which volume is the rest dissolved once both solutions are together?",
            c * own - n,
            only_for=frozenset({"c"}),
        ),
        Misuse(
            "all-in-the-mixture",
            "all that was taken counted as left over",
            "Some of it has reacted: how much is still there?",
            c * V - taken,
            only_for=frozenset({"c"}),
        ),
    ),
)

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
