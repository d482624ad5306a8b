"""The instructor's decisions, put in the place of the points that the marking gave."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from fractions import Fraction

from problemgen.language.messages import _
from problemgen.model.decision import Decision, Decisions
from problemgen.model.verdict import Adjustment, PartResult, StudentResult

__all__ = ["overrule"]


def overrule(result: StudentResult, decisions: Decisions) -> StudentResult:
    """A student's result with the decisions about this attempt: points changed, verdict and reason code kept.

    First those about parts, then about problems, then about the whole sheet: points replace, a bonus is added to what
    is there, and what is dropped counts neither as earned nor as to be had. The student is told the reasons, behind
    what the marking said.
    """
    about = decisions.of(result.student, result.attempt, handed_in=result.handed_in)
    if not about:
        return result
    parts = tuple(_decided(part, about) for part in result.parts)
    decided = replace(result, parts=parts)
    for problem in dict.fromkeys(part.problem for part in parts):
        decided = _adjusted(decided, problem, [one for one in about if one.part == problem.removeprefix("p")])
    return _adjusted(decided, "", [one for one in about if not one.part])


def _decided(part: PartResult, about: Iterable[Decision]) -> PartResult:
    mine = [one for one in about if one.part == part.label]
    around = [one for one in about if one.part in ("", part.problem.removeprefix("p")) and one.kind == "drop"]
    points, last = _points(mine, part.points)
    dropped = bool(around) or (last is not None and last.kind == "drop")
    reasons = _reasons([*mine, *around])
    if not reasons:
        return part
    told = _("Your instructor's decision: {reasons}").format(reasons="; ".join(reasons))
    # Points for all may be more than this student's template gives for the part; a bonus is on top of it.
    bonus = sum((one.points for one in mine if one.kind == "bonus"), Fraction(0))
    points = min(points, part.of) if last is not None and last.kind == "points" else points
    return replace(
        part,
        points=max(points + bonus, Fraction(0)),
        remarks=(*part.remarks, told),
        decision="; ".join(reasons),
        dropped=dropped,
    )


def _points(about: Sequence[Decision], marked: Fraction) -> tuple[Fraction, Decision | None]:
    """What is earned without a bonus, and the decision that says so."""
    last = next((one for one in reversed(about) if one.kind != "bonus"), None)
    return (last.points if last is not None and last.kind == "points" else marked), last


def _reasons(about: Sequence[Decision]) -> tuple[str, ...]:
    """The reasons of the decisions that hold: of all bonuses, and of the last of the others."""
    last = next((one for one in reversed(about) if one.kind != "bonus"), None)
    return tuple(dict.fromkeys(one.reason for one in about if one.kind == "bonus" or one is last))


def _adjusted(result: StudentResult, problem: str, about: Sequence[Decision]) -> StudentResult:
    """The result with what its problem, or with "" the whole sheet, earns more or less than its parts."""
    last = next((one for one in reversed(about) if one.kind != "bonus"), None)
    earned = result.points_of(problem) if problem else result.points
    of = result.of_problem(problem) if problem else result.of
    set_to = min(last.points, of) - earned if last is not None and last.kind == "points" else None
    bonus = [one for one in about if one.kind == "bonus"]
    if set_to is None and not bonus:
        return result
    more = sum((one.points for one in bonus), set_to or Fraction(0))
    reasons = "; ".join(_reasons([one for one in about if one.kind != "drop"]))
    return replace(result, adjustments=(*result.adjustments, Adjustment(problem, max(more, -earned), reasons)))
