"""Strings made fit for print: no control characters, no direction overrides, subscripts as pieces."""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache
from typing import TypeAlias

from problemgen.chemistry.formula import formula_pieces
from problemgen.errors import FormulaError
from problemgen.language.numbers import in_groups
from problemgen.model.blocks import Chemical, Inline, Line, Symbol

__all__ = [
    "Pieces",
    "chemical_pieces",
    "chemical_text",
    "clean_text",
    "line_text",
    "number_pieces",
    "unit_pieces",
    "word_pieces",
]

Pieces: TypeAlias = list[list[str]]  # [["text", "H"], ["sub", "2"], ["text", "O"]]

BIDI_CONTROLS = frozenset(map(chr, (*range(0x202A, 0x202F), *range(0x2066, 0x206A))))
DROPPED = frozenset({"\ufeff", "\ufffe", "\uffff", "\ufff9", "\ufffa", "\ufffb"}) | BIDI_CONTROLS
SPACES = frozenset("\t\n\r\v\f\x85\u2028\u2029")
MINUS = "\u2212"
_LOW = str.maketrans("0123456789", "₀₁₂₃₄₅₆₇₈₉")
_HIGH = str.maketrans("0123456789+-−", "⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻⁻")
WORD = re.compile(r"(\s+)")
EDGES = re.compile(r"^([(,;]*)(.*?)([),;:]*)$", re.DOTALL)
NUMBER = re.compile(r"^([+-]?[0-9.]+)[eE]([+-]?[0-9]+)$")
UNIT_PART = re.compile(r"([A-Za-zµμ°Ω%]+)\^?([-−]?[0-9]+)?|([^A-Za-zµμ°Ω%]+)")


def clean_text(text: str) -> str:
    """The text without control characters and direction overrides, composed (Unicode NFC).

    Line ends and tabs become a space. Marks that join or order letters (zero-width joiner, the plain
    left-to-right and right-to-left marks) stay: names need them.

    >>> clean_text("A\\u202enna\\x00\\n")
    'Anna '
    """
    if text.isascii() and text.isprintable():
        return text  # nearly all texts are: nothing in them needs care
    return _cleaned(text)


@lru_cache(maxsize=4096)  # signs, units, names of a document: the same ones again and again
def _cleaned(text: str) -> str:
    spaced = "".join(" " if letter in SPACES else letter for letter in text)
    kept = "".join(
        letter for letter in spaced if letter not in DROPPED and unicodedata.category(letter) not in {"Cc", "Cs"}
    )
    return unicodedata.normalize("NFC", kept)


def chemical_pieces(text: str) -> Pieces:
    """A formula as pieces to set upright, low or high; text that is no formula stays as it is."""
    try:
        return [[place, clean_text(piece)] for place, piece in formula_pieces(text)]
    except FormulaError:
        return [["text", clean_text(text)]]


def chemical_text(text: str) -> str:
    """A formula in one string, for what is set in one piece: its digits and charges low and high by themselves.

    >>> chemical_text("K2SO4"), chemical_text("acid")
    ('K₂SO₄', 'acid')
    """
    tables = {"sub": _LOW, "sup": _HIGH, "text": {}}
    return "".join(piece.translate(tables[place]) for place, piece in chemical_pieces(text))


def word_pieces(text: str) -> Pieces:
    """Words in which tokens that can only be formulas (H3PO4, CO2) get their subscripts."""
    pieces: Pieces = []
    for token in WORD.split(clean_text(text)):
        before, core, after = _edges(token)
        inner = chemical_pieces(core) if _looks_chemical(core) else [["text", core]]
        pieces += [["text", before], *inner, ["text", after]]
    return _joined(pieces)


def number_pieces(text: str) -> Pieces:
    """A number for print: a real minus sign, the language's mark, "9.2e-4" as 9.2 × 10 with a raised exponent."""
    written = NUMBER.match(text)
    if written is None:
        return [["text", in_groups(clean_text(text)).replace("-", MINUS)]]
    mantissa, power = in_groups(written[1]), written[2]
    power = power.lstrip("+").replace("-", MINUS)
    return [["text", f"{mantissa.replace('-', MINUS)} × 10"], ["sup", power]]


def unit_pieces(text: str) -> Pieces:
    """A unit for print: exponents raised ("cm3", "mol^-1"), the rest as it is."""
    pieces: Pieces = []
    for name, power, other in UNIT_PART.findall(clean_text(text)):
        pieces.append(["text", name or other])
        if power:
            pieces.append(["sup", power.replace("-", MINUS)])
    return _joined(pieces)


def _edges(token: str) -> tuple[str, str, str]:
    found = EDGES.match(token)
    return (found[1], found[2], found[3]) if found else ("", token, "")


def _looks_chemical(token: str) -> bool:
    return token[:1].isupper() and any(letter.isdigit() for letter in token)


def _joined(pieces: Pieces) -> Pieces:
    """Neighbouring pieces of one kind made one; empty ones left out."""
    joined: Pieces = []
    for place, piece in pieces:
        if not piece:
            continue
        if joined and joined[-1][0] == place == "text":
            joined[-1][1] += piece
        else:
            joined.append([place, piece])
    return joined


def line_text(line: Line) -> str:
    """A line in plain words, for what shows no small letters.

    >>> line_text((Symbol("m", "K2SO4"),))
    'm(K₂SO₄)'
    """
    return "".join(map(_inline_text, line))


def _inline_text(piece: Inline) -> str:
    if isinstance(piece, Chemical):
        return chemical_text(piece.formula)
    if isinstance(piece, Symbol):
        of = (chemical_text(piece.of) if piece.chemical else piece.of) if piece.of else ""
        index = f"_{piece.sub}" if piece.sub else ""
        return f"{piece.letter}{index}({of})" if of else f"{piece.letter}{index}"
    return piece.text
