"""Whether a template leaves enough room: a trial draw, and what it says to the author."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from problemgen.errors import Fault
from problemgen.make.admissible import RULES, Judgement
from problemgen.make.candidates import Candidates
from problemgen.make.variants import ADVICE
from problemgen.model.template import Template

__all__ = ["room_faults", "room_remarks"]

_LEAST_SHARE = 0.01
"""The least share of candidates that has to be admissible: with fewer, a student's stream may hold none."""


_USUAL_SHARE = 0.03
"""The share of admissible candidates below which an author should know: each student costs a hundred looks or more."""

_SHOWN = 0.3
"""The share of candidates that should show a mistake. Where fewer do, it decides by itself which numbers are drawn."""

_COMBINATIONS = 20_000
"""How many combinations of drawn numbers there should be: a course of a few hundred students for years, a quarter of
them kept for practice, and few neighbours with nearly the same numbers."""


def room_faults(template: Template, file: str, judgement: Judgement) -> Iterator[Fault]:
    """Faults of a template whose trial candidates are admitted too rarely, or that asks nothing to show a mistake."""
    share = float(np.mean(judgement.admitted))
    hidden = set(_hidden(judgement))
    for mistake in template.plan.mistakes:
        if mistake.id in hidden:
            asked = ", ".join(name for name, _ in mistake.rewrites)
            found = f"the mistake {mistake.id!r} ({mistake.title}), which no asked part ever shows"
            yield Fault(file, "part", found, "a part that shows it", f"Ask for {asked}.")
    if share < _LEAST_SHARE and not hidden:
        yield Fault(
            file,
            "given",
            _told(judgement),
            f"at least {_LEAST_SHARE:.0%} of the candidates admissible",
            _advice(judgement),
        )


def room_remarks(template: Template, file: str, candidates: Candidates, judgement: Judgement) -> Iterator[Fault]:
    """What leaves room, but little: few combinations, few admissible candidates, mistakes that seldom show."""
    combinations = _combinations(template, candidates)
    if combinations < _COMBINATIONS:
        found = f"{combinations} combinations of drawn numbers"
        yield Fault(
            file, "given", found, f"{_COMBINATIONS} or more", "Widen the ranges, or read them on a finer scale."
        )
    share = float(np.mean(judgement.admitted))
    if _LEAST_SHARE <= share < _USUAL_SHARE:
        yield Fault(file, "given", _told(judgement), f"{_USUAL_SHARE:.0%} or more", _advice(judgement))
    if not template.plan.mistakes:
        yield Fault(file, "part", "no usual mistake on the way to any part", "a part on the way to which one is made")
    for mistake in template.plan.mistakes:
        shown = judgement.revealed[mistake.id]
        if shown.any() and float(np.mean(shown)) < _SHOWN:
            found = (
                f"the mistake {mistake.id!r} ({mistake.title}), which {float(np.mean(shown)):.0%} of candidates show"
            )
            yield Fault(file, "part", found, f"{_SHOWN:.0%} or more", ADVICE["mistake"].capitalize() + ".")


def _combinations(template: Template, candidates: Candidates) -> int:
    """How many variants there are before any is turned away; of what is obtained, as many as the trial drew."""
    counts = [draw.count for draw in (*template.draws, *template.hidden) if draw.follows is None]
    counts += [reading.most - reading.least + 1 for reading in template.readings]
    counts += [len(np.unique(candidates.steps[one.quantity.id])) for one in template.obtained]
    if template.unknown is not None:
        counts += [len(template.unknown.formulas), *(2 * one.scatter + 1 for one in template.unknown.analysed)]
    return math.prod(counts)


def _hidden(judgement: Judgement) -> Iterator[str]:
    for name, mask in judgement.revealed.items():
        if mask.size and not mask.any():
            yield name


def _shares(judgement: Judgement) -> dict[str, float]:
    return {rule: float(np.mean(judgement.turned_away == index)) for index, rule in enumerate(RULES)}


def _told(judgement: Judgement) -> str:
    turned = ", ".join(f"{rule} {share:.0%}" for rule, share in _shares(judgement).items() if share)
    return f"{float(np.mean(judgement.admitted)):.1%} of the candidates admissible (turned away: {turned})"


def _advice(judgement: Judgement) -> str:
    shares = _shares(judgement)
    rule = max(shares, key=lambda name: shares[name])
    advice = ADVICE[rule]
    return advice[0].upper() + advice[1:] + "."
