"""What may have been worked in the place of each step of a template, as the practice page has it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from problemgen.language.messages import _
from problemgen.model.answers import TemplateKey
from problemgen.model.fixed import Datum
from problemgen.model.plan import Step
from problemgen.plan.evaluate import is_near
from problemgen.plan.tellings import telling_of
from problemgen.plan.tries import Try, moves_point, tries_of, units_on_sheet

__all__ = ["tries_data"]


def tries_data(key: TemplateKey, given: Mapping[str, Datum]) -> dict[str, Any]:
    """The tries at each step of a plan, and at each step of its routes that is off it; None for one on it.

    A try is its id, how it goes astray, its rank, its group, the expression, the title and the sentence to the student,
    and whether only the decimal point moves. `given` are the given values of any variant: all have the same units.
    """
    plan = key.plan
    tries = tries_of(plan, units_on_sheet(plan, given))

    def told(step: Step) -> list[list[Any]]:
        return list(_told(key, step, tries[step]))

    return {
        "steps": [told(step) for step in plan.steps],
        "routes": [
            {
                "near": is_near(plan, route),
                "tries": [None if plan.step(step.quantity) == step else told(step) for step in route.steps],
            }
            for route in plan.routes
        ],
    }


def _told(key: TemplateKey, step: Step, tries: Iterable[Try]) -> Iterable[list[Any]]:
    for one in tries:
        telling = telling_of(key.scene, step, one)
        yield [
            *(one.mistake.id, one.how, one.rank, one.group, one.expression),
            *(_(telling.title), telling.sentence, moves_point(step, one)),
        ]
