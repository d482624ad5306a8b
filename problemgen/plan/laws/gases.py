"""Gases: the equation of state of the ideal gas."""

from __future__ import annotations

from collections.abc import Iterator

from problemgen.model.problem import Scene
from problemgen.model.quantity import Quantity
from problemgen.plan.law import Instance, Law, Misuse, letters
from problemgen.plan.laws.amounts import stages

__all__ = ["LAWS"]

p, V, n, R, T = letters("p V n R T")


def _gases(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in scene.species.values():
        for role in stages(scene, species):
            binding = {
                "p": Quantity("pressure", species.id),
                "V": Quantity("volume", species.id, role),
                "n": Quantity("amount", species.id, role),
                "R": Quantity("gas_constant", ""),
                "T": Quantity("temperature", species.id),
            }
            yield Instance(law, binding)


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
    source="IUPAC Green Book, 3rd ed. 2007, section 2.11; R exact since SI 2019",
    misuses=(
        Misuse(
            "celsius-for-kelvin",
            "degrees Celsius taken for kelvin",
            "The gas law wants the temperature above absolute zero: in which unit did it enter?",
            100 * (p * V - n * R * T) + n * R * 27315,
            only_for=frozenset({"n", "V", "p"}),
        ),
    ),
)

LAWS = (IDEAL_GAS,)
