"""Naming mistakes: the reason code, the sentence, and where they were made."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property, lru_cache

from problemgen.grade.judging.findings import Finding
from problemgen.grade.judging.mistakes import Found
from problemgen.grade.judging.paper import Paper, together_with
from problemgen.language.messages import _
from problemgen.model.plan import Plan, Step
from problemgen.model.problem import Asked
from problemgen.plan.paths import EXTENT, Way
from problemgen.plan.tellings import OTHER_REAGENT, Telling, telling_of
from problemgen.plan.tries import Try, Units, moves_point, tries_of

__all__ = ["named"]


def named(paper: Paper, asked: Asked, found: Sequence[Found], *, worthless: bool = False) -> Finding:
    """The finding that names mistakes: each explanation is of one way, or of two things made together.

    `worthless`: it earns nothing, whatever the policy says.
    """
    ways = [one.way for one in found]
    told = [[_telling(paper, one) for one in _tries(way)] for way in ways]
    steps = {one.step for way in ways for one in way.tries}
    plan = paper.template.plan
    return Finding(
        "mistake",
        "|".join("+".join(dict.fromkeys(one.mistake.id for one in way.tries)) for way in ways),
        _sentence(told),
        Fraction(0) if worthless else _share(paper, asked, ways),
        tuple(dict.fromkeys(one.mistake.id for way in ways for one in way.tries)),
        tuple(dict.fromkeys(telling.title for together in told for telling in together)),
        tuple(dict.fromkeys((*(s.quantity.id for s in plan.steps if s.quantity.id in steps), *sorted(steps)))),
    )


def _tries(way: Way) -> list[Try]:
    """The tries of a way, one of each kind: the same error at several steps is told once."""
    return list({(one.group or one.mistake.id): one for one in reversed(way.tries)}.values())[::-1]


def _telling(paper: Paper, one: Try) -> Telling:
    telling = telling_of(paper.template.scene, _stand(paper, one).step, one)
    if one.step == EXTENT and paper.chosen and EXTENT not in paper.carried and one.how in ("another", "excess-taken"):
        return Telling(telling.title, _(OTHER_REAGENT))
    return telling


def _stand(paper: Paper, one: Try) -> _Stand:
    return _stands_of(paper.template.plan, paper.units)[one]


@dataclass(frozen=True)
class _Stand:
    """Where a try stands: the step in whose place it is worked, on the plan or off it."""

    step: Step
    one: Try

    @cached_property
    def moves_point(self) -> bool:
        """Whether it works the step rightly but for a power of ten."""
        return moves_point(self.step, self.one)


@lru_cache(maxsize=512)
def _stands_of(plan: Plan, units: Units) -> Mapping[Try, _Stand]:
    """Where each try of a plan and of its routes stands; of several steps to one quantity at the first."""
    stands: dict[Try, _Stand] = {}
    for step, tries in tries_of(plan, units).items():
        for one in tries:
            stands.setdefault(one, _Stand(step, one))
    return stands


def _sentence(told: Sequence[Sequence[Telling]]) -> str:
    titles = list(dict.fromkeys(together_with([_(one.title) for one in together]) for together in told))
    each = (" ".join(dict.fromkeys(one.sentence for one in together)) for together in told)
    sentences = list(dict.fromkeys(each))
    if len(titles) > 1:
        opening = _("This looks like one of: {titles}.")
    elif len(told[0]) > 1:
        opening = _("This looks like two mistakes at once: {titles}.")
    else:
        opening = _("This looks like: {titles}.")
    # Translators: stands between two explanations of an answer.
    between = f" {_('Or:')} "
    return f"{opening.format(titles='; '.join(titles))} {between.join(sentences)}"


def _share(paper: Paper, asked: Asked, ways: Sequence[Way]) -> Fraction:
    """The share that the policy gives: for a unit that was not converted, that of a slip of the unit."""
    policy = paper.policy_of(asked)
    share = policy.share_of_mistakes([one.mistake.id for one in way.tries] for way in ways)
    if all(_stand(paper, one).moves_point for way in ways for one in way.tries):
        return max(share, policy.unit_slip)
    return share
