"""Gases: the equation of state of the ideal gas, density, molar volume."""

from __future__ import annotations

from collections.abc import Iterator

from problemgen.language.messages import N_
from problemgen.model.problem import Scene, Species
from problemgen.model.quantity import Quantity, Role
from problemgen.plan.laws.amounts import own_amounts
from problemgen.plan.table import Place, by, error, law

__all__ = ["CELSIUS", "GAS_LAW_ERRORS", "LAWS", "LETTERS", "has_states", "own_role", "state"]

CELSIUS = error(
    "celsius-for-kelvin", None, N_("degrees Celsius taken for kelvin"),
    N_("The gas law needs the absolute temperature: in which unit did it enter?"), everywhere=True,
)  # fmt: skip

STANDARD = error(
    "standard-molar-volume", None, N_("a molar volume away from its conditions"),
    N_("A molar volume belongs to one temperature and one pressure: are they those of this gas?"),
    everywhere=True, harmless=True,
)  # fmt: skip
"""Of 22.414 L/mol, which is the molar volume at 0 °C and 1 atm."""

_STATES = (Role.INITIAL, Role.FINAL)

_SHARES = ("concentration", "mass_concentration", "mass_fraction")

LETTERS = {"p": "pressure", "V": "volume", "n": "amount", "T": "temperature"}


def own_role(species: Species) -> Role:
    """The role of a gas' volume and amount where there is one state: a product's are those that can form."""
    return Role.THEORETICAL if species.is_product else Role.PLAIN


def _in_both_states(scene: Scene, kind: str, of: str) -> bool:
    kinds = (kind, "mass") if kind == "amount" else (kind,)
    return all(any(Quantity(k, of, state) in scene.told for k in kinds) for state in _STATES)


def has_states(scene: Scene, species: Species) -> bool:
    """Whether a problem tells of two states of a gas: a pressure, temperature, or undissolved amount and volume."""
    conditions = (Quantity(kind, species.id, state) for kind in ("pressure", "temperature") for state in _STATES)
    portions = all(_in_both_states(scene, kind, species.id) for kind in ("volume", "amount"))
    dissolved = any(q.of == species.id and q.kind in _SHARES for q in scene.told)
    return (portions and not dissolved) or any(quantity in scene.told for quantity in conditions)


def state(scene: Scene, species: Species, which: Role) -> dict[str, Quantity]:
    """A gas' quantities in one state, by letter; what is not told in both states is the same in both."""
    found = {}
    for letter, kind in LETTERS.items():
        single = [Quantity(kind, species.id, one) for one in _STATES if Quantity(kind, species.id, one) in scene.told]
        common = Quantity(kind, species.id, own_role(species) if kind in ("volume", "amount") else Role.PLAIN)
        both = _in_both_states(scene, kind, species.id)
        found[letter] = Quantity(kind, species.id, which) if both else next(iter(single), common)
    return found


GAS_LAW_ERRORS = (
    by(CELSIUS, "p V = n R (T in °C)", at="n V p"),
    by(STANDARD, "V = 22.414 n", at="n V"),
)
"""The usual mistakes with pV = nRT, for a gas alone and in a mixture."""


def _gases(scene: Scene) -> Iterator[Place]:
    """The portions of a gas, and its two states, in which what does not change stands without one."""
    for species in scene.species.values():
        for amount in own_amounts(scene, species):
            words = {"p": "", "T": "", "V": amount.written_role, "n": amount.written_role}
            if amount.role in _STATES and has_states(scene, species):
                words = {letter: one.role for letter, one in state(scene, species, amount.role).items()}
            yield Place(species.id, words=words)


IDEAL_GAS = law(
    "ideal-gas", N_("Ideal gas"), "p V = n R T",
    where={"p": "pressure(X,{p})", "T": "temperature(X,{T})", "V": "volume(X,{V})", "n": "amount(X,{n})",
           "R": "gas_constant()"},
    each=_gases,
    says={
        "n": N_("The equation of state of the ideal gas, solved for the amount; the temperature is in kelvin."),
        "V": N_("The equation of state of the ideal gas, solved for the volume; the temperature is in kelvin."),
        "p": N_("The equation of state of the ideal gas, solved for the pressure; the temperature is in kelvin."),
        "T": N_("The equation of state of the ideal gas, solved for the temperature in kelvin."),
    },
    source="green-book-2007 2.11: pV = nRT; si-brochure-2019: R = N_A k, exact",
    errors=GAS_LAW_ERRORS,
)  # fmt: skip


def is_measured_gas(scene: Scene, species: Species) -> bool:
    """Whether a gas' density goes with its pressure and temperature (a liquid's goes with a volume)."""
    conditions = {Quantity("pressure", species.id), Quantity("temperature", species.id)}
    return Quantity("density", species.id) in scene.told and conditions <= scene.told


def _measured_gases(scene: Scene) -> Iterator[Species]:
    yield from (species for species in scene.species.values() if is_measured_gas(scene, species))


GAS_DENSITY = law(
    "gas-density", N_("Density of a gas"), "rho = p M / (R T)",
    where={"rho": "density(X)", "p": "pressure(X)", "M": "molar_mass(X)", "R": "gas_constant()", "T": "temperature(X)"},
    each=_measured_gases,
    says={
        "rho": N_("The mass of a litre of the gas: p/(RT) is the amount in it, times the molar mass."),
        "M": N_("The density over p/(RT), the amount in a litre, gives the molar mass."),
        "p": N_("The density of the gas over its molar mass is the amount in a litre; times RT it gives the pressure."),
        "T": N_("The equation of state in terms of the density, solved for the temperature in kelvin."),
    },
    source="green-book-2007 2.2: ρ = m/V; green-book-2007 2.11: pV = nRT",
    errors=[by(CELSIUS, "rho = p M / (R (T in °C))", at="rho M p"), by(STANDARD, "M = 22.414 rho", at="rho M")],
)  # fmt: skip


def _with_molar_volume(scene: Scene) -> Iterator[Quantity]:
    for species in scene.species.values():
        if Quantity("molar_volume", species.id) in scene.told:
            yield from own_amounts(scene, species)


MOLAR_VOLUME = law(
    "molar-volume", N_("Molar volume"), "V = n Vm",
    where={"V": "volume(X,*)", "n": "amount(X,*)", "Vm": "molar_volume(X)"}, each=_with_molar_volume,
    says={
        "V": N_("The amount times the molar volume at these conditions gives the volume."),
        "n": N_("The volume divided by the molar volume at the same conditions gives the amount."),
        "Vm": N_("The volume divided by the amount gives the molar volume."),
    },
    source="green-book-2007 2.10: Vm = V/n",
    errors=[
        error("molar-volume-inverted", "n = V Vm", N_("molar volume used upside down"),
              N_("Write the units beside each number: litres have to cancel where an amount is asked."), at="V n"),
    ],
)  # fmt: skip

CONDITIONS = law(
    "molar-volume-at-conditions", N_("Molar volume at a temperature and pressure"), "p Vm = R T",
    where={"Vm": "molar_volume(X)", "p": "pressure(X)", "R": "gas_constant()", "T": "temperature(X)"}, told="Vm",
    says={"Vm": N_("The equation of state for one mole; the temperature is in kelvin.")},
    source="green-book-2007 2.11: pVm = RT",
    errors=[by(CELSIUS, "p Vm = R (T in °C)", at="Vm")],
)  # fmt: skip

MOLAR_VOLUME_DENSITY = law(
    "density-and-molar-volume", N_("Density and molar volume"), "rho = M / Vm",
    where={"rho": "density(X)", "Vm": "molar_volume(X)", "M": "molar_mass(X)"}, told="rho Vm",
    says={
        "rho": N_("The molar mass divided by the molar volume gives the density."),
        "M": N_("The density times the molar volume at the same conditions gives the molar mass."),
        "Vm": N_("The molar mass divided by the density gives the molar volume."),
    },
    source="green-book-2007 2.10: Vm = M/ρ",
)  # fmt: skip

LAWS = (
    IDEAL_GAS,
    GAS_DENSITY,
    MOLAR_VOLUME,
    CONDITIONS,
    MOLAR_VOLUME_DENSITY,
)
