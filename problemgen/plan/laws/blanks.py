"""Differences of two titrations: a sample beside its blank, the total base of an organometallic beside the residual."""

from __future__ import annotations

from collections.abc import Iterator

from problemgen.model.expression import Expression
from problemgen.model.problem import Scene
from problemgen.model.quantity import Quantity, Role
from problemgen.plan.law import Instance, Law, Misuse, difference, letters
from problemgen.plan.laws.back_titrations import titrated_back

__all__ = ["LAWS"]

n, c, larger, smaller, between = letters("n c more less net")


def _titrants(scene: Scene) -> Iterator[tuple[str, bool]]:
    """The titrants of which a blank is told, and whether they titrate back: then the blank takes more."""
    back = {one.titrant for one in titrated_back(scene)}
    for name in scene.species:
        if Quantity("volume", name, Role.BLANK) in scene.given:
            yield name, name in back


def _volumes(law: Law, scene: Scene) -> Iterator[Instance]:
    for name, back in _titrants(scene):
        roles = (Role.BLANK, Role.WITH_SAMPLE) if back else (Role.WITH_SAMPLE, Role.BLANK)
        more, less, net = (Quantity("volume", name, role) for role in (*roles, Role.NET))
        direct: dict[str, Expression] = {
            "net": difference(more, less),
            "less": difference(more, net),
            "more": ("add", less.id, net.id),
        }
        mistaken: dict[tuple[str, str], Expression] = {
            ("blank-left-out", "net"): Quantity("volume", name, Role.WITH_SAMPLE).id,
            ("blank-alone", "net"): Quantity("volume", name, Role.BLANK).id,
        }
        yield Instance(law, {"more": more, "less": less, "net": net}, direct=direct, mistaken=mistaken)


NET_VOLUME = Law(
    id="blank",
    title="Blank titration",
    relation=larger - smaller - between,
    instances=_volumes,
    words={
        "net": "The difference of the two volumes is what the sample accounts for.",
        "more": "The smaller volume and what the sample accounts for make the larger one.",
        "less": "What the sample accounts for is taken from the larger volume.",
    },
    source="orange-book-1998 6: blank titration",
    misuses=(
        Misuse(
            "blank-added",
            "blank and sample added",
            "The blank shows what the titration takes without the sample: does the sample account for the sum?",
            larger + smaller - between,
            only_for=frozenset({"net"}),
        ),
        Misuse(
            "blank-left-out",
            "the blank left out",
            "The blank was titrated too: what would the burette show without any sample?",
            None,
        ),
        Misuse(
            "blank-alone",
            "the blank alone",
            "The blank was titrated without any sample: where does the sample come in?",
            None,
        ),
    ),
)


def _double(scene: Scene) -> Iterator[str]:
    """The acids that titrate both the total and the residual base."""
    both = (Role.TOTAL_BASE, Role.RESIDUAL_BASE)
    yield from (name for name in scene.species if {Quantity("volume", name, role) for role in both} <= scene.given)


def _bases(law: Law, scene: Scene) -> Iterator[Instance]:
    for name in _double(scene):
        more, less, net = (Quantity("volume", name, r) for r in (Role.TOTAL_BASE, Role.RESIDUAL_BASE, Role.NET))
        yield Instance(law, {"more": more, "less": less, "net": net}, direct={"net": difference(more, less)})


RESIDUAL_BASE = Law(
    id="residual-base",
    title="Total and residual base",
    relation=larger - smaller - between,
    instances=_bases,
    words={
        "net": "Hydroxide and alkoxide are titrated both times: only the difference is the organometallic compound.",
    },
    source="common-practice: double titration of an organometallic reagent, the total base less the residual base",
    misuses=(
        Misuse(
            "residual-left-out",
            "the total base taken for the organometallic compound",
            "What else in an old bottle takes up acid?",
            larger - between,
        ),
        Misuse(
            "residual-added",
            "total and residual base added",
            "Is the residual base a part of the total, or beside it?",
            larger + smaller - between,
        ),
        Misuse(
            "residual-alone",
            "the residual base taken for the organometallic compound",
            "Which of the two aliquots was rid of the organometallic compound before it was titrated?",
            smaller - between,
        ),
    ),
)


def _amounts(law: Law, scene: Scene) -> Iterator[Instance]:
    for name, back in (*_titrants(scene), *((name, False) for name in _double(scene))):
        amount = Quantity("amount", name, Role.NET if back else Role.PLAIN)
        binding = {"n": amount, "c": Quantity("concentration", name), "net": Quantity("volume", name, Role.NET)}
        yield Instance(law, binding)


NET_AMOUNT = Law(
    id="blank-amount",
    title="Amount that the sample accounts for",
    relation=c * between - n,
    instances=_amounts,
    words={
        "n": "The amount concentration times the difference of the volumes gives the amount.",
        "c": "The amount divided by the difference of the volumes gives the amount concentration.",
        "net": "The amount divided by the amount concentration gives the difference of the volumes.",
    },
    source="green-book-2007 2.10: c = n/V",
)

LAWS = (NET_VOLUME, RESIDUAL_BASE, NET_AMOUNT)
