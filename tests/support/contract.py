"""One template in a set of its own: a class's variants, with their keys as built and read back from answers.json."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any

from problemgen.grade.judging.judge import judge_student
from problemgen.load.answers.answers import Answers
from problemgen.make.admissible import Judge
from problemgen.make.candidates import Stream
from problemgen.make.variants import Maker
from problemgen.model.answers import KeyHead, StudentKey
from problemgen.model.policy import Policy
from problemgen.model.problem_set import ProblemSet, SetProblem, Sheet, Student
from problemgen.model.template import Part, Template, label_of
from problemgen.model.variant import Variant
from problemgen.model.verdict import StudentResult
from problemgen.render.key.answers import AnswerLines

__all__ = ["Made", "labelled", "made_from", "owed_by", "read_back", "the_set", "the_student"]

_CLASS = [f"s{number:04d}" for number in range(2000)]

_MARKED = 300
"""Students whose keys are written and read back: enough for a large class; marking takes longer than making."""


def owed_by(variant: Variant) -> frozenset[str]:
    """The ids of the mistakes that a variant has to show, by who limits in it."""
    template = variant.template
    if not template.is_drawn:  # an equation has no numbers that could hide anything
        return frozenset(one.id for one in template.plan.mistakes)
    duties = _judges(template).duties
    owed = set(duties.owed)
    if duties.by_turn:
        sources = template.plan.sources
        owed.update(duties.by_turn[min(range(len(sources)), key=lambda i: variant.values[f"extent({sources[i]})"])])
    return frozenset(one.id for one in owed)


_KEPT: dict[str, Judge] = {}


def _judges(template: Template) -> Judge:
    """One judge a template: its trial draw is made once."""
    if template.id not in _KEPT or _KEPT[template.id].template is not template:
        _KEPT[template.id] = Judge(template)
    return _KEPT[template.id]


@dataclass(frozen=True)
class Made:
    """A template with the variants of two thousand students."""

    template: Template
    all_variants: tuple[Variant, ...]

    @property
    def variants(self) -> tuple[Variant, ...]:
        """Those of the class that is marked."""
        return self.all_variants[:_MARKED]

    @cached_property
    def _read_back(self) -> tuple[KeyHead, tuple[StudentKey, ...]]:
        return read_back(self.template, self.variants)

    def judged(self, index: int, cells: Mapping[str, str]) -> StudentResult:
        """One student's answers, by part letter, marked by the key as it was read back."""
        head, keys = self._read_back
        return judge_student(head, keys[index], {f"1{label}": text for label, text in cells.items()})


def made_from(template: Template) -> Made:
    """A variant a student; one in all where nothing is drawn."""
    students = _CLASS if template.is_drawn else _CLASS[:1]
    return Made(template, tuple(Maker(template, Stream(b"a contract", "contract", "p1")).variants(students)))


def labelled(variant: Variant) -> Iterator[tuple[str, Part, Any]]:
    """The parts with their letters and answers."""
    for index, (part, answer) in enumerate(zip(variant.template.parts, variant.answers, strict=True)):
        yield label_of(index), part, answer


def the_set(template: Template) -> ProblemSet:
    """The template as the only problem of a set with the usual policy."""
    sheets = tuple(Sheet(session, f"Sheet {session}") for session in range(1, template.sessions + 1))
    problems = (SetProblem("p1", template.id, (template,)),)
    return ProblemSet("contract", "Contract", "Course", "", "en", "a4", ".", sheets, problems, Policy(), None)


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
