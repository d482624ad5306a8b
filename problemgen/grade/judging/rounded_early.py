"""Answers that the right way leads to when results on the way are rounded further than an honest worker may.

Each result may have been kept as it is or rounded to so many figures, at every step: how far that can lead is found by
interval arithmetic along the way. It counts to either side alike, so that a nearer answer never earns less, and never
beyond a few percent.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial

from problemgen.exact.rounding import round_to_figures
from problemgen.grade.judging.closeness import farthest, surely_farther
from problemgen.grade.judging.findings import AnsweredNumber
from problemgen.grade.judging.paper import EXACT, Paper
from problemgen.language.messages import _
from problemgen.model.answers import PartKey
from problemgen.plan.arithmetic import Window
from problemgen.plan.evaluate import altered_windows

__all__ = ["RULES", "rounded_early"]

_EARLY = 2
"""Significant figures of a result that was rounded too early: with one, it is no longer rounding that misled."""

_CLOSE = 3
"""Significant figures of a result that many keep whatever the data have: what lies so near is no sign of a mistake."""

RULES: Mapping[str, object] = {"early": _EARLY, "close": _CLOSE}
"""What the practice page reads of this: `problemgen.practice.rules` carries it into the page."""


def rounded_early(
    paper: Paper, part: PartKey, answer: AnsweredNumber, start: Mapping[str, Window], *, closely: bool
) -> bool:
    """Whether results rounded too early lead from a state of the problem as far as to an answer.

    `closely`: to as many figures as most workers keep. Notes the trial. `start` holds the windows of all quantities, in
    engine units.
    """
    name, figures = part.asked.quantity.id, _CLOSE if closely else _EARLY
    if paper.trials is None and (surely_farther(answer, start[name]) or _farther(paper, answer, start)):
        return False  # most wrong answers are: nothing needs to be worked
    steps = paper.template.plan.steps_since(name, paper.carried)
    alter = {step.quantity.id: partial(_rounded_too, figures) for step in steps if step.quantity.id != name}
    try:
        windows = altered_windows(steps, alter, start, paper.least_figures, EXACT)
    except ZeroDivisionError:
        return False
    reached = paper.answer(answer, windows)
    far = min(farthest(reached.value), max(reached.high - reached.value, reached.value - reached.low))
    low, high = reached.value - far, reached.value + far
    fits = bool(low <= answer.value <= high)
    why = _("may lead to this answer") if fits else _("leads elsewhere")
    paper.tried("rounding", _("results rounded to {n} figures").format(n=figures), why, fits=fits,
                leads_to=Window(reached.value, low, high, reached.figures))  # fmt: skip
    return fits


def _farther(paper: Paper, answer: AnsweredNumber, start: Mapping[str, Window]) -> bool:
    unrounded = paper.answer(answer, start).value
    return bool(abs(answer.value - unrounded) > farthest(unrounded))


def _rounded_too(figures: int, window: Window) -> Window:
    """A window with what its bounds are when they are rounded to so many figures as well."""
    bounds = [window.low, window.high, *(round_to_figures(one, figures) for one in (window.low, window.high) if one)]
    return Window(window.value, min(bounds), max(bounds), window.figures)
