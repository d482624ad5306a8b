"""Gases: the equation of state of the ideal gas, density, molar volume."""

from __future__ import annotations

from collections.abc import Iterator

import sympy

from problemgen.model.problem import Scene, Species
from problemgen.model.quantity import Quantity, Role
from problemgen.plan.law import Instance, Law, Misuse, letters
from problemgen.plan.laws.amounts import own_amounts

__all__ = [
    "CELSIUS",
    "CELSIUS_WORDS",
    "GAS_LAW_MISUSES",
    "LAWS",
    "LETTERS",
    "STANDARD",
    "ZERO",
    "has_states",
    "own_role",
    "state",
    "told",
]

p, V, n, R, T, rho, M, Vm = letters("p V n R T rho M Vm")

ZERO = sympy.Rational(27315, 100)
"""0 °C in kelvin."""

CELSIUS = "celsius-for-kelvin"
CELSIUS_WORDS = (
    "degrees Celsius taken for kelvin",
    "The gas law needs the absolute temperature: in which unit did it enter?",
)
STANDARD = (
    "standard-molar-volume",
    "a molar volume away from its conditions",
    "A molar volume belongs to one temperature and one pressure: are they those of this gas?",
)
"""Of 22.414 L/mol, which is the molar volume at 0 °C and 1 atm."""

_STATES = (Role.INITIAL, Role.FINAL)
_SHARES = ("concentration", "mass_concentration", "mass_fraction")
LETTERS = {"p": "pressure", "V": "volume", "n": "amount", "T": "temperature"}


def told(scene: Scene) -> frozenset[Quantity]:
    """All quantities that a problem speaks of: what is given, and what is asked."""
    return scene.given | scene.wanted


def own_role(species: Species) -> Role:
    """The role of a gas' volume and amount where there is one state: a product's are those that can form."""
    return Role.THEORETICAL if species.is_product else Role.PLAIN


def _in_both_states(scene: Scene, kind: str, of: str) -> bool:
    kinds = (kind, "mass") if kind == "amount" else (kind,)
    return all(any(Quantity(k, of, state) in told(scene) for k in kinds) for state in _STATES)


def has_states(scene: Scene, species: Species) -> bool:
    """Whether a problem tells of two states of a gas: a pressure, temperature, or undissolved amount and volume."""
    conditions = (Quantity(kind, species.id, state) for kind in ("pressure", "temperature") for state in _STATES)
    portions = all(_in_both_states(scene, kind, species.id) for kind in ("volume", "amount"))
    dissolved = any(q.of == species.id and q.kind in _SHARES for q in told(scene))
    return (portions and not dissolved) or any(quantity in told(scene) for quantity in conditions)


def state(scene: Scene, species: Species, which: Role) -> dict[str, Quantity]:
    """A gas' quantities in one state, by letter; what is not told in both states is the same in both."""
    found = {}
    for letter, kind in LETTERS.items():
        single = [Quantity(kind, species.id, one) for one in _STATES if Quantity(kind, species.id, one) in told(scene)]
        common = Quantity(kind, species.id, own_role(species) if kind in ("volume", "amount") else Role.PLAIN)
        both = _in_both_states(scene, kind, species.id)
        found[letter] = Quantity(kind, species.id, which) if both else next(iter(single), common)
    return found


def _gases(law: Law, scene: Scene) -> Iterator[Instance]:
    gas_constant = Quantity("gas_constant", "")
    for species in scene.species.values():
        conditions = {"p": Quantity("pressure", species.id), "T": Quantity("temperature", species.id)}
        for amount in own_amounts(scene, species):
            own = {"V": amount.as_kind("volume"), "n": amount}
            if amount.role in _STATES and has_states(scene, species):
                yield Instance(law, {**state(scene, species, amount.role), "R": gas_constant})
            else:
                yield Instance(law, {**conditions, **own, "R": gas_constant})


GAS_LAW_MISUSES = (
    Misuse(
        CELSIUS,
        *CELSIUS_WORDS,
        100 * (p * V - n * R * T) + n * R * 27315,
        everywhere=True,
        only_for=frozenset({"n", "V", "p"}),
    ),
    Misuse(*STANDARD, 1000 * V - 22414 * n, everywhere=True, harmless=True, only_for=frozenset({"n", "V"})),
)
"""The usual mistakes with pV = nRT, for a gas alone and in a mixture."""

IDEAL_GAS = Law(
    id="ideal-gas",
    title="Ideal gas",
    relation=p * V - n * R * T,
    instances=_gases,
    words={
        "n": "The equation of state of the ideal gas, solved for the amount; the temperature is in kelvin.",
        "V": "The equation of state of the ideal gas, solved for the volume; the temperature is in kelvin.",
        "p": "The equation of state of the ideal gas, solved for the pressure; the temperature is in kelvin.",
        "T": "The equation of state of the ideal gas, solved for the temperature in kelvin.",
    },
    source="green-book-2007 2.11: pV = nRT; si-brochure-2019: R = N_A k, exact",
    misuses=GAS_LAW_MISUSES,
)


def is_measured_gas(scene: Scene, species: Species) -> bool:
    """Whether a gas' density goes with its pressure and temperature (a liquid's goes with a volume)."""
    conditions = {Quantity("pressure", species.id), Quantity("temperature", species.id)}
    return Quantity("density", species.id) in told(scene) and conditions <= told(scene)


def _gas_densities(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in scene.species.values():
        if is_measured_gas(scene, species):
            binding = {
                "rho": Quantity("density", species.id),
                "p": Quantity("pressure", species.id),
                "M": Quantity("molar_mass", species.id),
                "R": Quantity("gas_constant", ""),
                "T": Quantity("temperature", species.id),
            }
            yield Instance(law, binding)


GAS_DENSITY = Law(
    id="gas-density",
    title="Density of a gas",
    relation=rho * R * T - p * M,
    instances=_gas_densities,
    words={
        "rho": "The mass of a litre of the gas: p/(RT) is the amount in it, times the molar mass.",
        "M": "The density over p/(RT), the amount in a litre, gives the molar mass.",
        "p": "The density of the gas over its molar mass is the amount in a litre; times RT it gives the pressure.",
        "T": "The equation of state in terms of the density, solved for the temperature in kelvin.",
    },
    source="green-book-2007 2.2: ρ = m/V; green-book-2007 2.11: pV = nRT",
    misuses=(
        Misuse(
            CELSIUS,
            *CELSIUS_WORDS,
            rho * R * (T - ZERO) - p * M,
            everywhere=True,
            only_for=frozenset({"rho", "M", "p"}),
        ),
        Misuse(*STANDARD, 22414 * rho - 1000 * M, everywhere=True, harmless=True, only_for=frozenset({"rho", "M"})),
    ),
)


def _has_molar_volume(scene: Scene, species: Species) -> bool:
    return Quantity("molar_volume", species.id) in told(scene)


def _molar_volumes(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in scene.species.values():
        for amount in own_amounts(scene, species) if _has_molar_volume(scene, species) else ():
            binding = {
                "V": amount.as_kind("volume"),
                "n": amount,
                "Vm": Quantity("molar_volume", species.id),
            }
            yield Instance(law, binding)


MOLAR_VOLUME = Law(
    id="molar-volume",
    title="Molar volume",
    relation=n * Vm - V,
    instances=_molar_volumes,
    words={
        "V": "The amount times the molar volume at these conditions gives the volume.",
        "n": "The volume divided by the molar volume at the same conditions gives the amount.",
        "Vm": "The volume divided by the amount gives the molar volume.",
    },
    source="green-book-2007 2.10: Vm = V/n",
    misuses=(
        Misuse(
            "molar-volume-inverted",
            "molar volume used upside down",
            "Write the units beside each number: litres have to cancel where an amount is asked.",
            n - V * Vm,
            only_for=frozenset({"V", "n"}),
        ),
    ),
)


def _conditions(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in scene.species.values():
        if _has_molar_volume(scene, species):
            binding = {
                "Vm": Quantity("molar_volume", species.id),
                "p": Quantity("pressure", species.id),
                "R": Quantity("gas_constant", ""),
                "T": Quantity("temperature", species.id),
            }
            yield Instance(law, binding)


CONDITIONS = Law(
    id="molar-volume-at-conditions",
    title="Molar volume at a temperature and pressure",
    relation=p * Vm - R * T,
    instances=_conditions,
    words={"Vm": "The equation of state for one mole; the temperature is in kelvin."},
    source="green-book-2007 2.11: pVm = RT",
    misuses=(Misuse(CELSIUS, *CELSIUS_WORDS, p * Vm - R * (T - ZERO), everywhere=True, only_for=frozenset({"Vm"})),),
)


def _molar_volume_densities(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in scene.species.values():
        density = Quantity("density", species.id)
        if _has_molar_volume(scene, species) and density in told(scene):
            binding = {
                "rho": density,
                "Vm": Quantity("molar_volume", species.id),
                "M": Quantity("molar_mass", species.id),
            }
            yield Instance(law, binding)


MOLAR_VOLUME_DENSITY = Law(
    id="density-and-molar-volume",
    title="Density and molar volume",
    relation=rho * Vm - M,
    instances=_molar_volume_densities,
    words={
        "rho": "The molar mass divided by the molar volume gives the density.",
        "M": "The density times the molar volume at the same conditions gives the molar mass.",
        "Vm": "The molar mass divided by the density gives the molar volume.",
    },
    source="green-book-2007 2.10: Vm = M/ρ",
)


LAWS = (
    IDEAL_GAS,
    GAS_DENSITY,
    MOLAR_VOLUME,
    CONDITIONS,
    MOLAR_VOLUME_DENSITY,
)
