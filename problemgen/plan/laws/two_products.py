"""Two products of one reagent: the share, amount and mass of each in their mixture.

What was measured tells relative amounts (`problemgen.plan.laws.signals`), or the amounts themselves; what was weighed
is the mixture. Shares are mole fractions; of isomers they are mass fractions as well.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from problemgen.model.expression import Expression
from problemgen.model.problem import FurtherEquation, Scene
from problemgen.model.quantity import Quantity, Role
from problemgen.plan.law import Instance, Law, Misuse, letters
from problemgen.plan.laws.signals import are_isomers, relative

__all__ = ["LAWS", "Product", "are_of_one_mass", "measures_of", "products_of"]

x, one, other, rest, w, Mean, M, both, own, n = letters("x one other rest w Mean M both own n")


@dataclass(frozen=True)
class Product:
    """One of two products: its id, its equation, and the ids of the other one and of the first one."""

    id: str
    equation: FurtherEquation
    other: str
    first: str

    @property
    def share(self) -> Quantity:
        """Its mole fraction in the mixture."""
        return Quantity("share", self.id)

    def of(self, kind: str, role: Role = Role.ACTUAL) -> Quantity:
        """Its own mass or amount."""
        return Quantity(kind, self.id, role)

    def together(self, kind: str) -> Quantity:
        """The mixture's mass, amount, mean molar mass, or total yield: by the id of the first product."""
        return Quantity(kind, self.first, Role.BOTH)

    def ratio(self, reagent: str) -> Fraction:
        """How much of a reagent it takes to make it, by its own equation."""
        return Fraction(-self.equation.coefficients[reagent], self.equation.coefficients[self.id])


def products_of(scene: Scene) -> tuple[Product, ...]:
    """The two products that are made of one reagent, the main one first; () where there are none."""
    pair = scene.pair
    return tuple(
        Product(own.product, own, rival.product, pair[0].product)
        for own, rival in zip(pair, reversed(pair), strict=True)
    )


def measures_of(scene: Scene, product: Product) -> tuple[Quantity, Quantity]:
    """What tells how much there is of a product beside the other one, and the same of the other.

    Relative amounts; the amounts themselves where each product is measured by itself.
    """
    signals = {q.kind for q in scene.given} & {"relative_amount", "peak_area", "integral"}
    if signals and not scene.standard:
        return relative(product.id), relative(product.other)
    return product.of("amount"), Quantity("amount", product.other, Role.ACTUAL)


def are_of_one_mass(scene: Scene) -> bool:
    """Whether the two products are isomers."""
    return bool(scene.pair) and are_isomers(scene, *(equation.product for equation in scene.pair))


def _shares(law: Law, scene: Scene) -> Iterator[Instance]:
    for product in products_of(scene):
        mine, others = measures_of(scene, product)
        whole: Expression = ("add", mine.id, others.id)
        binding = {"x": product.share, "one": mine, "other": others}
        yield Instance(law, binding, direct={"x": ("div", mine.id, whole)})


SHARE_OF_PAIR = Law(
    id="share-of-two-products",
    title="Share of one of two products",
    relation=x * (one + other) - one,
    instances=_shares,
    words={"x": "The amount of this product over the amounts of both is its share."},
    source="green-book-2007 2.10: mole fraction x",
    misuses=(
        Misuse(
            "product-over-other",
            "one part compared with the other in place of the whole",
            "A share is told of all there is: do both parts stand below the line?",
            x * other - one,
            everywhere=True,
        ),
        Misuse(
            "other-product",
            "the two products exchanged",
            "Which number of the ratio, which signal belongs to which product?",
            x * (one + other) - other,
            everywhere=True,
        ),
    ),
)


def _rests(law: Law, scene: Scene) -> Iterator[Instance]:
    for product in products_of(scene)[:1]:
        mine, others = product.share, Quantity("share", product.other)
        direct: dict[str, Expression] = {
            "x": ("add", ("num", "1"), ("neg", others.id)),
            "rest": ("add", ("num", "1"), ("neg", mine.id)),
        }
        yield Instance(law, {"x": mine, "rest": others}, direct=direct)


OTHER_OF_PAIR = Law(
    id="other-of-two-products",
    title="Share of the other product",
    relation=1 - x - rest,
    instances=_rests,
    words={"rest": "The two products are the whole.", "x": "The two products are the whole."},
    source="derived: shares add up to the whole",
)


def _means(law: Law, scene: Scene) -> Iterator[Instance]:
    for product in products_of(scene)[:1] if not are_of_one_mass(scene) else ():
        shares = [Quantity("share", name).id for name in (product.id, product.other)]
        masses = [Quantity("molar_mass", name).id for name in (product.id, product.other)]
        terms = [("mul", share, mass) for share, mass in zip(shares, masses, strict=True)]
        crossed = [("mul", share, mass) for share, mass in zip(shares, reversed(masses), strict=True)]
        mistaken: dict[tuple[str, str], Expression] = {
            ("plain-average", "Mean"): ("div", ("add", *masses), ("num", "2")),
            ("shares-crossed", "Mean"): ("add", *crossed),
        }
        binding = {"Mean": product.together("molar_mass")}
        yield Instance(law, binding, direct={"Mean": ("add", *terms)}, mistaken=mistaken)


MEAN_MOLAR_MASS = Law(
    id="mean-molar-mass",
    title="Mean molar mass of a mixture",
    relation=None,
    instances=_means,
    words={"Mean": "One mole of the mixture holds of each product as much of a mole as its share tells."},
    source="derived: mass of all over amount of all",
    misuses=(
        Misuse(
            "plain-average",
            "the plain average of the molar masses",
            "Is there as much of the one product as of the other?",
            None,
        ),
        Misuse(
            "shares-crossed",
            "each share taken with the other product's molar mass",
            "Which share belongs to which molar mass?",
            None,
        ),
    ),
)


def _amounts_of_both(law: Law, scene: Scene) -> Iterator[Instance]:
    for product in products_of(scene)[:1]:
        molar = Quantity("molar_mass", product.id)
        mean = molar if are_of_one_mass(scene) else product.together("molar_mass")
        binding = {"both": product.together("mass"), "n": product.together("amount"), "Mean": mean}
        extra: dict[str, Expression] = {} if are_of_one_mass(scene) else {"M": molar.id}
        yield Instance(law, binding, extra=extra)


AMOUNT_OF_BOTH = Law(
    id="amount-of-both-products",
    title="Amount of both products together",
    relation=n * Mean - both,
    instances=_amounts_of_both,
    words={
        "n": "The mass of the mixture over its mean molar mass (of isomers the molar mass of either) is the amount.",
        "both": "The amount of both products times the mean molar mass is the mass of the mixture.",
    },
    source="green-book-2007 2.10: M = m/n",
    misuses=(
        Misuse(
            "one-molar-mass-for-both",
            "the molar mass of one product taken for the mixture",
            "Is every molecule of the mixture one of this product?",
            n * M - both,
            only_for=frozenset({"n", "both"}),
        ),
    ),
)

_LEFT_OUT = Misuse(
    "product-share-left-out",
    "the share left out",
    "Not all of what was weighed is this product.",
    both - own,
    only_for=frozenset({"own"}),
)
_OTHERS = Misuse(
    "share-of-the-other",
    "the share of the other product taken",
    "Whose share did you take, and whose mass or amount is asked?",
    rest * both - own,
    only_for=frozenset({"own"}),
)
_UPSIDE_DOWN = Misuse(
    "product-share-divided",
    "the share used upside down",
    "Can there be more of one product than of both together?",
    both / x - own,
    only_for=frozenset({"own"}),
)


def _amounts(law: Law, scene: Scene) -> Iterator[Instance]:
    for product in products_of(scene):
        binding = {"x": product.share, "both": product.together("amount"), "own": product.of("amount")}
        mistaken: dict[tuple[str, str], Expression] = {}
        if not are_of_one_mass(scene):
            as_mass: Expression = ("mul", product.share.id, product.together("mass").id)
            mistaken["mole-share-of-mass", "own"] = ("div", as_mass, Quantity("molar_mass", product.id).id)
        yield Instance(law, binding, extra={"rest": Quantity("share", product.other).id}, mistaken=mistaken)


AMOUNT_OF_ONE = Law(
    id="amount-of-one-product",
    title="Amount of one of two products",
    relation=x * both - own,
    instances=_amounts,
    words={
        "own": "The share of the product times the amount of both is its amount.",
        "both": "The amount of the product over its share is the amount of both.",
    },
    source="green-book-2007 2.10: mole fraction x",
    misuses=(
        _LEFT_OUT,
        _OTHERS,
        _UPSIDE_DOWN,
        Misuse(
            "mole-share-of-mass",
            "the share in moles taken as the share in mass",
            "The share counts molecules: do equally many molecules of both products weigh the same?",
            None,
            everywhere=True,
        ),
    ),
)


def _by_mass(scene: Scene) -> bool:
    """Whether the products of different molar mass are told apart by mass percent: who does not ask goes by amounts."""
    told = {q.of for q in scene.given | scene.wanted if q.kind == "mass_fraction"}
    return not told.isdisjoint(product.id for product in products_of(scene))


def _fractions(law: Law, scene: Scene) -> Iterator[Instance]:
    for product in products_of(scene) if _by_mass(scene) and not are_of_one_mass(scene) else ():
        binding = {
            "w": Quantity("mass_fraction", product.id),
            "x": product.share,
            "M": Quantity("molar_mass", product.id),
            "Mean": product.together("molar_mass"),
        }
        direct: dict[str, Expression] = {"w": ("div", ("mul", binding["x"].id, binding["M"].id), binding["Mean"].id)}
        yield Instance(law, binding, direct=direct)


MASS_FRACTION_OF_ONE = Law(
    id="mass-percent-of-one-product",
    title="Mass percent of one of two products",
    relation=w * Mean - x * M,
    instances=_fractions,
    words={"w": "What the share weighs in one mole of the mixture, over what that mole weighs, is the mass percent."},
    source="green-book-2007 2.10: mass fraction w, mole fraction x",
    misuses=(
        Misuse(
            "mole-share-for-mass-percent",
            "the share in moles taken as the mass percent",
            "The share counts molecules: do equally many molecules of both products weigh the same?",
            w - x,
            only_for=frozenset({"w"}),
        ),
    ),
)


def _masses(law: Law, scene: Scene) -> Iterator[Instance]:
    kind = "share" if are_of_one_mass(scene) else "mass_fraction"
    for product in products_of(scene) if are_of_one_mass(scene) or _by_mass(scene) else ():
        binding = {
            "x": Quantity(kind, product.id),
            "both": product.together("mass"),
            "own": product.of("mass"),
        }
        yield Instance(law, binding, extra={"rest": Quantity(kind, product.other).id})


MASS_OF_ONE = Law(
    id="mass-of-one-product",
    title="Mass of one of two products",
    relation=x * both - own,
    instances=_masses,
    words={
        "own": "The product's share by mass, of isomers the same as by amount, times the mixture's mass is its mass.",
        "both": "The mass of the product over its share is the mass of the mixture.",
    },
    source="green-book-2007 2.10: mass fraction w",
    misuses=(_LEFT_OUT, _OTHERS, _UPSIDE_DOWN),
)


LAWS = (
    SHARE_OF_PAIR,
    OTHER_OF_PAIR,
    MEAN_MOLAR_MASS,
    AMOUNT_OF_BOTH,
    AMOUNT_OF_ONE,
    MASS_FRACTION_OF_ONE,
    MASS_OF_ONE,
)
