"""Which answers are accepted: inside the windows of the variants, or within fixed tolerances around the exact answers.

Each way of accepting is a measure; all measures of a kind are applied together, a row of masks each.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from problemgen.audit.worker import Worker, Workings
from problemgen.make.mistakes import Kept, Mask
from problemgen.model.expression import Expression
from problemgen.model.plan import Step
from problemgen.model.template import Part, Template
from problemgen.plan.forms import form_of

__all__ = ["NARROW", "NOISE", "VISIBLE", "WIDE", "Acceptance", "Masks", "by_tolerances", "by_windows"]

Masks = npt.NDArray[np.bool_]
"""Masks a measure, a student a column."""

NOISE = 1e-9
"""How near to a bound, relatively, a float has to be worked again exactly: a million times an operation's noise."""

VISIBLE = 0.01
"""How far off, relatively, a number has to be for a mistake to be seen in it.

Honest work strays as far: half of the windows reach about 1 % to either side.
"""

WIDE, NARROW = 0, 1
"""The measures of windows: with the noise of floats added, so that what is outside is surely so, and taken off."""


@dataclass(frozen=True)
class Acceptance:
    """What is accepted, by part: the least and the greatest number for each measure, a student a column.

    `right` holds the exact values of all quantities in engine units.
    """

    template: Template
    right: Mapping[str, Any]
    bounds: Mapping[str, tuple[Any, Any]]
    measures: int
    students: int

    def of_all(self, worker: Worker, workings: Workings) -> Masks:
        """Whether all parts are accepted."""
        accepted = self._everything()
        for part in self.template.parts:
            accepted &= self._accepts(part, worker, workings)
        return accepted

    def honest(self, worker: Worker) -> dict[str, Any]:
        """The numbers that are handed in without a mistake, by part."""
        parts = (part for part in self.template.parts if part.id in self.bounds)
        return {part.id: worker.answer(part.asked, worker.workings) for part in parts}

    def of_mistaken(
        self, worker: Worker, rewrites: Mapping[str, Expression], steps: Sequence[Step], honest: Mapping[str, Any]
    ) -> tuple[Masks, Mask]:
        """Whether all parts are accepted after mistakes, and for whom these are to be seen.

        `honest` are the numbers without them. A mistake is to be seen where a number is off by more than VISIBLE, or
        something else is named; and where nobody is warned by a number of the other sign. No step is worked beyond the
        one that settles both.
        """
        accepted = self._everything()
        differs, possible = np.zeros(self.students, dtype=np.bool_), np.ones(self.students, dtype=np.bool_)
        workings = worker.workings
        for name, workings in worker.mistaken(rewrites, steps):
            for part in self.template.parts:
                if part.id in self.bounds and part.asked.quantity.id == name:
                    right, answer = honest[part.id], worker.answer(part.asked, workings)
                    differs |= ~(np.abs(answer - right) <= VISIBLE * np.abs(right))
                    possible &= ~(answer * right < 0)
                    accepted &= self._accepts(part, worker, workings)
                    if differs.all() and not accepted.any():
                        return accepted, differs & possible
        plan = self.template.plan
        for part in self.template.parts:
            if part.id not in self.bounds:
                accepted &= self._accepts(part, worker, workings)
                differs |= ~form_of(part.asked).names_the_same(plan, workings.written, worker.workings.written)
        return accepted, differs & possible

    def of_each(self, worker: Worker, workings: Workings) -> dict[str, Masks]:
        """Whether each part is accepted."""
        return {part.id: self._everything() & self._accepts(part, worker, workings) for part in self.template.parts}

    def _everything(self) -> Masks:
        return np.ones((self.measures, self.students), dtype=np.bool_)

    def _accepts(self, part: Part, worker: Worker, workings: Workings) -> Any:
        def inside() -> Any:
            low, high = self.bounds[part.id]
            answer = worker.answer(part.asked, workings)
            return (low <= answer) & (answer <= high)

        return form_of(part.asked).accepts(self.template.plan, part.asked, workings.written, self.right, inside)


def by_windows(template: Template, kept: Kept) -> Acceptance:
    """Acceptance by the variants' windows, WIDE and NARROW."""
    bounds = {}
    for name, window in kept.answers.items():
        slack = NOISE * np.stack([np.abs(window.low), np.abs(window.high)])
        exact = (window.high - window.low <= slack[1]).astype(np.float64)
        inner = 1.0 - 2.0 * exact  # a whole number is right or not, with no bound that rounding could come near
        bounds[name] = (
            np.stack([window.low - slack[0], window.low + inner * slack[0]]),
            np.stack([window.high + slack[1], window.high - inner * slack[1]]),
        )
    return Acceptance(template, _values(kept), bounds, 2, kept.rows)


def by_tolerances(template: Template, kept: Kept, tolerances: Sequence[float]) -> Acceptance:
    """Acceptance by fixed shares of the exact answer on either side, a measure each."""
    shares = np.array([*tolerances])[:, None]
    bounds = {}
    for name, window in kept.answers.items():
        around = np.abs(window.value) * (shares + NOISE)
        bounds[name] = (window.value - around, window.value + around)
    return Acceptance(template, _values(kept), bounds, len(shares), kept.rows)


def _values(kept: Kept) -> dict[str, Any]:
    return {name: window.value for name, window in kept.windows.items()}
