"""Whether candidates hide two usual mistakes made together.

Each of the two shows by itself; together they may come out right by coincidence, and then the candidate is not handed
out. Two that rewrite one step cannot be made together. Where a pair leads to exactly the right numbers in all parts
whatever the numbers given (the ratio left out on the way in and on the way back), one undoes the other: no sheet can
tell, and nothing is rewarded.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations
from typing import Any

import numpy as np
import numpy.typing as npt

from problemgen.chemistry.units import read_unit
from problemgen.make.mistakes import BATCH, Kept, Mask, Shown, shown_by
from problemgen.model.expression import Expression
from problemgen.model.plan import Mistake, Plan, Step
from problemgen.model.template import Template
from problemgen.plan.evaluate import evaluate
from problemgen.plan.forms import form_of
from problemgen.plan.windows import in_unit

__all__ = ["EXACTLY", "Pair", "hidden_by_pairs", "led_to", "pairs_of"]

Rows = npt.NDArray[np.int64]

EXACTLY = 1e-12
"""How far apart, relatively, one number may come out in floats when it is worked in two ways.

A thousand operations, each with 1e-16, stay within it; a mistake that changes anything changes more.
"""

_FAR = 0.25
"""Beyond this, relative to the value, no rounding brings a mistaken answer back into a window.

Three times the widest half-width of a window (8 %). It only saves work: what is nearer is judged in full.
"""


@dataclass(frozen=True)
class Pair:
    """Two mistakes that can be made together: the steps that they rewrite, and all that change, in order."""

    first: Mistake
    second: Mistake
    rewrites: Mapping[str, Expression]
    steps: tuple[Step, ...]


@lru_cache(maxsize=256)
def pairs_of(plan: Plan) -> tuple[Pair, ...]:
    """The pairs of a plan's mistakes that do not rewrite the same step."""
    rewrites = {mistake.id: dict(mistake.rewrites) for mistake in plan.mistakes}
    found = []
    for one, other in combinations(plan.mistakes, 2):
        if rewrites[one.id].keys().isdisjoint(rewrites[other.id]):
            both = {**rewrites[one.id], **rewrites[other.id]}
            found.append(Pair(one, other, both, plan.stale(both)))
    return tuple(found)


@lru_cache(maxsize=8192)
def _touched(plan: Plan, mistake: Mistake) -> frozenset[str]:
    """The quantities that a mistake may change."""
    return frozenset(step.quantity.id for step in plan.stale(name for name, _ in mistake.rewrites))


def hidden_by_pairs(
    template: Template, kept: Kept, shown: Mapping[str, Shown], rows: Rows, trial: Callable[[], Kept]
) -> Mask:
    """Which candidates hide some pair; `shown` tells of each mistake where it shows by itself.

    `rows` are the candidates of `kept` to look at. `trial` gives candidates on which is seen
    whether two mistakes always undo each other; it is called only where two do for a candidate.
    """
    looked_at = kept.taken(rows)
    hidden = np.zeros(rows.size, dtype=np.bool_)
    if not rows.size:
        return hidden
    values = {name: window.value for name, window in looked_at.windows.items()}
    for pair in pairs_of(template.plan):
        first, second = shown[pair.first.id], shown[pair.second.id]
        if not _apart(template.plan, pair, first, second):
            made = _made(pair.first, first, rows) | _made(pair.second, second, rows)
            hidden |= _hidden(template, pair, looked_at, values, made & ~hidden, trial)
    return hidden


def _apart(plan: Plan, pair: Pair, first: Shown, second: Shown) -> bool:
    """Whether one of the two shows for every candidate in a part that the other does not touch."""
    return bool(
        (first.at and first.at not in _touched(plan, pair.second))
        or (second.at and second.at not in _touched(plan, pair.first))
    )


def _made(mistake: Mistake, shown: Shown, rows: Rows) -> Mask:
    return shown.differs[rows] | (not mistake.harmless)


def _hidden(
    template: Template, pair: Pair, kept: Kept, values: Mapping[str, Any], made: Mask, trial: Callable[[], Kept]
) -> Mask:
    near, same = led_to(template, pair, kept, values)
    hidden = np.zeros(kept.rows, dtype=np.bool_)
    doubtful = np.flatnonzero(near & made)
    if doubtful.size:
        hidden[doubtful] = ~shown_by(template, (pair.first, pair.second), kept.taken(doubtful)).shown
    if (hidden & same).any() and _undoes(template, pair, trial()):
        hidden &= ~same
    return hidden


def _undoes(template: Template, pair: Pair, kept: Kept) -> bool:
    """Whether one mistake undoes the other for all candidates."""
    _, same = led_to(template, pair, kept, {name: window.value for name, window in kept.windows.items()})
    return bool(same.all())


def led_to(template: Template, pair: Pair, kept: Kept, values: Mapping[str, Any]) -> tuple[Mask, Mask]:
    """Where a pair leads near to the right answers in all parts, and where to exactly those.

    No step is worked beyond the one that leads far away for all candidates.
    """
    near = np.ones(kept.rows, dtype=np.bool_)
    same = np.ones(kept.rows, dtype=np.bool_)
    asked = {part.asked.quantity.id: part for part in kept.parts(template)}
    wrong = dict(values)
    for step in pair.steps:
        name = step.quantity.id
        wrong[name] = evaluate(pair.rewrites.get(name, step.expression), wrong, BATCH)
        if name in asked:
            answer, right = in_unit(wrong[name], read_unit(asked[name].asked.unit), BATCH), kept.answers[asked[name].id]
            far = _FAR * np.abs(right.value)
            near &= (answer >= right.low - far) & (answer <= right.high + far)
            if not near.any():
                return near, near
            same &= np.abs(wrong[name] - values[name]) <= EXACTLY * np.abs(values[name])
    for part in template.parts:
        right_one = form_of(part.asked).names_the_same(template.plan, values, wrong)
        near, same = near & right_one, same & right_one
    return near, same
