"""Whether a template leaves enough room: a trial draw, and what it says to the author."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from problemgen.errors import Fault
from problemgen.make.admissible import RULES, Judgement, judge
from problemgen.make.candidates import Candidates
from problemgen.make.variants import ADVICE
from problemgen.model.template import Template

__all__ = ["room_faults"]

_LEAST_SHARE = 0.01
"""The least share of candidates that has to be admissible: with fewer, a student's stream may hold none."""


def room_faults(template: Template, file: str, candidates: Candidates) -> Iterator[Fault]:
    """Faults of a template whose trial candidates are admitted too rarely, or that asks nothing to show a mistake."""
    if not template.is_drawn:
        return
    judgement = judge(template, candidates)
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
