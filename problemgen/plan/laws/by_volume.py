"""Contents by volume: volume percent, grams in a hundred millilitres, traces in water."""

from __future__ import annotations

from collections.abc import Iterator

from problemgen.model.problem import Scene
from problemgen.model.quantity import Quantity, Role
from problemgen.plan.constants import DILUTE
from problemgen.plan.law import Instance, Law, Misuse, letters

__all__ = ["LAWS"]

m, V, w, phi, gamma, solution, rho = letters("m V w phi gamma solution rho")


def _volume_percents(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in scene.species.values():
        share = Quantity("volume_fraction", species.id)
        if share in scene.given | scene.wanted:
            binding = {
                "V": Quantity("volume", species.id),
                "phi": share,
                "solution": Quantity("volume", species.id, Role.SOLUTION),
            }
            yield Instance(law, binding)


VOLUME_PERCENT = Law(
    id="volume-percent",
    title="Volume percent of a solution",
    relation=phi * solution - V,
    instances=_volume_percents,
    words={
        "V": "The volume of the solution times its volume percent gives the volume of the pure liquid.",
        "solution": "The volume of the pure liquid divided by the volume percent gives the volume of the solution.",
        "phi": "The volume of the pure liquid divided by that of the solution gives the volume percent.",
    },
    source="oiml-r22-1975: alcoholic strength by volume; green-book-2007 2.10: volume fraction φ",
    misuses=(
        Misuse(
            "volume-percent-left-out",
            "volume percent left out",
            "Only a part of the solution is the liquid: what does the percentage by volume say?",
            solution - V,
            only_for=frozenset({"V", "solution"}),
        ),
        Misuse(
            "volume-percent-divided",
            "volume percent used upside down",
            "Can the pure liquid take up more room than the solution?",
            solution / phi - V,
            only_for=frozenset({"V", "solution"}),
        ),
    ),
)


def _per_volumes(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in scene.species.values():
        content = Quantity("mass_volume_percent", species.id)
        if content in scene.given | scene.wanted:
            binding = {
                "gamma": content,
                "m": Quantity("mass", species.id),
                "V": Quantity("volume", species.id, Role.SOLUTION),
            }
            yield Instance(law, binding)


MASS_PER_VOLUME = Law(
    id="mass-per-volume-percent",
    title="Grams in a hundred millilitres",
    relation=gamma * V - m,
    instances=_per_volumes,
    words={
        "gamma": "The mass of the solute divided by the volume of the solution, in grams per 100 mL.",
        "m": "The grams per 100 mL times the volume of the solution give the mass of the solute.",
        "V": "The mass of the solute divided by the grams per 100 mL gives the volume of the solution.",
    },
    source="green-book-2007 2.10: γ = m/V; common-practice: percent by mass per volume",
    misuses=(
        Misuse(
            "per-litre-for-percent",
            "grams per litre in the place of grams in 100 mL",
            "A percent is a part of a hundred: grams in which volume?",
            gamma * V - 10 * m,
        ),
    ),
)


def _traces(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in scene.species.values():
        trace = Quantity("trace_fraction", species.id)
        if trace in scene.given | scene.wanted:
            binding = {
                "w": trace,
                "rho": DILUTE,
                "m": Quantity("mass", species.id),
                "V": Quantity("volume", species.id, Role.SOLUTION),
            }
            yield Instance(law, binding)


TRACE = Law(
    id="trace",
    title="Traces in water",
    relation=rho * w * V - m,
    instances=_traces,
    words={
        "m": "One litre of a dilute solution in water weighs very nearly one kilogram: 1 ppm is 1 mg in a litre.",
        "w": "One litre of a dilute solution in water weighs very nearly one kilogram: 1 mg in a litre is 1 ppm.",
        "V": "One litre of a dilute solution in water weighs very nearly one kilogram: 1 ppm is 1 mg in a litre.",
    },
    source="common-practice: density of dilute aqueous solutions taken as 1.00 g/mL",
    misuses=(
        Misuse(
            "ppm-as-percent",
            "parts per million taken as percent",
            "How many parts in all does one part belong to?",
            10**4 * rho * w * V - m,
        ),
        Misuse(
            "ppm-and-ppb",
            "parts per million and per billion mixed up",
            "Which part of a gram is in each kilogram: a thousandth or a millionth?",
            1000 * rho * w * V - m,
        ),
    ),
)

LAWS = (VOLUME_PERCENT, MASS_PER_VOLUME, TRACE)
