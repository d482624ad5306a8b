"""A student's workbook: the given numbers of each problem, and a cell for each answer, a row each."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from problemgen.chemistry.units import unit_text
from problemgen.language.messages import N_, _
from problemgen.model.blocks import Blank, Part, Table
from problemgen.model.handed_out import BookRow, Field
from problemgen.model.problem_set import Printing
from problemgen.model.told import Told
from problemgen.model.variant import Variant
from problemgen.render.sheet.own_data import sheet_blocks
from problemgen.render.sheet.sheet import problem_blocks
from problemgen.render.words.given_words import told_values
from problemgen.render.words.prompts import problem_heading, ratio_words
from problemgen.render.words.symbols import capitalised
from problemgen.render.words.text import clean_text, line_text

__all__ = ["workbook_rows"]

_HOW_TO = N_(
    "Type your answers into the framed cells, with every digit that counts (3.60), with a unit or without. They hold "
    "text and do not calculate: calculate in a sheet of your own or on paper."
)

_TYPED = Printing(answers="box")
"""A choice is typed by its letter, as into the box of a sheet: nothing is ticked."""


def workbook_rows(variants: Sequence[Variant], sessions: Iterable[int]) -> Iterator[BookRow]:
    """The rows of one attempt, for these sessions."""
    yield BookRow(_(_HOW_TO))
    told: dict[str, int] = {}
    for session in sessions:
        for variant in variants:
            if variant.template.parts_of(session):
                yield from _problem_rows(variant, session, told.get(variant.problem, 0))
                told[variant.problem] = session


def _problem_rows(variant: Variant, session: int, before: int) -> Iterator[BookRow]:
    """A problem's rows for a session; what the rows for the one `before` have told is not told again."""
    template, told = variant.template, told_values(variant.template)
    yield BookRow(problem_heading(variant.problem, template.title), is_heading=True)
    for one in told:
        if before < one.session <= session and one.quantity.id in variant.printed:
            yield _given(variant, one)
    for block in sheet_blocks(template.scene, variant, told, session):
        if isinstance(block, Table):
            for words, place, read_to in block.rows:
                yield from (_own(line_text(words), one, line_text(read_to)) for one in place if isinstance(one, Blank))
    yield from (_part(block) for block in problem_blocks(variant, session, _TYPED) if isinstance(block, Part))


def _given(variant: Variant, told: Told) -> BookRow:
    scene, datum = variant.template.scene, variant.given[told.quantity.id]
    if told.second is not None:
        ratio = f"{datum.written.text}:{variant.given[told.second.id].written.text}"
        return BookRow(capitalised(ratio_words(scene, told.quantity, told.second)), ratio)
    owner = scene.species[told.quantity.of].name if told.quantity.of in scene.species else ""
    words = f"{owner}, {told.before}".rstrip(": ") if told.column == "listed" else scene.words_of(told.quantity)
    return BookRow(clean_text(capitalised(words)), datum.written.text, unit_text(datum.unit))


def _own(words: str, blank: Blank, read_to: str) -> BookRow:
    field = Field(blank.id, clean_text(blank.said))
    return BookRow(clean_text(words), unit=blank.behind.strip(), about=clean_text(read_to), field=field)


def _part(part: Part) -> BookRow:
    options = tuple((letter, clean_text(line_text(choice))) for letter, choice in part.options)
    asked = clean_text(line_text(part.prompt))
    about = "; ".join(words for _letter, words in options) or clean_text(part.points)
    return BookRow(asked, unit=part.unit, about=about, field=Field(part.column, asked, options))
