"""Trying a template: some variants with their worked solutions, as text."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from problemgen.load.sets.courses import course_of
from problemgen.load.templates.template import load_template
from problemgen.make.candidates import Stream
from problemgen.make.variants import Maker
from problemgen.model.template import Template, label_of
from problemgen.model.variant import Variant
from problemgen.pipeline.arguments import AnyPath, HowMany, checked
from problemgen.pipeline.problems import Problem, variant_problem
from problemgen.plan.forms import form_of
from problemgen.render.key.variant_key import variant_solution
from problemgen.render.printers.terminal import text_lines
from problemgen.render.sheet.sheet import problem_blocks

__all__ = ["Sample", "sample"]

_PURPOSE = "sample"
"""What the draws are for: samples never coincide with a graded variant by name."""

_SECRET = "sample"  # noqa: S105 - published: samples are no secret


@dataclass(frozen=True)
class Sample:
    """A variant of a template: its numbers and answers; printed, what its sheet says, and the worked solution."""

    problem: Problem
    text: str = field(repr=False)

    def __str__(self) -> str:
        """The variant as text."""
        return self.text


@checked
def sample(template: AnyPath, n: HowMany = 3, *, secret: str | None = None) -> tuple[Sample, ...]:
    """Some variants of a template, with their answers; printed, each shows its sheet and its worked solution.

    `template` is a file, or an id such as "titrations/borax". Another `secret` gives other numbers. None of them is a
    graded variant's.

    Raises:
        FaultsError: for a template that is not there or has faults, or fewer variants than one.
        NoRoomError: for one that leaves too little room.

    >>> (one,) = sample("amounts/four-ways", n=1)
    >>> print(one.problem.given["mass(salicylic-acid)"], one.problem.parts[0].answer, one.problem.parts[0].unit)
    4.976 g 36.03 mmol
    """
    return tuple(_samples(_template(str(template)), n, _SECRET if secret is None else secret))


def _samples(template: Template, count: int, secret: str) -> Iterator[Sample]:
    maker = Maker(template, Stream(secret.encode(), template.id, "p1", _PURPOSE))
    students = [f"sample {n}" for n in range(1, count + 1)]
    for number, variant in enumerate(maker.variants(students), start=1):
        lines = (f"══ {template.title}: variant {number} of {count}", *_told(variant), "")
        yield Sample(variant_problem(str(number), variant), "\n".join(lines))


def _told(variant: Variant) -> Iterator[str]:
    for session in range(1, variant.template.sessions + 1):
        if variant.template.parts_of(session):
            yield from text_lines(problem_blocks(variant, session))
    yield ""
    yield "── Answers"
    for index, (part, truth) in enumerate(zip(variant.template.parts, variant.answers, strict=True)):
        yield f"  ({label_of(index)}) {form_of(part.asked).text(variant.template.scene, part.asked, truth)}"
    yield ""
    yield "── Worked solution"
    yield from text_lines(variant_solution(variant))


def _template(name: str) -> Template:
    course = course_of(Path(name) if Path(name).is_file() else Path())
    known, path = course.template_file(name)
    return load_template(path, known, course.banks())
