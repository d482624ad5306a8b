"""Volumetric flasks: aliquots of what is in a flask, and serial dilutions from flask to flask."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from problemgen.model.problem import Scene
from problemgen.model.quantity import Quantity, Role
from problemgen.plan.law import Instance, Law, Misuse, letters

__all__ = ["LAWS"]

n, flask, made_up, aliquot, before, after, c, V = letters("n flask made_up aliquot before after c V")


def _solution(species: str, dilutions: int) -> Quantity:
    """The concentration of a solution of a serial dilution: before, and after each step."""
    if not dilutions:
        return Quantity("concentration", species, Role.INITIAL)
    return Quantity("concentration", species, Role.DILUTED, stage=dilutions)


def _series(scene: Scene, species: str) -> list[Quantity]:
    """The concentrations of a species' serial dilution that the problem reaches; [] where it is none."""
    told = scene.given | scene.wanted
    reached = [stage for stage in Role.DILUTED.stages if _solution(species, stage) in told]
    return [_solution(species, stage) for stage in range(max(reached) + 1)] if reached else []


def _flasks(scene: Scene) -> Iterator[str]:
    """The species of which an aliquot is taken from a flask."""
    told = scene.given | scene.wanted
    for species in scene.species.values():
        both = {Quantity("volume", species.id, Role.FLASK), Quantity("volume", species.id, Role.ALIQUOT)}
        if both <= told and not _series(scene, species.id):
            yield species.id


def _aliquots(law: Law, scene: Scene) -> Iterator[Instance]:
    for name in _flasks(scene):
        binding = {
            "n": Quantity("amount", name),
            "flask": Quantity("amount", name, Role.FLASK),
            "aliquot": Quantity("volume", name, Role.ALIQUOT),
            "made_up": Quantity("volume", name, Role.FLASK),
        }
        yield Instance(law, binding)


ALIQUOT = Law(
    id="aliquot",
    title="Aliquot of a flask",
    relation=flask * aliquot - n * made_up,
    instances=_aliquots,
    words={
        "n": "The aliquot holds the same fraction of the amount as of the volume.",
        "flask": "The flask holds the aliquot's amount as many times as it holds its volume.",
        "aliquot": "The aliquot is the same fraction of the volume as of the amount.",
    },
    source="derived: a solution is the same throughout, so amounts go as volumes",
    misuses=(
        Misuse(
            "aliquot-forgotten",
            "the aliquot forgotten",
            "Was all that is in the flask used, or only a part of it?",
            flask - n,
            only_for=frozenset({"n", "flask"}),
        ),
        Misuse(
            "aliquot-inverted",
            "aliquot and flask exchanged",
            "Does the flask hold more than the aliquot, or less?",
            flask * made_up - n * aliquot,
            only_for=frozenset({"n", "flask"}),
        ),
    ),
)


def _flask_concentrations(law: Law, scene: Scene) -> Iterator[Instance]:
    for name in _flasks(scene):
        strength = Quantity("concentration", name)
        for role, volume in ((Role.FLASK, Role.FLASK), (Role.PLAIN, Role.ALIQUOT)):
            binding = {"n": Quantity("amount", name, role), "c": strength, "V": Quantity("volume", name, volume)}
            if strength in scene.given | scene.wanted:
                yield Instance(law, binding)


FLASK_CONCENTRATION = Law(
    id="flask-concentration",
    title="Concentration in the flask",
    relation=c * V - n,
    instances=_flask_concentrations,
    words={
        "c": "The amount divided by the volume that it is in gives the concentration in flask and aliquot.",
        "n": "The amount concentration times the volume gives the amount.",
    },
    source="green-book-2007 2.10: c = n/V",
)


def _steps(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in scene.species.values():
        for earlier, later in pairwise(_series(scene, species.id)):
            binding = {
                "before": earlier,
                "after": later,
                "aliquot": Quantity("volume", species.id, Role.ALIQUOT),
                "made_up": Quantity("volume", species.id, Role.FLASK),
            }
            yield Instance(law, binding)


SERIAL = Law(
    id="serial-dilution",
    title="One step of a serial dilution",
    relation=before * aliquot - after * made_up,
    instances=_steps,
    words={
        "after": "Each step multiplies the concentration by the volume taken over the volume made up to.",
        "before": "Each step back multiplies the concentration by the volume made up to over the volume taken.",
    },
    source="derived: the amount is conserved, so c₁V₁ = c₂V₂",
    misuses=(
        Misuse(
            "factor-inverted",
            "dilution factor upside down",
            "Is the solution stronger or weaker after the step?",
            before * made_up - after * aliquot,
            everywhere=True,
        ),
        Misuse(
            "flask-filled-beside",
            "the volume taken added to that of the flask",
            "Is the flask's volume what was added, or what is in it at the mark?",
            before * aliquot - after * (made_up + aliquot),
            everywhere=True,
        ),
        Misuse(
            "step-left-out",
            "one dilution left out",
            "Count the flasks: how many times was the solution diluted?",
            before - after,
        ),
    ),
)

LAWS = (ALIQUOT, FLASK_CONCENTRATION, SERIAL)
