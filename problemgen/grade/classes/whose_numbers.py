"""Whose numbers? Answers that are wrong for their owner but right for another student's variant, over several parts.

The chance of a coincidence. Take the wrong answers of a student as they are. In each part, another student's variant
scores where its window holds the answer: the more, the fewer of the n other variants are as near to the answer or
nearer (log2(n / rank), in sixteenths). Variants are drawn without regard to the answer, and parts that rest on no
common given number are drawn independently: so the sum of the scores has, for a student who has nothing to do with the
answers, a distribution that is the convolution of the parts' own, each taken from the class as it is. Its tail at
the sum that was found, times the number of other students, times the number of students with several wrong answers,
is how many such coincidences are to be expected in a class like this one; only what is expected less than once in a
thousand classes is told. Nothing is assumed about how the answers are spread: where several variants are equally
near, all of them count.
"""

from __future__ import annotations

import math
from array import array
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property
from typing import TypeAlias

import numpy as np
import numpy.typing as npt

from problemgen.model.answers import ProblemKey, StudentKey, TemplateKey
from problemgen.model.coincidence import Coincidence, Person
from problemgen.model.truths import number_in
from problemgen.model.verdict import PartResult, StudentResult
from problemgen.plan.forms import form_of
from problemgen.plan.partial import rests_on
from problemgen.plan.variations import as_float

__all__ = ["LIKELY_BY_CHANCE", "WhoseNumbers"]

LIKELY_BY_CHANCE = 1e-3
"""Expected number in a class from which on a coincidence is not told.

Far below what is usual for a test: whoever is told of one may think of a person, and a teacher has many classes.
"""

_UNEXPLAINED = ("wrong", "mistake")

_LEAST_PARTS = 2
"""One wrong answer that fits another's numbers is chance: with thirty variants, some number fits nearly anything."""

_STEPS = 16
"""Steps of a score to each halving of the chance: whole numbers, so that sums can be counted, off by 2 % at most."""

_LARGEST = 10**300
"""Greater answers are no floats."""

_FUZZ = 1e-12
"""Relative widening of floats that stand for exact bounds: more than a conversion loses, less than any figure tells."""

_PlaceName: TypeAlias = tuple[str, str, str]
"""A problem, a template, a part."""

Floats = npt.NDArray[np.float64]
Indices = npt.NDArray[np.int64]


@dataclass(frozen=True)
class _Answered:
    """One number that a student answered: where, the part's label, the value."""

    place: _PlaceName
    label: str
    value: float
    wrong: bool


@dataclass
class _Column:
    """One part of one template in one problem: whose variant, the right value, the window. Grows student by student."""

    who: array[int] = field(default_factory=lambda: array("q"))
    value: array[float] = field(default_factory=lambda: array("d"))
    low: array[float] = field(default_factory=lambda: array("d"))
    high: array[float] = field(default_factory=lambda: array("d"))

    def add(self, who: int, value: Fraction, low: Fraction, high: Fraction) -> None:
        self.who.append(who)
        for column, number in ((self.value, value), (self.low, low), (self.high, high)):
            column.append(as_float(number))


class _Sorted:
    """The same in the order of the values, ready to be searched."""

    def __init__(self, column: _Column) -> None:
        values = np.frombuffer(column.value)
        order = np.argsort(values, kind="stable")
        self.values: Floats = values[order]
        self.who: Indices = np.frombuffer(column.who, dtype=np.int64)[order]
        low, high = np.frombuffer(column.low)[order], np.frombuffer(column.high)[order]
        self.low: Floats = low - _FUZZ * np.abs(low)
        self.high: Floats = high + _FUZZ * np.abs(high)
        self.others = len(values) - 1

    def scores(self, value: float, owner: int) -> dict[int, int]:
        """The students whose window holds a value, each with their score."""
        holds = np.flatnonzero((self.low <= value) & (value <= self.high) & (self.who != owner))
        near = np.abs(self.values[holds] - value) * (1 + _FUZZ) + _FUZZ * abs(value)
        rank = np.searchsorted(self.values, value + near, "right") - np.searchsorted(self.values, value - near, "left")
        own = np.abs(self.values[self.who == owner] - value)
        rank -= (own[:, None] <= near[None, :]).sum(axis=0)
        scores = np.rint(_STEPS * np.log2(self.others / rank)).astype(np.int64)
        return {int(who): int(score) for who, score in zip(self.who[holds], scores, strict=True)}

    def holds(self, value: float, who: int) -> bool | None:
        """Whether a student's window holds a value; None where the student has another template."""
        mine = self.who == who
        return bool(np.any((self.low[mine] <= value) & (value <= self.high[mine]))) if mine.any() else None


@dataclass(frozen=True)
class _Scored:
    """A wrong answer, the scores of the students whose window holds it, and how many other variants there are."""

    answer: _Answered
    scores: Mapping[int, int]
    others: int

    def chances(self) -> Floats:
        """The chance of each score for one variant out of the others."""
        counts = np.bincount(np.fromiter(self.scores.values(), np.int64, len(self.scores)), minlength=1).astype(float)
        counts[0] += self.others - len(self.scores)
        return counts / self.others


class _Null:
    """How the sum of scores is distributed for a student who has nothing to do with the answers."""

    def __init__(self, scored: Sequence[_Scored]) -> None:
        self._chances = [one.chances() for one in scored]

    @cached_property
    def _tails(self) -> Floats:
        total = np.ones(1)
        for chances in self._chances:
            total = np.convolve(total, chances)
        return np.cumsum(total[::-1])[::-1]

    def tail(self, score: int) -> float:
        """The chance of this score or more."""
        return float(self._tails[score])

    def at_least(self, scored: Sequence[_Scored], other: int) -> float:
        """A chance that `tail` is not below: that of scoring as well in each of the parts. Quickly told."""
        return math.prod(
            float(chances[one.scores[other] :].sum())
            for one, chances in zip(scored, self._chances, strict=True)
            if other in one.scores
        )


class _Drawn:
    """Which given numbers differ between the students: what is the same for all makes no two parts depend."""

    def __init__(self) -> None:
        self._first: dict[tuple[str, str, str], Fraction] = {}
        self._varied: set[tuple[str, str, str]] = set()

    def take(self, problem: ProblemKey) -> None:
        for name, datum in problem.given.items():
            key = (problem.problem, problem.template, name)
            if self._first.setdefault(key, datum.written.value) != datum.written.value:
                self._varied.add(key)

    def among(self, place: _PlaceName, names: Iterable[str]) -> set[tuple[str, str, str]]:
        return self._varied & {(*place[:2], name) for name in names}


class WhoseNumbers:
    """Takes a class student by student, and tells at the end whose answers fit whose numbers.

    Kept in memory: four numbers a numeric part and student, and the answers of those with several wrong ones.
    """

    def __init__(self, templates: Mapping[str, TemplateKey]) -> None:
        """Begin; `templates` by id."""
        self._people: list[Person] = []
        self._columns: dict[_PlaceName, _Column] = {}
        self._answers: dict[int, list[_Answered]] = {}
        self._drawn = _Drawn()
        self._rests_on = {
            (name, part.id): rests_on(template.plan, part.asked)
            for name, template in templates.items()
            for part in template.parts
            if form_of(part.asked).has_window
        }

    def take(self, key: StudentKey, result: StudentResult) -> None:
        """One student's numbers and answers.

        Parts that rest on values that students measure are left out: those who work together share them.
        """
        index = len(self._people)
        self._people.append(Person(key.student, key.name, key.section, key.attempt))
        templates = {problem.problem: problem.template for problem in key.problems}
        for problem in key.problems:
            self._drawn.take(problem)
            measured = {one.key.value.quantity.id for one in problem.own}
            for part, truth in problem.truths.items():
                given = self._rests_on.get((problem.template, part))
                if given is not None and measured.isdisjoint(given):
                    place = (problem.problem, problem.template, part)
                    number = number_in(truth)
                    self._columns.setdefault(place, _Column()).add(index, number.value, number.low, number.high)
        answers = [
            _Answered((part.problem, templates[part.problem], part.part), part.label, float(part.value), _wrong(part))
            for part in result.parts
            if part.value is not None and abs(part.value) < _LARGEST
        ]
        if sum(one.wrong for one in answers) >= _LEAST_PARTS:
            self._answers[index] = answers

    def found(self) -> tuple[Coincidence, ...]:
        """What chance hardly explains, the least likely first."""
        columns = {place: _Sorted(column) for place, column in self._columns.items() if len(column.who) > 1}
        found = [one for index in self._answers for one in self._of(index, columns)]
        return tuple(sorted(found, key=lambda one: (one.expected, one.person.student, one.other.student)))

    def _of(self, index: int, columns: Mapping[_PlaceName, _Sorted]) -> Iterator[Coincidence]:
        wrong = [one for one in self._answers[index] if one.wrong and one.place in columns]
        scored = [_Scored(one, columns[one.place].scores(one.value, index), columns[one.place].others) for one in wrong]
        counted = self._independent(scored)
        pairs = len(self._answers) * (len(self._people) - 1)
        null = _Null(counted)
        for other in _often(counted):
            if self._people[other].student == self._people[index].student:
                continue  # another attempt of the same student
            score = sum(one.scores.get(other, 0) for one in counted)
            if pairs * null.at_least(counted, other) >= LIKELY_BY_CHANCE:
                continue
            expected = pairs * null.tail(score)
            if expected < LIKELY_BY_CHANCE:
                yield Coincidence(
                    person=self._people[index],
                    other=self._people[other],
                    parts=_labels(scored, other),
                    counted=_labels(counted, other),
                    fits_all=self._fits_all(index, other, columns),
                    expected=expected,
                )

    def _independent(self, scored: Iterable[_Scored]) -> list[_Scored]:
        """Parts no two of which rest on a common given number: those on the fewest first, then the most telling.

        They are chosen without regard to any one other student.
        """
        chosen: list[_Scored] = []
        used: set[tuple[str, str, str]] = set()
        rests = [(one, self._drawn.among(one.answer.place, self._rests_on[one.answer.place[1:]])) for one in scored]
        for one, names in sorted(rests, key=lambda pair: (len(pair[1]), len(pair[0].scores) / pair[0].others)):
            if names and used.isdisjoint(names):
                used |= names
                chosen.append(one)
        return sorted(chosen, key=lambda one: one.answer.label)

    def _fits_all(self, index: int, other: int, columns: Mapping[_PlaceName, _Sorted]) -> bool:
        """Whether every number that was answered is right for another student, where both have the same template."""
        answers = [one for one in self._answers[index] if one.place in columns]
        return all(columns[one.place].holds(one.value, other) is not False for one in answers)


def _wrong(part: PartResult) -> bool:
    return part.verdict in _UNEXPLAINED


def _labels(scored: Iterable[_Scored], other: int) -> tuple[str, ...]:
    return tuple(one.answer.label for one in scored if other in one.scores)


def _often(scored: Iterable[_Scored]) -> list[int]:
    """The students who score in several parts."""
    counts = Counter(who for one in scored for who in one.scores)
    return [who for who, count in counts.items() if count >= _LEAST_PARTS]
