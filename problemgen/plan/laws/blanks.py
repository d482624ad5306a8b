"""Blank titrations: the same titration without the sample, and the difference of the two volumes."""

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
        yield Instance(law, {"more": more, "less": less, "net": net}, direct=direct)


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
            larger - between,
            only_for=frozenset({"net"}),
        ),
    ),
)


def _amounts(law: Law, scene: Scene) -> Iterator[Instance]:
    for name, back in _titrants(scene):
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

LAWS = (NET_VOLUME, NET_AMOUNT)
