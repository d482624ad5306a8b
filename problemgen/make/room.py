"""Whether a template leaves enough room: a trial draw, and what it says to the author."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from problemgen.errors import Fault
from problemgen.make.admissible import RULES, Judge, Judgement
from problemgen.make.candidates import Candidates
from problemgen.make.limiting import ABLE
from problemgen.make.refusal import ADVICE, of_mistakes, unshown
from problemgen.model.template import Template

__all__ = ["has_room", "room_faults", "room_remarks"]

_LEAST_SHARE = 0.01
"""The least share of candidates that has to be admissible: with fewer, a student's stream may hold none."""


_USUAL_SHARE = 0.03
"""The share of admissible candidates below which an author should know: each student costs a hundred looks or more."""

_SHOWN = 0.3
"""The share of candidates that should show a mistake. Where fewer do, it decides by itself which numbers are drawn."""

_OF_CLASS = 0.4
"""The share of a class that should show a mistake about which reagent limits, where not every sheet has to."""

_COMBINATIONS = 20_000
"""How many combinations of drawn numbers there should be: a course of a few hundred students for years, a quarter of
them kept for practice, and few neighbours with nearly the same numbers."""


def has_room(judgement: Judgement, rows: int) -> bool:
    """Whether of so many candidates, some of which were judged, a usual share is admissible whatever the others are."""
    return int(np.count_nonzero(judgement.admitted)) >= _USUAL_SHARE * rows


def room_faults(template: Template, file: str, judge: Judge, judgement: Judgement) -> Iterator[Fault]:
    """Faults of a template whose trial candidates are admitted too rarely, or whose limiting reagent never changes."""
    share = float(np.mean(judgement.admitted))
    if share < _LEAST_SHARE:
        expected = f"at least {_LEAST_SHARE:.0%} of the candidates admissible"
        yield Fault(file, "given", _told(judgement), expected, _advice(judgement))
    elif judge.competing and not judge.turns and not template.always_limits:
        often = ", ".join(f"{name} in {share:.0%}" for name, share in judge.limiting.items())
        expected = f"two reagents or more that each limit in {ABLE:.0%} or more of the admissible candidates"
        hint = (
            "Move the reagents' ranges, ask how much product each reagent could give, or name the one with "
            "`always_limits` and the reason with `because`."
        )
        yield Fault(file, "given", f"one limiting reagent for a whole class ({often})", expected, hint)


def room_remarks(
    template: Template, file: str, candidates: Candidates, judge: Judge, judgement: Judgement
) -> Iterator[Fault]:
    """What leaves room, but little: few combinations, few admissible candidates, mistakes that seldom or never show."""
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
    yield from _seldom(template, file, judge)


def _seldom(template: Template, file: str, judge: Judge) -> Iterator[Fault]:
    """Listed mistakes that decide by themselves which numbers are drawn, or that no drawn numbers could show."""
    for note in unshown(template, judge.duties):
        yield Fault(file, "part", note.found, "a mistake that shows, or its id in `may_hide`", note.hint)
    owed = {one.id for one in judge.duties.owed}
    for mistake in template.plan.mistakes:
        share = judge.duties.shares[mistake.id]
        told = f"the mistake {mistake.id!r} ({mistake.title})"
        if mistake.id in owed and share < _SHOWN:
            hint = ADVICE["mistake"].capitalize() + "."
            yield Fault(file, "part", f"{told}, which {share:.0%} of candidates show", f"{_SHOWN:.0%} or more", hint)
        in_class = judge.share_of_class(mistake)
        if in_class is not None and in_class < _OF_CLASS and mistake.id not in template.may_hide:
            hint = "Let another reagent limit more often."
            yield Fault(
                file, "given", f"{told}, which {in_class:.0%} of a class show", f"{_OF_CLASS:.0%} or more", hint
            )


def _combinations(template: Template, candidates: Candidates) -> int:
    """How many variants there are before any is turned away; of what is obtained, as many as the trial drew."""
    counts = [draw.count for draw in (*template.draws, *template.hidden) if draw.follows is None]
    counts += [reading.most - reading.least + 1 for reading in template.readings]
    counts += [len(np.unique(candidates.steps[one.quantity.id])) for one in template.obtained]
    if template.unknown is not None:
        counts += [len(template.unknown.formulas), *(2 * one.spread + 1 for one in template.unknown.analysed)]
    return math.prod(counts)


def _shares(judgement: Judgement) -> dict[str, float]:
    return {rule: float(np.mean(judgement.turned_away == index)) for index, rule in enumerate(RULES)}


def _told(judgement: Judgement) -> str:
    turned = ", ".join(f"{rule} {share:.0%}" for rule, share in _shares(judgement).items() if share)
    named = ", ".join(f"{name!r} {share:.0%}" for name, share in of_mistakes(judgement.hidden, judgement.admitted.size))
    told = f"{float(np.mean(judgement.admitted)):.1%} of the candidates admissible (turned away: {turned})"
    return f"{told}; mistakes that they would hide: {named}" if named else told


def _advice(judgement: Judgement) -> str:
    shares = _shares(judgement)
    rule = max(shares, key=lambda name: shares[name])
    advice = ADVICE[rule]
    return advice[0].upper() + advice[1:] + "."
