"""The tables of the report on a class."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

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
_BEHIND = "The figures of this chart"


def differs(adjusted: float | None) -> bool:
    """Whether kinds of variants are said to differ."""
    return adjusted is not None and adjusted < _CLEARLY


def _finding(adjusted: float | None) -> str:
    return "differs" if differs(adjusted) else ""


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
        ("Mean", percent(scores.mean)),
        ("Standard deviation", spread),
        ("Median", middle),
        ("Quartiles", f"{low}, {high}"),
        ("Lowest and highest", f"{percent(scores.least)}, {percent(scores.greatest)}"),
    )
    return Listing("Scores", _columns("Figure", "Percent of the points", numeric=(1,)), rows)


def scores_table(scores: Scores) -> Listing:
    """How many students have which score."""
    counts = score_counts(scores.shares)
    step = 100 // len(counts)
    rows = tuple(
        (f"{step * place} to {'under ' if place + 1 < len(counts) else ''}{step * (place + 1)}\u00a0%", str(count))
        for place, count in enumerate(counts)
    )
    return Listing("Students by score", _columns("Score", "Students", numeric=(1,)), rows, _BEHIND)


def drawn_table(drawn: Sequence[Drawn]) -> Listing:
    """Which students have which template."""
    rows = tuple((one.label, clean_text(one.title), str(one.students)) for one in drawn)
    return Listing(
        "Problems with several templates, and what they are called here",
        _columns("Problem", "Template", "Students", numeric=(2,)),
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
    heads = ("Part", "Asked", "Points", "Students", "All points", "Some points", "No points", "No answer", "Mean share")
    return Listing("Points earned, by part", _columns(*heads, numeric=range(2, 9), wide=1), rows, _BEHIND)


def discrimination_table(parts: Sequence[PartStatistics]) -> Listing:
    """How well each part tells students apart."""
    rows = tuple(
        (part.label, str(part.students), decimals(part.discrimination), decimals(part.upper_lower)) for part in parts
    )
    heads = ("Part", "Students", "Item–rest correlation", "Upper group less lower")
    return Listing("Discrimination, by part", _columns(*heads, numeric=(1, 2, 3)), rows, _BEHIND)


def alpha_table(statistics: ClassStatistics) -> Listing:
    """Alpha over the parts and over the problems."""
    named = (("Parts", statistics.by_part), ("Whole problems", statistics.by_problem))
    rows = tuple((name, str(len(one.items)), decimals(one.alpha), _interval(one)) for name, one in named)
    heads = ("Items", "Number", "Alpha", "95 % interval")
    return Listing("Cronbach’s alpha", _columns(*heads, numeric=(1, 2, 3)), rows)


def _interval(one: Reliability) -> str:
    return DASH if one.interval is None else f"{decimals(one.interval[0])} to {decimals(one.interval[1])}"


def alpha_left_out_table(one: Reliability) -> Listing:
    """Alpha if each item is left out."""
    rows = tuple((item, decimals(value)) for item, value in zip(one.items, one.without, strict=True))
    return Listing("Alpha if an item is left out", _columns("Item", "Alpha", numeric=(1,)), rows, _BEHIND)


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
    heads = ("Mistake", "Students", "Answers", "Who, and in which parts")
    return Listing(
        "Mistakes, and the students concerned", _columns(*heads, numeric=(1, 2), wide=3), rows, "Who made which"
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
    heads = ("Part", "Variants by", "Mean share (students)", "H", "p", "Adjusted p", "ε²", "Finding")
    caption = "Kinds of variants compared"
    return Listing(caption, _columns(*heads, numeric=(3, 4, 5, 6), wide=2), rows, _BEHIND)


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
    heads = ("Part", "Students", "Rank correlation", "p", "Adjusted p", "Finding")
    caption = "Share of points against the size of the number"
    return Listing(caption, _columns(*heads, numeric=(1, 2, 3, 4)), rows, "Rank correlations, by part")


def unread_table(unread: Sequence[Unread]) -> Listing:
    """Every answer that could not be read."""
    rows = tuple((one.label, _told(one.person), _shortened(one.wrote), clean_text(one.reason)) for one in unread)
    return Listing("By part and student", _columns("Part", "Student", "Written", "Reason", wide=3, free=2), rows)


def _shortened(wrote: str) -> str:
    text = clean_text(wrote).strip()
    return text if len(text) <= _LONGEST else f"{text[:_LONGEST]}…"


def absent_table(absent: Sequence[Person]) -> Listing:
    """Who handed nothing in."""
    rows = tuple(
        (person.section, _told(person)) for person in sorted(absent, key=lambda one: (one.section, one.student))
    )
    return Listing("Students who handed nothing in", _columns("Section", "Student"), rows)
