"""The charts of the report on a class. Nothing is told by colour alone: marks and hatching differ too."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import floor
from typing import Any

from markupsafe import Markup
from matplotlib.axes import Axes
from matplotlib.lines import Line2D
from matplotlib.patches import Patch, Rectangle

from problemgen.language.messages import N_, _
from problemgen.model.class_statistics import Groups, MistakeCount, PartStatistics, Reliability, Scores
from problemgen.render.classes.charts import INK, MAIN, PAPER, RULE, SOFT, WIDTH, Drawing, drawing, label, legend, svg
from problemgen.render.words.statistics_text import decimals, percent, sentence_case

__all__ = [
    "SHOWN",
    "alpha_chart",
    "difficulty_charts",
    "discrimination_charts",
    "groups_chart",
    "mistakes_chart",
    "score_counts",
    "scores_chart",
]

SHOWN = 12
"""Mistakes, and comparisons, that are drawn; the tables have all."""
_BINS = 10  # tenths, as scores are spoken of; a class of thirty still has some students in each
_ROWS = 34
"""Rows of a chart: more would not fit on a sheet of paper, and are shared out among several."""
_LETTERS = 54
"""Letters that fit on a chart's line."""
_ROW, _SIDE = 16.0, 42.0
_MARKS = (("o", "●", False), ("s", "□", True), ("^", "▲", False), ("D", "◇", True), ("v", "▼", False))
"""A mark for each kind of variant, its sign in words, and whether it is hollow: two that coincide both show."""
_SATISFACTORY = 0.2  # an item–rest correlation below it is weak: a rule of thumb of item analysis, from memory
_PERCENT = (-0.4, 100.4)  # room for half a line at either end
_DASHED = (0, (2, 2))


def score_counts(shares: Sequence[float]) -> tuple[int, ...]:
    """How many scores lie in each tenth, the border counting upwards; the last has the full score too.

    A share within 1e-9 of a border is at it: 0.7 in floats may be a little less than seven tenths.
    """
    counts = [0] * _BINS
    for share in shares:
        counts[min(_BINS - 1, int(share * _BINS + 1e-9))] += 1
    return tuple(counts)


def scores_chart(scores: Scores) -> Markup:
    """How many students have which score; above it the quartiles, the median, the mean, and the ends."""
    counts = score_counts(scores.shares)
    top, width = max(counts), 100 / _BINS
    drawn = drawing(240, left=12, right=12, top=34, bottom=40)
    middles = [width * (place + 0.5) for place in range(_BINS)]
    for place, count in enumerate(counts):
        if count:
            drawn.axes.bar(middles[place], count, width * 0.88, facecolor=SOFT, edgecolor=MAIN)
            label(drawn.axes, middles[place], count + top * 0.07, str(count), ha="center")
    drawn.axes.set(xlim=_PERCENT, ylim=(0, top * 1.36), yticks=[], xticks=range(0, 101, 20))
    _box(drawn.axes, scores, top * 1.26, top * 0.055)
    low, middle, high = (percent(value) for value in scores.quartiles)
    samples = (
        (_("mean {score}").format(score=percent(scores.mean)), _mark("D")),
        (
            _("median {score}").format(score=middle),
            Line2D([], [], color=INK, linestyle="none", marker="|", markersize=12, markeredgewidth=1.6),
        ),
        (_("quartiles"), Patch(facecolor=PAPER, edgecolor=INK)),
    )
    legend(drawn, 12, 4, samples, columns=3)
    label(drawn.sheet, 170, 231, _("score, % of the points"), ha="center")
    told = _(
        "{n} students; mean {mean}, median {median}, quartiles {low} and {high}, from {least} to {greatest}."
    ).format(
        n=len(scores.shares),
        mean=percent(scores.mean),
        median=middle,
        low=low,
        high=high,
        least=percent(scores.least),
        greatest=percent(scores.greatest),
    )
    return svg(drawn, "scores", _("Distribution of the scores"), told)


def _box(axes: Axes, scores: Scores, y: float, half: float) -> None:
    """The spread of the scores on one line: its ends, a box between the quartiles, the median, the mean."""
    low, middle, high = (100 * value for value in scores.quartiles)
    axes.plot([100 * scores.least, 100 * scores.greatest], [y, y], color=INK, linewidth=1)
    axes.add_patch(Rectangle((low, y - half), high - low, 2 * half, facecolor=PAPER, edgecolor=INK, zorder=2))
    axes.plot([middle, middle], [y - half, y + half], color=INK, linewidth=1.6)
    axes.add_line(_mark("D", 100 * scores.mean, y))


_KINDS: tuple[tuple[str, dict[str, Any]], ...] = (
    (N_("all points"), {"facecolor": MAIN}),
    (N_("some points"), {"facecolor": SOFT, "hatch": "////"}),
    (N_("no points"), {"facecolor": PAPER}),
    (N_("no answer"), {"facecolor": PAPER, "hatch": "|||"}),
)


def difficulty_charts(parts: Sequence[PartStatistics]) -> Iterator[Markup]:
    """Of each part, which share of the students earned all points, some, none, or did not answer; and the mean."""
    for number, some in enumerate(_shared_out(parts), start=1):
        yield _difficulty(some, f"difficulty-{number}")


def _shared_out(parts: Sequence[PartStatistics]) -> Iterator[Sequence[PartStatistics]]:
    """The parts in as many charts as are needed, each about as long."""
    charts = -(-len(parts) // _ROWS)
    for chart in range(charts):
        yield parts[len(parts) * chart // charts : len(parts) * (chart + 1) // charts]


def _difficulty(parts: Sequence[PartStatistics], name: str) -> Markup:
    drawn = _rows(len(parts), _("% of the students"), top=58, right=36)
    drawn.axes.set(xlim=_PERCENT, xticks=range(0, 101, 20))
    for row, part in enumerate(parts):
        start = 0.0
        for count, (_words, look) in zip((part.full, part.some, part.none, part.blank), _KINDS, strict=True):
            width = 100 * count / part.students
            if count:
                drawn.axes.barh(row, width, 0.72, start, edgecolor=MAIN, linewidth=0.8, **look)
            start += width
        drawn.axes.add_line(_mark("D", 100 * part.difficulty, row))
        label(drawn.axes, -2.5, row, part.label, ha="right")
        label(drawn.axes, 103, row, decimals(part.difficulty))
    legend(
        drawn, _SIDE, 2, [(_(words), Patch(edgecolor=MAIN, linewidth=0.8, **look)) for words, look in _KINDS], columns=2
    )
    legend(drawn, _SIDE, 39, [(_("mean share of the points, the figure on the right"), _mark("D"))])
    told = "; ".join(f"{part.label} {decimals(part.difficulty)}" for part in parts)
    return svg(
        drawn, name, _over(_("How much was earned"), parts), _("Mean share of the points: {parts}.").format(parts=told)
    )


def _over(title: str, parts: Sequence[PartStatistics]) -> str:
    told = _("{title}, parts {first} to {last}")
    return told.format(title=title, first=parts[0].label, last=parts[-1].label)


def _rows(count: int, along: str, *, top: float, left: float = _SIDE, right: float = 16, row: float = _ROW) -> Drawing:
    """A chart with a line for each of some rows, the first on top; `along` is what its axis tells."""
    height = top + count * row + 40
    drawn = drawing(height, left=left, right=right, top=top, bottom=40)
    drawn.axes.set(ylim=(count - 0.5, -0.5), yticks=[])
    label(drawn.sheet, (WIDTH + left - right) / 2, height - 9, along, ha="center")
    return drawn


def _mark(marker: str, x: float = 0, y: float = 0, *, hollow: bool = False) -> Line2D:
    """A mark that shows on any ground: rimmed in the paper's colour, or hollow; in a legend, wherever it is put."""
    face, rim = (PAPER, INK) if hollow else (INK, PAPER)
    return Line2D(
        [x],
        [y],
        marker=marker,
        markersize=9 if hollow else 6.5,
        color=face,
        markeredgecolor=rim,
        linestyle="none",
        clip_on=False,
        zorder=3 if hollow else 4,
    )


def discrimination_charts(parts: Sequence[PartStatistics]) -> Iterator[Markup]:
    """Of each part for which there are figures, how well it tells the students apart."""
    shown = [part for part in parts if part.discrimination is not None or part.upper_lower is not None]
    for number, some in enumerate(_shared_out(shown), start=1):
        yield _discrimination(some, f"discrimination-{number}")


def _discrimination(parts: Sequence[PartStatistics], name: str) -> Markup:
    drawn = _rows(len(parts), _("correlation, or difference of shares"), top=44)
    values = [value for part in parts for value in (part.discrimination, part.upper_lower) if value is not None]
    drawn.axes.set(xlim=(min(-0.2, *values) - 0.04, 1.0))
    drawn.axes.axvline(0, color=INK, linewidth=0.8)
    drawn.axes.axvline(_SATISFACTORY, color=INK, linewidth=1, linestyle=_DASHED)
    left = drawn.axes.get_xlim()[0] - 0.03
    for row, part in enumerate(parts):
        drawn.axes.axhline(row, color=RULE, linewidth=0.4)
        label(drawn.axes, left, row, part.label, ha="right")
        if part.upper_lower is not None:
            drawn.axes.add_line(_mark("s", part.upper_lower, row, hollow=True))
        if part.discrimination is not None:
            drawn.axes.add_line(_mark("o", part.discrimination, row))
    samples = (
        (_("item–rest correlation"), _mark("o")),
        (_("upper group less lower"), _mark("s", hollow=True)),
        (decimals(_SATISFACTORY, 1), Line2D([], [], color=INK, linewidth=1, linestyle=_DASHED)),
    )
    legend(drawn, _SIDE, 2, samples, columns=2)
    # Translators: the two figures of a part: "1a 0.41 and 0.35".
    both = _("{part} {first} and {second}")
    figures = ((one.label, decimals(one.discrimination), decimals(one.upper_lower)) for one in parts)
    told = "; ".join(both.format(part=part, first=first, second=second) for part, first, second in figures)
    title = _over(_("How well the parts tell students apart"), parts)
    return svg(drawn, name, title, _("Item–rest correlation, and upper group less lower: {parts}.").format(parts=told))


def alpha_chart(reliability: Reliability) -> Markup | None:
    """Alpha with its interval, and alpha if each item is left out; None where there is none, or too many to draw."""
    alpha, interval = reliability.alpha, reliability.interval
    if alpha is None or interval is None or len(reliability.items) > _ROWS * 2:
        return None
    drawn = _rows(len(reliability.items), _("alpha"), top=44)
    known = [value for value in reliability.without if value is not None]
    low = max(-1.0, floor(10 * min((interval[0], *known)) - 0.5) / 10)
    drawn.axes.set(xlim=(low, 1.0))
    shown = (max(low, interval[0]), interval[1])
    drawn.axes.axvspan(*shown, facecolor=SOFT, edgecolor=MAIN, linewidth=0.8)
    drawn.axes.axvline(alpha, color=INK, linewidth=1.6)
    for row, (item, value) in enumerate(zip(reliability.items, reliability.without, strict=True)):
        drawn.axes.axhline(row, color=RULE, linewidth=0.4)
        label(drawn.axes, low - 0.02 * (1 - low), row, item, ha="right")
        if value is not None:
            drawn.axes.add_line(_mark("o", max(low, value), row))
    samples = (
        (_("alpha {number}").format(number=decimals(alpha)), Line2D([], [], color=INK, linewidth=1.6)),
        (_("its 95 % interval"), Patch(facecolor=SOFT, edgecolor=MAIN, linewidth=0.8)),
    )
    legend(drawn, _SIDE, 2, samples, columns=2)
    legend(drawn, _SIDE, 20, [(_("alpha if the item is left out"), _mark("o"))])
    told = _("Alpha is {alpha}, its 95 % interval {low} to {high}.")
    ends = {"low": decimals(interval[0]), "high": decimals(interval[1])}
    return svg(drawn, "alpha", _("Cronbach’s alpha"), told.format(alpha=decimals(alpha), **ends))


def mistakes_chart(mistakes: Sequence[MistakeCount]) -> Markup:
    """The mistakes of most students: how many each."""
    shown = mistakes[:SHOWN]
    drawn = _rows(len(shown), _("number of students"), top=0, left=6, right=36, row=34)
    most = max(len(one.people) for one in shown)
    drawn.axes.set(xlim=(0, most), xticks=[])
    drawn.axes.spines["bottom"].set_visible(False)
    for row, one in enumerate(shown):
        drawn.axes.barh(row + 0.22, len(one.people), 0.4, facecolor=SOFT, edgecolor=MAIN)
        label(drawn.axes, 0, row - 0.2, _short(sentence_case(one.title)))
        label(drawn.axes, len(one.people) + most * 0.02, row + 0.22, str(len(one.people)))
    told = "; ".join(f"{one.title}: {len(one.people)}" for one in shown)
    return svg(drawn, "mistakes", _("Mistakes by the number of students"), f"{told}.")


def _short(text: str) -> str:
    return text if len(text) <= _LETTERS else f"{text[: _LETTERS - 1].rstrip()}…"


def groups_chart(groups: Sequence[Groups]) -> Markup:
    """The comparisons that differ most: the mean share of each kind of variant."""
    shown = sorted(groups, key=lambda one: 1.0 if one.probability is None else one.probability)[:SHOWN]
    drawn = _rows(len(shown), _("mean share of the points"), top=0, left=10, row=38)
    drawn.axes.set(xlim=(0, 1))
    for row, one in enumerate(shown):
        means = [group.mean for group in one.groups]
        drawn.axes.plot([0, 1], [row + 0.2, row + 0.2], color=RULE, linewidth=0.4)
        drawn.axes.plot([min(means), max(means)], [row + 0.2, row + 0.2], color=MAIN, linewidth=2.4)
        names = []
        for place, group in enumerate(one.groups):
            marker, sign, hollow = _MARKS[place % len(_MARKS)]
            drawn.axes.add_line(_mark(marker, group.mean, row + 0.2, hollow=hollow))
            names.append(f"{sign} {group.name}")
        label(drawn.axes, 0, row - 0.22, _short(f"{one.label}:  {'  '.join(names)}"))
    told = "; ".join(
        f"{one.label}: {', '.join(f'{group.name} {decimals(group.mean)}' for group in one.groups)}" for one in shown
    )
    return svg(drawn, "groups", _("Mean share of the points by kind of variant"), f"{told}.")
