"""The instructor's decisions, put in the place of the points that the marking gave."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from problemgen.model.decision import Decision
from problemgen.model.verdict import PartResult, StudentResult

__all__ = ["overridden"]


def overridden(result: StudentResult, decisions: Iterable[Decision], attempt: int = 1) -> StudentResult:
    """A student's result with the decisions about this attempt: points replaced, verdict and reason code kept.

    A decision about one attempt goes before one about all. The student is told the reason, behind what the marking
    said.
    """
    about = [one for one in decisions if one.attempt in (None, attempt)]
    by_part = {one.part: one for one in sorted(about, key=lambda one: one.attempt is not None)}
    if not by_part:
        return result
    return replace(result, parts=tuple(_decided(part, by_part.get(part.label)) for part in result.parts))


def _decided(part: PartResult, decision: Decision | None) -> PartResult:
    if decision is None:
        return part
    told = f"Your instructor's decision: {decision.reason}"
    return replace(part, points=decision.points, remarks=(*part.remarks, told), decision=decision.reason)
