"""The page for a class: its commonest errors, each with an invented student's working that makes it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from problemgen.language.messages import N_, _
from problemgen.model.answers import KeyHead
from problemgen.model.blocks import (
    Amount,
    Block,
    Document,
    Heading,
    Line,
    NewSheet,
    Note,
    Paragraph,
    Prose,
    Scheme,
    Strong,
)
from problemgen.model.expression import Expression
from problemgen.model.lines import filled
from problemgen.model.plan import Step
from problemgen.model.quantity import OVERALL_EXTENT, Quantity
from problemgen.model.variant import Variant
from problemgen.plan.arithmetic import Exact
from problemgen.plan.evaluate import evaluate
from problemgen.render.key.variant_key import numbers_of
from problemgen.render.sheet.sheet import problem_blocks
from problemgen.render.words.given_words import given_text
from problemgen.render.words.prompts import prompt_of
from problemgen.render.words.symbols import capitalised, prose_number, symbol
from problemgen.render.worked.comparison import choice_blocks
from problemgen.render.worked.lines import Lines
from problemgen.render.worked.printed import Printed

__all__ = ["ShownError", "class_page"]


@dataclass(frozen=True)
class ShownError:
    """An error of a class: what it is called, what to ask oneself, how many made it, and where it is made again.

    `variant` is nobody's, `step` the one of its plan that goes wrong: `worked` is how it is worked, `written` what
    stands on paper of it, which is the right way where only the unit is taken wrongly.
    """

    title: str
    question: str
    students: int
    variant: Variant
    step: Step
    worked: Expression
    written: Expression


def class_page(head: KeyHead, errors: Sequence[ShownError], answered: int) -> Document:
    """The page: `answered` students handed something in. It shows no student's numbers, answers or name."""
    blocks: list[Block] = [NewSheet(_("What to look at again")), Paragraph((Prose(_(_OPENING)),))]
    if not errors:
        blocks.append(Paragraph((Prose(_("No usual error was made by several students.")),)))
    for place, error in enumerate(errors, start=1):
        blocks += _told(place, error, answered)
    return Document(
        title=_("{title}: what to look at again").format(title=head.title),
        course=head.course,
        student="",
        code=_("for the class"),
        paper=head.paper,
        language=head.language,
        blocks=(*blocks, Note((Prose(_(_NOT_A_PROCEDURE)),))),
    )


_OPENING = N_(
    "The commonest errors of the class. The working below each is made up, with numbers that nobody had: find what is "
    "wrong with it before you read the question below it."
)
_NOT_A_PROCEDURE = N_(
    "These exercises are calculations, not procedures: in the laboratory your instructor, the local rules and the "
    "safety data sheets decide."
)


def _told(place: int, error: ShownError, answered: int) -> Iterator[Block]:
    template, step = error.variant.template, error.step
    asked = [one for one in template.parts if step in template.plan.steps_to(one.asked.quantity.id)]
    yield Heading(2, f"{place}. {capitalised(error.title)}")
    yield Paragraph((Prose(_("{some} of {all} students.").format(some=error.students, all=answered)),))
    about: Line = (Strong(f"{template.title}. "), Prose(given_text(template, error.variant.printed)))
    yield Paragraph(about)
    schemes = (block for block in problem_blocks(error.variant, 1) if isinstance(block, Scheme))
    yield from (replace(one, above="", below="", drawn=False) for one in schemes)
    if asked:
        yield Paragraph((Strong(f"{_('Asked')}: "), *prompt_of(template, asked[0])))
    yield Paragraph((Strong(_("An invented student writes:")),))
    yield from _working(error)
    yield Paragraph((Strong(f"{_('The question that would have caught it:')} "), Prose(error.question)))


def _working(error: ShownError) -> Iterable[Block]:
    """The step as it is worked by mistake, and what it should have come to."""
    target = error.step.quantity
    right = Lines(Printed(error.variant.template.scene, error.variant.template.plan, numbers_of(error.variant)))
    values = dict(right.printed.numbers.values)
    values[target.id] = Fraction(evaluate(error.worked, values, Exact()))
    wrong = Lines(replace(right.printed, numbers=replace(right.printed.numbers, values=values)))
    table, counted = _compared(wrong, error.written, target)
    due = _compared(right, error.step.expression, target)[1]
    yield from table
    if target == OVERALL_EXTENT and isinstance(counted, str) and isinstance(due, str):
        limits, should = (_name(right, name) for name in (counted, due))
        yield Paragraph((Prose(_("{name} is the limiting reagent.").format(name=capitalised(limits))),))
        yield Note((Prose(_("Done rightly, the same numbers make {name} the limiting reagent.").format(name=should)),))
        return
    relation, groups = wrong.relation(counted), wrong.groups(counted, target)
    yield wrong.line(target, relation, groups, wrong.amount(target), mistaken=True)
    told = _("Done rightly, the same numbers lead to {symbol} = {value}.")
    due_symbol = (symbol(right.printed.scene, target),)
    yield Note(filled(told, symbol=due_symbol, value=_text(right.amount(target))))


def _name(lines: Lines, extent: str) -> str:
    """The name of the reagent whose extent is named."""
    return lines.printed.scene.species[lines.printed.quantities[extent].of].name


def _text(amount: Amount) -> str:
    units = "".join(piece.text for piece in amount.unit)
    return f"{prose_number(amount.number)} {units}".strip()


def _compared(lines: Lines, expression: Expression, target: Quantity) -> tuple[tuple[Block, ...], Expression]:
    """What stands before the line where several things are compared, and the expression that is left to work."""
    if isinstance(expression, str) or expression[0] not in ("min", "max", "least"):
        return (), expression
    pairs = [(one[0], one[1]) if expression[0] == "least" else (one, one) for one in expression[1:]]
    return choice_blocks(lines, pairs, target, most=expression[0] == "max")
