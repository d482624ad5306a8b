"""A class for the benchmarks: the example set made for any number of students, and responses as a class writes them.

Responses: 70 % right (rounded to the figures of the data, half of them with the unit), 10 % blank, 20 % wrong: a
power of ten, half or double (which several usual mistakes lead to), 7 % off, another kind of unit, a word.
"""

from __future__ import annotations

import csv
import random
from collections.abc import Iterator
from pathlib import Path

from problemgen.exact.rounding import figures_text
from problemgen.load.answers.answers import ANSWERS_FILE, Answers
from problemgen.load.banks.banks import load_banks
from problemgen.load.people.roster import anonymous_students
from problemgen.load.resources import banks_folder, templates_folder
from problemgen.load.sets.courses import template_ids
from problemgen.load.sets.problem_set import load_set
from problemgen.make.candidates import Stream
from problemgen.make.variants import Maker
from problemgen.model.answers import KeyHead, PartKey, StudentKey, TemplateKey
from problemgen.model.problem_set import ProblemSet, Student
from problemgen.model.truths import ChoiceTruth, Truth, number_in
from problemgen.model.variant import Variant
from problemgen.render.key.answers import AnswerLines
from problemgen.render.key.summary import Spread

__all__ = [
    "ALL_LUCKS",
    "RIGHT",
    "WRONG",
    "Made",
    "example_set",
    "made",
    "responses",
    "write_answers",
    "write_responses",
]

CHUNK = 100  # students made at a time, as the build does
_SECRET = b"a secret for benchmarks"

ALL_LUCKS, RIGHT, WRONG = (0.0, 1.0), (0.1, 0.8), (0.8, 1.0)
"""Bounds of the luck that makes an answer of some sort; below that of the right ones it is blank."""

Made = tuple[Student, tuple[Variant, ...]]


def example_set() -> ProblemSet:
    """The set that comes with the program."""
    return load_set(
        templates_folder() / "sets" / "first-week", template_ids(templates_folder()), load_banks(banks_folder())
    )


def made(problem_set: ProblemSet, count: int) -> Iterator[Made]:
    """Students with their variants; where a problem offers several templates, students take turns."""
    makers: dict[tuple[str, str], Maker] = {}
    spread = Spread()
    students = anonymous_students(count)
    for start in range(0, count, CHUNK):
        chunk = students[start : start + CHUNK]
        by_student: dict[str, list[Variant]] = {student.id: [] for student in chunk}
        for problem in problem_set.problems:
            for turn, template in enumerate(problem.templates):
                ids = [student.id for student in chunk[turn :: len(problem.templates)]]
                stream = Stream(_SECRET, problem_set.id, problem.id)
                maker = makers.setdefault((problem.id, template.id), Maker(template, stream))
                for variant in maker.variants(ids):
                    by_student[variant.student].append(variant)
                    spread.add(variant)
        yield from ((student, tuple(by_student[student.id])) for student in chunk)


def write_answers(folder: Path, count: int) -> Path:
    """answers.json of a class of that size, without sheets."""
    problem_set = example_set()
    lines = AnswerLines()
    path = folder / ANSWERS_FILE
    with path.open("wb") as file:
        file.write(lines.opening(problem_set, {}))
        for student, variants in made(problem_set, count):
            file.write(lines.student(student, student.id, variants))
        file.write(lines.closing())
    return path


def write_responses(answers_file: Path, path: Path) -> None:
    """A responses file for every student of an answers.json."""
    with Answers(answers_file) as answers, path.open("w", newline="", encoding="utf-8") as file:
        writer = csv.DictWriter(file, ("id", *answers.head.columns))
        writer.writeheader()
        for key in answers:
            writer.writerow({"id": key.student, **responses(answers.head, key)})


def responses(head: KeyHead, key: StudentKey, lucks: tuple[float, float] = ALL_LUCKS) -> dict[str, str]:
    """What one student writes, by column; the same each time. `lucks` are the bounds of what sort of answer it is."""
    chance = random.Random(key.student)  # noqa: S311 - responses, not keys
    written = {}
    for problem in key.problems:
        template = head.templates[problem.template]
        for part in template.parts:
            column = f"{problem.problem.removeprefix('p')}{part.label}"
            written[column] = _cell(template, part, problem.truths[part.id], chance, lucks)
    return written


def _cell(template: TemplateKey, part: PartKey, truth: Truth, chance: random.Random, lucks: tuple[float, float]) -> str:
    luck = lucks[0] + (lucks[1] - lucks[0]) * chance.random()
    if luck < RIGHT[0]:
        return ""
    if isinstance(truth, ChoiceTruth):
        return _chosen(template, truth.choice, right=luck < RIGHT[1])
    number_truth = number_in(truth)
    value = number_truth.value
    if luck >= RIGHT[1]:
        sort = chance.randrange(5)
        if sort == 4:
            return chance.choice(["no idea", "12 °C"])
        value = value * (1000, 2, 1, 107)[sort] / (1, 1, 2, 100)[sort]
    number = figures_text(value, max(number_truth.figures, 3))
    return f"{number} {part.asked.unit}" if chance.random() < 0.5 and part.asked.unit != "1" else number


def _chosen(template: TemplateKey, choice: str, *, right: bool) -> str:
    other = next(source for source in template.plan.sources if source != choice)
    return template.scene.species[choice if right else other].names[0]
