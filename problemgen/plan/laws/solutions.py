"""Solutions: amount concentration, mass percent, dilution."""

from __future__ import annotations

from collections.abc import Iterator

from problemgen.language.messages import N_
from problemgen.model.expression import Expression
from problemgen.model.problem import Scene, Species
from problemgen.model.quantity import SOLUTION_AT, Quantity, Role
from problemgen.plan.laws.amounts import has_mass
from problemgen.plan.laws.gases import has_states
from problemgen.plan.table import Place, error, law

__all__ = ["LAWS"]

_VOLUMES = {Role.PLAIN: Role.SOLUTION, Role.INITIAL: Role.INITIAL, Role.FINAL: Role.FINAL}
"""The role of the volume that an amount is dissolved in, by that of the amount."""

COMMON = Quantity("volume", "", Role.COMMON)
"""The volume of the one solution that several substances are dissolved in."""


def _dissolved(scene: Scene) -> Iterator[Place]:
    """Y is dissolved, X names the solution: Y itself, or "" for the one solution of several substances."""
    in_one = COMMON in scene.told
    for species in scene.species.values():
        is_ion = species.formula is not None and bool(species.formula.charge)
        if not in_one:
            for role, volume in _VOLUMES.items():
                yield Place(species.id, species.id, role=role, nu=species.nu, words={"volume": volume})
        elif not is_ion:
            yield Place("", species.id, nu=species.nu, words={"volume": Role.COMMON})


CONCENTRATION = law(
    "concentration", N_("Amount in a solution"), "c = n / V",
    where={"n": "amount(Y,*)", "c": "concentration(Y,*)", "V": "volume(X,{volume})"}, each=_dissolved,
    says={
        "n": N_("The amount concentration times the volume of the solution gives the amount."),
        "V": N_("The amount divided by the amount concentration gives the volume of the solution."),
        "c": N_("The amount divided by the volume of the solution gives the amount concentration."),
    },
    source="green-book-2007 2.10: c = n/V",
    errors=[
        error("millilitres-as-litres", "c = n / (V in mL)", N_("millilitres taken as litres"),
              N_("The concentration is per litre: in which unit did the volume enter?")),
        error("concentration-divided", "n = V / c", N_("concentration used upside down"),
              N_("Write mol/L beside the concentration: which operation leaves mol?"), at="n V"),
        error("coefficient-in-concentration", "c = n / (nu V)",
              N_("the coefficient brought into the amount of a solution"),
              N_("How much is in the measured volume does not depend on the equation: coefficients enter only "
                 "when two substances are compared."), everywhere=True),
    ],
)  # fmt: skip


def _by_mass_percent(scene: Scene) -> Iterator[Place]:
    for species in scene.species:
        yield from (Place(species, role=role, words={"whole": whole}) for role, whole in SOLUTION_AT.items())


MASS_PERCENT = law(
    "mass-percent", N_("Mass percent of a solution"), "m = w solution",
    where={"m": "mass(X)", "w": "mass_fraction(X,*)", "solution": "mass(X,{whole})"}, each=_by_mass_percent,
    says={
        "m": N_("The mass of the solution times its mass percent gives the mass of the solute."),
        "solution": N_("The mass of the solute divided by the mass percent gives the mass of the solution."),
        "w": N_("The mass of the solute divided by that of the solution gives the mass percent."),
    },
    source="green-book-2007 2.10: mass fraction w",
    errors=[
        error("percent-left-out", "m = solution", N_("mass percent left out"),
              N_("Only a part of the solution is the substance: what does the percentage on the bottle say?"),
              at="m solution"),
        error("percent-divided", "m = solution / w", N_("mass percent used upside down"),
              N_("Can the solute weigh more than its solution?"), at="m solution"),
    ],
)  # fmt: skip

SOLVENT = law(
    "solvent", N_("Solute and solvent"), "solution = m + solvent",
    where={"m": "mass(X)", "solvent": "mass(X,solvent)", "solution": "mass(X,solution)"},
    says={
        "solution": N_("Solute and solvent together make the solution."),
        "solvent": N_("What is not solute is solvent."),
        "m": N_("What is not solvent is solute."),
    },
    source="derived: masses add up",
    errors=[
        error("solvent-for-solution", "solution = solvent", N_("the solvent taken for the solution"),
              N_("A percentage refers to the whole solution: is the solute in your total?"), at="solution"),
    ],
)  # fmt: skip

MASS_CONCENTRATION = law(
    "mass-concentration", N_("Mass concentration"), "gamma = m / V",
    where={"gamma": "mass_concentration(X)", "m": "mass(X)", "V": "volume(X,solution)"},
    says={
        "gamma": N_("The mass of the solute divided by the volume of the solution gives the mass concentration."),
        "m": N_("The mass concentration times the volume of the solution gives the mass of the solute."),
        "V": N_("The mass of the solute divided by the mass concentration gives the volume of the solution."),
    },
    source="green-book-2007 2.10: γ = m/V",
)  # fmt: skip


def _from_label(scene: Scene, species: Species) -> bool:
    """Whether a concentration is wanted that only the label of the bottle can tell."""
    wanted = Quantity("concentration", species.id) in scene.wanted
    return wanted and Quantity("volume", species.id, Role.SOLUTION) not in scene.given


def _with_both(scene: Scene) -> Iterator[str]:
    for species in scene.species.values():
        of_mass = Quantity("mass_concentration", species.id) in scene.told
        if has_mass(species) and (of_mass or _from_label(scene, species)):
            yield species.id


def _bottles(scene: Scene) -> Iterator[str]:
    yield from (species.id for species in scene.species.values() if _from_label(scene, species))


BETWEEN_CONCENTRATIONS = law(
    "between-concentrations", N_("Mass concentration and amount concentration"), "gamma = c M",
    where={"gamma": "mass_concentration(X)", "c": "concentration(X)", "M": "molar_mass(X)"}, each=_with_both,
    says={
        "gamma": N_("The amount concentration times the molar mass gives the mass concentration."),
        "c": N_("The mass concentration divided by the molar mass gives the amount concentration."),
        "M": N_("The mass concentration divided by the amount concentration gives the molar mass."),
    },
    source="green-book-2007 2.10: c = n/V, γ = m/V",
)  # fmt: skip

BOTTLE = law(
    "bottle", N_("Mass of solute in a litre of the bottle"), "gamma = w rho",
    where={"gamma": "mass_concentration(X)", "w": "mass_fraction(X)", "rho": "density(X,solution)"}, each=_bottles,
    says={
        "gamma": N_("The density times the mass percent gives the mass of solute in a litre of solution."),
        "w": N_("The mass concentration divided by the density gives the mass percent."),
        "rho": N_("The mass concentration divided by the mass percent gives the density."),
    },
    source="green-book-2007 2.10: γ = wρ",
    errors=[
        error("percent-left-out", "gamma = rho", N_("mass percent left out"),
              N_("Only a part of the solution is the substance: what does the percentage on the bottle say?"),
              at="gamma"),
    ],
)  # fmt: skip


def _diluted(scene: Scene) -> Iterator[Place]:
    for species in scene.species.values():
        if not has_states(scene, species):
            yield Place(species.id, words={"first": Role.INITIAL}, values=_turned_round(scene, species.id))
            if Quantity("mass_fraction", species.id) in scene.given:
                yield Place(species.id, words={"first": Role.PLAIN})  # from the bottle


def _turned_round(scene: Scene, species: str) -> dict[str, Expression]:
    """The amounts that make `c1 V2 = c2 V1` of what follows: the two volumes, or concentrations, exchanged."""
    c1, c2 = (Quantity("concentration", species, role) for role in (Role.INITIAL, Role.FINAL))
    v1, v2 = (Quantity("volume", species, role) for role in (Role.INITIAL, Role.FINAL))
    if {c1, v1, v2} <= scene.given:
        return {"second_turned": ("div", ("mul", c1.id, v2.id, v2.id), v1.id)}
    if {c1, v1, c2} <= scene.given:
        return {"second_turned": ("div", ("mul", c2.id, c2.id, v1.id), c1.id)}
    if {c1, c2, v2} <= scene.given:
        return {"first_turned": ("div", ("mul", c1.id, c1.id, v2.id), c2.id)}
    return {}


DILUTION = law(
    "dilution", N_("Dilution"), "second = first",
    where={"first": "amount(X,{first})", "second": "amount(X,final)"}, each=_diluted,
    says={
        "second": N_("Diluting changes the volume, not the amount."),
        "first": N_("Diluting changes the volume, not the amount."),
    },
    source="derived: the amount is conserved",
    errors=[
        error("dilution-inverted", "second := second_turned; first := first_turned", N_("dilution turned round"),
              N_("Is the solution after diluting stronger or weaker than before?")),
    ],
)  # fmt: skip

ADDITION = law(
    "addition", N_("Water to add"), "second = first + added",
    where={"first": "volume(X,initial)", "second": "volume(X,final)", "added": "volume(X,added)"}, told="added",
    says={
        "added": N_("The final volume less the first is what to add (volumes of dilute solutions very nearly add up)."),
        "second": N_("The volumes of dilute solutions very nearly add up."),
        "first": N_("The volumes of dilute solutions very nearly add up."),
    },
    source="common-practice: volumes of dilute aqueous solutions taken as additive",
    errors=[
        error("final-for-added", "added = second", N_("the final volume taken for the water added"),
              N_("Some of the final volume was there before water was added."), at="added"),
    ],
)  # fmt: skip

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
