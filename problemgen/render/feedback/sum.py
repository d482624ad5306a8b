"""What makes a student's sum other than that of the parts as they were marked: decisions, and the lowest left out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from problemgen.model.blocks import Block, Bullets, Paragraph, Prose
from problemgen.model.verdict import StudentResult
from problemgen.render.feedback.points import earned_of, points_number, told_more

__all__ = ["LATER", "sum_words"]

LATER = "When all attempts are in, the lowest of your problems are left out of the sum."
"""Said of a single attempt where there are several: which problems are left out depends on what counts of them."""


def sum_words(result: StudentResult, left_out: Sequence[str] = ()) -> Iterator[Block]:
    """What changes the sum, and what it comes to without the problems (by number) that are left out."""
    lines = [*_decided(result)]
    if left_out and result.has_mark:
        gone = [f"p{number}" for number in left_out]
        points = result.points - sum((result.points_of(one) for one in gone), Fraction(0))
        of = result.of - sum((result.of_problem(one) for one in gone), Fraction(0))
        each = " and ".join(
            f"problem {one.removeprefix('p')} ({earned_of(result.points_of(one), result.of_problem(one))})"
            for one in gone
        )
        lines.append(f"Left out as the lowest: {each}. {earned_of(points, of)} count.")
    if lines:
        yield Paragraph((Prose("How this sum comes about:"),))
        yield Bullets(tuple((Prose(line),) for line in lines))


def _decided(result: StudentResult) -> Iterator[str]:
    """The instructor's decisions that change the sum; those about parts and problems have their reasons there."""
    dropped = [f"{one.label} ({points_number(one.of)})" for one in result.parts if one.dropped]
    if dropped and result.has_mark:
        yield f"Not counted, by your instructor's decision: {', '.join(dropped)}."
    for one in result.counted:
        if one.decision:
            yield f"{one.label} by your instructor's decision: {earned_of(one.points, one.of)}."
    for more in result.adjustments:
        if more.problem:
            where, reason = f"problem {more.problem.removeprefix('p')}", ""
        else:
            where, reason = "the whole sheet", f" {more.reason}"
        yield f"For {where} by your instructor's decision: {told_more(more.points)}.{reason}"
