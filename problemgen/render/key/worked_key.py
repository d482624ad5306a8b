"""The worked key of one student from answers.json alone: numbers, answers with their windows, worked solution."""

from __future__ import annotations

from collections.abc import Iterable

from problemgen.exact.rounding import plain_text
from problemgen.language.messages import _
from problemgen.language.numbers import in_digits
from problemgen.model.answers import KeyHead, ProblemKey, StudentKey, TemplateKey
from problemgen.model.blocks import Block, Document, Heading, NewSheet, Table
from problemgen.plan.forms import form_of
from problemgen.render.feedback.solution import solved_problem
from problemgen.render.key.variant_key import answer_row, answers_table
from problemgen.render.sheet.own_data import read_blocks
from problemgen.render.words.given_words import notes_blocks, numbers_blocks
from problemgen.render.words.prompts import problem_heading
from problemgen.render.worked.solution import rounding_note

__all__ = ["worked_key_document"]


def worked_key_document(head: KeyHead, key: StudentKey, name: str) -> Document:
    """The worked key of one student's attempt; `name` is the name as it can be printed.

    What rests on own data that are not known is left open.
    """
    told = head.attempts.told(key.attempt)
    whose = ", ".join(filter(None, (key.student, told)))
    blocks: list[Block] = [NewSheet(_("Key: {whose}").format(whose=whose))]
    for problem in key.problems:
        blocks.extend(_problem_blocks(head, head.templates[problem.template], problem))
    return Document(
        title=_("{title}: key for {whose}").format(title=head.title, whose=whose),
        course=head.course,
        student=name,
        code=key.code,
        paper=head.paper,
        language=head.language,
        blocks=tuple(blocks),
        confidential=True,
        about=_("section {name}").format(name=key.section) if key.section else "",
    )


def _problem_blocks(head: KeyHead, template: TemplateKey, problem: ProblemKey) -> Iterable[Block]:
    yield Heading(2, problem_heading(problem.problem, template.title))
    mine = {one.key.value.quantity.id for one in problem.own}
    printed = {name: datum for name, datum in problem.given.items() if name not in mine}
    yield from numbers_blocks(template.scene.species, template.told, printed)
    yield from read_blocks(problem.own)
    yield from notes_blocks(template.scene, template.plan)
    yield _answers(template, problem)
    solved = solved_problem(template, problem, head.method)
    if solved is None:
        return
    yield Heading(3, _("Worked solution"))
    yield rounding_note()
    for part in solved.worked:
        yield Heading(4, part.label)
        yield from part.blocks


def _answers(template: TemplateKey, problem: ProblemKey) -> Table:
    rows = (
        answer_row(
            part.label,
            form_of(part.asked).short_prompt(part.asked) or part.prompt,
            template.scene,
            part.asked,
            problem.truths.get(part.id),
            in_digits(plain_text(part.points, -2).rstrip("0").rstrip(".")),
        )
        for part in template.parts
    )
    return answers_table(rows)
