"""A set of one template with some variants, written as a key and read back: what the marking makes of answers."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass

from problemgen.grade.judging.judge import judge_student
from problemgen.load.answers.answers import ANSWERS_FILE, Answers
from problemgen.model.answers import KeyHead, StudentKey
from problemgen.model.policy import Policy
from problemgen.model.problem_set import ProblemSet, SetProblem, Sheet, Student
from problemgen.model.template import Template
from problemgen.model.variant import Variant
from problemgen.model.verdict import PartResult
from problemgen.render.key.answers import AnswerLines
from problemgen.scratch import scratch

__all__ = ["PROBLEM", "Marking", "marking_of"]

PROBLEM = "p1"


@dataclass(frozen=True)
class Marking:
    """The key of some students, a variant each."""

    head: KeyHead
    keys: Sequence[StudentKey]

    def mark(self, student: int, answers: Mapping[str, str]) -> dict[str, PartResult]:
        """The results of one student's answers, both by part."""
        key = self.keys[student]
        parts = self.head.templates[key.problems[0].template].parts
        cells = {f"{PROBLEM.removeprefix('p')}{part.label}": answers[part.id] for part in parts}
        return {result.part: result for result in judge_student(self.head, key, cells).parts}


@contextmanager
def marking_of(template: Template, variants: Sequence[Variant]) -> Iterator[Marking]:
    """The marking of a set with this template alone, by its answers.json."""
    sheets = tuple(Sheet(number, "") for number in range(1, template.sessions + 1))
    problems = (SetProblem(PROBLEM, template.id, (template,)),)
    problem_set = ProblemSet("audit", "", "", "", "en", "a4", ".", sheets, problems, Policy(), None)
    with scratch() as folder:
        path = folder / ANSWERS_FILE
        path.write_bytes(b"".join(_lines(problem_set, variants)))
        with Answers(path) as answers:
            yield Marking(answers.head, list(answers))


def _lines(problem_set: ProblemSet, variants: Sequence[Variant]) -> Iterator[bytes]:
    lines = AnswerLines()
    yield lines.opening(problem_set, {})
    for number, variant in enumerate(variants):
        yield lines.student(Student(f"s{number}", "", ""), "", [variant])
    yield lines.closing()
