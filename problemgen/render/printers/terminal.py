"""A neutral document as plain text for a terminal: what an author sees of a template at work."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from problemgen.model import blocks as b
from problemgen.render.words.text import chemical_text, clean_text, line_text

__all__ = ["text_lines"]

_HIGH = str.maketrans("0123456789-", "⁰¹²³⁴⁵⁶⁷⁸⁹⁻")


def text_lines(blocks: Iterable[b.Block]) -> Iterator[str]:
    """The lines of some blocks. Nothing in them is markup; control characters are left out."""
    for block in blocks:
        yield from (clean_text(line) for line in _lines(block))


def _lines(block: b.Block) -> Iterator[str]:
    match block:
        case b.Heading(level, text):
            yield ""
            yield text if level > 1 else text.upper()
        case b.NewSheet(title, _):
            yield title
        case b.Paragraph(line) | b.Note(line):
            yield line_text(line)
        case b.Bullets(items):
            yield from (f"- {line_text(item)}" for item in items)
        case b.Caution(title, lines):
            yield title
            yield from (f"  {line_text(line)}" for line in lines)
        case b.AnswerBox(rows):
            yield "  ".join(f"{row.label} ____ {row.unit}".rstrip() for row in rows)
        case _:
            yield from _figure(block)


def _figure(block: b.Block) -> Iterator[str]:
    """What is more than lines of words."""
    match block:
        case b.Scheme():
            yield f"{_side(block.left)} → {_side(block.right)}"
        case b.Table():
            yield from _table(block)
        case b.Plot():
            yield f"  [{block.alt}]"
        case b.Part():
            yield f"({block.label}) {line_text(block.prompt)} [{block.points}] ____ {block.unit}".rstrip()
            yield from (f"    {line_text(choice)}" for choice in block.choices)
        case b.Calculation():
            yield f"    {_calculation(block)}"
        case b.Judged():
            yield f"{block.label} {line_text(block.prompt)} [{block.points}]"
            yield f"  {block.sign} {block.verdict}. {line_text(block.wrote)}"
            yield from (f"  {line_text(line)}" for line in block.sentences)
            yield from (f"  {line}" for inner in block.working for line in _lines(inner))
        case b.Flagged(lines, blocks):
            yield from (f"  » {line_text(line)}" for line in lines)
            yield from (f"  {line}" for inner in blocks for line in _lines(inner))


def _side(items: tuple[b.SchemeItem, ...]) -> str:
    terms = (f"{item.coefficient if item.coefficient > 1 else ''} {chemical_text(item.formula)}" for item in items)
    return " + ".join(term.strip() for term in terms)


def _table(table: b.Table) -> Iterator[str]:
    """The table with its columns aligned."""
    rows = [[line_text(cell) for cell in row] for row in (table.header, *table.rows)]
    widths = [max(len(row[column]) for row in rows) for column in range(len(table.header))]
    if table.caption:
        yield table.caption
    for row in rows:
        cells = (
            cell.rjust(width) if numeric else cell.ljust(width)
            for cell, width, numeric in zip(row, widths, table.numeric, strict=True)
        )
        yield f"  {'  '.join(cells)}".rstrip()


def _calculation(line: b.Calculation) -> str:
    relation = _relation(line.relation)
    head = f"{line_text((line.symbol,))} = {relation} = " if relation else f"{line_text((line.symbol,))} = "
    chain = ""
    for index, term in enumerate(line.terms):
        sign = f" {line.operators[index - 1]} " if index else ""
        chain += sign + _ratio(term)
    result = _amount(line.result)
    return f"{head}{chain} = {result}" if chain and chain != result else f"{head}{result}"


def _relation(line: b.Line) -> str:
    """A law in symbols; a lone slash divides all before it by all behind it, which brackets tell."""
    slashes = [index for index, piece in enumerate(line) if isinstance(piece, b.Prose) and piece.text.strip() == "/"]
    if len(slashes) != 1:
        return line_text(line)
    top, bottom = line[: slashes[0]], line[slashes[0] + 1 :]
    return f"{_bracketed(top)}/{_bracketed(bottom)}"


def _bracketed(line: b.Line) -> str:
    return f"({line_text(line)})" if len(line) > 1 else line_text(line)


def _ratio(ratio: b.Ratio) -> str:
    top = " × ".join(_amount(amount) for amount in ratio.top)
    if not ratio.bottom:
        return top
    bottom = " × ".join(_amount(amount) for amount in ratio.bottom)
    return f"({top} / ({bottom}))" if len(ratio.bottom) > 1 else f"({top} / {bottom})"


def _amount(amount: b.Amount) -> str:
    unit = "·".join(_unit_piece(piece) for piece in amount.unit)
    of = chemical_text(amount.of) if amount.of else ""
    return " ".join(text for text in (amount.number, unit, of) if text)


def _unit_piece(piece: b.UnitPiece) -> str:
    name, power = piece.raised
    return name + (str(power).translate(_HIGH) if power != 1 else "")
