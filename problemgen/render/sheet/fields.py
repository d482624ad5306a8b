"""The blanks of a sheet as fields: what each is called in the responses, and what is read aloud of it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from problemgen.language.messages import _
from problemgen.model.blocks import Blank, Block, Document, Part, Table
from problemgen.model.handed_out import Field
from problemgen.render.words.text import clean_text, line_text

__all__ = ["fields_of"]


def fields_of(document: Document) -> tuple[Field, ...]:
    """The fields of a sheet; of answers in a box, what is asked stands in their parts all the same."""
    return tuple(_fields(document.blocks))


def _fields(blocks: Iterable[Block]) -> Iterator[Field]:
    for block in blocks:
        if isinstance(block, Part):
            yield _of_part(block)
        elif isinstance(block, Table):
            pieces = (piece for row in block.rows for cell in row for piece in cell)
            yield from (Field(one.id, clean_text(one.said)) for one in pieces if isinstance(one, Blank))


def _of_part(part: Part) -> Field:
    number, asked = part.column.removesuffix(part.label), line_text(part.prompt)
    if part.unit:
        told = _("Problem {number}, part {letter}: {asked} Answer in {unit}.")
    else:
        told = _("Problem {number}, part {letter}: {asked}")
    said = told.format(number=number, letter=part.label, asked=asked, unit=part.unit)
    options = tuple((letter, clean_text(line_text(choice))) for letter, choice in part.options if part.blank)
    return Field(part.column, clean_text(said), options)
