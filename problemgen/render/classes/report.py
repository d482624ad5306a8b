"""The report on a class: what was difficult, for whom, and whether the set measured it fairly."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from problemgen.language.messages import _, ngettext
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
        language=head.language,
        title=_("{title}: class report").format(title=clean_text(head.title)),
        course=clean_text(head.course),
        notice=_(NOTICE),
        opening=f"{_opening(statistics)}{_attempts(head.attempts)}",
        first=tuple(_first(statistics)) if statistics.students else (),
        sections=sections(statistics),
        closing=_(CLOSING),
    )
    return report_page(report, layouts)


def _opening(statistics: ClassStatistics) -> str:
    """How many handed in."""
    here, away = statistics.students, len(statistics.absent)
    if not here:
        return _("Nobody has handed anything in yet.")
    if not away:
        return ngettext("{n} student handed in.", "All {n} students handed in.", here).format(n=here)
    told = _("{here} of {all} students handed in; the figures are theirs alone.")
    return told.format(here=here, all=here + away)


def _attempts(attempts: Attempts) -> str:
    """Which of several attempts is described."""
    if not attempts.several:
        return ""
    if attempts.counts == "best":
        told = _("Of several attempts each student’s best one is described.")
    elif attempts.counts == "mean":
        told = _("Of several attempts each student’s last one is described; the gradebook has their mean.")
    else:
        told = _("Of several attempts each student’s last one is described.")
    return f" {told}"


def _students(count: int) -> str:
    return ngettext("{n} student", "{n} students", count).format(n=count)


def _first(statistics: ClassStatistics) -> Iterator[str]:
    """What an instructor may want to look at first, a sentence each."""
    parts = sorted((one for one in statistics.parts if one.answered), key=lambda one: one.difficulty)
    hard = [one for one in parts if one.difficulty < _HARD]
    if hard:
        share = _("{part} (mean share {share})")
        told = ", ".join(share.format(part=one.label, share=decimals(one.difficulty)) for one in hard[:_HARDEST])
        yield _("Hardest: {parts}.").format(parts=told)
    against = [one.label for one in statistics.parts if _is_against(one)]
    if against:
        told = _("Lost by those who do well otherwise: {parts}. Look at wording and key.")
        yield told.format(parts=", ".join(against))
    if statistics.mistakes:
        most = statistics.mistakes[0]
        told = _("Mistake of most students: {title}, {students}.")
        yield told.format(title=clean_text(most.title), students=_students(len(most.people)))
    unfair = [one.label for one in statistics.groups if differs(one.adjusted)]
    if unfair:
        told = _("Some variants were harder than others: {parts}.")
        yield told.format(parts=", ".join(dict.fromkeys(unfair)))
    if statistics.unread:
        count = len(statistics.unread)
        told = ngettext("{n} answer could not be read.", "{n} answers could not be read.", count)
        yield told.format(n=count)


def _is_against(part: PartStatistics) -> bool:
    """Whether both figures of discrimination are negative: one of them alone can be by chance."""
    both = (part.discrimination, part.upper_lower)
    return all(value is not None and value < 0 for value in both)
