"""The key for marking by hand: a table a student and a line a part, with what the commonest errors would answer."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from problemgen.exact.digits import number_text
from problemgen.exact.rounding import figures_text
from problemgen.language.messages import N_, _, pgettext
from problemgen.language.numbers import in_digits
from problemgen.model.blocks import Block, Document, Heading, Line, NewSheet, Note, Paragraph, Prose, Strong, Table
from problemgen.model.problem_set import ProblemSet, Student
from problemgen.model.template import Part, label_of
from problemgen.model.truths import NumberTruth, Truth
from problemgen.model.variant import Variant
from problemgen.plan.common_errors import common_errors
from problemgen.plan.forms import form_of
from problemgen.plan.forms.form import Cells
from problemgen.render.key.answers import known

__all__ = ["KeyEntry", "marking_key"]

_ERRORS = 3
"""Errors told beside an answer: more would not stand on one line."""

_MOST_WHOLE = 45
"""Lines of a table that stand on one page together."""


@dataclass(frozen=True)
class KeyEntry:
    """One student's attempt; `name` as it can be printed."""

    student: Student
    name: str
    code: str
    variants: tuple[Variant, ...]
    attempt: int = 1


def marking_key(problem_set: ProblemSet, entries: Sequence[KeyEntry], session: int | None = None) -> Document:
    """The key of some students, one table each; of one session's parts where one is named."""
    numbers = {title: number for number, title in enumerate(_titles(problem_set), start=1)}
    first, last = entries[0].student.id, entries[-1].student.id
    # Translators: whose key it is, by the ids of the first and the last student.
    whose = first if first == last else _("{first} to {last}").format(first=first, last=last)
    about = "" if session is None else f", {_('session {number}').format(number=session)}"
    legend = "; ".join(f"{number} {_(title)}" for title, number in numbers.items())
    blocks: list[Block] = [NewSheet(_("Key: {whose}").format(whose=f"{whose}{about}")), Paragraph((Prose(_(_HOW_TO)),))]
    if legend:
        blocks.append(Note((Strong(f"{_('Errors.')} "), Prose(f"{legend}."))))
    for entry in entries:
        blocks.append(Heading(2, _whose(problem_set, entry)))
        blocks.append(_table(entry, session, numbers))
    return Document(
        title=_("{title}: key for {whose}").format(title=problem_set.title, whose=f"{whose}{about}"),
        course=problem_set.course,
        student="",
        code="key",
        paper=problem_set.paper,
        language=problem_set.language,
        blocks=tuple(blocks),
        confidential=True,
    )


_HOW_TO = N_(
    "An answer is right between the two bounds. At the end of a line stands what usual errors would answer, each "
    "behind its number in the list below."
)


def _titles(problem_set: ProblemSet) -> list[str]:
    """What the usual errors in the numbers of a set are called, each once, in the order of its problems."""
    templates = (template for problem in problem_set.problems for template in problem.templates)
    return list(dict.fromkeys(mistake.title for template in templates for mistake in template.plan.mistakes))


def _whose(problem_set: ProblemSet, entry: KeyEntry) -> str:
    student = entry.student
    section = _("section {name}").format(name=student.section) if student.section else ""
    name = "" if entry.name == student.id else entry.name
    told = (
        student.id,
        name,
        section,
        _("sheet {code}").format(code=entry.code),
        problem_set.attempts.told(entry.attempt),
    )
    return ", ".join(filter(None, told))


def _table(entry: KeyEntry, session: int | None, numbers: dict[str, int]) -> Table:
    titles = (
        *(_("Part"), _("Answer"), _("Right from"), pgettext("bound", "to"), _("Unit"), _("Points"), _("Usual errors")),
    )
    rows = tuple(row for variant in entry.variants for row in _rows(variant, session, numbers))
    numeric = (False, True, True, True, False, True, False)
    header = tuple((Prose(title),) for title in titles)
    return Table("", header, rows, numeric, wide=6, compact=True, whole=len(rows) <= _MOST_WHOLE)


def _rows(variant: Variant, session: int | None, numbers: dict[str, int]) -> Iterator[tuple[Line, ...]]:
    number = variant.problem.removeprefix("p")
    for index, (part, truth) in enumerate(zip(variant.template.parts, variant.answers, strict=True)):
        if session in (None, part.session):
            yield _row(variant, f"{number}{label_of(index)}", part, truth if known(variant, part.id) else None, numbers)


def _row(variant: Variant, label: str, part: Part, truth: Truth | None, numbers: dict[str, int]) -> tuple[Line, ...]:
    """A part's line; `truth` is None where it rests on the student's own data."""
    template, form = variant.template, form_of(part.asked)
    cells = Cells((Prose(_("own data")),)) if truth is None else form.cells(template.scene, part.asked, truth)
    answer = cells.answer
    options = form.options(template.scene, template.plan, part.asked)
    if truth is not None and options:
        place = next(i for i, option in enumerate(options) if option.id == form.kind(truth))
        answer = (Strong(label_of(place).upper()), Prose("\u2002"), *answer)
    errors = _errors(variant, part, truth, numbers) if isinstance(truth, NumberTruth) else ""
    texts = (cells.low, cells.high, cells.unit, in_digits(part.points.text), errors)
    return ((Strong(label),), answer, *((Prose(text),) for text in texts))


def _errors(variant: Variant, part: Part, truth: NumberTruth, numbers: dict[str, int]) -> str:
    """What usual errors answer, as an answer is printed: those that are not right, each number once."""
    told: dict[str, str] = {}
    for error in common_errors(variant.template.plan, part.asked, variant.values):
        if not truth.low <= error.value <= truth.high:
            told.setdefault(number_text(figures_text(error.value, truth.figures)), f"{numbers[error.title]}")
    return _joined(told.items())


def _joined(told: Iterable[tuple[str, str]]) -> str:
    return ";\u2002".join(f"{number}:\u00a0{text}" for text, number in list(told)[:_ERRORS])
