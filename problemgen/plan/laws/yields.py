"""Yield: what was obtained against what the limiting reagent allows."""

from __future__ import annotations

from collections.abc import Iterator

from problemgen.model.expression import Expression
from problemgen.model.problem import Scene, Species
from problemgen.model.quantity import Quantity, Role
from problemgen.plan.law import Instance, Law, Misuse, letters
from problemgen.plan.laws.two_products import are_of_one_mass

__all__ = ["LAWS"]

Y, actual, theoretical, reagent = letters("Y actual theoretical reagent")


def _made(scene: Scene) -> Iterator[Species]:
    """What an equation forms; without one, whatever a yield is told or asked of."""
    yield from (*scene.products, *scene.formed_later)
    told = scene.given | scene.wanted
    if not scene.reagents:
        yield from (one for one in scene.species.values() if Quantity("percent_yield", one.id) in told)


def _yields(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in _made(scene):
        in_pair = species.id in {equation.product for equation in scene.pair}
        by_amounts = in_pair and (bool(scene.standard) or not are_of_one_mass(scene))
        for kind in ("amount", "mass") if by_amounts else ("mass", "amount"):
            obtained = Quantity(kind, species.id, Role.ACTUAL)
            told = obtained in scene.given | scene.wanted or by_amounts or _planned(scene, species.id)
            if kind == "amount" and not told:
                continue
            extra: dict[str, Expression] = {}
            in_moles = in_pair and kind == "amount"  # where the coefficients are equal, no amount is a wrong one
            if scene.competing and species.is_product and not (in_moles or _is_all_of_it(scene, species)):
                extra["reagent"] = Quantity(kind, scene.competing[0].id).id
            binding = {
                "Y": Quantity("percent_yield", species.id),
                "actual": obtained,
                "theoretical": Quantity(kind, species.id, Role.THEORETICAL),
            }
            mistaken: dict[tuple[str, str], Expression] = {}
            if _planned(scene, species.id):
                mistaken["step-yield-forgotten", "theoretical"] = obtained.id
            if in_pair:
                both = Quantity("mass", scene.pair[0].product, Role.BOTH).id
                mistaken["mixture-for-product", "Y"] = ("div", both, Quantity("mass", species.id, Role.THEORETICAL).id)
            yield Instance(law, binding, extra=extra, mistaken=mistaken)


def _is_all_of_it(scene: Scene, product: Species) -> bool:
    """Whether the product holds all atoms of the only reagent measured, and so weighs what that weighs."""
    reagent = scene.competing[0]
    if len(scene.competing) > 1 or reagent.formula is None or product.formula is None:
        return False
    atoms = [
        {symbol: one.nu * count for symbol, count in formula.counts}
        for one, formula in ((reagent, reagent.formula), (product, product.formula))
    ]
    return atoms[0] == atoms[1]


def _planned(scene: Scene, name: str) -> bool:
    """Whether a step of several is planned with a yield that is expected: amounts are handed on."""
    in_steps = any(name in equation.coefficients for equation in scene.further)
    return in_steps and Quantity("percent_yield", name) in scene.given


PERCENT_YIELD = Law(
    id="percent-yield",
    title="Percent yield",
    relation=Y * theoretical - actual,
    instances=_yields,
    words={
        "Y": "What was obtained, divided by the theoretical yield, gives the percent yield.",
        "actual": "The theoretical yield times the percent yield is what is obtained.",
        "theoretical": "Divide the mass wanted by the fractional yield to get the theoretical yield.",
    },
    source="common-practice: percent yield, what was obtained over what is possible",
    misuses=(
        Misuse(
            "yield-inverted",
            "percent yield upside down",
            "Can more be obtained than is possible? What belongs below the line?",
            actual * Y - theoretical,
        ),
        Misuse(
            "yield-against-reagent",
            "the product compared with what was taken of a reagent",
            "A yield compares the product with the most that could have formed of it, not with what was weighed in.",
            Y * reagent - actual,
            only_for=frozenset({"Y"}),
        ),
        Misuse(
            "mixture-for-product",
            "the mixture of both products taken for one of them",
            "Not all of what was weighed is this product.",
            None,
        ),
        Misuse(
            "step-yield-forgotten",
            "the yield of a step forgotten",
            "Does this step give all that could form, or less?",
            None,
        ),
    ),
)

LAWS = (PERCENT_YIELD,)
