"""What makes a student's sum other than that of the parts as they were marked: decisions, and the lowest left out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from problemgen.language.messages import N_, _
from problemgen.language.numbers import listed
from problemgen.model.blocks import Block, Bullets, Paragraph, Prose
from problemgen.model.verdict import StudentResult
from problemgen.render.feedback.points import earned_of, points_number, told_more

__all__ = ["LATER", "sum_words"]

LATER = N_("When all attempts are in, the lowest of your problems are left out of the sum.")
"""Said of a single attempt where there are several: which problems are left out depends on what counts of them."""


def sum_words(result: StudentResult, left_out: Sequence[str] = ()) -> Iterator[Block]:
    """What changes the sum, and what it comes to without the problems (by number) that are left out."""
    lines = [*_decided(result)]
    if left_out and result.has_mark:
        gone = [f"p{number}" for number in left_out]
        points = result.points - sum((result.points_of(one) for one in gone), Fraction(0))
        of = result.of - sum((result.of_problem(one) for one in gone), Fraction(0))
        problem = _("problem {number} ({earned})")
        earned = ((one.removeprefix("p"), earned_of(result.points_of(one), result.of_problem(one))) for one in gone)
        each = listed([problem.format(number=number, earned=one) for number, one in earned])
        told = _("Left out as the lowest: {problems}. {earned} count.")
        lines.append(told.format(problems=each, earned=earned_of(points, of)))
    if lines:
        yield Paragraph((Prose(_("How this sum comes about:")),))
        yield Bullets(tuple((Prose(line),) for line in lines))


def _decided(result: StudentResult) -> Iterator[str]:
    """The instructor's decisions that change the sum; those about parts and problems have their reasons there."""
    dropped = [f"{one.label} ({points_number(one.of)})" for one in result.parts if one.dropped]
    if dropped and result.has_mark:
        yield _("Not counted, by your instructor's decision: {parts}.").format(parts=", ".join(dropped))
    for one in result.counted:
        if one.decision:
            told = _("{part} by your instructor's decision: {earned}.")
            yield told.format(part=one.label, earned=earned_of(one.points, one.of))
    for more in result.adjustments:
        if more.problem:
            told = _("For problem {number} by your instructor's decision: {points}.")
            yield told.format(number=more.problem.removeprefix("p"), points=told_more(more.points))
        else:
            told = _("For the whole sheet by your instructor's decision: {points}.")
            yield f"{told.format(points=told_more(more.points))} {more.reason}"
