"""Marking each student apart: whatever fails for one of them stops neither the others nor the class."""

from __future__ import annotations

import logging
import traceback
from collections.abc import Callable
from fractions import Fraction
from typing import TypeVar

from problemgen.language.messages import N_, _
from problemgen.model.answers import PartKey, ProblemKey
from problemgen.model.verdict import UNJUDGED, PartResult

__all__ = ["apart", "unjudged"]

_LOG = logging.getLogger("problemgen")
_SENTENCE = N_("Not judged yet. Your instructor looks at this answer.")

_Result = TypeVar("_Result")


def apart(work: Callable[[], _Result], instead: Callable[[], _Result]) -> _Result:
    """What some work on one student's answers gives; where it fails, what stands in its place.

    Where it failed goes to the logger "problemgen" at level DEBUG: the kind of error and the lines of the program. The
    error's own words stay out: they may tell what a student wrote.
    """
    try:
        return work()
    # The one place where every error is caught. No answer should raise one; where one does all the same, the fault is
    # the program's, and a class must not wait until it is mended: the part is told as not judged, never passed over.
    except Exception as error:  # noqa: BLE001
        _LOG.debug("failed: %s\n%s", type(error).__qualname__, "".join(traceback.format_tb(error.__traceback__)))
        return instead()


def unjudged(problem: ProblemKey, part: PartKey, wrote: str) -> PartResult:
    """The result of a part whose judging failed: no points until the instructor decides."""
    return PartResult(
        problem=problem.problem,
        part=part.id,
        label=problem.label(part),
        verdict=UNJUDGED,
        reason="not-judged",
        sentence=_(_SENTENCE),
        remarks=(),
        points=Fraction(0),
        of=part.points,
        wrote=wrote,
        read="",
    )
