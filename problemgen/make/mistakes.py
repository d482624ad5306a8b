"""Whether candidates show a usual mistake: whether it leads out of the window of at least one part."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np
import numpy.typing as npt

from problemgen.make.candidates import window_rows
from problemgen.make.ratios import may_come_to
from problemgen.model.expression import Expression
from problemgen.model.plan import Mistake, Plan
from problemgen.model.quantity import Quantity
from problemgen.model.template import Part, Template
from problemgen.plan.arithmetic import Batch, Window
from problemgen.plan.evaluate import mistaken_steps
from problemgen.plan.variations import rewrites_of
from problemgen.plan.windows import answer_window

__all__ = ["BATCH", "MARGIN", "Kept", "Mask", "Shown", "chosen_source", "numeric_parts", "shown_by"]

Mask = npt.NDArray[np.bool_]

BATCH = Batch()

MARGIN = 0.005
"""How far, relative to the value, a mistake's answer or a runner-up has to lie outside a window."""


@dataclass(frozen=True)
class Kept:
    """Some candidates, worked rightly: the windows of all quantities, those of the answers by part, and how many.

    `least` are the fewest figures of each one's data.
    """

    windows: Mapping[str, Window]
    answers: Mapping[str, Window]
    least: Any
    rows: int

    def taken(self, rows: npt.NDArray[np.int64]) -> Kept:
        """Some of the candidates."""
        windows = {name: window_rows(window, rows) for name, window in self.windows.items()}
        answers = {name: window_rows(window, rows) for name, window in self.answers.items()}
        return Kept(windows, answers, self.least[rows] if np.ndim(self.least) else self.least, rows.size)


@dataclass(frozen=True)
class Shown:
    """Which candidates show mistakes made together, and for which they make any odds at all.

    `at` is the id of the asked quantity that shows it for every candidate; "" where it takes several parts.
    """

    shown: Mask
    differs: Mask
    at: str = ""


def numeric_parts(template: Template) -> tuple[Part, ...]:
    """The parts whose answers have a value in the plan."""
    return tuple(part for part in template.parts if part.asked.numeric)


def shown_by(template: Template, mistakes: Sequence[Mistake], kept: Kept) -> Shown:
    """Which candidates show mistakes made together in at least one part, however the student rounds.

    No step is worked beyond the one that shows them for all.
    """
    if not kept.rows:
        return Shown(np.zeros(0, dtype=np.bool_), np.zeros(0, dtype=np.bool_))
    changed = mistaken_steps(template.plan, mistakes, kept.windows, kept.least, BATCH)
    shown = np.zeros(kept.rows, dtype=np.bool_)
    differs = np.zeros(kept.rows, dtype=np.bool_)
    rewritten = rewrites_of(mistakes)
    wrong, counts = kept.windows, _Counts(template.plan, rewritten, kept.windows)
    for name, wrong in changed:
        counts.worked(name, wrong)
        if name in rewritten:
            differs |= _clear(wrong[name], kept.windows[name])
        for part in (part for part in numeric_parts(template) if part.asked.quantity.id == name):
            answer = answer_window(template.plan, part.asked, wrong, BATCH)
            shown |= _clear(answer, kept.answers[part.id]) & (counts.surely_other if _counted(template, part) else True)
            if shown.all():
                return Shown(shown, shown, name)
    if any(part.asked.choice for part in template.parts):
        shown |= _chooses_otherwise(template, wrong, kept.windows)
    return Shown(shown, differs | shown)


class _Counts:
    """The whole numbers that mistakes change: whether one of them surely comes out otherwise, however one rounds.

    What builds on whole numbers that may come out right tells nothing by itself.
    """

    def __init__(self, plan: Plan, rewrites: Mapping[str, Expression], right: Mapping[str, Window]) -> None:
        expressions = {step.quantity.id: rewrites.get(step.quantity.id, step.expression) for step in plan.steps}
        self._expressions = {name: one for name, one in expressions.items() if one[0] in ("whole", "round")}
        self._plan, self._right = plan, right
        self._following: set[str] = set()
        self.surely_other: Any = True  # as long as none is changed, nothing is in doubt
        self._changed: list[Mask] = []

    def worked(self, name: str, wrong: Mapping[str, Window]) -> None:
        """Take in that a step was worked."""
        if name in self._expressions and name not in self._following:
            self._following |= _follow_from(self._plan, name)
            expression = self._expressions[name]
            counts = [self._right[one].value for one in self._beside(name, expression)]
            self._changed.append(~may_come_to(counts, expression, wrong))
            self.surely_other = np.logical_or.reduce(np.broadcast_arrays(*self._changed))

    def _beside(self, name: str, expression: Expression) -> list[str]:
        """The whole numbers that come from the same ratio, in its order; a rounded number comes alone."""
        if expression[0] == "round":
            return [name]
        ratio = {one[1]: other for other, one in self._expressions.items() if one[2:] == expression[2:]}
        return [ratio[index] for index in range(len(expression) - 2)]


@lru_cache(maxsize=4096)
def _follow_from(plan: Plan, name: str) -> frozenset[str]:
    """The quantities that build on one."""
    return frozenset(step.quantity.id for step in plan.stale([name])) - {name}


def _counted(template: Template, part: Part) -> bool:
    """Whether an answer rests on whole numbers, to which amounts are rounded."""
    step = template.plan.step(part.asked.quantity)
    return part.asked.form == "formula" or (step is not None and step.rounding == "whole")


def _chooses_otherwise(template: Template, wrong: Mapping[str, Window], right: Mapping[str, Window]) -> Mask:
    """Whether mistakes surely lead to another limiting reagent: the right one's extent is not what was gone on with."""
    overall = wrong.get(Quantity("extent", "").id)
    if overall is None:
        return np.zeros(1, dtype=np.bool_)
    chosen = chosen_source(template, _values(right))
    otherwise = np.zeros(chosen.shape, dtype=np.bool_)
    for index, source in enumerate(template.plan.sources):
        otherwise |= (chosen == index) & _clear(overall, wrong[Quantity("extent", source).id])
    return otherwise


def _clear(wrong: Window, right: Window) -> Mask:
    """Whether a mistaken window lies outside the right one, clear by the margin; who divides by zero has no answer."""
    margin = MARGIN * np.abs(right.value)
    outside = (wrong.low > right.high + margin) | (wrong.high < right.low - margin)
    return np.asarray(outside | ~np.isfinite(wrong.value))


def _values(windows: Mapping[str, Window]) -> Mapping[str, Any]:
    return {name: window.value for name, window in windows.items()}


def chosen_source(template: Template, values: Mapping[str, Any]) -> npt.NDArray[np.int64]:
    """Which source a worker names: the one whose extent was taken for the reaction's."""
    overall = values.get(Quantity("extent", "").id)
    if overall is None:
        return np.zeros(1, dtype=np.int64)
    extents = [values[Quantity("extent", source).id] for source in template.plan.sources]
    return np.asarray(np.argmin(np.abs(np.stack(np.broadcast_arrays(*extents)) - overall), axis=0), dtype=np.int64)
