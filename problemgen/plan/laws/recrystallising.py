"""Recrystallising: the solvent that dissolves a crude product hot, and what stays dissolved in it when it is cold."""

from __future__ import annotations

from collections.abc import Iterator

from problemgen.model.problem import Scene
from problemgen.model.quantity import Quantity, Role
from problemgen.plan.law import Instance, Law, Misuse, letters

__all__ = ["LAWS"]

S, V, m, other = letters("S V m other")


def _solubilities(scene: Scene, role: Role) -> Iterator[str]:
    """The species whose solubility in a role is told."""
    yield from (name for name in scene.species if Quantity("solubility", name, role) in scene.given | scene.wanted)


def _dissolved(law: Law, scene: Scene) -> Iterator[Instance]:
    for name in _solubilities(scene, Role.HOT):
        binding = {
            "S": Quantity("solubility", name, Role.HOT),
            "V": Quantity("volume", name, Role.SOLVENT),
            "m": Quantity("mass", name, Role.CRUDE),
        }
        yield Instance(law, binding, extra={"other": Quantity("solubility", name, Role.COLD).id})


_SOURCE = "common-practice: a solubility is told as the mass that 100 mL of the solvent dissolve"

HOT = Law(
    id="dissolved-hot",
    title="Solvent to dissolve it hot",
    relation=S * V - m,
    instances=_dissolved,
    words={
        "V": "The mass over the solubility in the hot solvent is the least volume that dissolves it.",
        "m": "The volume times the solubility in the hot solvent is the most that it dissolves.",
    },
    source=_SOURCE,
    misuses=(
        Misuse(
            "cold-for-hot",
            "the other solubility used",
            "At which temperature is it dissolved, and at which are the crystals filtered off?",
            other * V - m,
        ),
        Misuse(
            "hundred-forgotten",
            "the hundred millilitres of the solubility forgotten",
            "The solubility is told for how many millilitres of solvent?",
            100 * S * V - m,
        ),
        Misuse(
            "solubility-multiplied",
            "multiplied by the solubility in place of divided",
            "Does a better solvent take more of itself, or less?",
            m * S - 10**4 * V,  # in grams, grams in 100 mL and millilitres
            only_for=frozenset({"V"}),
        ),
    ),
)


def _staying(law: Law, scene: Scene) -> Iterator[Instance]:
    for name in _solubilities(scene, Role.COLD):
        binding = {
            "S": Quantity("solubility", name, Role.COLD),
            "V": Quantity("volume", name, Role.SOLVENT),
            "m": Quantity("mass", name, Role.LOST),
        }
        yield Instance(law, binding, extra={"other": Quantity("solubility", name, Role.HOT).id})


COLD = Law(
    id="dissolved-cold",
    title="What stays in the cold mother liquor",
    relation=S * V - m,
    instances=_staying,
    words={
        "m": "The volume of the solvent times the solubility in the cold stays dissolved, and is lost.",
        "V": "What is lost over the solubility in the cold is the volume of the solvent.",
    },
    source=_SOURCE,
    misuses=HOT.misuses[:2],
)

LAWS = (HOT, COLD)
