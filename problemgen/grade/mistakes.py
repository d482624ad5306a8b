"""Which usual mistakes explain an answer, and agree with all that the student answered before.

A single mistake goes before two made together; where several explain an answer, all of them are named.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from problemgen.exact.rounding import figures_text
from problemgen.grade.bench import EXACT, EXTENT, Bench
from problemgen.grade.findings import Said
from problemgen.grade.likely_mistakes import Reached, likely_choosers, likely_pairs, likely_singles, reached_from
from problemgen.model.answers import PartKey
from problemgen.model.plan import Mistake, Plan, rewrites_of
from problemgen.plan.arithmetic import Window
from problemgen.plan.evaluate import mistaken_steps

__all__ = ["RULES", "Together", "mistakes_behind", "mistakes_behind_choice"]

Together = tuple[Mistake, ...]
"""One explanation: a mistake, or two made together."""

_MOST_NAMED = 5
"""Where more explanations than so many lead to an answer, it tells nothing, and none is named: nobody reads on."""

RULES: Mapping[str, object] = {"most_named": _MOST_NAMED}
"""What the practice page reads of this: `problemgen.practice.rules` carries it into the page."""


@dataclass(frozen=True)
class _Outcome:
    """Whether mistakes lead to an answer and to those before, and what tells for or against them."""

    leads: bool
    why: str


_LEADS = _Outcome(leads=True, why="leads to this answer, and to all that was answered before")
_ELSEWHERE = _Outcome(leads=False, why="changes nothing in this part")
_IMPOSSIBLE = _Outcome(leads=False, why="cannot be worked: a division by zero")
_OTHER_REAGENT = _Outcome(leads=False, why="leads to another limiting reagent than was answered")


def mistakes_behind(bench: Bench, part: PartKey, said: Said) -> tuple[Together, ...]:
    """The explanations of a value by usual mistakes; none where there is none, or too many to tell."""
    own = bench.own_for(part)
    starts = [(bench.right, bench.reached)]
    if own is not None:
        mine = {**bench.right, **own}
        starts.append((mine, reached_from(bench.template.plan, mine)))
    for start, reached in starts:
        found = _singles(bench, said, start, reached)
        if found:
            return _worth_naming(found)
    for start, reached in starts:
        pairs = _pairs(bench, said, start, reached)
        if pairs:
            return pairs
    return ()


def _singles(bench: Bench, said: Said, start: Mapping[str, Window], reached: Reached) -> tuple[Together, ...]:
    """The mistakes that explain a value alone. Where an explanation is asked for, the others are worked as well."""
    plan = bench.template.plan
    likely = likely_singles(reached, plan, said, bench.numbers)
    tried = likely if bench.trials is None else plan.mistakes
    return tuple((one,) for one in tried if _leads(bench, "mistake", (one,), said, start) and one in likely)


def _pairs(bench: Bench, said: Said, start: Mapping[str, Window], reached: Reached) -> tuple[Together, ...]:
    """The pairs that explain a value, where all of them lead to the same."""
    groups = [
        tuple(pair for pair in group if _leads(bench, "two mistakes", pair, said, start))
        for group in likely_pairs(reached, said, bench.numbers)
    ]
    told = [group for group in groups if group]
    if not groups:
        bench.tried("two mistakes", f"{reached.pairs} pairs", "none is so near that it is not by chance", fits=False)
    return told[0] if len(told) == 1 and len(told[0]) <= _MOST_NAMED else ()


def _leads(bench: Bench, kind: str, mistakes: Together, said: Said, start: Mapping[str, Window]) -> bool:
    outcome = _outcome(bench, mistakes, said, start)
    if bench.trials is not None:
        leads_to = None
        if outcome not in (_ELSEWHERE, _IMPOSSIBLE):
            leads_to = _answer_after(bench, mistakes, said, start)
        what = " together with ".join(f"{mistake.title} [{mistake.id}]" for mistake in mistakes)
        if start is not bench.right:
            what += ", on the student's own values"
        bench.tried(kind, what, outcome.why, fits=outcome.leads, leads_to=leads_to)
    return outcome.leads


def _answer_after(bench: Bench, mistakes: Together, said: Said, start: Mapping[str, Window]) -> Window | None:
    """What mistakes lead to; None where a later step divides by 0, which a student's own data may make it do."""
    wrong = bench.mistaken(mistakes, start)
    return None if wrong is None else bench.answer(said, wrong)


def _against(earlier: Said, window: Window) -> str:
    """Why an earlier answer tells against mistakes that would have led to another."""
    low, high = (figures_text(one, 5) for one in (window.low, window.high))
    unit, wrote = earlier.asked.unit, figures_text(earlier.value, 5)
    return f"would have led to {low} to {high} {unit} in an earlier part, where {wrote} {unit} was answered"


def _outcome(bench: Bench, mistakes: Sequence[Mistake], said: Said, start: Mapping[str, Window]) -> _Outcome:
    """Whether mistakes, made from a state of the problem, lead to a value and to what was answered before.

    Steps are worked up to the first that tells against them: most are ruled out soon.
    """
    plan = bench.template.plan
    if not all(said.asked.quantity.id in _touched(plan, mistake) for mistake in mistakes):
        return _ELSEWHERE
    wrong = start
    try:
        for name, wrong in mistaken_steps(plan, mistakes, start, bench.least_figures, EXACT):
            for one in (said, *bench.numbers):
                if one.asked.quantity.id == name and not bench.gives(one, wrong):
                    return _Outcome(
                        False, "leads elsewhere" if one is said else _against(one, bench.answer(one, wrong))
                    )
    except ZeroDivisionError:
        return _IMPOSSIBLE
    agrees = all(_agrees_in_choice(bench, mistake, wrong) for mistake in mistakes)
    return _LEADS if agrees else _OTHER_REAGENT


@lru_cache(maxsize=8192)
def _touched(plan: Plan, mistake: Mistake) -> frozenset[str]:
    """The quantities that a mistake may change."""
    stale = plan.stale([name for name, _ in mistake.rewrites])
    return frozenset(step.quantity.id for step in stale)


def _agrees_in_choice(bench: Bench, mistake: Mistake, wrong: Mapping[str, Window]) -> bool:
    """Whether the reagent that was answered before, where a mistake would have changed it, is what it leads to."""
    changed = bench.chosen and EXTENT in _touched(bench.template.plan, mistake)
    return not changed or bench.source_of(wrong) == bench.chosen


def mistakes_behind_choice(bench: Bench, chosen: str) -> tuple[Together, ...]:
    """The mistakes that make this reagent the limiting one, and lead to what was answered before."""
    found: list[Together] = []
    plan = bench.template.plan
    likely = likely_choosers(bench.reached, plan, chosen, bench.numbers)
    for mistake in likely if bench.trials is None else plan.mistakes:
        leads, why = _leads_to_choice(bench, mistake, chosen)
        bench.tried("mistake", f"{mistake.title} [{mistake.id}]", why, fits=leads)
        if leads and mistake in likely:
            found.append((mistake,))
    return _worth_naming(found)


def _worth_naming(found: Sequence[Together]) -> tuple[Together, ...]:
    """All explanations; where they are many, only those by which the wrong reagent was chosen, or none."""
    if len(found) > _MOST_NAMED:
        found = [together for together in found if EXTENT in rewrites_of(together)]
    return tuple(found) if len(found) <= _MOST_NAMED else ()


def _leads_to_choice(bench: Bench, mistake: Mistake, chosen: str) -> tuple[bool, str]:
    plan = bench.template.plan
    touched = _touched(plan, mistake)
    if EXTENT not in touched:
        return False, _ELSEWHERE.why
    wrong = bench.mistaken([mistake], bench.right)
    if wrong is None:
        return False, _IMPOSSIBLE.why
    if bench.source_of(wrong) != chosen:
        return False, "leads to another reagent"
    told = [said for said in bench.numbers if said.asked.quantity.id in touched]
    against = next((said for said in told if not bench.gives(said, wrong)), None)
    if against is not None:
        return False, _against(against, bench.answer(against, wrong))
    return True, _LEADS.why
