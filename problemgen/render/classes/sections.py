"""The sections of the report on a class; where a class is too small for a statistic, a sentence says so."""

from __future__ import annotations

from problemgen.language.messages import N_, _, ngettext
from problemgen.model.class_statistics import LEAST_FOR_GROUPS, LEAST_FOR_SPREAD, ClassStatistics, Reliability
from problemgen.render.classes import words
from problemgen.render.classes.blocks import Block, Charts, Definitions, Section, Words
from problemgen.render.classes.charts_of_parts import (
    SHOWN,
    alpha_chart,
    difficulty_charts,
    discrimination_charts,
    groups_chart,
    mistakes_chart,
    scores_chart,
)
from problemgen.render.classes.tables import (
    absent_table,
    alpha_left_out_table,
    alpha_table,
    differs,
    difficulty_table,
    discrimination_table,
    drawn_table,
    groups_table,
    mistakes_table,
    scores_table,
    summary_table,
    trends_table,
    unread_table,
)

__all__ = ["sections"]

_NONE_DIFFERS = N_("No kind of variant was harder than the others by more than chance would explain.")


def sections(statistics: ClassStatistics) -> tuple[Section, ...]:
    """All sections; of a class that handed nothing in, who did not."""
    if not statistics.students:
        return (_handed_in(statistics),) if statistics.absent else ()
    return (
        _scores(statistics),
        _difficulty(statistics),
        _discrimination(statistics),
        _alpha(statistics),
        _mistakes(statistics),
        _fairness(statistics),
        _unread(statistics),
        *((_handed_in(statistics),) if statistics.absent else ()),
    )


def _too_few(statistics: ClassStatistics) -> str:
    """Why a statistic of the spread is not given: "" where there are students enough."""
    if statistics.students >= LEAST_FOR_SPREAD:
        return ""
    told = ngettext(
        "It takes {least} students or more to tell; {n} student has handed in.",
        "It takes {least} students or more to tell; {n} students have handed in.",
        statistics.students,
    )
    return told.format(least=LEAST_FOR_SPREAD, n=statistics.students)


def _all_alike(statistics: ClassStatistics) -> bool:
    scores = statistics.scores
    return scores is not None and scores.greatest - scores.least < 1e-9


def _scores(statistics: ClassStatistics) -> Section:
    scores = statistics.scores
    assert scores is not None
    blocks: list[Block] = []
    if statistics.students > 1 and _all_alike(statistics):
        blocks.append(Words(_("All students have the same score.")))
    if statistics.students > 1:
        blocks += [Charts((scores_chart(scores),)), scores_table(scores)]
    blocks += [summary_table(scores), Definitions(words.defined(words.ABOUT_SCORES))]
    return Section("scores", _("Scores"), tuple(blocks))


def _difficulty(statistics: ClassStatistics) -> Section:
    charts = Charts(tuple(difficulty_charts(statistics.parts)))
    drawn = (drawn_table(statistics.drawn),) if statistics.drawn else ()
    table = difficulty_table(statistics.parts)
    silent = ", ".join(part.label for part in statistics.parts if not part.answered)
    nobody = (
        (Words(_("Answered by nobody, and counted as not earned: {parts}.").format(parts=silent)),) if silent else ()
    )
    return Section(
        "difficulty",
        _("Difficulty"),
        (*drawn, charts, table, *nobody, Definitions(words.defined(words.ABOUT_DIFFICULTY))),
    )


def _discrimination(statistics: ClassStatistics) -> Section:
    title = _("Discrimination")
    if reason := _too_few(statistics):
        return Section("discrimination", title, (Words(reason),))
    charts = tuple(discrimination_charts(statistics.parts))
    if not charts:
        told = _("No part tells the students apart: on each, all of them earned the same share, or all others did.")
        return Section("discrimination", title, (Words(told),))
    missing = [one.label for one in statistics.parts if one.discrimination is None]
    blocks: list[Block] = [Charts(charts), discrimination_table(statistics.parts)]
    if missing:
        told = _(
            "Without a figure, since fewer than {least} students have them, or all of them earned the same share: "
            "{parts}."
        )
        blocks.append(Words(told.format(least=LEAST_FOR_SPREAD, parts=", ".join(missing))))
    return Section("discrimination", title, (*blocks, Definitions(words.defined(words.ABOUT_DISCRIMINATION))))


def _alpha(statistics: ClassStatistics) -> Section:
    title = _("Reliability")
    reason = _too_few(statistics) or _no_alpha(statistics.by_part)
    if reason:
        return Section("reliability", title, (Words(reason), Definitions(words.defined(words.ABOUT_ALPHA))))
    one = statistics.by_part
    chart = alpha_chart(one)
    blocks: list[Block] = [alpha_table(statistics)]
    blocks += [Charts((chart,))] if chart is not None else []
    blocks.append(alpha_left_out_table(one))
    if one.constant:
        told = _("Left out, since all students scored the same on them: {items}.")
        blocks.append(Words(told.format(items=", ".join(one.constant))))
    return Section("reliability", title, (*blocks, Definitions(words.defined(words.ABOUT_ALPHA))))


def _no_alpha(one: Reliability) -> str:
    if one.alpha is not None:
        return ""
    if len(one.items) < 2:
        return _("Alpha takes two items or more on which students scored differently; there are not two.")
    return _("All students have the same sum of points, so there is no alpha.")


def _mistakes(statistics: ClassStatistics) -> Section:
    if not statistics.mistakes:
        return Section("mistakes", _("Mistakes"), (Words(_("No answer shows a usual mistake.")),))
    count = len(statistics.mistakes)
    told = _("The {n} mistakes of most students; the table has all {count}.")
    shown = told.format(n=SHOWN, count=count) if count > SHOWN else ""
    blocks: list[Block] = [Words(shown)] if shown else []
    blocks += [Charts((mistakes_chart(statistics.mistakes),)), mistakes_table(statistics.mistakes)]
    return Section("mistakes", _("Mistakes"), (*blocks, Definitions(words.defined(words.ABOUT_MISTAKES))))


def _fairness(statistics: ClassStatistics) -> Section:
    blocks: list[Block] = []
    if statistics.groups:
        count = len(statistics.groups)
        if count > SHOWN:
            told = _("The {n} comparisons that differ most; the table has all {count}.")
            blocks.append(Words(told.format(n=SHOWN, count=count)))
        blocks += [Charts((groups_chart(statistics.groups),)), groups_table(statistics.groups)]
        unfair = list(dict.fromkeys(one.label for one in statistics.groups if differs(one.adjusted)))
        some = _("Some variants were harder than others: {parts}.")
        found = some.format(parts=", ".join(unfair)) if unfair else _(_NONE_DIFFERS)
        blocks.append(Words(found))
        blocks.append(Definitions(words.defined(words.ABOUT_GROUPS)))
    else:
        told = _(
            "No two kinds of variants to compare: it takes two templates for a problem, or two reagents or formulas "
            "that are right, with {least} students or more each."
        )
        blocks.append(Words(told.format(least=LEAST_FOR_GROUPS)))
    if statistics.trends:
        blocks += [trends_table(statistics.trends), Definitions(words.defined(words.ABOUT_TRENDS))]
    elif reason := _too_few(statistics):
        blocks.append(Words(f"{_('Were larger numbers easier?')} {reason}"))
    return Section("fairness", _("Fairness across variants"), tuple(blocks))


def _unread(statistics: ClassStatistics) -> Section:
    block = unread_table(statistics.unread) if statistics.unread else Words(_("Every answer could be read."))
    return Section("unread", _("Answers that could not be read"), (block,))


def _handed_in(statistics: ClassStatistics) -> Section:
    return Section("absent", _("Nothing handed in"), (absent_table(statistics.absent),))
