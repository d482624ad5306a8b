"""Naming usual mistakes: the reason code, the sentence, and where they were made."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction

from problemgen.grade.findings import Finding
from problemgen.model.plan import Mistake, Plan

__all__ = ["code_of", "hint_of", "named"]


def code_of(explanations: Sequence[Sequence[Mistake]]) -> str:
    """The reason code of usual mistakes: those made together joined by "+", what cannot be told apart by "|"."""
    return "|".join("+".join(mistake.id for mistake in together) for together in explanations)


def hint_of(explanations: Sequence[Sequence[Mistake]]) -> str:
    """What the student is told about usual mistakes: each explanation is of one, or of several made together."""
    titles = list(dict.fromkeys(" together with ".join(_titles(together)) for together in explanations))
    hints = dict.fromkeys(mistake.hint for together in explanations for mistake in together)
    if len(titles) > 1:
        opening = "This looks like one of: "
    elif len(_titles(explanations[0])) > 1:
        opening = "This looks like two mistakes at once: "
    else:
        opening = "This looks like: "
    return f"{opening}{'; '.join(titles)}. {' '.join(hints)}"


def _titles(together: Iterable[Mistake]) -> list[str]:
    return list(dict.fromkeys(mistake.title for mistake in together))


def named(explanations: Sequence[Sequence[Mistake]], plan: Plan, share: Fraction) -> Finding:
    """The finding that names usual mistakes."""
    mistakes = [mistake for together in explanations for mistake in together]
    rewritten = {name for mistake in mistakes for name, _ in mistake.rewrites}
    return Finding(
        "mistake",
        code_of(explanations),
        hint_of(explanations),
        share,
        tuple(dict.fromkeys(mistake.id for mistake in mistakes)),
        tuple(step.quantity.id for step in plan.steps if step.quantity.id in rewritten),
    )
