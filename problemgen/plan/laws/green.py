"""What is put in against what comes out: atom economy, E-factor, process mass intensity."""

from __future__ import annotations

from collections.abc import Iterator

from problemgen.model.expression import Expression
from problemgen.model.problem import Scene, Species
from problemgen.model.quantity import Quantity, Role
from problemgen.plan.law import Instance, Law, Misuse, letters
from problemgen.plan.laws.amounts import has_mass

__all__ = ["LAWS"]

E, PMI, product, waste, total = letters("E PMI product waste total")


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
    """What the misuses of the atom economy give."""
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


ATOM_ECONOMY = Law(
    id="atom-economy",
    title="Atom economy",
    relation=None,
    instances=_economies,
    words={"economy": "The molar mass of the product over those of all reagents, each times its coefficient."},
    source="trost-1991: atom economy",
    misuses=(
        Misuse(
            "coefficients-left-out",
            "coefficients left out of the atom economy",
            "Every mole that the equation names counts: how many are there of each?",
            None,
        ),
        Misuse(
            "economy-inverted",
            "atom economy upside down",
            "Can more atoms come out in the product than went in?",
            None,
        ),
        Misuse(
            "economy-of-the-rest",
            "the by-products counted in place of the product",
            "Which substance is the one that is wanted?",
            None,
        ),
        Misuse(
            "one-reagent-counted",
            "one reagent counted only",
            "The atoms of all reagents went in: whose are missing below the line?",
            None,
        ),
    ),
)

_BALANCED = (Role.INPUT, Role.WASTE, Role.AUXILIARIES)


def _made(scene: Scene) -> Iterator[Quantity]:
    """The mass of each product for which what was put in, or the waste, is told or asked for."""
    told = scene.given | scene.wanted
    for species in scene.species.values():
        roles = any(Quantity("mass", species.id, role) in told for role in _BALANCED)
        if roles or {Quantity(kind, species.id) for kind in ("e_factor", "mass_intensity")} & told:
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


INPUT = Law(
    id="input",
    title="All that was put in",
    relation=None,
    instances=_inputs,
    words={"total": "Reagents, solvents and auxiliaries together are what was put in."},
    source="derived: masses add up",
    misuses=(
        Misuse(
            "auxiliaries-left-out",
            "solvents and auxiliaries left out",
            "Solvents and wash liquids go to waste as well.",
            None,
        ),
    ),
)


def _wastes(law: Law, scene: Scene) -> Iterator[Instance]:
    for made in _made(scene):
        total_and_waste = {
            "total": Quantity("mass", made.of, Role.INPUT),
            "waste": Quantity("mass", made.of, Role.WASTE),
        }
        yield Instance(law, {**total_and_waste, "product": made})


WASTE = Law(
    id="waste",
    title="Waste",
    relation=total - product - waste,
    instances=_wastes,
    words={"waste": "What was put in and is not product is waste.", "total": "Product and waste were put in."},
    source="derived: masses add up",
    misuses=(
        Misuse(
            "input-for-waste",
            "all that was put in taken for waste",
            "Some of what was put in comes out as product.",
            total - waste,
        ),
    ),
)


def _e_factors(law: Law, scene: Scene) -> Iterator[Instance]:
    for made in _made(scene):
        binding = {
            "E": Quantity("e_factor", made.of),
            "waste": Quantity("mass", made.of, Role.WASTE),
            "product": made,
        }
        yield Instance(law, binding, extra={"total": Quantity("mass", made.of, Role.INPUT).id})


E_FACTOR = Law(
    id="e-factor",
    title="E-factor",
    relation=E * product - waste,
    instances=_e_factors,
    words={
        "E": "The mass of waste over the mass of product is the E-factor.",
        "waste": "The E-factor times the mass of product gives the mass of waste.",
    },
    source="sheldon-2007: E factor",
    misuses=(
        Misuse(
            "e-factor-inverted",
            "E-factor upside down",
            "The less waste, the smaller the E-factor: what belongs above the line?",
            E * waste - product,
        ),
        Misuse(
            "waste-against-input",
            "the waste compared with all that was put in",
            "The E-factor is the waste for each gram of product.",
            E * total - waste,
            only_for=frozenset({"E"}),
        ),
    ),
)


def _intensities(law: Law, scene: Scene) -> Iterator[Instance]:
    for made in _made(scene):
        binding = {
            "PMI": Quantity("mass_intensity", made.of),
            "total": Quantity("mass", made.of, Role.INPUT),
            "product": made,
        }
        yield Instance(law, binding)


INTENSITY = Law(
    id="mass-intensity",
    title="Process mass intensity",
    relation=PMI * product - total,
    instances=_intensities,
    words={
        "PMI": "All that was put in over the product is the process mass intensity.",
        "total": "The process mass intensity times the mass of product gives all that was put in.",
    },
    source="jimenez-gonzalez-2011: process mass intensity",
    misuses=(
        Misuse(
            "intensity-inverted",
            "process mass intensity upside down",
            "Is more put in than comes out? What belongs above the line?",
            PMI * total - product,
        ),
    ),
)

LAWS = (ATOM_ECONOMY, INPUT, WASTE, E_FACTOR, INTENSITY)
