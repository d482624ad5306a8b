"""A student's feedback page as a neutral document: numbers, answers, verdicts, and nothing about anyone else."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from fractions import Fraction

from problemgen.exact.rounding import plain_text
from problemgen.model.answers import KeyHead, ProblemKey, StudentKey, TemplateKey
from problemgen.model.blocks import Block, Bullets, Document, Heading, Line, Note, Paragraph, Prose, Strong, Table
from problemgen.model.quantity import KINDS, Quantity
from problemgen.model.verdict import PartResult, StudentResult
from problemgen.render.prompts import number_text, quantity_text

__all__ = ["feedback_document", "points_number"]

_NUMBER = re.compile(r"[+-]?[0-9]+(?:\.[0-9]+)?(?:e[+-]?[0-9]+)?")
_WORDS = {
    "right": "right",
    "slip": "slip of unit, sign or power of ten",
    "follows": "follows from your earlier answer",
    "mistake": "a usual mistake",
    "wrong": "not right",
    "unit": "another kind of unit",
    "unread": "not readable",
    "blank": "no answer",
}


def feedback_document(head: KeyHead, key: StudentKey, result: StudentResult) -> Document:
    """The page of one student."""
    earned = f"{points_number(result.points)} of {points_number(result.of)} points"
    blocks: list[Block] = [Paragraph((Prose("You earned "), Strong(earned), Prose(".")))]
    for problem in key.problems:
        template = head.templates[problem.template]
        mine = [part for part in result.parts if part.problem == problem.problem]
        blocks.extend(_problem_blocks(template, problem, mine))
    blocks.append(
        Note(
            (
                Prose(
                    "These exercises are calculations, not procedures: in the laboratory your instructor, the local "
                    "rules and the safety data sheets decide."
                ),
            )
        )
    )
    return Document(
        title=f"{head.title}: feedback",
        course=head.course,
        student=key.name,
        code=key.code,
        paper="a4",
        language=head.language,
        blocks=tuple(blocks),
    )


def points_number(points: Fraction) -> str:
    """Points as a number: whole where they are, else with up to two decimals."""
    text = plain_text(points, -2)
    return text.rstrip("0").rstrip(".")


def _problem_blocks(template: TemplateKey, problem: ProblemKey, parts: Iterable[PartResult]) -> Iterable[Block]:
    results = list(parts)
    yield Heading(2, f"Problem {problem.problem.removeprefix('p')}: {template.title}")
    yield _numbers(template, problem)
    yield _verdicts(template, results)
    notes = tuple(_notes(results))
    if notes:
        yield Bullets(notes)


def _numbers(template: TemplateKey, problem: ProblemKey) -> Table:
    rows: list[tuple[Line, ...]] = []
    for quantity in sorted(template.plan.given, key=lambda q: list(template.species).index(q.of) if q.of else -1):
        datum = problem.given[quantity.id]
        rows.append(((Prose(_named(template, quantity)),), (Prose(quantity_text(datum)),)))
    return Table("Your numbers", ((Prose("Quantity"),), (Prose("Value"),)), tuple(rows), (False, True))


def _named(template: TemplateKey, quantity: Quantity) -> str:
    role = f" ({quantity.role})" if quantity.role else ""
    name = template.species[quantity.of].names[0] if quantity.of else ""
    return f"{KINDS[quantity.kind].words} of {name}{role}"


def _verdicts(template: TemplateKey, results: list[PartResult]) -> Table:
    words: Mapping[str, str] = {part.id: part.words for part in template.parts}
    header = tuple((Prose(text),) for text in ("Part", "Asked", "You wrote", "Read as", "Verdict", "Points"))
    rows = tuple(
        (
            (Strong(result.label),),
            (Prose(words[result.part]),),
            (Prose(result.wrote.strip() or "–"),),
            (Prose(_read(result)),),
            (Prose(_WORDS[result.verdict]),),
            (Prose(f"{points_number(result.points)} / {points_number(result.of)}"),),
        )
        for result in results
    )
    return Table("Your answers", header, rows, (False, False, False, False, False, True))


def _read(result: PartResult) -> str:
    """What was read: a number as the sheets print it, or the name of a substance as it is."""
    number, _, unit = result.read.partition(" ")
    shown = number_text(number) if _NUMBER.fullmatch(number) else number
    return f"{shown} {unit}".strip() or "–"


def _notes(results: Iterable[PartResult]) -> Iterable[Line]:
    """What is to be said about the parts: each sentence once, behind all parts that it is about."""
    labels: dict[str, list[str]] = {}
    for result in results:
        sentences = [result.sentence] if result.verdict != "right" else []
        for sentence in (*sentences, *result.remarks):
            labels.setdefault(sentence, []).append(result.label)
    for sentence, about in labels.items():
        yield (Strong(f"{', '.join(about)}: "), Prose(sentence))
