"""Marking with what the instructor says that cells mean: these are read in the place of what was written."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from problemgen.grade.judging.judge import explain_student, judge_student
from problemgen.grade.reading.spelling import quoted
from problemgen.language.messages import _, speaking
from problemgen.model.answers import KeyHead, StudentKey
from problemgen.model.explanation import Explanation
from problemgen.model.means import Means
from problemgen.model.verdict import PartResult, StudentResult

__all__ = ["explain_meant", "judge_meant"]


def judge_meant(head: KeyHead, key: StudentKey, cells: Mapping[str, str], means: Means) -> StudentResult:
    """Mark a student as `judge_student` does, with the meanings in the place of cells; what was written is kept.

    A meaning for one part holds whatever the cell says; one for all parts where the cell cannot be read.
    """
    meant = means.in_parts(cells)
    result = judge_student(head, key, meant)
    more = _of_unread(result.parts, means)
    if more:
        meant = {**meant, **more}
        result = judge_student(head, key, meant)
    if meant is cells:
        return result
    with speaking(key.language or head.language):
        return replace(result, parts=_as_written(result.parts, cells, meant))


def explain_meant(head: KeyHead, key: StudentKey, cells: Mapping[str, str], means: Means) -> tuple[Explanation, ...]:
    """Explain the marking of a student as `explain_student` does, with the meanings in the place of cells."""
    meant = means.in_parts(cells)
    meant = {**meant, **_of_unread(judge_student(head, key, meant).parts, means)} if means.anywhere else meant
    explanations = explain_student(head, key, meant)
    with speaking(key.language or head.language):
        results = _as_written([one.result for one in explanations], cells, meant)
    return tuple(replace(one, result=result) for one, result in zip(explanations, results, strict=True))


def _of_unread(parts: Iterable[PartResult], means: Means) -> dict[str, str]:
    """What the cells mean that could not be read, by column."""
    unread = {part.label: means.of(part.wrote) for part in parts if part.verdict == "unread"}
    return {label: meant for label, meant in unread.items() if meant is not None}


def _taken_as(wrote: str, meant: str) -> str:
    return _("{text} is taken as {meaning}.").format(text=quoted(wrote), meaning=meant)


def _as_written(
    parts: Iterable[PartResult], cells: Mapping[str, str], meant: Mapping[str, str]
) -> tuple[PartResult, ...]:
    """The parts with what was written, and with a remark where something else was read."""
    return tuple(
        part
        if meant.get(part.label, "") == cells.get(part.label, "")
        else replace(
            part,
            wrote=cells[part.label],
            remarks=(_taken_as(cells[part.label], meant[part.label]), *part.remarks),
            doubt="",  # somebody has said what it means
        )
        for part in parts
    )
