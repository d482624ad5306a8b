"""A student's sheets as a neutral document: data, scheme, parts with their blanks, cautions."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from problemgen.model.banks import Reaction, Substance
from problemgen.model.blocks import (
    Block,
    Document,
    Heading,
    NewSheet,
    Note,
    Paragraph,
    Part,
    Prose,
    Scheme,
    SchemeItem,
)
from problemgen.model.problem_set import ProblemSet, Sheet, Student
from problemgen.model.story import told_story
from problemgen.model.template import Template, label_of
from problemgen.model.variant import Variant
from problemgen.plan.forms import FORMS, form_of
from problemgen.render.cautions import caution_of
from problemgen.render.given_words import notes_blocks, numbers_blocks, told_values
from problemgen.render.own_data import sheet_blocks, story_text
from problemgen.render.prompts import points_text, prompt_of
from problemgen.render.prose import story_blocks

__all__ = ["problem_blocks", "sheet_document"]


def sheet_document(
    problem_set: ProblemSet, student: Student, name: str, code: str, variants: Sequence[Variant], attempt: int = 1
) -> Document:
    """All sheets of one student's attempt in one document; `name` is the name as it can be printed.

    A student without a name finds a line for it; the variant stands beside the course.
    """
    told = problem_set.attempts.told(attempt)
    blocks: list[Block] = []
    for sheet in problem_set.sheets:
        title = f"{sheet.title} ({told})" if told else sheet.title
        blocks.extend(_sheet_blocks(replace(sheet, title=title), variants))
        blocks.append(caution_of(sheet, problem_set.sheets, variants))
    return Document(
        title=", ".join(filter(None, (f"{problem_set.title}: {student.id}", told))),
        course=", ".join(filter(None, (problem_set.course, name))) if student.anonymous else problem_set.course,
        student="" if student.anonymous else name,
        code=code,
        paper=problem_set.paper,
        language=problem_set.language,
        blocks=tuple(blocks),
    )


def _sheet_blocks(sheet: Sheet, variants: Sequence[Variant]) -> Iterable[Block]:
    yield NewSheet(sheet.title)
    shown = [variant for variant in variants if variant.template.parts_of(sheet.session)]
    yield Paragraph((Prose(_how_to(shown, sheet.session)),))
    for variant in shown:
        yield from problem_blocks(variant, sheet.session)


def _how_to(variants: Sequence[Variant], session: int) -> str:
    """What to write and to tick, for the forms of part on a sheet, and how to round."""
    used = {form_of(part.asked) for variant in variants for part in variant.template.parts_of(session)}
    forms = [form for form in FORMS.values() if form in used]
    told = (*(f.to_write for f in forms), *(f.to_tick for f in forms), *(f.how_to_round for f in forms))
    return "".join(told).rstrip()


def problem_blocks(variant: Variant, session: int) -> Iterable[Block]:
    """One problem's blocks for one session: heading, story, scheme, data, parts."""
    template = variant.template
    number = variant.problem.removeprefix("p")
    later = session > min(part.session for part in template.parts)
    heading = f"Problem {number}: {template.title}" + (" (continued)" if later else "")
    yield Heading(2, heading)
    if not later:
        printed = {quantity: story_text(quantity, variant.given, variant.own) for quantity in template.scene.given}
        yield from story_blocks(told_story(template.story, printed))
    for reaction in (template.reaction, *template.further) if template.reaction else ():
        scheme = _scheme(template, reaction)
        yield scheme
        if not scheme.drawn:
            yield Note((Prose(f"In words: {_names(scheme.left)} → {_names(scheme.right)}."),))
    yield from _data(variant, session)
    yield from _parts(variant, session)


def _scheme(template: Template, reaction: Reaction) -> Scheme:
    """A reaction's scheme; without coefficients where they are asked for."""
    to_balance = any(form_of(part.asked).hides_coefficients for part in template.parts)

    def items(sign: int) -> tuple[SchemeItem, ...]:
        return tuple(
            SchemeItem(1 if to_balance else sign * nu, s.formula.text, _under_the_drawing(s), s.smiles)
            for name, nu in reaction.coefficients.items()
            if sign * nu > 0
            for s in (template.substances[name],)
        )

    return Scheme(items(-1), items(1), reaction.above, reaction.below, alt="", drawn=not to_balance)


def _names(side: Iterable[SchemeItem]) -> str:
    """The names of one side, for a scheme that shows formulas alone."""
    return " + ".join(item.name for item in side)


def _under_the_drawing(substance: Substance) -> str:
    """Its name, and for a racemate that the drawing shows one enantiomer of two."""
    return f"(±)-{substance.name}" if substance.racemic else substance.name


def _data(variant: Variant, session: int) -> Iterable[Block]:
    """The table of what is measured out, and what was obtained once the product is there."""
    template = variant.template
    told = told_values(template)
    by_now = [one for one in told if one.session <= session]
    yield from numbers_blocks(template.scene.species, by_now, variant.printed)
    yield from sheet_blocks(template.scene, variant.own, told, session)
    yield from notes_blocks(template.scene, template.plan, [one.quantity for one in by_now])
    measured = any(value.quantity.kind == "volume" for value in variant.own)
    if variant.flask is not None and session == 1 and _is_preparation(variant.template) and not measured:
        fits = f"The liquids measured out fit a {variant.flask}-mL flask (two thirds full at most)."
        yield Note((Prose(fits),))


def _is_preparation(template: Template) -> bool:
    """Whether a reaction is carried out to obtain something, in a reaction flask; a titration is not."""
    return template.reaction is not None and "preparation" in template.reaction.kind


def _parts(variant: Variant, session: int) -> Iterable[Block]:
    template = variant.template
    worked: set[str] = set()
    for index, part in enumerate(template.parts):
        steps = {
            step.quantity.id
            for step in template.plan.steps_to(part.asked.quantity.id)
            if step.rounding not in ("none", "whole")
        }
        lines = min(max(len(steps - worked), _LEAST_LINES), _MOST_LINES)
        worked |= steps
        if part.session != session:
            continue
        blank = form_of(part.asked).blank(template.scene, template.plan, part.asked, lines)
        yield Part(
            id=f"{variant.problem}-{part.id}",
            label=label_of(index),
            prompt=prompt_of(template, part),
            points=points_text(part.points),
            unit=blank.unit,
            choices=blank.choices,
            work_lines=blank.work_lines,
            wide=blank.wide,
        )


_LEAST_LINES, _MOST_LINES = 1, 4
"""Lines to write the working on: one a step that no earlier part asked for. The blank's own line comes on top."""
