"""What is put in against what comes out: atom economy, E-factor, process mass intensity."""

from __future__ import annotations

from collections.abc import Iterator

from problemgen.language.messages import N_
from problemgen.model.expression import Expression
from problemgen.model.problem import Scene, Species
from problemgen.model.quantity import Quantity, Role
from problemgen.plan.law import Instance, Law
from problemgen.plan.laws.amounts import has_mass
from problemgen.plan.table import error, law

__all__ = ["LAWS"]


def _weighed(species: Species) -> Expression:
    """The molar mass times the stoichiometric number."""
    molar_mass: Expression = Quantity("molar_mass", species.id).id
    return molar_mass if species.nu == 1 else ("mul", ("num", str(species.nu)), molar_mass)


def _sum(terms: list[Expression]) -> Expression:
    return ("add", *terms) if len(terms) > 1 else terms[0]


def _economies(law: Law, scene: Scene) -> Iterator[Instance]:
    if not scene.reagents or not all(has_mass(species) for species in (*scene.reagents, *scene.products)):
        return
    for wanted in scene.products:
        quantity = Quantity("atom_economy", wanted.id)
        if quantity in scene.wanted:
            mistaken = _uneconomical(scene, wanted)
            yield Instance(law, {"economy": quantity}, direct=_economy(scene, wanted), mistaken=mistaken)


def _economy(scene: Scene, wanted: Species) -> dict[str, Expression]:
    return {"economy": ("div", _weighed(wanted), _sum([_weighed(s) for s in scene.reagents]))}


def _uneconomical(scene: Scene, wanted: Species) -> dict[tuple[str, str], Expression]:
    """What the errors of the atom economy give."""
    own: Expression = Quantity("molar_mass", wanted.id).id
    reagents = _sum([_weighed(s) for s in scene.reagents])
    bare = _sum([Quantity("molar_mass", s.id).id for s in scene.reagents])
    others = [_weighed(s) for s in scene.products if s.id != wanted.id]
    found: dict[tuple[str, str], Expression] = {
        ("coefficients-left-out", "economy"): ("div", own, bare),
        ("economy-inverted", "economy"): ("div", reagents, _weighed(wanted)),
    }
    if others:
        found["economy-of-the-rest", "economy"] = ("div", _sum(others), reagents)
    if len(scene.reagents) > 1:
        found["one-reagent-counted", "economy"] = ("div", _weighed(wanted), _weighed(scene.reagents[0]))
    return found


ATOM_ECONOMY = law(
    "atom-economy", N_("Atom economy"),
    instances=_economies,
    says={"economy": N_("The molar mass of the product over those of all reagents, each times its coefficient.")},
    source="trost-1991: atom economy",
    errors=[
        error("coefficients-left-out", None, N_("coefficients left out of the atom economy"),
              N_("Every mole that the equation names counts: how many are there of each?")),
        error("economy-inverted", None, N_("atom economy upside down"),
              N_("Can more atoms come out in the product than went in?")),
        error("economy-of-the-rest", None, N_("the by-products counted in place of the product"),
              N_("Which substance is the one that is wanted?")),
        error("one-reagent-counted", None, N_("one reagent counted only"),
              N_("The atoms of all reagents went in: whose are missing below the line?")),
    ],
)  # fmt: skip

_BALANCED = (Role.INPUT, Role.WASTE, Role.AUXILIARIES)


def _made(scene: Scene) -> Iterator[Quantity]:
    """The mass of each product for which what was put in, or the waste, is told or asked for."""
    for species in scene.species.values():
        roles = any(Quantity("mass", species.id, role) in scene.told for role in _BALANCED)
        if roles or {Quantity(kind, species.id) for kind in ("e_factor", "mass_intensity")} & scene.told:
            obtained = Quantity("mass", species.id, Role.ACTUAL)
            yield Quantity("mass", species.id) if Quantity("mass", species.id) in scene.given else obtained


def _put_in(scene: Scene, reagent: str) -> Quantity:
    """The mass of a reagent as it was put in: with its water or its impurities, where it had some."""
    roles = {quantity.role for quantity in scene.given if quantity.of == reagent}
    return Quantity("mass", reagent, next((role for role in (Role.SOLUTION, Role.IMPURE) if role in roles), Role.PLAIN))


def _inputs(law: Law, scene: Scene) -> Iterator[Instance]:
    for made in _made(scene):
        auxiliaries = Quantity("mass", made.of, Role.AUXILIARIES)
        if auxiliaries in scene.given and scene.reagents:
            reagents = [_put_in(scene, species.id).id for species in scene.reagents]
            yield Instance(
                law,
                {"total": Quantity("mass", made.of, Role.INPUT)},
                direct={"total": ("add", *reagents, auxiliaries.id)},
                mistaken={("auxiliaries-left-out", "total"): _sum([*reagents])},
            )


INPUT = law(
    "input", N_("All that was put in"),
    instances=_inputs,
    says={"total": N_("Reagents, solvents and auxiliaries together are what was put in.")},
    source="derived: masses add up",
    errors=[
        error("auxiliaries-left-out", None, N_("solvents and auxiliaries left out"),
              N_("Solvents and wash liquids go to waste as well.")),
    ],
)  # fmt: skip

WASTE = law(
    "waste", N_("Waste"), "waste = total - product",
    where={"total": "mass(X,input)", "waste": "mass(X,waste)", "product": "mass(X,*)"}, each=_made,
    says={
        "waste": N_("What was put in and is not product is waste."),
        "total": N_("Product and waste were put in."),
    },
    source="derived: masses add up",
    errors=[
        error("input-for-waste", "waste = total", N_("all that was put in taken for waste"),
              N_("Some of what was put in comes out as product.")),
    ],
)  # fmt: skip

E_FACTOR = law(
    "e-factor", N_("E-factor"), "E = waste / product",
    where={"E": "e_factor(X)", "waste": "mass(X,waste)", "product": "mass(X,*)", "total": "mass(X,input)"}, each=_made,
    says={
        "E": N_("The mass of waste over the mass of product is the E-factor."),
        "waste": N_("The E-factor times the mass of product gives the mass of waste."),
    },
    source="sheldon-2007: E factor",
    errors=[
        error("e-factor-inverted", "E = product / waste", N_("E-factor upside down"),
              N_("The less waste, the smaller the E-factor: what belongs above the line?")),
        error("waste-against-input", "E = waste / total", N_("the waste compared with all that was put in"),
              N_("The E-factor is the waste for each gram of product."), at="E"),
    ],
)  # fmt: skip

INTENSITY = law(
    "mass-intensity", N_("Process mass intensity"), "PMI = total / product",
    where={"PMI": "mass_intensity(X)", "total": "mass(X,input)", "product": "mass(X,*)"}, each=_made,
    says={
        "PMI": N_("All that was put in over the product is the process mass intensity."),
        "total": N_("The process mass intensity times the mass of product gives all that was put in."),
    },
    source="jimenez-gonzalez-2011: process mass intensity",
    errors=[
        error("intensity-inverted", "PMI = product / total", N_("process mass intensity upside down"),
              N_("Is more put in than comes out? What belongs above the line?")),
    ],
)  # fmt: skip

LAWS = (ATOM_ECONOMY, INPUT, WASTE, E_FACTOR, INTENSITY)
