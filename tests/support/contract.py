"""One template in a set of its own: its variants' keys, built and read back from answers.json."""

from __future__ import annotations

import tempfile
from collections.abc import Sequence
from pathlib import Path

from problemgen.load.answers import Answers
from problemgen.model.answers import KeyHead, StudentKey
from problemgen.model.problem_set import Policy, ProblemSet, SetProblem, Sheet, Student
from problemgen.model.template import Template
from problemgen.model.variant import Variant
from problemgen.render.answers import AnswerLines

__all__ = ["POLICY", "read_back", "the_set", "the_student"]

POLICY = Policy()
"""That of a set that says nothing: full points for follow-through, half for a slip of unit, none for a mistake."""


def the_set(template: Template) -> ProblemSet:
    """The template as the only problem of a set."""
    sheets = tuple(Sheet(session, f"Sheet {session}") for session in range(1, template.sessions + 1))
    problems = (SetProblem("p1", (template,)),)
    return ProblemSet("contract", "Contract", "Course", "en", "a4", ".", sheets, problems, POLICY, None)


def the_student(variant: Variant) -> Student:
    """The student whose variant it is."""
    return Student(variant.student, f"Student {variant.student}", "A")


def read_back(template: Template, variants: Sequence[Variant]) -> tuple[KeyHead, tuple[StudentKey, ...]]:
    """The keys as marking sees them: written to answers.json and read again."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "answers.json"
        lines = AnswerLines()
        with path.open("wb") as file:
            file.write(lines.opening(the_set(template), {}))
            for variant in variants:
                file.write(lines.student(the_student(variant), "AAAA-AAAA", [variant]))
            file.write(lines.closing())
        with Answers(path) as answers:
            return answers.head, tuple(answers)
