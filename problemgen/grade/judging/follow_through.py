"""What follows from an earlier answer that was wrong: that error was already paid for."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from problemgen.chemistry.units import Unit, read_unit
from problemgen.grade.judging.findings import AnsweredNumber
from problemgen.grade.judging.paper import Paper, holds
from problemgen.language.messages import _
from problemgen.model.answers import PartKey
from problemgen.model.truths import NumberTruth, number_in
from problemgen.plan.arithmetic import Window

__all__ = ["RULES", "carry_accepted", "carry_number", "copied", "follows", "rests_on_accepted"]

_COARSEST = Fraction(1, 20)
"""How far, relatively, a wrong answer may be from what the student went on with: as one with two figures at most."""

_FEWEST = 2
"""Significant figures that a wrong answer counts with at least: else nearly anything would follow from it."""

_SAME = Fraction(1, 10**6)
"""Two of the student's own values that agree so far, relatively, are one by the plan, not by chance.

Worked exactly, one quantity reached in two ways is one number; of numbers of three or four figures hardly any two come
so near without being equal.
"""

RULES: Mapping[str, object] = {"coarsest": _COARSEST, "fewest": _FEWEST, "same": _SAME}
"""What the practice page reads of this: `problemgen.practice.rules` carries it into the page."""


def follows(paper: Paper, part: PartKey, answer: AnsweredNumber) -> bool:
    """Whether an answer is what the student's own earlier answers lead to, on the plan's way or another."""
    for carried in paper.carried_ways_to(part):
        source = copied(paper, part, answer, carried)
        window = paper.accepts(answer, carried)
        fits = holds(window, answer) or paper.rounds_to(answer, paper.once_whole(part, carried))
        why = _("leads to this answer") if fits else _("leads elsewhere")
        if source:
            why = _("is the wrong answer to {part} once more, and this part has another").format(part=source)
        paper.tried("follow-through", _("the student's own earlier answers"), why, fits=fits and not source,
                    leads_to=window)  # fmt: skip
        if fits and not source:
            return True
    return False


def copied(paper: Paper, part: PartKey, answer: AnsweredNumber, carried: Mapping[str, Window] | None = None) -> str:
    """The column of an earlier wrong answer that stands here once more, where the right answers differ; "" for none.

    Where by the student's own values both are one quantity (the amount of the limiting reagent, and what it gives),
    it is no copy.
    """
    for other, earlier in paper.wrong_numbers:
        if earlier.engine == answer.engine and _differ(paper, other, part):
            mine = None if carried is None else carried[part.asked.quantity.id].value
            if mine is None or abs(mine - earlier.engine) > _SAME * abs(earlier.engine):
                return paper.label(other)
    return ""


def _differ(paper: Paper, one: PartKey, other: PartKey) -> bool:
    """Whether two parts of one dimension have different right answers."""
    if one.asked.quantity == other.asked.quantity or _unit(one).dimension != _unit(other).dimension:
        return False
    mine, theirs = (_bounds(number_in(paper.problem.truths[part.id]), part) for part in (one, other))
    return mine[1] < theirs[0] or theirs[1] < mine[0]


def _unit(part: PartKey) -> Unit:
    return read_unit(part.asked.unit)


def _bounds(truth: NumberTruth, part: PartKey) -> tuple[Fraction, Fraction]:
    unit = _unit(part)
    return unit.to_engine(truth.low), unit.to_engine(truth.high)


def carry_number(paper: Paper, part: PartKey, answer: AnsweredNumber, window: Window | None) -> None:
    """Take a wrong answer over for the parts that build on it: one with a single figure as if it had two."""
    paper.wrong_numbers.append((part, answer))
    if window is None:
        return
    low, high = window.low, window.high
    # Half a unit of so many figures is seldom as much; where 0 lies elsewhere in engine units, it may be.
    if 2 * 10 ** (answer.written - 1) * _COARSEST < 1 or _unit(part).offset:
        margin = abs(window.value) * _COARSEST
        low, high = max(low, window.value - margin), min(high, window.value + margin)
    paper.carry(part.asked.quantity, Window(window.value, low, high, max(window.figures, _FEWEST)))


def carry_accepted(paper: Paper, part: PartKey, window: Window) -> None:
    """Take over an answer that is accepted beside the honest window, so that what follows from it is accepted too."""
    before = set(paper.carried)
    paper.carry(part.asked.quantity, window)
    paper.accepted |= paper.carried.keys() - before


def rests_on_accepted(paper: Paper, part: PartKey) -> bool:
    """Whether all of the student's own values that a part builds on were accepted."""
    carried = paper.carried.keys() & paper.template.plan.ways_need(part.asked.quantity) - {part.asked.quantity.id}
    return carried <= paper.accepted
