"""The instructor's key of one student's variants: answers, acceptance windows, worked solution."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from problemgen.language.messages import _, pgettext
from problemgen.language.numbers import in_digits
from problemgen.model.blocks import (
    Block,
    Document,
    Heading,
    Line,
    NewSheet,
    Paragraph,
    Prose,
    Strong,
    Table,
    letters_of,
)
from problemgen.model.problem import Asked, Scene
from problemgen.model.problem_set import Method, ProblemSet, Student
from problemgen.model.template import label_of
from problemgen.model.truths import Truth
from problemgen.model.variant import Variant
from problemgen.plan.forms import form_of
from problemgen.plan.forms.form import Cells
from problemgen.render.key.answers import known
from problemgen.render.sheet.own_data import key_blocks
from problemgen.render.words.given_words import given_text
from problemgen.render.words.prompts import problem_heading, short_prompt_of
from problemgen.render.worked.printed import Numbers
from problemgen.render.worked.solution import SolvedPart, rounding_note, worked_solution

__all__ = ["answer_row", "answers_table", "key_document", "numbers_of", "variant_solution"]


def key_document(
    problem_set: ProblemSet,
    student: Student,
    name: str,
    code: str,
    variants: Sequence[Variant],
    attempt: int = 1,
    session: int | None = None,
) -> Document:
    """The worked key of one student's attempt, confidential; `name` is the name as it can be printed.

    Where a session is named, that of its parts alone.
    """
    who = _("all students") if problem_set.same_for_all else student.id
    whose = ", ".join(filter(None, (who, problem_set.attempts.told(attempt))))
    blocks: list[Block] = [NewSheet(_("Key: {whose}").format(whose=whose))]
    for variant in variants:
        if variant.template.parts_of(session or variant.template.parts[0].session):
            blocks.extend(_variant_blocks(problem_set, variant, session))
    return Document(
        title=_("{title}: key for {whose}").format(title=problem_set.title, whose=whose),
        course=problem_set.course,
        student="" if problem_set.same_for_all else name,
        code="key" if problem_set.same_for_all else code,
        paper=problem_set.paper,
        language=problem_set.language,
        blocks=tuple(blocks),
        confidential=True,
        about=""
        if problem_set.same_for_all or not student.section
        else _("section {name}").format(name=student.section),
    )


def _variant_blocks(problem_set: ProblemSet, variant: Variant, session: int | None) -> Iterable[Block]:
    template = variant.template
    yield Heading(2, problem_heading(variant.problem, template.title))
    if variant.printed:
        yield Paragraph((Strong(f"{_('Given')}: "), Prose(given_text(template, variant.printed))))
    if variant.own:
        yield from key_blocks(variant)
    yield _answers(variant, session)
    windows = _changed_windows(problem_set, variant)
    if windows:
        yield Paragraph((Strong(f"{_('Windows')}: "), Prose(f"{windows}.")))
    if variant.own:
        yield Heading(3, _("Worked solution with the example values"))
    if variant.given:
        yield rounding_note()
    yield from variant_solution(variant, problem_set.method, session)


def _changed_windows(problem_set: ProblemSet, variant: Variant) -> str:
    """Which parts are not marked by the derived window, in words."""
    policies = next((one.policies for one in problem_set.problems if one.id == variant.problem), {})
    parts = enumerate(variant.template.parts)
    letters = [label_of(index) for index, part in parts if form_of(part.asked).has_window]
    told: dict[str, list[str]] = {}
    for letter in letters:
        if letter in policies and policies[letter].tolerance.words:
            told.setdefault(policies[letter].tolerance.words, []).append(f"({letter})")
    return "; ".join(f"{', '.join(ones)} {words}" for words, ones in told.items())


def _answers(variant: Variant, session: int | None) -> Table:
    template = variant.template
    return answers_table(
        answer_row(
            label_of(index),
            short_prompt_of(template, part),
            template.scene,
            part.asked,
            truth if known(variant, part.id) else None,
            in_digits(part.points.text),
        )
        for index, (part, truth) in enumerate(zip(template.parts, variant.answers, strict=True))
        if session in (None, part.session)
    )


def answers_table(rows: Iterable[tuple[Line, ...]]) -> Table:
    """The table of a problem's answers, of rows that `answer_row` makes."""
    titles = (_("Part"), _("Asked"), _("Answer"), _("Accepted from"), pgettext("bound", "to"), _("Unit"), _("Points"))
    header = tuple((Prose(text),) for text in titles)
    body = tuple(rows)
    shares = _BESIDE_LONG_ANSWERS if any(letters_of(row[2]) > _LONG_ANSWER for row in body) else ()
    return Table(_("Answers"), header, body, (False, False, True, True, True, False, True), wide=1, shares=shares)


_LONG_ANSWER = 24
"""Letters of an answer that would leave no room for what is asked: the long name of a reagent."""
_BESIDE_LONG_ANSWERS = (2, 9, 6, 4, 4, 3, 2)


def answer_row(
    label: str, prompt: Line, scene: Scene, asked: Asked, truth: Truth | None, points: str
) -> tuple[Line, ...]:
    """A part's row; `truth` is None where it rests on the student's own data."""
    cells = Cells((Prose(_("own data")),)) if truth is None else form_of(asked).cells(scene, asked, truth)
    texts: tuple[Line, ...] = tuple((Prose(text),) for text in (cells.low, cells.high, cells.unit, points))
    return ((Strong(label),), prompt, cells.answer, *texts)


def variant_solution(variant: Variant, method: Method = "product", session: int | None = None) -> Iterable[Block]:
    """The worked solution of a variant, part by part, told in the way that the class is taught; or of one session's."""
    template = variant.template
    wanted = {part.id for part in template.parts if session in (None, part.session)}
    parts = [SolvedPart(part.id, label_of(i), part.asked) for i, part in enumerate(template.parts)]
    for worked in worked_solution(template.scene, template.plan, parts, numbers_of(variant), method):
        if worked.id in wanted:
            yield Heading(3, f"({worked.label})")
            yield from worked.blocks


def numbers_of(variant: Variant) -> Numbers:
    """A variant's numbers as the worked solution takes them."""
    return Numbers(
        values=variant.values,
        data={name: (datum.written.text, datum.unit) for name, datum in variant.given.items()},
        figures=variant.figures,
        endings={
            part.id: form_of(part.asked).ending(part.asked, truth)
            for part, truth in zip(variant.template.parts, variant.answers, strict=True)
        },
    )
