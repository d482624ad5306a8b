"""Volumetric flasks: aliquots of what is in a flask, and serial dilutions from flask to flask."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from problemgen.language.messages import N_
from problemgen.model.problem import Scene
from problemgen.model.quantity import Quantity, Role
from problemgen.plan.table import Place, error, law

__all__ = ["LAWS"]


def _solution(species: str, dilutions: int) -> Quantity:
    """The concentration of a solution of a serial dilution: before, and after each step."""
    if not dilutions:
        return Quantity("concentration", species, Role.INITIAL)
    return Quantity("concentration", species, Role.DILUTED, stage=dilutions)


def _series(scene: Scene, species: str) -> list[Quantity]:
    """The concentrations of a species' serial dilution that the problem reaches; [] where it is none."""
    reached = [stage for stage in Role.DILUTED.stages if _solution(species, stage) in scene.told]
    return [_solution(species, stage) for stage in range(max(reached) + 1)] if reached else []


def _flasks(scene: Scene) -> Iterator[str]:
    """The species of which an aliquot is taken from a flask."""
    for species in scene.species.values():
        both = {Quantity("volume", species.id, Role.FLASK), Quantity("volume", species.id, Role.ALIQUOT)}
        if both <= scene.told and not _series(scene, species.id):
            yield species.id


ALIQUOT = law(
    "aliquot", N_("Aliquot of a flask"), "n / flask = aliquot / made_up",
    where={"n": "amount(X)", "flask": "amount(X,flask)", "aliquot": "volume(X,aliquot)", "made_up": "volume(X,flask)"},
    each=_flasks,
    says={
        "n": N_("The aliquot holds the same fraction of the amount as of the volume."),
        "flask": N_("The flask holds the aliquot's amount as many times as it holds its volume."),
        "aliquot": N_("The aliquot is the same fraction of the volume as of the amount."),
    },
    source="derived: a solution is the same throughout, so amounts go as volumes",
    errors=[
        error("aliquot-forgotten", "n = flask", N_("the aliquot forgotten"),
              N_("Was all that is in the flask used, or only a part of it?"), at="n flask"),
        error("aliquot-inverted", "n / flask = made_up / aliquot", N_("aliquot and flask exchanged"),
              N_("Does the flask hold more than the aliquot, or less?"), at="n flask"),
    ],
)  # fmt: skip


def _in_flask_and_aliquot(scene: Scene) -> Iterator[Place]:
    for name in _flasks(scene):
        yield Place(name, words={"held": "flask", "in": "flask"})
        yield Place(name, words={"held": "", "in": "aliquot"})


FLASK_CONCENTRATION = law(
    "flask-concentration", N_("Concentration in the flask"), "n = c V",
    where={"n": "amount(X,{held})", "c": "concentration(X)", "V": "volume(X,{in})"}, each=_in_flask_and_aliquot,
    told="c",
    says={
        "c": N_("The amount divided by the volume that it is in gives the concentration in flask and aliquot."),
        "n": N_("The amount concentration times the volume gives the amount."),
    },
    source="green-book-2007 2.10: c = n/V",
)  # fmt: skip


def _steps(scene: Scene) -> Iterator[Place]:
    for species in scene.species:
        for earlier, later in pairwise(_series(scene, species)):
            yield Place(species, words={"earlier": earlier.written_role, "later": later.written_role})


SERIAL = law(
    "serial-dilution", N_("One step of a serial dilution"), "after = before aliquot / made_up",
    where={"before": "concentration(X,{earlier})", "after": "concentration(X,{later})", "aliquot": "volume(X,aliquot)",
           "made_up": "volume(X,flask)"},
    each=_steps,
    says={
        "after": N_("Each step multiplies the concentration by the volume taken over the volume made up to."),
        "before": N_("Each step back multiplies the concentration by the volume made up to over the volume taken."),
    },
    source="derived: the amount is conserved, so c₁V₁ = c₂V₂",
    errors=[
        error("factor-inverted", "after = before made_up / aliquot", N_("dilution factor upside down"),
              N_("Is the solution stronger or weaker after the step?"), everywhere=True),
        error("flask-filled-beside", "after = before aliquot / (made_up + aliquot)",
              N_("the volume taken added to that of the flask"),
              N_("Is the flask's volume what was added, or what is in it at the mark?"), everywhere=True),
        error("step-left-out", "after = before", N_("one dilution left out"),
              N_("Count the flasks: how many times was the solution diluted?")),
    ],
)  # fmt: skip

LAWS = (ALIQUOT, FLASK_CONCENTRATION, SERIAL)
