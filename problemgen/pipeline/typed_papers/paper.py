"""A paper as it is typed: its blanks in the order of the sheets, the sheet's own numbers, what is said of answers."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, TypeAlias

from problemgen.chemistry.units import unit_text
from problemgen.exact.digits import number_text
from problemgen.exact.rounding import figures_text
from problemgen.grade.reading.spelling import plain_characters
from problemgen.language.messages import _, speaking
from problemgen.load.people.whose_rows import Entry
from problemgen.model.answers import KeyHead, PartKey, ProblemKey, TemplateKey
from problemgen.model.blocks import Block, Line, Prose, Strong
from problemgen.model.cells import unguarded
from problemgen.model.explanation import Bounds, Explanation
from problemgen.model.lettering import lettered
from problemgen.model.own_data import OwnReading
from problemgen.model.verdict import OWN_DATA_REASONS, VERDICTS, PartResult
from problemgen.pipeline.typed_papers.book import JudgedPaper, PaperBook
from problemgen.plan.forms import form_of
from problemgen.plan.forms.form import NO_BOUND
from problemgen.render.feedback.points import earned_of
from problemgen.render.sheet.own_data import read_as
from problemgen.render.words.given_words import numbers_blocks
from problemgen.render.words.prompts import problem_heading
from problemgen.render.words.symbols import capitalised

__all__ = ["PaperField", "PaperProblem", "PaperSheet", "Said", "TypedPaper", "paper", "sheets_of"]

Tone: TypeAlias = Literal["good", "mind", "bad", "quiet"]

_TONES: Mapping[str, Tone] = {"right": "good", "slip": "mind", "follows": "mind", "rounded": "mind", "blank": "quiet"}
"""How a verdict sounds; all others are bad."""

_FOLLOWS = "follow-through"


@dataclass(frozen=True)
class Said:
    """What is said of an answer.

    `read` is what was read, where it is not what was written; `right` the right answer with its unit, `bounds` from
    where to where it is accepted. `follows` is what the student's own earlier answers lead to, where one of them was
    wrong. `titles` name the mistake; `sentences` are what the student is told, `notes` are for the instructor alone.
    """

    sign: str
    words: str
    tone: Tone
    points: str = ""
    read: Line = ()
    right: Line = ()
    bounds: str = ""
    follows: str = ""
    titles: tuple[str, ...] = ()
    sentences: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()


@dataclass(frozen=True)
class PaperField:
    """A blank of a paper: its column, label and words, the unit beside it, what may be chosen, and what is typed there.

    Each choice has the letter that is printed before it.

    A value of the student's own has no label. `said` is None while nothing is typed.
    """

    column: str
    label: str
    words: Line
    unit: str
    choices: tuple[tuple[str, str], ...]
    cell: str
    said: Said | None


@dataclass(frozen=True)
class PaperProblem:
    """A problem's part of a sheet: its heading, the numbers that are printed on the student's sheet, its blanks."""

    heading: str
    numbers: tuple[Block, ...]
    fields: tuple[PaperField, ...]


@dataclass(frozen=True)
class PaperSheet:
    """One of the sheets of a paper, by the number of its session."""

    session: int
    problems: tuple[PaperProblem, ...]


@dataclass(frozen=True)
class TypedPaper:
    """A student's paper, and what it has earned so far; `language` is that of the sheets."""

    entry: Entry
    name: str
    section: str
    code: str
    language: str
    earned: str
    sheets: tuple[PaperSheet, ...]

    @property
    def fields(self) -> tuple[PaperField, ...]:
        """All blanks, in the order of the sheets."""
        return tuple(one for sheet in self.sheets for problem in sheet.problems for one in problem.fields)

    @property
    def printed(self) -> str:
        """What tells these sheets, their numbers and their blanks from those that are drawn another time, in short."""
        blanks = [(one.column, one.label, one.words, one.unit, one.choices) for one in self.fields]
        numbers = [(one.heading, one.numbers) for sheet in self.sheets for one in sheet.problems]
        return hashlib.sha256(repr((self.code, numbers, blanks)).encode()).hexdigest()[:16]


def paper(book: PaperBook, entry: Entry, cells: Mapping[str, str]) -> TypedPaper:
    """A paper as it stands, by the cells of its row. Raises KeyError for one that the set does not have."""
    judged = book.judged(entry, cells)
    results = [one.result for one in judged.parts]
    with speaking(judged.head.language):
        sheets = tuple(_sheet(judged, session, cells) for session in _sessions(judged.head, judged.key.problems))
        points, of = (sum(one, Fraction(0)) for one in zip(*((one.points, one.of) for one in results), strict=True))
        earned = earned_of(points, of)
    key = judged.key
    return TypedPaper(entry, key.name, key.section, key.code, judged.head.language, earned, sheets)


def sheets_of(book: PaperBook, entry: Entry) -> frozenset[int]:
    """The sessions whose sheets a paper has."""
    return frozenset(_sessions(book.head, book.key(entry).problems))


def _sessions(head: KeyHead, problems: Sequence[ProblemKey]) -> list[int]:
    return sorted({part.session for one in problems for part in head.templates[one.template].parts})


def _sheet(judged: JudgedPaper, session: int, cells: Mapping[str, str]) -> PaperSheet:
    problems = (_problem(judged, problem, session, cells) for problem in judged.key.problems)
    return PaperSheet(session, tuple(one for one in problems if one.fields))


def _problem(judged: JudgedPaper, problem: ProblemKey, session: int, cells: Mapping[str, str]) -> PaperProblem:
    template = judged.head.templates[problem.template]
    mine = {quantity.id for one in problem.own for quantity in one.key.value.quantities}
    printed = {name: datum for name, datum in problem.given.items() if name not in mine}
    told = [one for one in template.told if one.session <= session]
    explained = {one.part.id: one for one in judged.parts if one.result.problem == problem.problem}
    parts = [part for part in template.parts if part.session == session]
    fields = (
        *_own_fields(judged.head, template, problem, session, cells),
        *(_field(template, problem, part, explained[part.id], cells) for part in parts),
    )
    numbers = tuple(numbers_blocks(template.scene.species, told, printed, narrow=True))
    return PaperProblem(problem_heading(problem.problem, template.title), numbers, fields)


def _own_fields(
    head: KeyHead, template: TemplateKey, problem: ProblemKey, session: int, cells: Mapping[str, str]
) -> Iterator[PaperField]:
    """The values that the student has measured by a session: on the first sheet, where no sheet is told."""
    first = min(part.session for part in template.parts)
    sessions = {one.quantity: one.session for one in template.told}
    read = {one.key.column: one for one in problem.own}
    for one in head.own.get(problem.problem, ()):
        if sessions.get(one.value.quantity, first) == session:
            cell = cells.get(one.column, "")
            said = _said_of_own(read[one.column]) if one.column in read and cell.strip() else None
            unit = "" if one.value.second is not None else unit_text(one.value.unit)
            words = (Prose(capitalised(one.words)),)
            yield PaperField(one.column, "", words, unit, (), unguarded(cell), said)


def _field(
    template: TemplateKey, problem: ProblemKey, part: PartKey, explained: Explanation, cells: Mapping[str, str]
) -> PaperField:
    column = problem.label(part)
    form, cell = form_of(part.asked), cells.get(column, "")
    options = form.options(template.scene, template.plan, part.asked)
    species = template.scene.species
    return PaperField(
        column=column,
        label=column,
        words=part.prompt,
        unit=unit_text(part.asked.unit) if form.has_window else "",
        choices=lettered(species[one.id].name if one.id in species else one.id for one in options),
        cell=unguarded(cell),
        said=_said(template, explained) if cell.strip() else None,
    )


def _said_of_own(reading: OwnReading) -> Said:
    """What is said of a value of the student's own: how it is read, and what wants a second look."""
    flags = tuple(flag.sentence for flag in reading.flags)
    if reading.datum is None:
        words = _("Nothing") if reading.is_blank else _("Not readable")
        return Said("?", words, "bad", sentences=tuple(filter(None, (reading.reason, *flags))))
    same = _same(read_as(reading), reading.wrote, reading.key.value.unit)
    read = () if same else (Prose(read_as(reading)),)
    return Said("!" if flags else "✓", _("Look at it again") if flags else _("Read"), "mind" if flags else "good",
                read=read, sentences=flags)  # fmt: skip


def _said(template: TemplateKey, one: Explanation) -> Said:
    result, part = one.result, one.part
    verdict = VERDICTS[result.verdict]
    is_marked = result.reason not in OWN_DATA_REASONS
    words = _(verdict.words) if is_marked else _("Not marked")
    right, bounds = _right(template, one)
    return Said(
        sign=verdict.sign if is_marked else "?",
        words=words,
        tone=_TONES.get(result.verdict, "bad"),
        points=earned_of(result.points, result.of),
        read=_read(part, result),
        right=right,
        bounds=bounds,
        follows=_follows(one, right),
        titles=tuple(_(title) for title in result.titles),
        sentences=tuple(dict.fromkeys(filter(None, (_sentence(result, words), *result.remarks)))),
        notes=result.notes,
    )


def _sentence(result: PartResult, words: str) -> str:
    """The verdict's sentence, without what its words say already."""
    rest = "" if result.verdict == "right" else result.sentence.removeprefix(f"{words}.").strip()
    return rest[:1].upper() + rest[1:]


def _read(part: PartKey, result: PartResult) -> Line:
    """What was read; nothing where it is what was written."""
    if not result.read or _same(result.read, result.wrote, part.asked.unit):
        return ()
    return form_of(part.asked).read_as(result.read)


def _same(read: str, wrote: str, unit: str) -> bool:
    """Whether what was read is what was written, or that with the unit which stands behind the blank."""
    return _letters(read) in (_letters(wrote), _letters(f"{wrote} {unit_text(unit)}"))


def _letters(text: str) -> str:
    return "".join(plain_characters(unguarded(text)).split()).casefold()


def _right(template: TemplateKey, one: Explanation) -> tuple[Line, str]:
    """The right answer with its unit, and from where to where it is accepted; nothing where it cannot be known."""
    if one.truth is None:
        return (), ""
    cells = form_of(one.part.asked).cells(template.scene, one.part.asked, one.truth)
    unit = f"\u00a0{cells.unit}" if cells.unit else ""
    bounds = "" if NO_BOUND in (cells.low, cells.high) else _("{low} to {high}").format(low=cells.low, high=cells.high)
    answer: Line = (*(Prose(piece.text) if isinstance(piece, Strong) else piece for piece in cells.answer), Prose(unit))
    return answer, bounds


def _follows(one: Explanation, right: Line) -> str:
    """What the student's own earlier answers lead to, where it is not what is right; of a choice in words."""
    if one.follows is not None:
        text = f"{_shown(one.follows)}\u00a0{unit_text(one.part.asked.unit)}".strip()
        return "" if text == "".join(piece.text for piece in right if isinstance(piece, Prose)).strip() else text
    return next((trial.why for trial in one.trials if trial.kind == _FOLLOWS and trial.leads_to is None), "")


def _shown(bounds: Bounds) -> str:
    return number_text(figures_text(bounds.value, max(bounds.figures, 1)))
