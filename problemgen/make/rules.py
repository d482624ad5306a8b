"""The rules that a candidate has to keep whatever mistakes are made: realistic, beyond doubt, well conditioned."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from itertools import combinations
from typing import Any

import numpy as np

from problemgen.make.candidates import HIDDEN, Candidates
from problemgen.make.excess import runs_short
from problemgen.make.limiting import competing, doubtful
from problemgen.make.mistakes import BATCH, Kept, Mask
from problemgen.make.ratios import uncertain_ratios
from problemgen.model.plan import Plan
from problemgen.model.quantity import Quantity, Role
from problemgen.model.template import Template
from problemgen.plan.arithmetic import Window
from problemgen.plan.evaluate import data_figures, window_values
from problemgen.plan.forms import form_of
from problemgen.plan.forms.number import WIDEST, WIDEST_COARSE
from problemgen.plan.laws.scaling import FLASK_SHARE

__all__ = ["broken", "liquid_volume", "work"]

_EXACTLY = 1e-12
"""How far apart, relatively, one number may come out in floats when it is worked in two ways.

A thousand operations, each with 1e-16, stay within it; a mistake that changes anything changes more.
"""

_WIDEST, _WIDEST_COARSE = float(WIDEST), float(WIDEST_COARSE)


def broken(template: Template, candidates: Candidates, excess: Plan | None) -> tuple[dict[str, Mask], Kept]:
    """What each rule turns away, by its name, and the candidates, worked; `excess` compares what is in excess."""
    kept = work(template, candidates)
    windows, answers = kept.windows, kept.answers
    extents = competing(template)
    nothing = np.zeros(1, dtype=np.bool_)
    rules = {
        "flask": _overfull(template, candidates),
        "excess": runs_short(excess, template.scene, candidates) if excess is not None else nothing,
        "limiting": doubtful(extents, windows) if extents else nothing,
        "conditioning": _ill_conditioned(answers)
        | _untrue(template, candidates, kept)
        | uncertain_ratios(template.plan, windows),
        "coincidence": _coincident(template, kept),
    }
    return {name: np.broadcast_to(rule, candidates.rows) for name, rule in rules.items()}, kept


def work(template: Template, candidates: Candidates) -> Kept:
    """Candidates, worked rightly: their windows."""
    windows = window_values(template.plan, dict(candidates.windows), BATCH)
    least = data_figures((windows[name] for name in candidates.windows), BATCH)
    return Kept(windows, _answers(template, windows), least, candidates.rows)


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
            same = np.abs(a.value - b.value) <= _EXACTLY * np.abs(a.value)
            bad.append(~(apart | same))
    return np.asarray(np.logical_or.reduce(np.broadcast_arrays(*bad)))
