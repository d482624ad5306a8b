"""The page for a class: its commonest errors, each with an invented student's working that makes it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from problemgen.model.answers import KeyHead
from problemgen.model.blocks import Amount, Block, Document, Heading, Line, NewSheet, Note, Paragraph, Prose, Strong
from problemgen.model.expression import Expression
from problemgen.model.plan import Mistake, Step
from problemgen.model.variant import Variant
from problemgen.plan.arithmetic import Exact
from problemgen.plan.evaluate import evaluate
from problemgen.render.comparison import choice_blocks
from problemgen.render.given_words import given_text
from problemgen.render.key import numbers_of
from problemgen.render.lines import Lines
from problemgen.render.printed import Printed
from problemgen.render.prompts import prompt_of
from problemgen.render.symbols import capitalised, prose_number, symbol

__all__ = ["ShownError", "class_page", "mistaken_step"]


@dataclass(frozen=True)
class ShownError:
    """An error of a class: what it is called, what to ask oneself, how many made it, and a variant of nobody's."""

    title: str
    question: str
    students: int
    variant: Variant
    mistake: Mistake


def class_page(head: KeyHead, errors: Sequence[ShownError], answered: int) -> Document:
    """The page: `answered` students handed something in. It shows no student's numbers, answers or name."""
    blocks: list[Block] = [NewSheet("What to look at again"), Paragraph((Prose(_OPENING),))]
    if not errors:
        blocks.append(Paragraph((Prose("The marking recognised no usual error."),)))
    for place, error in enumerate(errors, start=1):
        blocks += _told(place, error, answered)
    return Document(
        title=f"{head.title}: what to look at again",
        course=head.course,
        student="",
        code="for the class",
        paper=head.paper,
        language=head.language,
        blocks=(*blocks, Note((Prose(_NOT_A_PROCEDURE),))),
    )


_OPENING = (
    "The commonest errors of the class. The working below each is made up, with numbers that nobody had: find what is "
    "wrong with it before you read the question below it."
)
_NOT_A_PROCEDURE = (
    "These exercises are calculations, not procedures: in the laboratory your instructor, the local rules and the "
    "safety data sheets decide."
)


def _told(place: int, error: ShownError, answered: int) -> Iterator[Block]:
    template = error.variant.template
    step = mistaken_step(error.variant, error.mistake)
    asked = [one for one in template.parts if step in template.plan.steps_to(one.asked.quantity.id)]
    yield Heading(2, f"{place}. {capitalised(error.title)}")
    yield Paragraph((Prose(f"{error.students} of {answered} students."),))
    about: Line = (Strong(f"{template.title}. "), Prose(given_text(template, error.variant.printed)))
    yield Paragraph(about)
    if asked:
        yield Paragraph((Strong("Asked: "), *prompt_of(template, asked[0])))
    yield Paragraph((Strong("An invented student writes:"),))
    yield from _working(error.variant, step, error.mistake)
    yield Paragraph((Strong("The question that would have caught it: "), Prose(error.question)))


def mistaken_step(variant: Variant, mistake: Mistake) -> Step:
    """The first step of a variant's plan that a mistake rewrites. Raises StopIteration where it rewrites none."""
    rewritten = {name for name, _ in mistake.rewrites}
    return next(step for step in variant.template.plan.steps if step.quantity.id in rewritten)


def _working(variant: Variant, step: Step, mistake: Mistake) -> Iterable[Block]:
    """The step as it is worked by mistake, and what it should have come to."""
    scene, plan = variant.template.scene, variant.template.plan
    expression = dict(mistake.rewrites)[step.quantity.id]
    right = Printed(scene, plan, numbers_of(variant))
    values = dict(right.numbers.values)
    values[step.quantity.id] = Fraction(evaluate(expression, values, Exact()))
    lines = Lines(Printed(scene, plan, replace(right.numbers, values=values)))
    before, counted = _compared(lines, expression, step)
    yield from before
    relation, groups = lines.relation(counted), lines.groups(counted, step.quantity)
    yield lines.line(step.quantity, relation, groups, lines.amount(step.quantity), mistaken=True)
    due = Lines(right).amount(step.quantity)
    end = Prose(f" = {_text(due)}.")
    yield Note((Prose("Done rightly, the same numbers lead to "), symbol(scene, step.quantity), end))


def _text(amount: Amount) -> str:
    units = "".join(piece.text for piece in amount.unit)
    return f"{prose_number(amount.number)} {units}".strip()


def _compared(lines: Lines, expression: Expression, step: Step) -> tuple[tuple[Block, ...], Expression]:
    """What stands before the line where several things are compared, and the expression that is left to work."""
    if isinstance(expression, str) or expression[0] not in ("min", "max", "least"):
        return (), expression
    pairs = [(one[0], one[1]) if expression[0] == "least" else (one, one) for one in expression[1:]]
    return choice_blocks(lines, pairs, step.quantity, most=expression[0] == "max")
