"""The instructor's key of one student's variants: answers, acceptance windows, worked solution."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from problemgen.exact.rounding import figures_text
from problemgen.model.blocks import (
    Block,
    Chemical,
    Document,
    Heading,
    Line,
    NewSheet,
    Paragraph,
    Prose,
    Strong,
    Table,
)
from problemgen.model.problem_set import ProblemSet, Student
from problemgen.model.template import Part, Template
from problemgen.model.variant import Answer, Variant
from problemgen.render.analyses import equation_line
from problemgen.render.answers import printed_answer
from problemgen.render.prompts import label_of, number_text, prompt_of, unit_text
from problemgen.render.sheet import printed_value
from problemgen.render.solution import ROUNDING_NOTE, Numbers, SolvedPart, worked_solution

__all__ = ["key_document", "numbers_of", "variant_solution"]

_BOUND_FIGURES = 2
"""Figures of a bound beyond those of the answer."""


def key_document(
    problem_set: ProblemSet, student: Student, name: str, code: str, variants: Sequence[Variant]
) -> Document:
    """The key of one student, confidential; `name` is the name as it can be printed."""
    blocks: list[Block] = [NewSheet(f"Key: {student.id}")]
    for variant in variants:
        blocks.extend(_variant_blocks(variant))
    return Document(
        title=f"{problem_set.title}: key for {student.id}",
        course=problem_set.course,
        student=name,
        code=code,
        paper=problem_set.paper,
        language=problem_set.language,
        blocks=tuple(blocks),
        confidential=True,
    )


def _variant_blocks(variant: Variant) -> Iterable[Block]:
    template = variant.template
    yield Heading(2, f"Problem {variant.problem.removeprefix('p')}: {template.title}")
    if variant.given:
        yield Paragraph((Strong("Given: "), Prose(_given(variant))))
    yield _answers(variant)
    if variant.given:
        yield ROUNDING_NOTE
    yield from variant_solution(variant)


def _given(variant: Variant) -> str:
    """The given values, a substance after the other, in the sheet's words."""
    told: dict[str, list[str]] = {}
    for quantity in sorted(variant.template.scene.given, key=lambda q: (_order(variant.template, q.of), q)):
        whole = {"mixed": "mixture", "heated": "sample after heating"}.get(quantity.role, "sample")
        name = variant.template.scene.species[quantity.of].name if quantity.of else whole
        text = printed_value(variant.template, quantity, variant.given[quantity.id])
        told.setdefault(name, []).append(text)
    return "; ".join(f"{name}: {', '.join(texts)}" for name, texts in told.items()) + "."


def _order(template: Template, name: str) -> int:
    return ["", *template.scene.species].index(name)


def _answers(variant: Variant) -> Table:
    header = tuple((Prose(text),) for text in ("Part", "Asked", "Answer", "Accepted from", "to", "Unit", "Points"))
    rows = [
        _answer_row(variant.template, index, part, answer)
        for index, (part, answer) in enumerate(zip(variant.template.parts, variant.answers, strict=True))
    ]
    return Table("Answers", header, tuple(rows), (False, False, True, True, True, False, True), wide=1)


def _answer_row(template: Template, index: int, part: Part, answer: Answer) -> tuple[Line, ...]:
    label: Line = (Strong(label_of(index)),)
    prompt = (Prose("Balanced equation"),) if part.asked.form == "equation" else prompt_of(template, part)
    points: Line = (Prose(part.points.text),)
    if answer.choice:
        chosen: Line = (Strong(template.scene.species[answer.choice].name),)
        return (label, prompt, chosen, (Prose("–"),), (Prose("–"),), (Prose(""),), points)
    if answer.text:
        told = equation_line(answer.text) if part.asked.form == "equation" else (Chemical(answer.text),)
        return (label, prompt, told, (Prose("–"),), (Prose("–"),), (Prose(""),), points)
    figures = answer.figures + _BOUND_FIGURES
    bounds = tuple((Prose(number_text(figures_text(bound, figures))),) for bound in (answer.low, answer.high))
    printed: Line = (Strong(number_text(printed_answer(answer))),)
    return (label, prompt, printed, *bounds, (Prose(unit_text(answer.unit)),), points)


def variant_solution(variant: Variant) -> Iterable[Block]:
    """The worked solution of a variant, part by part."""
    template = variant.template
    parts = [SolvedPart(part.id, label_of(i), part.asked) for i, part in enumerate(template.parts)]
    for worked in worked_solution(template.scene, template.plan, parts, numbers_of(variant)):
        yield Heading(3, f"({worked.label})")
        yield from worked.blocks


def numbers_of(variant: Variant) -> Numbers:
    """A variant's numbers as the worked solution takes them."""
    return Numbers(
        values=variant.values,
        data={name: (datum.written.text, datum.unit) for name, datum in variant.given.items()},
        figures=variant.figures,
        answers={a.part: (printed_answer(a), a.unit) for a in variant.answers if not a.choice},
    )
