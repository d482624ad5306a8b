"""Which candidates may be handed out.

The rules, in the order in which they are tried; a candidate is counted under the first that turns it away:

flask         the liquids fill the largest flask of the preparation to two thirds at most
limiting      the runner-up's window lies clear of the limiting reagent's, by at least MARGIN
conditioning  no answer's window is wider than the data justify (a small difference of large numbers)
coincidence   no two answers in the same unit can be taken for each other
mistake       every usual mistake lands outside the window of at least one part, clear by MARGIN
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from itertools import combinations
from typing import Any

import numpy as np
import numpy.typing as npt

from problemgen.make.candidates import HIDDEN, Candidates
from problemgen.make.ratios import uncertain_ratios
from problemgen.model.plan import Mistake
from problemgen.model.quantity import Quantity
from problemgen.model.template import Part, Template
from problemgen.plan.arithmetic import Batch, Window
from problemgen.plan.evaluate import data_figures, mistaken_steps, window_values
from problemgen.plan.windows import answer_window

__all__ = ["FLASK_SHARE", "MARGIN", "RULES", "Judgement", "judge", "liquid_volume"]

Mask = npt.NDArray[np.bool_]

RULES = ("flask", "limiting", "conditioning", "coincidence", "mistake")

MARGIN = 0.005
"""How far, relative to the value, a mistake's answer or a runner-up has to lie outside a window."""

FLASK_SHARE = Fraction(2, 3)
"""How full a reaction flask may be: common practice, no source."""

_WIDEST = 0.03
"""The widest half-width of a window, relative to the value, where the data have three figures or more."""

_WIDEST_COARSE = 0.08
"""The same where they have fewer."""

_BATCH = Batch()


@dataclass(frozen=True)
class Judgement:
    """`turned_away` holds, a candidate, the index of the first rule in RULES that it breaks; −1 for none.

    `revealed` tells for each mistake which of the candidates that pass all other rules reveal it.
    """

    turned_away: npt.NDArray[np.int64]
    revealed: Mapping[str, Mask]

    @property
    def admitted(self) -> Mask:
        """The candidates that may be handed out."""
        return self.turned_away < 0


def judge(template: Template, candidates: Candidates) -> Judgement:
    """Judge all candidates at once."""
    with np.errstate(all="ignore"):
        windows = window_values(template.plan, dict(candidates.windows), _BATCH)
        answers = _answers(template, windows)
        rows = next(iter(candidates.windows.values())).value.shape
        rules = (
            _overfull(template, candidates),
            _doubtful(template, windows),
            _ill_conditioned(answers)
            | _untrue(template, candidates, answers)
            | uncertain_ratios(template.plan, windows),
            _coincident(template, answers),
        )
        broken = [np.broadcast_to(rule, rows) for rule in rules]
        passed = ~np.logical_or.reduce(broken)
        revealed = _revealed(template, candidates, windows, answers, passed)
    unrevealed = np.zeros_like(passed)
    if revealed:
        unrevealed[passed] = ~np.logical_and.reduce(list(revealed.values()))
    broken.append(unrevealed)
    turned_away = np.full(passed.shape, -1, dtype=np.int64)
    for index in reversed(range(len(RULES))):
        turned_away[broken[index]] = index
    return Judgement(turned_away, revealed)


def liquid_volume(template: Template, windows: Mapping[str, Window]) -> Any:
    """The volume of all liquids that are poured together, in litres: a number of the windows' kind; 0 for none."""
    total: Any = 0
    for name in template.session_of:
        pure, solution, pressure = _liquid_ids(name)
        for volume in (pure, solution):
            if volume in windows and pressure not in windows:
                total = total + windows[volume].value
    return total


@lru_cache(maxsize=1024)
def _liquid_ids(name: str) -> tuple[str, str, str]:
    """The ids of a reagent's volume, of its solution's, and of the pressure that only a gas has."""
    return Quantity("volume", name).id, Quantity("volume", name, "solution").id, Quantity("pressure", name).id


def _overfull(template: Template, candidates: Candidates) -> Mask:
    rows = next(iter(candidates.windows.values())).value.shape
    if template.reaction is None or not template.reaction.flasks:
        return np.zeros(rows, dtype=np.bool_)
    largest = float(template.reaction.flasks[-1].value * FLASK_SHARE) / 1000.0
    return np.broadcast_to(np.asarray(liquid_volume(template, candidates.windows) > largest), rows)


def _doubtful(template: Template, windows: Mapping[str, Window]) -> Mask:
    """Where a runner-up's window comes within the margin of the limiting reagent's."""
    rows = next(iter(windows.values())).value.shape
    extents = [windows[i] for s in template.plan.sources if (i := Quantity("extent", s).id) in windows]
    if len(extents) < 2:
        return np.zeros(rows, dtype=np.bool_)
    values = np.stack([extent.value for extent in extents])
    winner = np.argmin(values, axis=0)
    highs = np.stack([extent.high for extent in extents])
    lows = np.stack([extent.low for extent in extents])
    high = np.take_along_axis(highs, winner[None], axis=0)[0]
    np.put_along_axis(lows, winner[None], np.inf, axis=0)
    return np.asarray(lows.min(axis=0) <= high * (1.0 + MARGIN))


def _numeric(template: Template) -> tuple[Part, ...]:
    return tuple(part for part in template.parts if part.asked.numeric)


def _answers(template: Template, windows: Mapping[str, Window]) -> dict[str, Window]:
    return {part.id: answer_window(template.plan, part.asked, windows, _BATCH) for part in _numeric(template)}


def _ill_conditioned(answers: Mapping[str, Window]) -> Mask:
    bad = [np.zeros(1, dtype=np.bool_)]
    for window in answers.values():
        half = (window.high - window.low) / 2.0
        widest = np.where(np.asarray(window.figures) >= 3, _WIDEST, _WIDEST_COARSE)
        coarse = (np.asarray(window.figures) < 2) & (half > 0)  # a whole number is exact with one figure too
        bad.append(~(half <= widest * np.abs(window.value)) | coarse)
    return np.asarray(np.logical_or.reduce(np.broadcast_arrays(*bad)))


def _untrue(template: Template, candidates: Candidates, answers: Mapping[str, Window]) -> Mask:
    """Where an analysis, rounded as it is printed, leads to another formula than the hidden one."""
    bad = np.zeros(1, dtype=np.bool_)
    if template.unknown is None:
        return bad
    for part in _numeric(template):
        truths = template.unknown.truths.get(part.asked.quantity.id)
        if truths is not None:
            right = np.array([float(truth) for truth in truths])[candidates.steps[HIDDEN]]
            bad = bad | (np.abs(answers[part.id].value - right) > _SAME * right)
    return bad


_SAME = 1e-9
"""How far apart, relatively, two ways to sum one formula's mass may come out."""


def _coincident(template: Template, answers: Mapping[str, Window]) -> Mask:
    """Where two answers in one unit overlap by accident; what is equal by its derivation does not count."""
    bad = [np.zeros(next(iter(answers.values())).value.shape if answers else 1, dtype=np.bool_)]
    for first, second in combinations(_numeric(template), 2):
        if first.asked.unit == second.asked.unit and first.asked.quantity.kind == second.asked.quantity.kind:
            a, b = answers[first.id], answers[second.id]
            apart = (a.high < b.low) | (b.high < a.low)
            same = np.abs(a.value - b.value) <= 1e-12 * np.abs(a.value)
            bad.append(~(apart | same))
    return np.asarray(np.logical_or.reduce(np.broadcast_arrays(*bad)))


def _revealed(
    template: Template,
    candidates: Candidates,
    windows: Mapping[str, Window],
    answers: Mapping[str, Window],
    passed: Mask,
) -> dict[str, Mask]:
    """For each mistake, which of the passed candidates show it in at least one part."""
    rows = np.flatnonzero(passed)
    if not rows.size:
        return {mistake.id: np.zeros(0, dtype=np.bool_) for mistake in template.plan.mistakes}
    kept = {name: _taken(window, rows) for name, window in windows.items()}
    keys = {name: _taken(window, rows) for name, window in answers.items()}
    least = data_figures((kept[name] for name in candidates.windows), _BATCH)
    revealed = {}
    for mistake in template.plan.mistakes:
        changed = mistaken_steps(template.plan, [mistake], kept, least, _BATCH)
        revealed[mistake.id] = _shown(template, mistake, changed, kept, keys, rows.size)
    return revealed


def _shown(
    template: Template,
    mistake: Mistake,
    changed: Iterable[tuple[str, Mapping[str, Window]]],
    right: Mapping[str, Window],
    keys: Mapping[str, Window],
    rows: int,
) -> Mask:
    """Which candidates show a mistake in at least one part; no step is worked beyond the one that shows all."""
    shown = np.zeros(rows, dtype=np.bool_)
    differs = np.zeros(rows, dtype=np.bool_)
    rewritten = {name for name, _ in mistake.rewrites}
    wrong = right
    for name, wrong in changed:
        if name in rewritten:
            differs |= _clear(wrong[name], right[name])
        for part in (part for part in _numeric(template) if part.asked.quantity.id == name):
            answer, key = answer_window(template.plan, part.asked, wrong, _BATCH), keys[part.id]
            shown |= _clear(answer, key)
            if shown.all():
                return shown
    if any(part.asked.choice for part in template.parts):
        shown |= _chosen(template, wrong) != _chosen(template, right)
    return shown | ~differs if mistake.harmless else shown


def _clear(wrong: Window, right: Window) -> Mask:
    """Whether a mistaken window lies outside the right one, clear by the margin; who divides by zero has no answer."""
    margin = MARGIN * np.abs(right.value)
    outside = (wrong.low > right.high + margin) | (wrong.high < right.low - margin)
    return np.asarray(outside | ~np.isfinite(wrong.value))


def _chosen(template: Template, windows: Mapping[str, Window]) -> npt.NDArray[np.int64]:
    """Which source a worker names: the one whose extent was taken for the reaction's."""
    overall = windows.get(Quantity("extent", "").id)
    if overall is None:
        return np.zeros(1, dtype=np.int64)
    extents = np.stack([windows[Quantity("extent", source).id].value for source in template.plan.sources])
    return np.asarray(np.argmin(np.abs(extents - overall.value), axis=0), dtype=np.int64)


def _taken(window: Window, rows: npt.NDArray[np.int64]) -> Window:
    """The window of some candidates; what is the same for all stays a single number, and a point a point."""

    def taken(numbers: Any) -> Any:
        return numbers[rows] if np.ndim(numbers) else numbers

    value, figures = taken(window.value), taken(window.figures)
    if window.is_point:
        return Window(value, value, value, figures)
    return Window(value, taken(window.low), taken(window.high), figures)
