"""Two products of one reagent, each by its own equation: what could form, the total yield, what became of the reagent.

Yields are on the limiting reagent, which is the same for both equations: all of it could have become either product.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

from problemgen.model.expression import Expression
from problemgen.model.problem import Scene
from problemgen.model.quantity import OVERALL_EXTENT, Quantity, Role
from problemgen.plan.law import Instance, Law, Misuse, difference, letters, scaled
from problemgen.plan.laws.isomers import SELECTIVITY
from problemgen.plan.laws.reactions import RATIO_INVERTED, RATIO_LEFT_OUT
from problemgen.plan.laws.two_products import are_of_one_mass, measures_of, products_of

__all__ = ["LAWS"]

n, converted, back, Y, theoretical, both = letters("n converted back Y theoretical both")


def _are_alike(scene: Scene) -> bool:
    """Whether the products are isomers, each of which takes as much of the reagent: as much of either could form."""
    reagent = next((species.id for species in scene.competing), "")
    ratios = {product.ratio(reagent) for product in products_of(scene)} if reagent else set()
    return are_of_one_mass(scene) and len(ratios) == 1


def _in_theory(law: Law, scene: Scene) -> Iterator[Instance]:
    for product in products_of(scene)[1:] if not _are_alike(scene) else ():
        reagent = next((s for s in scene.competing if s.id in product.equation.coefficients), None)
        if reagent is not None:
            ratio = reagent.nu / product.ratio(reagent.id)
            target = product.of("amount", Role.THEORETICAL)
            mistaken: dict[tuple[str, str], Expression] = {
                (RATIO_LEFT_OUT.id, "n"): OVERALL_EXTENT.id,
                (RATIO_INVERTED.id, "n"): scaled(OVERALL_EXTENT.id, 1 / ratio),
                ("equation-of-the-other", "n"): scaled(OVERALL_EXTENT.id, Fraction(scene.species[product.other].nu)),
            }
            binding = {"n": target, "xi": OVERALL_EXTENT}
            yield Instance(law, binding, direct={"n": scaled(OVERALL_EXTENT.id, ratio)}, mistaken=mistaken)


OTHER_IN_THEORY = Law(
    id="other-product-in-theory",
    title="What could form of the other product",
    relation=None,
    instances=_in_theory,
    words={"n": "All of the limiting reagent could have become this product: its own equation tells how much."},
    source="green-book-2007 2.10: extent of reaction, each equation by itself",
    misuses=(
        Misuse(RATIO_LEFT_OUT.id, RATIO_LEFT_OUT.title, RATIO_LEFT_OUT.hint, None, everywhere=True),
        Misuse(RATIO_INVERTED.id, RATIO_INVERTED.title, RATIO_INVERTED.hint, None, everywhere=True),
        Misuse(
            "equation-of-the-other",
            "the coefficients of the other product's equation",
            "Each product has an equation of its own: which of them did you read?",
            None,
        ),
    ),
)


def _alike(law: Law, scene: Scene) -> Iterator[Instance]:
    """Of isomers alike, told in masses where nothing is told of their amounts."""
    if _are_alike(scene):
        amounts = [product.of("amount") for product in products_of(scene)]
        told = scene.standard or not (scene.given | scene.wanted).isdisjoint(amounts)
        kind = "amount" if told else "mass"
        one, other = (product.of(kind, Role.THEORETICAL) for product in products_of(scene))
        yield Instance(law, {"one": one, "other": other}, direct={"other": one.id, "one": other.id})


ISOMER_IN_THEORY = Law(
    id="isomer-in-theory",
    title="What could form of the other isomer",
    relation=None,
    instances=_alike,
    words={
        "one": "Isomers have one molar mass: as much could form of the one as of the other.",
        "other": "Isomers have one molar mass: as much could form of the one as of the other.",
    },
    source="derived: isomers have one molar mass, and both equations take as much of the reagent",
)

_AVERAGED = Misuse(
    "pair-yields-averaged",
    "the average of the two yields",
    "Both yields are shares of the same reagent: what do they make together?",
    None,
)


def _averaged(yields: Iterable[str]) -> Expression:
    return ("div", ("add", *yields), ("num", "2"))


def _weighed(law: Law, scene: Scene) -> Iterator[Instance]:
    for product in products_of(scene)[:1] if are_of_one_mass(scene) else ():
        binding = {
            "Y": product.together("percent_yield"),
            "both": product.together("mass"),
            "theoretical": product.of("mass", Role.THEORETICAL),
        }
        each = [Quantity("percent_yield", name).id for name in (product.id, product.other)]
        yield Instance(law, binding, mistaken={("pair-yields-averaged", "Y"): _averaged(each)})


TOTAL_YIELD_OF_ISOMERS = Law(
    id="total-yield-of-isomers",
    title="Total yield of two isomers",
    relation=Y * theoretical - both,
    instances=_weighed,
    words={
        "Y": "Isomers have one molar mass: the mixture is compared with the theoretical yield of either.",
        "both": "The theoretical yield times the total yield is the mass of the mixture.",
    },
    source="common-practice: percent yield, what was obtained over what is possible",
    misuses=(_AVERAGED,),
)


def _totals(law: Law, scene: Scene) -> Iterator[Instance]:
    for product in products_of(scene)[:1]:
        binding = {
            "Y": product.together("percent_yield"),
            "one": Quantity("percent_yield", product.id),
            "other": Quantity("percent_yield", product.other),
        }
        each = [binding["one"].id, binding["other"].id]
        mistaken: dict[tuple[str, str], Expression] = {
            ("pair-yields-averaged", "Y"): _averaged(each),
        }
        if not are_of_one_mass(scene):
            weighed = (product.together("mass").id, product.of("mass", Role.THEORETICAL).id)
            mistaken["mixture-against-one", "Y"] = ("div", *weighed)
        yield Instance(law, binding, direct={"Y": ("add", *each)}, mistaken=mistaken)


TOTAL_YIELD = Law(
    id="total-yield",
    title="Total yield of two products",
    relation=None,
    instances=_totals,
    words={"Y": "Both yields are on the same reagent: together they tell how much of it became one of the products."},
    source="common-practice: percent yield, what was obtained over what is possible",
    misuses=(
        _AVERAGED,
        Misuse(
            "mixture-against-one",
            "the mass of the mixture over the theoretical yield of one product",
            "The mixture holds two products of different molar mass: can it be compared with one of them?",
            None,
        ),
    ),
)


def _is_measured(scene: Scene, reagent: str) -> bool:
    """Whether something was measured of what is left of a reagent itself."""
    return any(
        q.of == reagent and (q.role is Role.RECOVERED or q.kind in ("peak_area", "integral", "conversion"))
        for q in scene.given
    )


def _converted(law: Law, scene: Scene) -> Iterator[Instance]:
    """Where nothing was measured of the reagent itself, what was converted is what is found again in the products."""
    both_products = products_of(scene)
    for reagent in scene.competing if both_products else ():
        if _is_measured(scene, reagent.id):
            continue
        terms = [scaled(product.of("amount").id, product.ratio(reagent.id)) for product in both_products]
        plain = [product.of("amount").id for product in both_products]
        binding = {"converted": Quantity("amount", reagent.id, Role.CONVERTED)}
        mistaken: dict[tuple[str, str], Expression] = {
            ("converted-coefficients-left-out", "converted"): ("add", *plain),
            ("one-product-only", "converted"): terms[0],
        }
        yield Instance(law, binding, direct={"converted": ("add", *terms)}, mistaken=mistaken)


CONVERTED_INTO = Law(
    id="converted-into-products",
    title="What was converted into the two products",
    relation=None,
    instances=_converted,
    words={"converted": "Each product tells by its own equation how much of the reagent went into it."},
    source="derived: the amount is conserved, each equation by itself",
    misuses=(
        Misuse(
            "converted-coefficients-left-out",
            "coefficients left out of what was converted",
            "How many of the reagent does each equation take for one of its product?",
            None,
        ),
        Misuse(
            "one-product-only",
            "only one of the products counted",
            "Into how many products did the reagent go?",
            None,
        ),
    ),
)


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


SELECTIVITY_OF_PAIR = Law(
    id="selectivity-of-two-products",
    title="Selectivity for one of two products",
    relation=None,
    instances=_selectivities,
    words={
        "S": "What was converted is found in the two products: how much there is of each, times the reagent that one "
        "of it takes, tells how much went into it."
    },
    source=SELECTIVITY.source,
    misuses=SELECTIVITY.misuses,
)


def _unconverted(law: Law, scene: Scene) -> Iterator[Instance]:
    for reagent in scene.competing if scene.pair else ():
        whole, gone = (Quantity("amount", reagent.id, role) for role in (Role.PLAIN, Role.CONVERTED))
        left = Quantity("amount", reagent.id, Role.UNCONVERTED)
        yield Instance(
            law,
            {"n": whole, "converted": gone, "back": left},
            direct={"back": difference(whole, gone), "converted": difference(whole, left)},
        )


UNCONVERTED = Law(
    id="not-converted",
    title="What was not converted",
    relation=n - converted - back,
    instances=_unconverted,
    words={
        "back": "What was taken less what was converted is the rest.",
        "converted": "What was taken less what was not converted was converted.",
    },
    source="derived: the amount is conserved",
    misuses=(
        Misuse(
            "converted-for-unconverted",
            "what was converted taken for what was not",
            "Was the question what reacted, or what was left as it was?",
            converted - back,
            only_for=frozenset({"back"}),
        ),
    ),
)

LAWS = (
    ISOMER_IN_THEORY,
    OTHER_IN_THEORY,
    TOTAL_YIELD_OF_ISOMERS,
    TOTAL_YIELD,
    CONVERTED_INTO,
    SELECTIVITY_OF_PAIR,
    UNCONVERTED,
)
