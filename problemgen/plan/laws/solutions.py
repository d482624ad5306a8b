"""Solutions: amount concentration, mass percent, dilution."""

from __future__ import annotations

from collections.abc import Iterator

from problemgen.model.expression import Expression
from problemgen.model.problem import Scene, Species
from problemgen.model.quantity import SOLUTION_AT, Quantity, Role
from problemgen.plan.law import Instance, Law, Misuse, coefficient_letter, letters
from problemgen.plan.laws.amounts import has_mass
from problemgen.plan.laws.gases import has_states

__all__ = ["LAWS"]

n, c, V, m, w, solution, solvent, gamma, M, rho, first, second, added = letters(
    "n c V m w solution solvent gamma M rho first second added"
)
nu = coefficient_letter

_VOLUMES = {Role.PLAIN: Role.SOLUTION, Role.INITIAL: Role.INITIAL, Role.FINAL: Role.FINAL}
"""The role of the volume that an amount is dissolved in, by that of the amount."""


COMMON = Quantity("volume", "", Role.COMMON)
"""The volume of the one solution that several substances are dissolved in."""


def _concentrations(law: Law, scene: Scene) -> Iterator[Instance]:
    in_one = COMMON in scene.given | scene.wanted
    for species in scene.species.values():
        is_ion = species.formula is not None and bool(species.formula.charge)
        own = {role: Quantity("volume", species.id, of) for role, of in _VOLUMES.items()}
        volumes = own if not in_one else {} if is_ion else {Role.PLAIN: COMMON}
        for role, volume in volumes.items():
            binding = {
                "n": Quantity("amount", species.id, role),
                "c": Quantity("concentration", species.id, role),
                "V": volume,
            }
            yield Instance(law, binding, nu=species.nu)


CONCENTRATION = Law(
    id="concentration",
    title="Amount in a solution",
    relation=c * V - n,
    instances=_concentrations,
    words={
        "n": "The amount concentration times the volume of the solution gives the amount.",
        "V": "The amount divided by the amount concentration gives the volume of the solution.",
        "c": "The amount divided by the volume of the solution gives the amount concentration.",
    },
    source="green-book-2007 2.10: c = n/V",
    misuses=(
        Misuse(
            "millilitres-as-litres",
            "millilitres taken as litres",
            "The concentration is per litre: in which unit did the volume enter?",
            1000 * c * V - n,
        ),
        Misuse(
            "concentration-divided",
            "concentration used upside down",
            "Write mol/L beside the concentration: which operation leaves mol?",
            V / c - n,
            only_for=frozenset({"n", "V"}),
        ),
        Misuse(
            "coefficient-in-concentration",
            "the coefficient brought into the amount of a solution",
            "How much is in the measured volume does not depend on the equation: coefficients enter only when two "
            "substances are compared.",
            nu * c * V - n,
            everywhere=True,
        ),
    ),
)


def _mass_percents(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in scene.species.values():
        for role, of_whole in SOLUTION_AT.items():
            binding = {
                "m": Quantity("mass", species.id),
                "w": Quantity("mass_fraction", species.id, role),
                "solution": Quantity("mass", species.id, of_whole),
            }
            yield Instance(law, binding)


MASS_PERCENT = Law(
    id="mass-percent",
    title="Mass percent of a solution",
    relation=w * solution - m,
    instances=_mass_percents,
    words={
        "m": "The mass of the solution times its mass percent gives the mass of the solute.",
        "solution": "The mass of the solute divided by the mass percent gives the mass of the solution.",
        "w": "The mass of the solute divided by that of the solution gives the mass percent.",
    },
    source="green-book-2007 2.10: mass fraction w",
    misuses=(
        Misuse(
            "percent-left-out",
            "mass percent left out",
            "Only a part of the solution is the substance: what does the percentage on the bottle say?",
            solution - m,
            only_for=frozenset({"m", "solution"}),
        ),
        Misuse(
            "percent-divided",
            "mass percent used upside down",
            "Can the solute weigh more than its solution?",
            solution / w - m,
            only_for=frozenset({"m", "solution"}),
        ),
    ),
)


def _solvents(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in scene.species.values():
        binding = {
            "m": Quantity("mass", species.id),
            "solvent": Quantity("mass", species.id, Role.SOLVENT),
            "solution": Quantity("mass", species.id, Role.SOLUTION),
        }
        yield Instance(law, binding)


SOLVENT = Law(
    id="solvent",
    title="Solute and solvent",
    relation=m + solvent - solution,
    instances=_solvents,
    words={
        "solution": "Solute and solvent together make the solution.",
        "solvent": "What is not solute is solvent.",
        "m": "What is not solvent is solute.",
    },
    source="derived: masses add up",
    misuses=(
        Misuse(
            "solvent-for-solution",
            "the solvent taken for the solution",
            "A percentage refers to the whole solution: is the solute in your total?",
            solvent - solution,
            only_for=frozenset({"solution"}),
        ),
    ),
)


def _mass_concentrations(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in scene.species.values():
        binding = {
            "gamma": Quantity("mass_concentration", species.id),
            "m": Quantity("mass", species.id),
            "V": Quantity("volume", species.id, Role.SOLUTION),
        }
        yield Instance(law, binding)


MASS_CONCENTRATION = Law(
    id="mass-concentration",
    title="Mass concentration",
    relation=gamma * V - m,
    instances=_mass_concentrations,
    words={
        "gamma": "The mass of the solute divided by the volume of the solution gives the mass concentration.",
        "m": "The mass concentration times the volume of the solution gives the mass of the solute.",
        "V": "The mass of the solute divided by the mass concentration gives the volume of the solution.",
    },
    source="green-book-2007 2.10: γ = m/V",
)


def _from_label(scene: Scene, species: Species) -> bool:
    """Whether a concentration is wanted that only the label of the bottle can tell."""
    wanted = Quantity("concentration", species.id) in scene.wanted
    return wanted and Quantity("volume", species.id, Role.SOLUTION) not in scene.given


def _between_concentrations(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in scene.species.values():
        of_mass = Quantity("mass_concentration", species.id)
        if has_mass(species) and (of_mass in scene.given | scene.wanted or _from_label(scene, species)):
            binding = {
                "gamma": of_mass,
                "c": Quantity("concentration", species.id),
                "M": Quantity("molar_mass", species.id),
            }
            yield Instance(law, binding)


BETWEEN_CONCENTRATIONS = Law(
    id="between-concentrations",
    title="Mass concentration and amount concentration",
    relation=c * M - gamma,
    instances=_between_concentrations,
    words={
        "gamma": "The amount concentration times the molar mass gives the mass concentration.",
        "c": "The mass concentration divided by the molar mass gives the amount concentration.",
        "M": "The mass concentration divided by the amount concentration gives the molar mass.",
    },
    source="green-book-2007 2.10: c = n/V, γ = m/V",
)


def _bottles(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in scene.species.values():
        if _from_label(scene, species):
            binding = {
                "gamma": Quantity("mass_concentration", species.id),
                "w": Quantity("mass_fraction", species.id),
                "rho": Quantity("density", species.id, Role.SOLUTION),
            }
            yield Instance(law, binding)


BOTTLE = Law(
    id="bottle",
    title="Mass of solute in a litre of the bottle",
    relation=w * rho - gamma,
    instances=_bottles,
    words={
        "gamma": "The density times the mass percent gives the mass of solute in a litre of solution.",
        "w": "The mass concentration divided by the density gives the mass percent.",
        "rho": "The mass concentration divided by the mass percent gives the density.",
    },
    source="green-book-2007 2.10: γ = wρ",
    misuses=(
        Misuse(
            "percent-left-out",
            "mass percent left out",
            "Only a part of the solution is the substance: what does the percentage on the bottle say?",
            rho - gamma,
            only_for=frozenset({"gamma"}),
        ),
    ),
)


def _dilutions(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in scene.species.values():
        if has_states(scene, species):
            continue
        binding = {
            "first": Quantity("amount", species.id, Role.INITIAL),
            "second": Quantity("amount", species.id, Role.FINAL),
        }
        yield Instance(law, binding, mistaken=_inverted(scene, species.id))
        if Quantity("mass_fraction", species.id) in scene.given:
            from_bottle = {
                "first": Quantity("amount", species.id),
                "second": Quantity("amount", species.id, Role.FINAL),
            }
            yield Instance(law, from_bottle)


def _inverted(scene: Scene, species: str) -> dict[tuple[str, str], Expression]:
    """The amounts that make `c1 V2 = c2 V1` of what follows: the two volumes, or concentrations, exchanged."""
    c1, c2 = (Quantity("concentration", species, role) for role in (Role.INITIAL, Role.FINAL))
    v1, v2 = (Quantity("volume", species, role) for role in (Role.INITIAL, Role.FINAL))
    if {c1, v1, v2} <= scene.given:
        return {("dilution-inverted", "second"): ("div", ("mul", c1.id, v2.id, v2.id), v1.id)}
    if {c1, v1, c2} <= scene.given:
        return {("dilution-inverted", "second"): ("div", ("mul", c2.id, c2.id, v1.id), c1.id)}
    if {c1, c2, v2} <= scene.given:
        return {("dilution-inverted", "first"): ("div", ("mul", c1.id, c1.id, v2.id), c2.id)}
    return {}


DILUTION = Law(
    id="dilution",
    title="Dilution",
    relation=first - second,
    instances=_dilutions,
    words={
        "second": "Diluting changes the volume, not the amount.",
        "first": "Diluting changes the volume, not the amount.",
    },
    source="derived: the amount is conserved",
    misuses=(
        Misuse(
            "dilution-inverted",
            "dilution turned round",
            "Is the solution after diluting stronger or weaker than before?",
            None,
        ),
    ),
)


def _additions(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in scene.species.values():
        water = Quantity("volume", species.id, Role.ADDED)
        if water in scene.given | scene.wanted:
            binding = {
                "first": Quantity("volume", species.id, Role.INITIAL),
                "second": Quantity("volume", species.id, Role.FINAL),
                "added": water,
            }
            yield Instance(law, binding)


ADDITION = Law(
    id="addition",
    title="Water to add",
    relation=first + added - second,
    instances=_additions,
    words={
        "added": "The final volume less the first is what to add (volumes of dilute solutions very nearly add up).",
        "second": "The volumes of dilute solutions very nearly add up.",
        "first": "The volumes of dilute solutions very nearly add up.",
    },
    source="common-practice: volumes of dilute aqueous solutions taken as additive",
    misuses=(
        Misuse(
            "final-for-added",
            "the final volume taken for the water added",
            "Some of the final volume was there before water was added.",
            added - second,
            only_for=frozenset({"added"}),
        ),
    ),
)

LAWS = (
    MASS_PERCENT,
    SOLVENT,
    CONCENTRATION,
    MASS_CONCENTRATION,
    DILUTION,
    ADDITION,
    BOTTLE,
    BETWEEN_CONCENTRATIONS,
)
