"""Answers that the right way leads to when results on the way are rounded further than an honest worker may.

Each result may have been kept as it is or rounded to two figures, at every step: what that can do to the answer is
found by interval arithmetic along the way, and never counts beyond a few percent.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from problemgen.exact.rounding import round_to_figures
from problemgen.grade.bench import EXACT, Bench
from problemgen.grade.findings import Said
from problemgen.model.answers import PartKey
from problemgen.plan.arithmetic import Window
from problemgen.plan.evaluate import altered_windows

__all__ = ["RULES", "rounded_early"]

_FIGURES = 2
"""Significant figures of a result that was rounded too early: with one, it is no longer rounding that misled."""

_FARTHEST = Fraction(3, 100)
"""How far, relatively, rounding is believed to lead: six results with three figures, all to one side, lead as far."""

RULES: Mapping[str, object] = {"figures": _FIGURES, "farthest": _FARTHEST}
"""What the practice page reads of this: `problemgen.practice.rules` carries it into the page."""


def rounded_early(bench: Bench, part: PartKey, said: Said, start: Mapping[str, Window]) -> bool:
    """Whether results rounded to two figures lead from a state of the problem to an answer.

    Notes the trial. `start` holds the windows of all quantities, in engine units.
    """
    name = part.asked.quantity.id
    steps = bench.template.plan.steps_since(name, bench.carried)
    alter = {step.quantity.id: _rounded_too for step in steps if step.quantity.id != name}
    try:
        windows = altered_windows(steps, alter, start, bench.least_figures, EXACT)
    except ZeroDivisionError:
        return False
    reached = bench.answer(said, windows)
    farthest = _FARTHEST * abs(reached.value)
    low, high = max(reached.low, reached.value - farthest), min(reached.high, reached.value + farthest)
    fits = bool(low <= said.value <= high)
    why = "may lead to this answer" if fits else "leads elsewhere"
    bench.tried("rounding", "results rounded to two figures", why, fits=fits,
                leads_to=Window(reached.value, low, high, reached.figures))  # fmt: skip
    return fits


def _rounded_too(window: Window) -> Window:
    """A window with what its bounds are when they are rounded to two figures as well."""
    bounds = [window.low, window.high, *(round_to_figures(one, _FIGURES) for one in (window.low, window.high) if one)]
    return Window(window.value, min(bounds), max(bounds), window.figures)
