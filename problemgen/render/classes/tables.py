"""The tables of the report on a class."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from problemgen.language.messages import N_, _
from problemgen.model.class_statistics import (
    ClassStatistics,
    Drawn,
    Groups,
    MistakeCount,
    PartStatistics,
    Reliability,
    Scores,
    SizeTrend,
    Unread,
)
from problemgen.model.coincidence import Person
from problemgen.render.classes.blocks import Column, Listing
from problemgen.render.classes.charts_of_parts import score_counts
from problemgen.render.feedback.points import points_number
from problemgen.render.words.statistics_text import DASH, decimals, percent, probability, sentence_case
from problemgen.render.words.text import clean_text

__all__ = [
    "absent_table",
    "alpha_left_out_table",
    "alpha_table",
    "differs",
    "difficulty_table",
    "discrimination_table",
    "drawn_table",
    "groups_table",
    "mistakes_table",
    "scores_table",
    "summary_table",
    "trends_table",
    "unread_table",
]

_CLEARLY = 0.05
"""The adjusted probability below which kinds of variants are said to differ: the usual level of 5 %."""
_LONGEST = 200
"""Letters of what was written that are shown: an answer is shorter."""
_BEHIND = N_("The figures of this chart")


def differs(adjusted: float | None) -> bool:
    """Whether kinds of variants are said to differ."""
    return adjusted is not None and adjusted < _CLEARLY


def _finding(adjusted: float | None) -> str:
    return _("differs") if differs(adjusted) else ""


def _told(person: Person) -> str:
    """A student by id and name; by id alone where the name is none."""
    name = clean_text(person.name).strip()
    return person.student if name in ("", person.student) else f"{person.student} {name}"


def _columns(
    *heads: str, numeric: Iterable[int] = (), wide: int | None = None, free: int | None = None
) -> tuple[Column, ...]:
    numbers = frozenset(numeric)
    return tuple(Column(head, place in numbers, place == wide, place == free) for place, head in enumerate(heads))


def summary_table(scores: Scores) -> Listing:
    """What sums up the scores."""
    low, middle, high = (percent(value) for value in scores.quartiles)
    spread = DASH if scores.deviation is None else percent(scores.deviation)
    rows = (
        (_("Mean"), percent(scores.mean)),
        (_("Standard deviation"), spread),
        (_("Median"), middle),
        (_("Quartiles"), f"{low}, {high}"),
        (_("Lowest and highest"), f"{percent(scores.least)}, {percent(scores.greatest)}"),
    )
    return Listing(_("Scores"), _columns(_("Figure"), _("Percent of the points"), numeric=(1,)), rows)


def scores_table(scores: Scores) -> Listing:
    """How many students have which score."""
    counts = score_counts(scores.shares)
    step = 100 // len(counts)
    rows = tuple(
        (_bin(step * place, step * (place + 1), last=place + 1 == len(counts)), str(count))
        for place, count in enumerate(counts)
    )
    return Listing(_("Students by score"), _columns(_("Score"), _("Students"), numeric=(1,)), rows, _(_BEHIND))


def _bin(low: int, high: int, *, last: bool) -> str:
    """Which scores are counted together, in percent."""
    told = _("{low} to {high}\u00a0%") if last else _("{low} to under {high}\u00a0%")
    return told.format(low=low, high=high)


def drawn_table(drawn: Sequence[Drawn]) -> Listing:
    """Which students have which template."""
    rows = tuple((one.label, clean_text(one.title), str(one.students)) for one in drawn)
    return Listing(
        _("Problems with several templates, and what they are called here"),
        _columns(_("Problem"), _("Template"), _("Students"), numeric=(2,)),
        rows,
    )


def difficulty_table(parts: Sequence[PartStatistics]) -> Listing:
    """How much was earned for each part."""
    rows = tuple(
        (
            part.label,
            clean_text(part.words),
            points_number(part.points),
            str(part.students),
            *map(str, (part.full, part.some, part.none, part.blank)),
            decimals(part.difficulty),
        )
        for part in parts
    )
    heads = (
        _("Part"),
        _("Asked"),
        _("Points"),
        _("Students"),
        _("All points"),
        _("Some points"),
        _("No points"),
        _("No answer"),
        _("Mean share"),
    )
    return Listing(_("Points earned, by part"), _columns(*heads, numeric=range(2, 9), wide=1), rows, _(_BEHIND))


def discrimination_table(parts: Sequence[PartStatistics]) -> Listing:
    """How well each part tells students apart."""
    rows = tuple(
        (part.label, str(part.students), decimals(part.discrimination), decimals(part.upper_lower)) for part in parts
    )
    heads = (_("Part"), _("Students"), _("Item–rest correlation"), _("Upper group less lower"))
    return Listing(_("Discrimination, by part"), _columns(*heads, numeric=(1, 2, 3)), rows, _(_BEHIND))


def alpha_table(statistics: ClassStatistics) -> Listing:
    """Alpha over the parts and over the problems."""
    named = ((_("Parts"), statistics.by_part), (_("Whole problems"), statistics.by_problem))
    rows = tuple((name, str(len(one.items)), decimals(one.alpha), _interval(one)) for name, one in named)
    heads = (_("Items"), _("Number"), _("Alpha"), _("95 % interval"))
    return Listing(_("Cronbach’s alpha"), _columns(*heads, numeric=(1, 2, 3)), rows)


def _interval(one: Reliability) -> str:
    return (
        DASH
        if one.interval is None
        else _("{low} to {high}").format(low=decimals(one.interval[0]), high=decimals(one.interval[1]))
    )


def alpha_left_out_table(one: Reliability) -> Listing:
    """Alpha if each item is left out."""
    rows = tuple((item, decimals(value)) for item, value in zip(one.items, one.without, strict=True))
    return Listing(_("Alpha if an item is left out"), _columns(_("Item"), _("Alpha"), numeric=(1,)), rows, _(_BEHIND))


def mistakes_table(mistakes: Sequence[MistakeCount]) -> Listing:
    """Each mistake with the students concerned, and the parts in which it shows."""
    rows = tuple(
        (
            sentence_case(clean_text(one.title)),
            str(len(one.people)),
            str(one.times),
            tuple(f"{_told(person)} ({', '.join(labels)})" for person, labels in one.people),
        )
        for one in mistakes
    )
    heads = (_("Mistake"), _("Students"), _("Answers"), _("Who, and in which parts"))
    return Listing(
        _("Mistakes, and the students concerned"), _columns(*heads, numeric=(1, 2), wide=3), rows, _("Who made which")
    )


def groups_table(groups: Sequence[Groups]) -> Listing:
    """Every comparison between kinds of variants."""
    rows = tuple(
        (
            one.label,
            one.by,
            tuple(f"{clean_text(group.name)}: {decimals(group.mean)} ({group.students})" for group in one.groups),
            decimals(one.statistic, 1),
            probability(one.probability),
            probability(one.adjusted),
            decimals(one.effect),
            _finding(one.adjusted),
        )
        for one in groups
    )
    heads = (_("Part"), _("Variants by"), _("Mean share (students)"), "H", "p", _("Adjusted p"), "ε²", _("Finding"))
    caption = _("Kinds of variants compared")
    return Listing(caption, _columns(*heads, numeric=(3, 4, 5, 6), wide=2), rows, _(_BEHIND))


def trends_table(found: Sequence[SizeTrend]) -> Listing:
    """Whether larger numbers were easier, a part each."""
    rows = tuple(
        (
            one.label,
            str(one.students),
            decimals(one.coefficient),
            probability(one.probability),
            probability(one.adjusted),
            _finding(one.adjusted),
        )
        for one in found
    )
    heads = (_("Part"), _("Students"), _("Rank correlation"), "p", _("Adjusted p"), _("Finding"))
    caption = _("Share of points against the size of the number")
    return Listing(caption, _columns(*heads, numeric=(1, 2, 3, 4)), rows, _("Rank correlations, by part"))


def unread_table(unread: Sequence[Unread]) -> Listing:
    """Every answer that could not be read."""
    rows = tuple((one.label, _told(one.person), _shortened(one.wrote), clean_text(one.reason)) for one in unread)
    return Listing(
        _("By part and student"), _columns(_("Part"), _("Student"), _("Written"), _("Reason"), wide=3, free=2), rows
    )


def _shortened(wrote: str) -> str:
    text = clean_text(wrote).strip()
    return text if len(text) <= _LONGEST else f"{text[:_LONGEST]}…"


def absent_table(absent: Sequence[Person]) -> Listing:
    """Who handed nothing in."""
    rows = tuple(
        (person.section, _told(person)) for person in sorted(absent, key=lambda one: (one.section, one.student))
    )
    return Listing(_("Students who handed nothing in"), _columns(_("Section"), _("Student")), rows)
