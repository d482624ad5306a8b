"""Yield: what was obtained against what the limiting reagent allows."""

from __future__ import annotations

from collections.abc import Iterator

from problemgen.language.messages import N_
from problemgen.model.problem import Scene, Species
from problemgen.model.quantity import Quantity, Role
from problemgen.plan.laws.two_products import are_of_one_mass
from problemgen.plan.table import Place, error, law

__all__ = ["LAWS"]


def _made(scene: Scene) -> Iterator[Species]:
    """What an equation forms; without one, whatever a yield is told or asked of."""
    yield from (*scene.products, *scene.formed_later)
    if not scene.reagents:
        yield from (one for one in scene.species.values() if Quantity("percent_yield", one.id) in scene.told)


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


def _yields(scene: Scene) -> Iterator[Place]:
    """X is what is formed, Y a reagent that it is compared with by mistake, Z the first of two products."""
    for species in _made(scene):
        in_pair = species.id in {equation.product for equation in scene.pair}
        by_amounts = in_pair and (bool(scene.standard) or not are_of_one_mass(scene))
        planned = _planned(scene, species.id)
        for kind in ("amount", "mass") if by_amounts else ("mass", "amount"):
            obtained = Quantity(kind, species.id, Role.ACTUAL)
            if kind == "amount" and not (obtained in scene.told or by_amounts or planned):
                continue
            in_moles = in_pair and kind == "amount"  # where the coefficients are equal, no amount is a wrong one
            compared = scene.competing and species.is_product and not (in_moles or _is_all_of_it(scene, species))
            yield Place(
                species.id,
                scene.competing[0].id if compared else "",
                scene.pair[0].product if in_pair else "",
                words={"kind": kind},
                values={"planned": obtained.id} if planned else {},
            )


PERCENT_YIELD = law(
    "percent-yield", N_("Percent yield"), "Y = actual / theoretical",
    where={"Y": "percent_yield(X)", "actual": "{kind}(X,actual)", "theoretical": "{kind}(X,theoretical)",
           "reagent": "{kind}(Y)", "mixture": "mass(Z,both)", "mass": "mass(X,theoretical)"},
    each=_yields,
    says={
        "Y": N_("What was obtained, divided by the theoretical yield, gives the percent yield."),
        "actual": N_("The theoretical yield times the percent yield is what is obtained."),
        "theoretical": N_("Divide the mass wanted by the fractional yield to get the theoretical yield."),
    },
    source="common-practice: percent yield, what was obtained over what is possible",
    errors=[
        error("yield-inverted", "Y = theoretical / actual", N_("percent yield upside down"),
              N_("Can more be obtained than is possible? What belongs below the line?")),
        error("yield-against-reagent", "Y = actual / reagent",
              N_("the product compared with what was taken of a reagent"),
              N_("A yield compares the product with the most that could have formed of it, not with what was "
                 "weighed in."), at="Y"),
        error("mixture-for-product", "Y := mixture / mass", N_("the mixture of both products taken for one of them"),
              N_("Not all of what was weighed is this product.")),
        error("step-yield-forgotten", "theoretical := planned", N_("the yield of a step forgotten"),
              N_("Does this step give all that could form, or less?")),
    ],
)  # fmt: skip

LAWS = (PERCENT_YIELD,)
