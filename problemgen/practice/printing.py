"""Blocks printed for the page: those that differ in plain numbers alone are printed once.

In every variant most lines of a problem, its hints and its solution have the same words, formulas and units. So a block
is printed with marks for its numbers, and the numbers are put in for the marks: to print each takes twice as long.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import count

from problemgen.language.numbers import in_digits
from problemgen.model import blocks as b
from problemgen.practice.spoken import with_names
from problemgen.render.printers.html import fragments

__all__ = ["Printer"]

_FIRST_MARK = 0x100000
_MARK = re.compile(r"([\U00100000-\U0010FFFD])")
"""Letters of the last plane for private use. A text that holds one itself shows it, or a number of the same line."""
_NUMBER = re.compile(r"[0-9]+(?:[.,][0-9]+)*")
_PLAIN = re.compile(r"[0-9]{1,4}(?:\.[0-9]+)?")
"""A number that is printed and read aloud as it is written, but for its mark: five figures are set in groups."""


class Printer:
    """Prints blocks as pieces of the page, in the language spoken."""

    def __init__(self, layouts: Mapping[str, str], names: Mapping[str, str]) -> None:
        """`layouts` holds the texts of the layout folder by file name; `names`, what formulas are called aloud."""
        self._layouts = layouts
        self._names = names
        self._met: dict[b.Block, _Marked] = {}
        self._forms: dict[b.Block, _Form] = {}

    def printed(self, blocks: Iterable[b.Block]) -> list[str]:
        """Each block as it is printed; many at once cost less."""
        # Blocks are deep and hashing one takes long, so each is looked up once.
        marked = [self._met.get(block) or self._meet(block) for block in blocks]
        new = list({id(form): form for form in (one.form for one in marked) if not form.cut}.values())
        texts = fragments(with_names([form.block for form in new], self._names), self._layouts)
        for form, text in zip(new, texts, strict=True):
            form.cut = _MARK.split(text)
        return [one.printed for one in marked]

    def _meet(self, block: b.Block) -> _Marked:
        marking = _Marking()
        form = _Form(marking.block(block))
        return self._met.setdefault(block, _Marked(self._forms.setdefault(form.block, form), marking.numbers))


@dataclass
class _Form:
    """A block with marks for its numbers; once it is printed, it is `cut` into texts and, between them, marks."""

    block: b.Block
    cut: Sequence[str] = ()


class _Marked:
    """A block told by its form and the numbers for the marks."""

    def __init__(self, form: _Form, numbers: Sequence[str]) -> None:
        self.form = form
        self._numbers = numbers

    @cached_property
    def printed(self) -> str:
        told = dict(zip(map(_mark, count()), self._numbers, strict=False))
        return "".join([told.get(text, text) for text in self.form.cut])


class _Marking:
    """Puts marks in the place of numbers, and keeps the numbers as they are printed."""

    def __init__(self) -> None:
        self.numbers: list[str] = []

    def block(self, block: b.Block) -> b.Block:
        match block:
            case b.Calculation():
                return self._calculation(block)
            case b.Paragraph(line) | b.Note(line):
                return type(block)(self._line(line))
            case b.Bullets(items):
                return b.Bullets(tuple(map(self._line, items)))
            case b.Table():
                return replace(block, rows=tuple(tuple(map(self._line, row)) for row in block.rows))
            case _:
                return block

    def _calculation(self, block: b.Calculation) -> b.Calculation:
        terms = tuple(b.Ratio(self._amounts(term.top), self._amounts(term.bottom)) for term in block.terms)
        return replace(block, terms=terms, result=self._amount(block.result), alt=self._prose(block.alt))

    def _amounts(self, amounts: Iterable[b.Amount]) -> tuple[b.Amount, ...]:
        return tuple(map(self._amount, amounts))

    def _amount(self, amount: b.Amount) -> b.Amount:
        if not _PLAIN.fullmatch(amount.number):
            return amount
        return b.Amount(self._marked(in_digits(amount.number)), amount.unit, amount.of)

    def _line(self, line: b.Line) -> b.Line:
        return tuple(b.Prose(self._prose(piece.text)) if isinstance(piece, b.Prose) else piece for piece in line)

    def _prose(self, text: str) -> str:
        return _NUMBER.sub(lambda found: self._marked(found[0]), text)

    def _marked(self, number: str) -> str:
        self.numbers.append(number)
        return _mark(len(self.numbers) - 1)


def _mark(index: int) -> str:
    return chr(_FIRST_MARK + index)
