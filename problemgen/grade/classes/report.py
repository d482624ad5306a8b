"""The statistics of a class, from what was kept of each student's result."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from problemgen.grade.classes.fairness import Shares, compared, trends
from problemgen.grade.classes.record import ClassRecord, PartRecord, VariantRecord
from problemgen.grade.classes.statistics import (
    FloatArray,
    alpha_interval,
    alphas_without,
    correlation,
    cronbach_alpha,
    upper_lower_difference,
    varies,
)
from problemgen.language.messages import _
from problemgen.model.class_statistics import (
    LEAST_FOR_SPREAD,
    ClassStatistics,
    Drawn,
    MistakeCount,
    PartStatistics,
    Reliability,
    Scores,
    Unread,
)

__all__ = ["class_statistics"]


@dataclass(frozen=True)
class _Problem:
    """A problem with the templates that students have, in the order of the set; "2" or "2.1", "2.2" by template."""

    number: str
    variants: tuple[VariantRecord, ...]

    @property
    def students(self) -> int:
        """How many students have it."""
        return sum(len(variant.rows) for variant in self.variants)

    @property
    def labelled(self) -> Iterator[tuple[str, VariantRecord]]:
        many = len(self.variants) > 1
        for place, variant in enumerate(self.variants, start=1):
            yield (f"{self.number}.{place}" if many else self.number), variant


def class_statistics(record: ClassRecord) -> ClassStatistics:
    """All that the report tells of a class; in whatever order the students were taken."""
    record.settle()
    problems = _problems(record)
    common = [problem for problem in problems if problem.students == len(record.people)]
    labelled = [(label, variant) for problem in problems for label, variant in problem.labelled]
    titles = {name: template.title for name, template in record.head.templates.items()}
    return ClassStatistics(
        students=len(record.people),
        absent=tuple(record.absent),
        scores=_scores(record),
        drawn=tuple(
            Drawn(label, titles[variant.template], len(variant.rows)) for label, variant in labelled if "." in label
        ),
        parts=tuple(part for label, variant in labelled for part in _parts(record, label, variant)),
        by_part=_reliability(_part_items(record, common)),
        by_problem=_reliability([_problem_item(record, problem) for problem in common]),
        mistakes=_mistakes(record),
        groups=compared(_kinds(record, problems)),
        trends=trends(_sizes(labelled)),
        unread=_unread(record),
    )


def _problems(record: ClassRecord) -> tuple[_Problem, ...]:
    order = {name: place for place, name in enumerate(record.head.templates)}
    by_problem: dict[str, list[VariantRecord]] = {}
    for variant in record.variants.values():
        by_problem.setdefault(variant.problem, []).append(variant)
    return tuple(
        _Problem(name.removeprefix("p"), tuple(sorted(variants, key=lambda one: order[one.template])))
        for name, variants in sorted(by_problem.items(), key=lambda pair: int(pair[0].removeprefix("p")))
    )


def _array(values: Iterable[float]) -> FloatArray:
    return np.fromiter(values, dtype=np.float64)


def _scores(record: ClassRecord) -> Scores | None:
    if not record.people:
        return None
    shares = np.sort(_quotient(_array(record.earned), _array(record.of)))
    low, middle, high = (float(value) for value in np.quantile(shares, (0.25, 0.5, 0.75)))
    return Scores(
        shares=tuple(shares.tolist()),
        mean=float(shares.mean()),
        deviation=float(shares.std(ddof=1)) if shares.size > 1 else None,
        quartiles=(low, middle, high),
        least=float(shares[0]),
        greatest=float(shares[-1]),
    )


def _shares(part: PartRecord) -> FloatArray:
    return _quotient(_array(part.points), _array(part.of))


def _quotient(points: FloatArray, of: FloatArray) -> FloatArray:
    """Shares of points; 0 where there are none to be had."""
    return np.divide(points, of, out=np.zeros_like(points), where=of > 0)


def _parts(record: ClassRecord, label: str, variant: VariantRecord) -> Iterator[PartStatistics]:
    rows = np.frombuffer(variant.rows, dtype=np.int64)
    earned, of = _array(record.earned)[rows], _array(record.of)[rows]
    for part in variant.parts.values():
        shares = _shares(part)
        counted = 1 - _array(part.dropped)
        rest = _quotient(earned - counted * _array(part.points), of - counted * _array(part.of))
        enough = shares.size >= LEAST_FOR_SPREAD and varies(shares)
        full, blank = int((shares >= 1).sum()), sum(part.blank)
        none = int((shares == 0).sum()) - blank
        yield PartStatistics(
            label=f"{label}{part.part.label}",
            words=part.part.words,
            points=part.part.points,
            students=shares.size,
            full=full,
            some=shares.size - full - none - blank,
            none=none,
            blank=blank,
            difficulty=float(shares.mean()),
            discrimination=correlation(shares, rest) if enough else None,
            upper_lower=upper_lower_difference(shares, _quotient(earned, of)) if enough else None,
        )


_Item = tuple[str, FloatArray]


def _part_items(record: ClassRecord, problems: Sequence[_Problem]) -> list[_Item]:
    """The parts that all students have; a problem as a whole where they have different templates."""
    items: list[_Item] = []
    for problem in problems:
        if len(problem.variants) > 1:
            items.append(_problem_item(record, problem))
            continue
        records = problem.variants[0].parts.values()
        items += [(f"{problem.number}{one.part.label}", _array(one.points)) for one in records]
    return items


def _problem_item(record: ClassRecord, problem: _Problem) -> _Item:
    """The points of a problem, brought to the same maximum where its templates have different ones."""
    scores = np.zeros(len(record.people))
    most = max(_points_of(variant) for variant in problem.variants)
    for variant in problem.variants:
        scores[np.frombuffer(variant.rows, dtype=np.int64)] = _problem_shares(variant) * most
    return problem.number, scores


def _points_of(variant: VariantRecord) -> float:
    return float(sum(one.part.points for one in variant.parts.values()))


def _problem_shares(variant: VariantRecord) -> FloatArray:
    def summed(columns: Iterable[Iterable[float]]) -> FloatArray:
        return np.asarray(np.sum([_array(column) for column in columns], axis=0))

    parts: Sequence[PartRecord] = tuple(variant.parts.values())
    return _quotient(summed(part.points for part in parts), summed(part.of for part in parts))


def _reliability(items: Sequence[_Item]) -> Reliability:
    varied = [(label, scores) for label, scores in items if varies(scores)]
    labels = tuple(label for label, _ in varied)
    constant = tuple(label for label, scores in items if not varies(scores))
    students = varied[0][1].size if varied else 0
    if students < LEAST_FOR_SPREAD or len(varied) < 2:
        return Reliability(labels, constant, None, None, ())
    scores = np.column_stack([scores for _, scores in varied])
    alpha = cronbach_alpha(scores)
    interval = None if alpha is None else alpha_interval(alpha, students, len(varied))
    return Reliability(labels, constant, alpha, interval, alphas_without(scores))


def _mistakes(record: ClassRecord) -> tuple[MistakeCount, ...]:
    counts = []
    for title, answers in record.mistakes.items():
        people: dict[int, list[str]] = {}
        for row, label in answers:
            people.setdefault(row, []).append(label)
        told = ((record.people[row], tuple(labels)) for row, labels in people.items())
        concerned = tuple(sorted(told, key=lambda one: one[0].student))
        counts.append(MistakeCount(title, len(answers), concerned))
    return tuple(sorted(counts, key=lambda one: (-len(one.people), -one.times, one.title)))


def _unread(record: ClassRecord) -> tuple[Unread, ...]:
    """The answers that could not be read, in the order of the columns."""
    places = {label: place for place, label in enumerate(record.head.columns)}
    return tuple(
        sorted(
            (one for _, one in record.unread), key=lambda one: (places.get(one.label, len(places)), one.person.student)
        )
    )


def _kinds(record: ClassRecord, problems: Sequence[_Problem]) -> Iterator[Shares]:
    """The comparisons: between the templates of a problem; between variants with different right answers in words."""
    for problem in problems:
        if len(problem.variants) > 1:
            shares = {label: _problem_shares(variant) for label, variant in problem.labelled}
            yield Shares(_("problem {number}").format(number=problem.number), _("template"), shares)
        for label, variant in problem.labelled:
            for asked in variant.parts.values():
                yield from _by_answer(record, label, variant, asked)


def _by_answer(record: ClassRecord, label: str, variant: VariantRecord, asked: PartRecord) -> Iterator[Shares]:
    """The parts of a template, students grouped by the reagent or formula that is right for them."""
    answers = np.array(asked.answers)
    kinds = sorted(set(asked.answers) - {""})
    if len(kinds) < 2:
        return
    species = record.head.templates[variant.template].scene.species
    names = {kind: species[kind].names[0] if kind in species else kind for kind in kinds}
    for part in variant.parts.values():
        shares = _shares(part)
        groups = {names[kind]: shares[answers == kind] for kind in kinds}
        yield Shares(
            f"{label}{part.part.label}", _("answer to {part}").format(part=f"{label}{asked.part.label}"), groups
        )


def _sizes(labelled: Iterable[tuple[str, VariantRecord]]) -> Iterator[tuple[str, FloatArray, FloatArray]]:
    """Of each part with a number for an answer: the numbers, and the shares of those who have them."""
    for label, variant in labelled:
        for part in variant.parts.values():
            values, shares = _array(part.values), _shares(part)
            known = ~np.isnan(values)
            yield f"{label}{part.part.label}", values[known], shares[known]
