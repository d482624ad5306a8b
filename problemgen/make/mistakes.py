"""Whether candidates show a usual mistake: whether it leads out of the window of at least one part."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import Any, TypeAlias

import numpy as np
import numpy.typing as npt

from problemgen.make.candidates import window_rows
from problemgen.make.ratios import may_come_to
from problemgen.model.expression import Expression
from problemgen.model.plan import Mistake, Plan, rewrites_of
from problemgen.model.template import Part, Template
from problemgen.plan.arithmetic import Window
from problemgen.plan.batch import Batch
from problemgen.plan.evaluate import mistaken_steps
from problemgen.plan.forms import form_of

__all__ = ["BATCH", "MARGIN", "Kept", "Mask", "Shown", "shown_by"]

Mask = npt.NDArray[np.bool_]

BATCH = Batch()

MARGIN = 0.005
"""How far, relative to the value, a mistake's answer or a runner-up has to lie outside a window.

Half a percent is the most by which rounding to three figures moves a number (1.005 to 1.00). Tried on the shipped
templates: with 0.2 % and 0.5 % each of them admits at least a fifth of its candidates, with 1 % four admit fewer than
one in a hundred, with 2 % ten.
"""


@dataclass(frozen=True)
class Kept:
    """Some candidates, worked rightly: the windows of all quantities, those of the answers by part, and how many.

    `least` are the fewest figures of each one's data.
    """

    windows: Mapping[str, Window]
    answers: Mapping[str, Window]
    least: Any
    rows: int

    @cached_property
    def spans(self) -> Mapping[str, _Span]:
        """What a mistaken answer has to lie outside of, by part: the same whatever the mistake."""
        return {part: _span(window) for part, window in self.answers.items()}

    @cached_property
    def _spans(self) -> dict[str, _Span]:
        return {}  # filled as it is asked for: many mistakes change the same quantity

    def span_of(self, name: str) -> _Span:
        """The same of a quantity's own value."""
        if name not in self._spans:
            self._spans[name] = _span(self.windows[name])
        return self._spans[name]

    def parts(self, template: Template) -> tuple[Part, ...]:
        """The parts whose answers have windows."""
        return tuple(part for part in template.parts if part.id in self.answers)

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


def shown_by(template: Template, mistakes: Sequence[Mistake], kept: Kept) -> Shown:
    """Which candidates show mistakes made together in at least one part, however the student rounds.

    No step is worked beyond the one that shows them for all.
    """
    if not kept.rows:
        return Shown(np.zeros(0, dtype=np.bool_), np.zeros(0, dtype=np.bool_))
    changed = mistaken_steps(template.plan, mistakes, kept.windows, kept.least, BATCH)
    shown = np.zeros(kept.rows, dtype=np.bool_)
    differs = np.zeros(kept.rows, dtype=np.bool_)
    rewritten, parts = rewrites_of(mistakes), kept.parts(template)
    wrong, counts = kept.windows, _Counts(template.plan, rewritten, kept.windows)
    for name, wrong in changed:
        counts.count(name, wrong)
        if name in rewritten:
            differs |= _outside(wrong[name], kept.span_of(name))
        for part in (part for part in parts if part.asked.quantity.id == name):
            form = form_of(part.asked)
            answer = form.window(template.plan, part.asked, wrong, BATCH)
            assert answer is not None
            surely = counts.surely_other if form.is_counted(template.plan, part.asked) else True
            shown |= _outside(answer, kept.spans[part.id]) & surely
            if shown.all():
                return Shown(shown, shown, name)
    for part in template.parts:
        shown |= form_of(part.asked).leads_elsewhere(template.plan, wrong, kept.windows, _clear)
    return Shown(shown, differs | shown)


class _Counts:
    """The whole numbers that mistakes change: whether one of them surely comes out otherwise, however one rounds.

    What builds on whole numbers that may come out right tells nothing by itself.
    """

    def __init__(self, plan: Plan, rewrites: Mapping[str, Expression], right: Mapping[str, Window]) -> None:
        expressions = {**_whole_numbers(plan), **rewrites}
        self._expressions = {name: one for name, one in expressions.items() if one[0] in _WHOLE}
        self._plan, self._right = plan, right
        self._following: set[str] = set()
        self.surely_other: Any = True  # as long as none is changed, nothing is in doubt
        self._changed: list[Mask] = []

    def count(self, name: str, wrong: Mapping[str, Window]) -> None:
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


_WHOLE = ("whole", "round")
"""Operations that lead to whole numbers."""


@lru_cache(maxsize=256)
def _whole_numbers(plan: Plan) -> Mapping[str, Expression]:
    """The steps of a plan that lead to whole numbers, by quantity id."""
    return {step.quantity.id: step.expression for step in plan.steps if step.expression[0] in _WHOLE}


@lru_cache(maxsize=4096)
def _follow_from(plan: Plan, name: str) -> frozenset[str]:
    """The quantities that build on one."""
    return frozenset(step.quantity.id for step in plan.stale([name])) - {name}


_Span: TypeAlias = tuple[Any, Any]
"""The least and the greatest number, a candidate each."""


def _span(right: Window) -> _Span:
    """What is accepted, with the margin, or one unit of the last digit that the data support, whatever the window."""
    margin = MARGIN * np.abs(right.value)
    unit = 2.0 * BATCH.half_unit(right.value, right.figures)
    low = np.minimum(right.low - margin, right.value - unit)
    return low, np.maximum(right.high + margin, right.value + unit)


def _outside(wrong: Window, span: _Span) -> Mask:
    """Whether a mistaken window lies outside. Who divides by zero has no answer."""
    low, high = span
    return np.asarray((wrong.low > high) | (wrong.high < low) | ~np.isfinite(wrong.value))


def _clear(wrong: Window, right: Window) -> Mask:
    """Whether a mistaken window lies outside of what is accepted, clear by the margin."""
    return _outside(wrong, _span(right))
