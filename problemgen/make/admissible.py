"""Which candidates may be handed out.

The rules, in the order in which they are tried; a candidate is counted under the first that turns it away:

flask         the liquids fill the largest flask of the preparation to two thirds at most
limiting      the runner-up's window lies clear of the limiting reagent's, by at least MARGIN
conditioning  no answer's window is wider than the data justify (a small difference of large numbers)
coincidence   no two answers in the same unit can be taken for each other
mistake       every usual mistake, alone and together with any other, lands outside the window of at least one part,
              clear by MARGIN
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations
from typing import Any

import numpy as np
import numpy.typing as npt

from problemgen.make.candidates import HIDDEN, Candidates, Stream, draw_candidates
from problemgen.make.mistakes import BATCH, MARGIN, Kept, Mask, Shown, shown_by
from problemgen.make.pairs import EXACTLY, hidden_by_pairs
from problemgen.make.ratios import uncertain_ratios
from problemgen.model.plan import Mistake
from problemgen.model.quantity import Quantity, Role
from problemgen.model.template import Template
from problemgen.plan.arithmetic import Window
from problemgen.plan.evaluate import data_figures, window_values
from problemgen.plan.forms import form_of
from problemgen.plan.forms.number import WIDEST, WIDEST_COARSE
from problemgen.plan.laws.scaling import FLASK_SHARE

__all__ = ["RULES", "Judgement", "judge", "liquid_volume", "worked"]

RULES = ("flask", "limiting", "conditioning", "coincidence", "mistake")

_WIDEST, _WIDEST_COARSE = float(WIDEST), float(WIDEST_COARSE)

_TRIAL = 256
"""Candidates of a trial draw, on which is seen whether two mistakes undo each other whatever the numbers.

What one candidate in fifty tells is missed once in 175 trials (0.98²⁵⁶).
"""


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
        broken, kept = _all_but_mistakes(template, candidates)
        shown = {mistake.id: shown_by(template, [mistake], kept) for mistake in template.plan.mistakes}
        revealed = {mistake.id: _revealed(mistake, shown[mistake.id]) for mistake in template.plan.mistakes}
        hidden = ~_all_of(revealed.values(), kept.rows)
        left = np.flatnonzero(~hidden)
        hidden[left] = hidden_by_pairs(template, kept, shown, left, lambda: _trial(template))
    last = np.zeros(candidates.rows, dtype=np.bool_)
    last[~np.logical_or.reduce(broken)] = hidden
    turned_away = np.full(candidates.rows, -1, dtype=np.int64)
    for index, rule in reversed([*enumerate([*broken, last])]):
        turned_away[rule] = index
    return Judgement(turned_away, revealed)


def _all_but_mistakes(template: Template, candidates: Candidates) -> tuple[list[Mask], Kept]:
    """What each rule but the last turns away, and the candidates that they leave."""
    kept = worked(template, candidates)
    windows, answers = kept.windows, kept.answers
    rules = (
        _overfull(template, candidates),
        _doubtful(template, windows),
        _ill_conditioned(answers) | _untrue(template, candidates, kept) | uncertain_ratios(template.plan, windows),
        _coincident(template, kept),
    )
    broken = [np.broadcast_to(rule, candidates.rows) for rule in rules]
    return broken, kept.taken(np.flatnonzero(~np.logical_or.reduce(broken)))


def worked(template: Template, candidates: Candidates) -> Kept:
    """Candidates, worked rightly: their windows."""
    windows = window_values(template.plan, dict(candidates.windows), BATCH)
    least = data_figures((windows[name] for name in candidates.windows), BATCH)
    return Kept(windows, _answers(template, windows), least, candidates.rows)


def _revealed(mistake: Mistake, shown: Shown) -> Mask:
    return shown.shown | ~shown.differs if mistake.harmless else shown.shown


def _all_of(masks: Iterable[Mask], rows: int) -> Mask:
    return np.asarray(np.logical_and.reduce([np.ones(rows, dtype=np.bool_), *masks]))


def _trial(template: Template) -> Kept:
    """The candidates of a trial draw that pass the rules, pairs of mistakes apart: the same ones each time."""
    stream = Stream(b"trial", "pairs of mistakes", template.id, "trial")
    _, kept = _all_but_mistakes(template, draw_candidates(template, stream, ["trial"], 0, _TRIAL))
    mistakes = template.plan.mistakes
    revealed = [_revealed(mistake, shown_by(template, [mistake], kept)) for mistake in mistakes]
    return kept.taken(np.flatnonzero(_all_of(revealed, kept.rows)))


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
    return Quantity("volume", name).id, Quantity("volume", name, Role.SOLUTION).id, Quantity("pressure", name).id


def _overfull(template: Template, candidates: Candidates) -> Mask:
    rows = candidates.rows
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


def _answers(template: Template, windows: Mapping[str, Window]) -> dict[str, Window]:
    found = {part.id: form_of(part.asked).window(template.plan, part.asked, windows, BATCH) for part in template.parts}
    return {part: window for part, window in found.items() if window is not None}


def _ill_conditioned(answers: Mapping[str, Window]) -> Mask:
    bad = [np.zeros(1, dtype=np.bool_)]
    for window in answers.values():
        half = (window.high - window.low) / 2.0
        widest = np.where(np.asarray(window.figures) >= 3, _WIDEST, _WIDEST_COARSE)
        coarse = (np.asarray(window.figures) < 2) & (half > 0)  # a whole number is exact with one figure too
        bad.append(~(half <= widest * np.abs(window.value)) | coarse)
    return np.asarray(np.logical_or.reduce(np.broadcast_arrays(*bad)))


def _untrue(template: Template, candidates: Candidates, kept: Kept) -> Mask:
    """Where an analysis, rounded as it is printed, leads to another formula than the hidden one."""
    bad = np.zeros(1, dtype=np.bool_)
    if template.unknown is None:
        return bad
    for part in kept.parts(template):
        truths = template.unknown.truths.get(part.asked.quantity.id)
        if truths is not None:
            right = np.array([float(truth) for truth in truths])[candidates.steps[HIDDEN]]
            bad = bad | (np.abs(kept.answers[part.id].value - right) > _SAME * right)
    return bad


_SAME = 1e-9
"""How far apart, relatively, two ways to sum one formula's mass may come out in floats.

Far above their rounding (1e-16 an operation), far below the distance of two formulas (an atom of hydrogen in 1000 g).
"""


def _coincident(template: Template, kept: Kept) -> Mask:
    """Where two answers in one unit overlap by accident; what is equal by its derivation does not count."""
    answers = kept.answers
    bad = [np.zeros(next(iter(answers.values())).value.shape if answers else 1, dtype=np.bool_)]
    for first, second in combinations(kept.parts(template), 2):
        if first.asked.unit == second.asked.unit and first.asked.quantity.kind == second.asked.quantity.kind:
            a, b = answers[first.id], answers[second.id]
            apart = (a.high < b.low) | (b.high < a.low)
            same = np.abs(a.value - b.value) <= EXACTLY * np.abs(a.value)
            bad.append(~(apart | same))
    return np.asarray(np.logical_or.reduce(np.broadcast_arrays(*bad)))
