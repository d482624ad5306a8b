"""Whether candidates hide two usual mistakes made together.

Each of the two shows by itself; together they may come out right by coincidence, and then the candidate is not handed
out. Two that rewrite one step cannot be made together. Where nearly all candidates with the same limiting reagent hide
a pair (the ratio left out on the way in and on the way back), no drawn numbers can tell it: it is not owed.
"""

from __future__ import annotations

from collections.abc import Callable, Container, Mapping
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations
from typing import Any

import numpy as np
import numpy.typing as npt

from problemgen.chemistry.units import read_unit
from problemgen.make.duties import COULD_SHOW
from problemgen.make.limiting import Places
from problemgen.make.mistakes import BATCH, Kept, Mask, Shown, shown_by
from problemgen.model.expression import Expression
from problemgen.model.plan import Mistake, Plan, Step
from problemgen.model.template import Template
from problemgen.plan.arithmetic import in_unit
from problemgen.plan.evaluate import evaluate
from problemgen.plan.forms import form_of

__all__ = ["Pair", "PairsOwed", "led_near", "pairs_of"]

Rows = npt.NDArray[np.int64]

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


class PairsOwed:
    """Judges which candidates hide a pair of the mistakes that they owe to show.

    `trial` gives candidates of a trial draw, with the places of who limits in each: on them is seen which pairs cannot
    show. It is called only where some candidate hides a pair.
    """

    def __init__(
        self, template: Template, owed: Container[Mistake], trial: Callable[[], tuple[Kept, Places | None]]
    ) -> None:
        """For one template; no pair is looked at yet."""
        self._template, self._trial = template, trial
        self._pairs = [pair for pair in pairs_of(template.plan) if pair.first in owed and pair.second in owed]
        self._unowed: dict[tuple[str, str], frozenset[int]] = {}

    def hidden(self, kept: Kept, shown: Mapping[str, Shown], rows: Rows, limiting: Places | None) -> Mask:
        """Which candidates hide some pair; `shown` tells of each mistake where it shows by itself.

        `rows` are the candidates of `kept` to look at, `limiting` the places of who limits in each of `kept`.
        """
        looked_at = kept.taken(rows)
        hidden = np.zeros(rows.size, dtype=np.bool_)
        if not rows.size:
            return hidden
        values = {name: window.value for name, window in looked_at.windows.items()}
        for pair in self._pairs:
            first, second = shown[pair.first.id], shown[pair.second.id]
            if not _apart(self._template.plan, pair, first, second):
                made = _made(pair.first, first, rows) | _made(pair.second, second, rows)
                by_pair = _hidden(self._template, pair, looked_at, values, made & ~hidden)
                if by_pair.any():
                    hidden |= by_pair & self._is_owed(pair, rows, limiting)
        return hidden

    def _is_owed(self, pair: Pair, rows: Rows, limiting: Places | None) -> Mask:
        """Where other numbers could show the pair, with who limits there."""
        key = (pair.first.id, pair.second.id)
        if key not in self._unowed:
            self._unowed[key] = self._never_shown(pair)
        places = np.zeros(rows.size, dtype=np.int64) if limiting is None else limiting[rows]
        return ~np.isin(places, list(self._unowed[key]))

    def _never_shown(self, pair: Pair) -> frozenset[int]:
        """With whom as the limiting reagent hardly any numbers show the pair, by the place."""
        kept, limiting = self._trial()
        values = {name: window.value for name, window in kept.windows.items()}
        hidden = _hidden(self._template, pair, kept, values, np.ones(kept.rows, dtype=np.bool_))
        places = np.zeros(kept.rows, dtype=np.int64) if limiting is None else limiting
        return frozenset(
            place for place in np.unique(places).tolist() if np.mean(~hidden[places == place]) < COULD_SHOW
        )


def _apart(plan: Plan, pair: Pair, first: Shown, second: Shown) -> bool:
    """Whether one of the two shows for every candidate in a part that the other does not touch."""
    return bool(
        (first.at and first.at not in _touched(plan, pair.second))
        or (second.at and second.at not in _touched(plan, pair.first))
    )


def _made(mistake: Mistake, shown: Shown, rows: Rows) -> Mask:
    return shown.differs[rows] | (not mistake.harmless)


def _hidden(template: Template, pair: Pair, kept: Kept, values: Mapping[str, Any], made: Mask) -> Mask:
    hidden = np.zeros(kept.rows, dtype=np.bool_)
    doubtful = np.flatnonzero(led_near(template, pair, kept, values) & made)
    if doubtful.size:
        hidden[doubtful] = ~shown_by(template, (pair.first, pair.second), kept.taken(doubtful)).shown
    return hidden


def led_near(template: Template, pair: Pair, kept: Kept, values: Mapping[str, Any]) -> Mask:
    """Where a pair leads near to the right answers in all parts.

    No step is worked beyond the one that leads far away for all candidates.
    """
    near = np.ones(kept.rows, dtype=np.bool_)
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
                return near
    for part in template.parts:
        near = near & form_of(part.asked).names_the_same(template.plan, values, wrong)
    return near
