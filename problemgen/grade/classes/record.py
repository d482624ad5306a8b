"""What is kept of each student's result for the report on the class: packed numbers, for classes of thousands."""

from __future__ import annotations

import math
from array import array
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from problemgen.grade.judging.right_digits import UNIT_REASONS, unit_title
from problemgen.language.messages import N_, _
from problemgen.model.answers import KeyHead, PartKey, ProblemKey, StudentKey
from problemgen.model.class_statistics import Unread
from problemgen.model.coincidence import Person
from problemgen.model.verdict import PartResult, StudentResult
from problemgen.plan.forms import form_of
from problemgen.plan.variations import as_float

__all__ = ["ClassRecord", "PartRecord", "VariantRecord"]

_NAMED_BY_REASON = {
    "power-of-ten": N_("Slip of a unit or a power of ten"),
    "sign": N_("Wrong sign"),
    "wrong_dimension": N_("A unit of another kind of quantity"),
}
_ROUNDED = N_("Rounded too early or too far")
_OPEN = N_("Not judged: look at it. Until you decide, it counts as without points.")


def _numbers() -> array[float]:
    return array("d")


@dataclass
class PartRecord:
    """One part of a template: of each student who has it the points, and what was right, in the same order.

    `answers` has the reagent or the formula that is right for each, "" for none; `values` the number, not a number for
    none. `blank` has 1 for an answer that is missing and earned nothing, else 0; `dropped` has 1 where the part is no
    part of the student's points.
    """

    part: PartKey
    points: array[float] = field(default_factory=_numbers)
    of: array[float] = field(default_factory=_numbers)
    values: array[float] = field(default_factory=_numbers)
    answers: list[str] = field(default_factory=list)
    blank: bytearray = field(default_factory=bytearray)
    dropped: bytearray = field(default_factory=bytearray)

    def take(self, problem: ProblemKey, result: PartResult) -> None:
        """Keep one student's points, and what was right for them."""
        self.points.append(float(result.points))
        self.of.append(float(result.of))
        truth, form = problem.truths.get(self.part.id), form_of(self.part.asked)
        size = None if truth is None else form.size(truth)
        self.values.append(math.nan if size is None else as_float(size))
        self.answers.append("" if truth is None else form.kind(truth))
        self.blank.append(result.verdict == "blank" and not result.points)
        self.dropped.append(result.dropped)

    def kept(self, places: Sequence[int]) -> PartRecord:
        """The record of the students at these places alone."""
        return PartRecord(
            self.part,
            points=array("d", (self.points[place] for place in places)),
            of=array("d", (self.of[place] for place in places)),
            values=array("d", (self.values[place] for place in places)),
            answers=[self.answers[place] for place in places],
            blank=bytearray(self.blank[place] for place in places),
            dropped=bytearray(self.dropped[place] for place in places),
        )


@dataclass
class VariantRecord:
    """One template of a problem: the rows of the students who have it, and its parts."""

    problem: str
    template: str
    parts: dict[str, PartRecord]
    rows: array[int] = field(default_factory=lambda: array("q"))

    def kept(self, new_rows: Mapping[int, int]) -> VariantRecord:
        """The record of some rows alone, under their new numbers."""
        places = [place for place, row in enumerate(self.rows) if row in new_rows]
        parts = {name: part.kept(places) for name, part in self.parts.items()}
        rows = array("q", (new_rows[self.rows[place]] for place in places))
        return VariantRecord(self.problem, self.template, parts, rows)


class ClassRecord:
    """Takes every attempt once, and keeps of each student the one that counts, a row each.

    Where the mean of several counts, it is the last that is kept: what went wrong shows in one attempt, not in a mean.
    Students who handed nothing in are listed, and counted nowhere else.
    """

    def __init__(self, head: KeyHead) -> None:
        """`head` has what is common to all students."""
        self.head = head
        self.people: list[Person] = []
        self.absent: list[Person] = []
        self.earned, self.of = _numbers(), _numbers()
        self.variants: dict[tuple[str, str], VariantRecord] = {}
        self.mistakes: dict[str, list[tuple[int, str]]] = {}  # title -> row and part of each answer
        self.unread: list[tuple[int, Unread]] = []  # with the row
        self._counting: dict[str, tuple[int, tuple[Fraction, int]]] = {}  # student -> row and rank of the attempt
        self._gone: set[int] = set()  # the rows of attempts that do not count after all

    def take(self, key: StudentKey, result: StudentResult) -> None:
        """Keep one attempt, unless another of the student's counts; attempts come in any order."""
        person = Person(result.student, result.name, result.section)
        if not result.handed_in:
            self.absent.append(person)
        elif self._counts(result):
            self._keep(person, key, result)

    def _counts(self, result: StudentResult) -> bool:
        """Whether an attempt counts so far: the last, or the best and of equals the first."""
        best = self.head.attempts.counts == "best"
        rank = (result.points, -result.attempt) if best else (Fraction(0), result.attempt)
        row, highest = self._counting.get(result.student, (-1, rank))
        if rank < highest:
            return False
        if row >= 0:
            self._gone.add(row)
        self._counting[result.student] = (len(self.people), rank)
        return True

    def _keep(self, person: Person, key: StudentKey, result: StudentResult) -> None:
        row = len(self.people)
        self.people.append(person)
        self.earned.append(float(result.points))
        self.of.append(float(result.of))
        by_part = {(part.problem, part.part): part for part in result.parts}
        for problem in key.problems:
            variant = self._variant(problem)
            variant.rows.append(row)
            for record in variant.parts.values():
                record.take(problem, by_part[problem.problem, record.part.id])
        for part in result.parts:
            self._note(row, person, part)

    def settle(self) -> None:
        """Forget the attempts that do not count after all; once every attempt has been taken."""
        if not self._gone:
            return
        kept = [row for row in range(len(self.people)) if row not in self._gone]
        new_rows = {row: place for place, row in enumerate(kept)}
        self.people = [self.people[row] for row in kept]
        self.earned = array("d", (self.earned[row] for row in kept))
        self.of = array("d", (self.of[row] for row in kept))
        variants = {name: variant.kept(new_rows) for name, variant in self.variants.items()}
        self.variants = {name: variant for name, variant in variants.items() if variant.rows}
        answers = {
            title: [(new_rows[row], label) for row, label in answers if row in new_rows]
            for title, answers in self.mistakes.items()
        }
        self.mistakes = {title: some for title, some in answers.items() if some}
        self.unread = [(new_rows[row], one) for row, one in self.unread if row in new_rows]
        self._counting = {student: (new_rows[row], rank) for student, (row, rank) in self._counting.items()}
        self._gone.clear()

    def _variant(self, problem: ProblemKey) -> VariantRecord:
        found = self.variants.get((problem.problem, problem.template))
        if found is None:
            parts = {part.id: PartRecord(part) for part in self.head.templates[problem.template].parts}
            found = VariantRecord(problem.problem, problem.template, parts)
            self.variants[problem.problem, problem.template] = found
        return found

    def _note(self, row: int, person: Person, part: PartResult) -> None:
        if part.verdict == "unread" or part.is_open:
            reason = _(_OPEN) if part.is_open else part.sentence
            self.unread.append((row, Unread(person, part.label, part.wrote, reason)))
        for title in dict.fromkeys(_(title) for title in self._titles(part)):
            self.mistakes.setdefault(title, []).append((row, part.label))

    def _titles(self, part: PartResult) -> Iterator[str]:
        """What an answer shows, in words."""
        reason, *units = part.reason.split(":")
        if reason in UNIT_REASONS:  # its title has units in it, and was said in the student's language
            yield unit_title(reason, *units, self._asked_in(part))
        elif part.titles:
            yield from part.titles
        elif part.verdict == "rounded":
            yield _ROUNDED
        elif reason in _NAMED_BY_REASON:
            yield _NAMED_BY_REASON[reason]

    def _asked_in(self, part: PartResult) -> str:
        """The unit of a part's blank."""
        templates = (
            key
            for (problem, _template), one in self.variants.items()
            if problem == part.problem
            for key in one.parts.values()
        )
        return next((one.part.asked.unit for one in templates if one.part.id == part.part), "")
