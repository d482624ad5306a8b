"""Whose numbers: an honest class is left alone, copies are found, and the chance that is told is right.

The classes are simulated: six parts on six given numbers, each drawn evenly within a factor of two, windows of ±0.5 %.
"""

from __future__ import annotations

import random
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

import pytest

from problemgen.exact.digits import read_written
from problemgen.exact.rounding import round_to_figures
from problemgen.grade.classes import whose_numbers
from problemgen.grade.classes.whose_numbers import LIKELY_BY_CHANCE, WhoseNumbers
from problemgen.model.answers import PartKey, ProblemKey, StudentKey, TemplateKey
from problemgen.model.coincidence import Coincidence
from problemgen.model.fixed import Datum
from problemgen.model.own_data import OwnKey, OwnReading, OwnValue
from problemgen.model.plan import Plan, Step
from problemgen.model.problem import Asked, Scene
from problemgen.model.quantity import Quantity
from problemgen.model.truths import NumberTruth
from problemgen.model.verdict import PartResult, StudentResult

LETTERS = "abcdef"
GIVEN = tuple(Quantity("mass", letter) for letter in LETTERS)
ASKED = tuple(Quantity("amount", letter) for letter in LETTERS)


def template(rests_on: Sequence[int] = range(6), name: str = "t") -> TemplateKey:
    """A template of six parts, part i calculated from given number rests_on[i]."""
    asked = tuple(Asked(quantity, "mol") for quantity in ASKED)
    steps = tuple(
        Step(quantity, "doubled", "n", ("mul", ("num", "2"), GIVEN[source].id), "figures")
        for quantity, source in zip(ASKED, rests_on, strict=True)
    )
    parts = tuple(PartKey(letter, letter, one, Fraction(1), (), 1) for letter, one in zip(LETTERS, asked, strict=True))
    return TemplateKey(name, name, Plan(GIVEN, (), steps, asked, ()), parts, Scene({}, frozenset(), {}), ())


@dataclass
class Class:
    """Students with drawn numbers, and what they answered; `figures` of the answers."""

    size: int
    seed: int
    grid: int = 100_000
    figures: int = 4
    rests_on: Sequence[int] = range(6)
    wrong_share: float = 0.25

    def __post_init__(self) -> None:
        self.chance = random.Random(self.seed)  # noqa: S311 - no key is drawn
        steps = [[self.chance.randrange(self.grid) for _ in LETTERS] for _ in range(self.size)]
        self.drawn = [[Fraction(self.grid + step, self.grid) for step in student] for student in steps]
        self.answers: dict[tuple[int, int], Fraction] = {}
        for student in range(self.size):
            for part in range(6):
                if self.chance.random() < self.wrong_share:
                    wrong = self.right(student, part) * Fraction(self.chance.uniform(0.6, 1.6))
                    self.answers[student, part] = round_to_figures(wrong, self.figures)

    def right(self, student: int, part: int) -> Fraction:
        return 2 * self.drawn[student][self.rests_on[part]]

    def copies(self, student: int, other: int, parts: Sequence[int] = range(6)) -> None:
        for part in parts:
            self.answers[student, part] = round_to_figures(self.right(other, part), self.figures)

    def key(self, student: int) -> StudentKey:
        given = {
            quantity.id: Datum(read_written(f"{float(value):.5f}"), "g")
            for quantity, value in zip(GIVEN, self.drawn[student], strict=True)
        }
        truths = {
            letter: NumberTruth(value, value * Fraction(199, 200), value * Fraction(201, 200), 4, "1")
            for letter, value in ((letter, self.right(student, i)) for i, letter in enumerate(LETTERS))
        }
        return StudentKey(f"s{student}", f"Name {student}", "A", "", (ProblemKey("p1", "t", given, truths),))

    def result(self, student: int) -> StudentResult:
        parts = []
        for part, letter in enumerate(LETTERS):
            right = self.right(student, part)
            value = self.answers.get((student, part), right)
            verdict = "right" if abs(value / right - 1) <= Fraction(1, 200) else "wrong"
            one = Fraction(1)
            parts.append(PartResult("p1", letter, f"1{letter}", verdict, "", "", (), one, one, "", "", value=value))
        return StudentResult(f"s{student}", f"Name {student}", "A", "", tuple(parts))

    def __iter__(self) -> Iterator[tuple[StudentKey, StudentResult]]:
        return ((self.key(student), self.result(student)) for student in range(self.size))


def found_in(students: Class, templates: Mapping[str, TemplateKey] | None = None) -> tuple[Coincidence, ...]:
    numbers = WhoseNumbers(templates or {"t": template(students.rests_on)})
    for key, result in students:
        numbers.take(key, result)
    return numbers.found()


def pairs(found: Sequence[Coincidence]) -> set[tuple[str, str]]:
    return {(one.person.student, one.other.student) for one in found}


def test_in_honest_classes_of_500_nobody_is_listed() -> None:
    assert [found_in(Class(500, seed)) for seed in range(4)] == [()] * 4


def test_what_is_expected_by_chance_is_what_happens(monkeypatch: pytest.MonkeyPatch) -> None:
    """Told from an expectation of 3 a class on, honest classes have 3 each at most, over many classes."""
    monkeypatch.setattr(whose_numbers, "LIKELY_BY_CHANCE", 3.0)
    count = sum(len(found_in(Class(60, seed, grid=60, wrong_share=0.6))) for seed in range(60))
    assert 60 * 3 * 0.05 < count < 60 * 3 * 1.15


def test_planted_copies_are_found_and_nobody_else() -> None:
    students = Class(500, 1, wrong_share=0.1)
    planted = {(index, (7 * index + 3) % 500) for index in range(0, 500, 50)}
    for student, other in planted:
        students.copies(student, other)
    found = found_in(students)
    assert pairs(found) == {(f"s{student}", f"s{other}") for student, other in planted}
    assert all(one.expected < LIKELY_BY_CHANCE for one in found)
    assert [one.expected for one in found] == sorted(one.expected for one in found)


def test_some_parts_suffice_where_they_are_enough() -> None:
    students = Class(500, 2, wrong_share=0.1)
    students.copies(10, 20, (0, 1, 3, 4))
    (found,) = found_in(students)
    assert (found.parts, found.counted, found.fits_all) == (("1a", "1b", "1d", "1e"),) * 2 + (False,)
    assert (found.person.name, found.other.name) == ("Name 10", "Name 20")


def test_one_part_is_never_enough() -> None:
    students = Class(40, 3, wrong_share=0)
    students.copies(10, 20, (2,))
    assert found_in(students) == ()


def test_two_sheets_mixed_up_are_told_as_such() -> None:
    students = Class(200, 4, wrong_share=0)
    students.copies(3, 8)
    students.copies(8, 3)
    found = found_in(students)
    assert pairs(found) == {("s3", "s8"), ("s8", "s3")}
    assert all(one.fits_all for one in found)


def test_parts_on_the_same_given_number_are_one_coincidence() -> None:
    students = Class(200, 5, wrong_share=0, rests_on=(0, 0, 0, 0, 0, 0))
    students.copies(3, 8)
    assert found_in(students) == ()


def test_numbers_that_many_share_tell_nothing() -> None:
    students = Class(200, 6, wrong_share=0, grid=3)
    students.copies(3, 8)
    assert found_in(students) == ()


def test_only_students_with_the_same_template_are_compared() -> None:
    students = Class(200, 7, wrong_share=0)
    students.copies(3, 8)
    numbers = WhoseNumbers({"t": template(), "u": template(name="u")})
    for index, (key, result) in enumerate(students):
        problems = (replace(key.problems[0], template="u"),) if index == 8 else key.problems
        numbers.take(replace(key, problems=problems), result)
    assert numbers.found() == ()


def test_values_that_students_measure_are_left_out() -> None:
    students = Class(200, 8, wrong_share=0)
    students.copies(3, 8)
    values = [OwnValue(q.of, q, "g", Fraction(0), Fraction(9)) for q in GIVEN]
    own = tuple(OwnReading(OwnKey(one.name, one.name, "", one), "1 g", None) for one in values)
    numbers = WhoseNumbers({"t": template()})
    for key, result in students:
        numbers.take(replace(key, problems=(replace(key.problems[0], own=own),)), result)
    assert numbers.found() == ()


def test_two_attempts_of_one_student_are_not_compared() -> None:
    students = Class(200, 11, wrong_share=0)
    students.copies(3, 8)
    numbers = WhoseNumbers({"t": template()})
    for index, (key, result) in enumerate(students):
        numbers.take(replace(key, student="s3", attempt=2) if index == 8 else key, result)
    assert numbers.found() == ()


def test_answers_of_any_size_are_taken() -> None:
    students = Class(30, 9, wrong_share=0)
    for part, value in enumerate((Fraction(10) ** 400, Fraction(10) ** 299, -(Fraction(10) ** 299), Fraction(0))):
        students.answers[3, part] = value
    assert found_in(students) == ()


@pytest.mark.parametrize("size", [0, 1, 2])
def test_tiny_classes_tell_nothing(size: int) -> None:
    students = Class(size, 10, wrong_share=1)
    if size == 2:
        students.copies(0, 1)
    assert found_in(students) == ()


def test_the_numbers_of_one_s_own_other_attempt_are_not_told() -> None:
    students = Class(300, 5, wrong_share=0)
    students.copies(10, 20)
    assert pairs(found_in(students)) == {("s10", "s20")}
    numbers = WhoseNumbers({"t": template()})
    for key, result in students:
        numbers.take(replace(key, student="s10", attempt=2) if key.student == "s20" else key, result)
    assert numbers.found() == ()
