"""The report on a class: what was difficult, for whom, and whether the set measured it fairly."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from problemgen.model.answers import KeyHead
from problemgen.model.class_statistics import ClassStatistics, PartStatistics
from problemgen.model.policy import Attempts
from problemgen.render.classes.blocks import Report, report_page
from problemgen.render.classes.sections import sections
from problemgen.render.classes.tables import differs
from problemgen.render.classes.words import CLOSING, NOTICE
from problemgen.render.words.statistics_text import decimals
from problemgen.render.words.text import clean_text

__all__ = ["class_report"]

_HARDEST = 3  # parts that are pointed at: what can be talked over in one lesson
_HARD = 0.5
"""Below this mean share a part is pointed at: fewer than half of the points were earned."""


def class_report(head: KeyHead, statistics: ClassStatistics, layouts: Mapping[str, str]) -> str:
    """The report as one self-contained page; `layouts` are the texts of the layout folder by file name."""
    report = Report(
        title=f"{clean_text(head.title)}: class report",
        course=clean_text(head.course),
        notice=NOTICE,
        opening=f"{_opening(statistics)}{_attempts(head.attempts)}",
        first=tuple(_first(statistics)) if statistics.students else (),
        sections=sections(statistics),
        closing=CLOSING,
    )
    return report_page(report, layouts)


def _opening(statistics: ClassStatistics) -> str:
    """How many handed in."""
    here, away = statistics.students, len(statistics.absent)
    if not here:
        return "Nobody has handed anything in yet."
    if not away:
        return f"{_students(here)} handed in." if here == 1 else f"All {here} students handed in."
    return f"{here} of {here + away} students handed in; the figures are theirs alone."


def _attempts(attempts: Attempts) -> str:
    """Which of several attempts is described."""
    if not attempts.several:
        return ""
    which = "best" if attempts.counts == "best" else "last"
    mean = "; the gradebook has their mean" if attempts.counts == "mean" else ""
    return f" Of several attempts each student’s {which} one is described{mean}."


def _students(count: int) -> str:
    return "1 student" if count == 1 else f"{count} students"


def _first(statistics: ClassStatistics) -> Iterator[str]:
    """What an instructor may want to look at first, a sentence each."""
    parts = sorted((one for one in statistics.parts if one.answered), key=lambda one: one.difficulty)
    hard = [one for one in parts if one.difficulty < _HARD]
    if hard:
        told = ", ".join(f"{one.label} (mean share {decimals(one.difficulty)})" for one in hard[:_HARDEST])
        yield f"Hardest: {told}."
    against = [one.label for one in statistics.parts if _is_against(one)]
    if against:
        yield f"Lost by those who do well otherwise: {', '.join(against)}. Look at wording and key."
    if statistics.mistakes:
        most = statistics.mistakes[0]
        yield f"Mistake of most students: {clean_text(most.title)}, {_students(len(most.people))}."
    unfair = [one.label for one in statistics.groups if differs(one.adjusted)]
    if unfair:
        yield f"Some variants were harder than others: {', '.join(dict.fromkeys(unfair))}."
    if statistics.unread:
        count = len(statistics.unread)
        yield "1 answer could not be read." if count == 1 else f"{count} answers could not be read."


def _is_against(part: PartStatistics) -> bool:
    """Whether both figures of discrimination are negative: one of them alone can be by chance."""
    both = (part.discrimination, part.upper_lower)
    return all(value is not None and value < 0 for value in both)
