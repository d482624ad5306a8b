"""Naming mistakes: the reason code, the sentence, and where they were made."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from problemgen.grade.judging.findings import Finding
from problemgen.grade.judging.mistakes import Found
from problemgen.grade.judging.paper import Paper, together_with
from problemgen.language.messages import _
from problemgen.model.plan import Step
from problemgen.model.problem import Asked
from problemgen.plan.paths import EXTENT, Way
from problemgen.plan.tellings import OTHER_REAGENT, Telling, telling_of
from problemgen.plan.tries import Try, moves_point, tries_of

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
    telling = telling_of(paper.template.scene, _step(paper, one), one)
    if one.step == EXTENT and paper.chosen and EXTENT not in paper.carried and one.how in ("another", "excess-taken"):
        return Telling(telling.title, _(OTHER_REAGENT))
    return telling


def _step(paper: Paper, one: Try) -> Step:
    """The step that a try stands in the place of, on the plan or off it."""
    tries_at = tries_of(paper.template.plan, paper.units).items()
    return next(step for step, tries in tries_at if step.quantity.id == one.step and one in tries)


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
    if all(moves_point(_step(paper, one), one) for way in ways for one in way.tries):
        return max(share, policy.unit_slip)
    return share
