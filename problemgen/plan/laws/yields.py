"""Yield: what was obtained against what the limiting reagent allows."""

from __future__ import annotations

from collections.abc import Iterator

from problemgen.model.expression import Expression
from problemgen.model.problem import Scene
from problemgen.model.quantity import Quantity
from problemgen.plan.law import Instance, Law, Misuse, letters

__all__ = ["LAWS"]

Y, actual, theoretical, reagent = letters("Y actual theoretical reagent")


def _yields(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in scene.products:
        for kind in ("mass", "amount"):
            obtained = Quantity(kind, species.id, "actual")
            if kind == "amount" and obtained not in scene.given | scene.wanted:
                continue
            extra: dict[str, Expression] = {}
            if scene.competing:
                extra["reagent"] = Quantity(kind, scene.competing[0].id).id
            binding = {
                "Y": Quantity("percent_yield", species.id),
                "actual": obtained,
                "theoretical": Quantity(kind, species.id, "theoretical"),
            }
            yield Instance(law, binding, extra=extra)


PERCENT_YIELD = Law(
    id="percent-yield",
    title="Percent yield",
    relation=Y * theoretical - actual,
    instances=_yields,
    words={
        "Y": "The percent yield is what was obtained over what was possible.",
        "actual": "The theoretical yield times the percent yield is what is obtained.",
        "theoretical": "What is obtained divided by the percent yield is what has to be possible.",
    },
    source="IUPAC Gold Book: yield",
    misuses=(
        Misuse(
            "yield-inverted",
            "percent yield upside down",
            "Can more be obtained than is possible? What belongs below the line?",
            actual * Y - theoretical,
        ),
        Misuse(
            "yield-against-reagent",
            "the product compared with what was taken of a reagent",
            "A yield compares the product with the most that could have formed of it, not with what was weighed in.",
            Y * reagent - actual,
            only_for=frozenset({"Y"}),
        ),
    ),
)

LAWS = (PERCENT_YIELD,)
