"""Two products of one reagent: the share, amount and mass of each in their mixture.

What was measured tells relative amounts (`problemgen.plan.laws.signals`), or the amounts themselves; what was weighed
is the mixture. Shares are mole fractions; of isomers they are mass fractions as well.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from problemgen.language.messages import N_
from problemgen.model.problem import FurtherEquation, Scene
from problemgen.model.quantity import Quantity, Role
from problemgen.plan.laws.signals import are_isomers, relative
from problemgen.plan.table import Place, error, law

__all__ = ["LAWS", "Product", "are_of_one_mass", "measures_of", "products_of"]


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


def _measured(scene: Scene) -> Iterator[Place]:
    """X and Y are the two products, by what is measured of both."""
    for product in products_of(scene):
        one, other = measures_of(scene, product)
        yield Place(one.of, other.of, role=one.role, words={"kind": one.kind})


SHARE_OF_PAIR = law(
    "share-of-two-products", N_("Share of one of two products"), "x = one / (one + other)",
    where={"x": "share(X)", "one": "{kind}(X,*)", "other": "{kind}(Y,*)"}, each=_measured,
    says={"x := one / (one + other)": N_("The amount of this product over the amounts of both is its share.")},
    source="green-book-2007 2.10: mole fraction x",
    errors=[
        error("product-over-other", "x = one / other", N_("one part compared with the other in place of the whole"),
              N_("A share is told of all there is: do both parts stand below the line?"), everywhere=True),
        error("other-product", "x = other / (one + other)", N_("the two products exchanged"),
              N_("Which number of the ratio, which signal belongs to which product?"), everywhere=True),
    ],
)  # fmt: skip


def _first(scene: Scene) -> Iterator[Place]:
    """X is the first product, Y the other one."""
    yield from (Place(product.id, product.other) for product in products_of(scene)[:1])


OTHER_OF_PAIR = law(
    "other-of-two-products", N_("Share of the other product"), "rest = 1 - x",
    where={"x": "share(X)", "rest": "share(Y)"}, each=_first,
    says={
        "rest := 1 - x": N_("The two products are the whole."),
        "x := 1 - rest": N_("The two products are the whole."),
    },
    source="derived: shares add up to the whole",
)  # fmt: skip


def _first_of_two_masses(scene: Scene) -> Iterator[Place]:
    return iter(()) if are_of_one_mass(scene) else _first(scene)


MEAN_MOLAR_MASS = law(
    "mean-molar-mass", N_("Mean molar mass of a mixture"),
    where={"Mean": "molar_mass(X,both)", "x": "share(X)", "rest": "share(Y)", "M": "molar_mass(X)",
           "other": "molar_mass(Y)"},
    each=_first_of_two_masses,
    says={
        "Mean := x M + rest other": N_("One mole of the mixture holds of each product as much of a mole as its "
                                       "share tells."),
    },
    source="derived: mass of all over amount of all",
    errors=[
        error("plain-average", "Mean := (M + other) / 2", N_("the plain average of the molar masses"),
              N_("Is there as much of the one product as of the other?")),
        error("shares-crossed", "Mean := x other + rest M", N_("each share taken with the other product's molar mass"),
              N_("Which share belongs to which molar mass?")),
    ],
)  # fmt: skip


def _both(scene: Scene) -> Iterator[Place]:
    """X is the first product, and so is Z where the other one has another molar mass."""
    for one in _first(scene):
        alike = are_of_one_mass(scene)
        yield Place(one.x, z="" if alike else one.x, words={"mean": Role.PLAIN if alike else Role.BOTH})


def _each(scene: Scene) -> Iterator[Place]:
    """X is a product, Y the first one, by which the mixture goes, Z the other."""
    alike = are_of_one_mass(scene)
    words = {"part": "share" if alike else "mass_fraction"} | ({} if alike else {"both": Role.BOTH})
    yield from (Place(one.id, one.first, one.other, words=words) for one in products_of(scene))


AMOUNT_OF_BOTH = law(
    "amount-of-both-products", N_("Amount of both products together"), "both = n Mean",
    where={"both": "mass(X,both)", "n": "amount(X,both)", "Mean": "molar_mass(X,{mean})", "M": "molar_mass(Z)"},
    each=_both,
    says={
        "n": N_("The mass of the mixture over its mean molar mass (of isomers the molar mass of either) is the "
                "amount."),
        "both": N_("The amount of both products times the mean molar mass is the mass of the mixture."),
    },
    source="green-book-2007 2.10: M = m/n",
    errors=[
        error("one-molar-mass-for-both", "both = n M", N_("the molar mass of one product taken for the mixture"),
              N_("Is every molecule of the mixture one of this product?"), at="n both"),
    ],
)  # fmt: skip

_LEFT_OUT = error(
    "product-share-left-out",
    "own = both",
    N_("the share left out"),
    N_("Not all of what was weighed is this product."),
    at="own",
)

_OTHERS = error(
    "share-of-the-other",
    "own = rest both",
    N_("the share of the other product taken"),
    N_("Whose share did you take, and whose mass or amount is asked?"),
    at="own",
)

_UPSIDE_DOWN = error(
    "product-share-divided",
    "own = both / x",
    N_("the share used upside down"),
    N_("Can there be more of one product than of both together?"),
    at="own",
)

AMOUNT_OF_ONE = law(
    "amount-of-one-product", N_("Amount of one of two products"), "own = x both",
    where={"x": "share(X)", "both": "amount(Y,both)", "own": "amount(X,actual)", "rest": "share(Z)",
           "mixture": "mass(Y,{both})", "M": "molar_mass(X)"},
    each=_each,
    says={
        "own": N_("The share of the product times the amount of both is its amount."),
        "both": N_("The amount of the product over its share is the amount of both."),
    },
    source="green-book-2007 2.10: mole fraction x",
    errors=[
        _LEFT_OUT,
        _OTHERS,
        _UPSIDE_DOWN,
        error("mole-share-of-mass", "own := x mixture / M", N_("the share in moles taken as the share in mass"),
              N_("The share counts molecules: do equally many molecules of both products weigh the same?"),
              everywhere=True),
    ],
)  # fmt: skip


def _by_mass(scene: Scene) -> bool:
    """Whether the products of different molar mass are told apart by mass percent: who does not ask goes by amounts."""
    told = {q.of for q in scene.told if q.kind == "mass_fraction"}
    return not told.isdisjoint(product.id for product in products_of(scene))


def _told_by_mass(scene: Scene) -> Iterator[Place]:
    return _each(scene) if _by_mass(scene) and not are_of_one_mass(scene) else iter(())


MASS_FRACTION_OF_ONE = law(
    "mass-percent-of-one-product", N_("Mass percent of one of two products"), "w = x M / Mean",
    where={"w": "mass_fraction(X)", "x": "share(X)", "M": "molar_mass(X)", "Mean": "molar_mass(Y,both)"},
    each=_told_by_mass,
    says={
        "w := x M / Mean": N_("What the share weighs in one mole of the mixture, over what that mole weighs, is "
                              "the mass percent."),
    },
    source="green-book-2007 2.10: mass fraction w, mole fraction x",
    errors=[
        error("mole-share-for-mass-percent", "w = x", N_("the share in moles taken as the mass percent"),
              N_("The share counts molecules: do equally many molecules of both products weigh the same?"), at="w"),
    ],
)  # fmt: skip


def _weighed(scene: Scene) -> Iterator[Place]:
    return _each(scene) if are_of_one_mass(scene) or _by_mass(scene) else iter(())


MASS_OF_ONE = law(
    "mass-of-one-product", N_("Mass of one of two products"), "own = x both",
    where={"x": "{part}(X)", "both": "mass(Y,both)", "own": "mass(X,actual)", "rest": "{part}(Z)"}, each=_weighed,
    says={
        "own": N_("The product's share by mass, of isomers the same as by amount, times the mixture's mass is its "
                  "mass."),
        "both": N_("The mass of the product over its share is the mass of the mixture."),
    },
    source="green-book-2007 2.10: mass fraction w",
    errors=[_LEFT_OUT, _OTHERS, _UPSIDE_DOWN],
)  # fmt: skip

LAWS = (
    SHARE_OF_PAIR,
    OTHER_OF_PAIR,
    MEAN_MOLAR_MASS,
    AMOUNT_OF_BOTH,
    AMOUNT_OF_ONE,
    MASS_FRACTION_OF_ONE,
    MASS_OF_ONE,
)
