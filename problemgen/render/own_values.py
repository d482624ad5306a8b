"""The values that a student measures, as answers.json carries them: with their columns and their words."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from typing import Any

from problemgen.exact.rounding import outward_text
from problemgen.model.own_data import OwnKey, own_column
from problemgen.model.problem_set import SetProblem
from problemgen.model.quantity import Quantity
from problemgen.plan.answering import KEY_FIGURES
from problemgen.render.symbols import quantity_words

__all__ = ["own_data", "own_keys"]


def own_keys(problem: SetProblem) -> tuple[OwnKey, ...]:
    """The own values of a problem in the set's order, with words from its template."""
    if not problem.own:
        return ()
    (template,) = problem.templates
    return tuple(
        OwnKey(
            own_column(problem.id, value.name),
            quantity_words(template.scene, value.quantity),
            quantity_words(template.scene, value.share_of) if value.share_of else "",
            value,
        )
        for value in problem.own
    )


def own_data(keys: Iterable[OwnKey]) -> list[dict[str, Any]]:
    """Own values, ready for JSON."""
    return [_own(key) for key in keys]


def _own(key: OwnKey) -> dict[str, Any]:
    value = key.value
    return {
        "column": key.column,
        "name": value.name,
        "quantity": _quantity(value.quantity),
        "words": key.words,
        "unit": value.unit,
        "low": outward_text(value.low, KEY_FIGURES, up=False),
        "high": outward_text(value.high, KEY_FIGURES, up=True),
        "share_of": _quantity(value.share_of) if value.share_of else None,
        "share_words": key.share_words,
        "step": value.step.text if value.step else "",
        "instrument": value.instrument,
        "capacity": _exact(value.capacity),
    }


def _quantity(quantity: Quantity) -> list[str]:
    return [quantity.kind, quantity.of, quantity.written_role]


def _exact(capacity: Fraction | None) -> str:
    return "" if capacity is None else outward_text(capacity, KEY_FIGURES, up=True)
