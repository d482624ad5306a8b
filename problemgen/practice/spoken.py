"""Lines of working read aloud by the names of substances: a formula's letters and figures tell a listener little."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from problemgen.language.messages import _
from problemgen.model.blocks import Amount, Block, Calculation, Inline, Line, Ratio, Symbol
from problemgen.render.words.spoken import spoken_calculation

__all__ = ["UNKNOWN", "with_names"]

UNKNOWN = "?"
"""What stands where a result is left open."""


def with_names(blocks: Iterable[Block], names: Mapping[str, str]) -> tuple[Block, ...]:
    """Blocks whose lines of working are read aloud with names; `names` maps a formula's text to the name.

    A line that has words of its own keeps them.
    """
    return tuple(
        _named(block, names) if isinstance(block, Calculation) and not block.alt else block for block in blocks
    )


def _named(line: Calculation, names: Mapping[str, str]) -> Calculation:
    told = replace(
        line,
        symbol=_symbol(line.symbol, names),
        relation=_line(line.relation, names),
        terms=tuple(Ratio(_amounts(term.top, names), _amounts(term.bottom, names)) for term in line.terms),
        result=_amount(line.result, names),
    )
    alt = spoken_calculation(told)
    return replace(line, alt=_unfinished(alt) if line.result.number == UNKNOWN else alt)


def _unfinished(alt: str) -> str:
    """A line's words with its result left open: they are joined by "equals", in the language spoken."""
    before, _equals, _result = alt.rpartition(f" {_('equals')} ")
    # Translators: a line of working read aloud, with its result left open: "mass over molar mass equals what?"
    return _("{working} equals what?").format(working=before)


def _symbol(symbol: Symbol, names: Mapping[str, str]) -> Symbol:
    name = names.get(symbol.of) if symbol.chemical else None
    return replace(symbol, of=name, chemical=False) if name else symbol


def _line(line: Line, names: Mapping[str, str]) -> Line:
    def spoken(piece: Inline) -> Inline:
        return _symbol(piece, names) if isinstance(piece, Symbol) else piece

    return tuple(spoken(piece) for piece in line)


def _amounts(amounts: Iterable[Amount], names: Mapping[str, str]) -> tuple[Amount, ...]:
    return tuple(_amount(amount, names) for amount in amounts)


def _amount(amount: Amount, names: Mapping[str, str]) -> Amount:
    return replace(amount, of=names.get(amount.of, amount.of))
