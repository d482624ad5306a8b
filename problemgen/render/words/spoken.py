"""What a screen reader says for a scheme or a line of working that brings no words of its own."""

from __future__ import annotations

from problemgen.model.blocks import (
    Amount,
    Calculation,
    Chemical,
    Inline,
    Line,
    Prose,
    Ratio,
    Scheme,
    SchemeItem,
    Strong,
    Symbol,
    UnitPiece,
)
from problemgen.render.words.text import chemical_pieces, clean_text

__all__ = ["spoken_calculation", "spoken_formula", "spoken_line", "spoken_scheme"]

SIGNS = {"+": "plus", "−": "minus", "-": "minus", "×": "times", "·": "times", "/": "over"}


def spoken_formula(formula: str) -> str:
    """A formula in plain letters: a charge is said ("SO4 2 minus"), a dot too ("CuSO4 dot 5H2O")."""
    words = []
    for place, piece in chemical_pieces(formula):
        words.append(f" {_signed(piece)} " if place == "sup" else piece.replace("·", " dot "))
    return " ".join("".join(words).split())


def spoken_scheme(scheme: Scheme) -> str:
    """The scheme's own words, or else "2 hydrogen plus oxygen gives 2 water"."""
    if scheme.alt.strip():
        return clean_text(scheme.alt).strip()
    left, right = (" plus ".join(map(_species, side)) for side in (scheme.left, scheme.right))
    conditions = ", ".join(filter(None, (scheme.above, scheme.below)))
    return clean_text(f"{left} gives {right}" + (f". Conditions: {conditions}" if conditions else ""))


def spoken_calculation(line: Calculation) -> str:
    """The line's own words, or else its symbols, numbers and units in order."""
    if line.alt.strip():
        return clean_text(line.alt).strip()
    chain = [_ratio(line.terms[0])] if line.terms else []
    for operator, term in zip(line.operators, line.terms[1:], strict=False):
        chain += [SIGNS.get(operator, operator), _ratio(term)]
    sides = [spoken_line((line.symbol,)), spoken_line(line.relation), " ".join(chain), _amount(line.result)]
    return clean_text(" equals ".join(side for side in sides if side)) or "calculation"


def spoken_line(line: Line) -> str:
    """A line of text in plain letters."""
    return " ".join(" ".join(map(_inline, line)).split())


def _inline(piece: Inline) -> str:
    match piece:
        case Prose(text) | Strong(text):
            return SIGNS.get(text.strip(), text)
        case Chemical(formula):
            return spoken_formula(formula)
        case Symbol(letter, of, chemical, sub):
            owner = spoken_formula(of) if chemical and of else of
            return " ".join(filter(None, (letter, sub, f"of {owner}" if owner else "")))


def _species(item: SchemeItem) -> str:
    name = item.name or spoken_formula(item.formula)
    return name if item.coefficient == 1 else f"{item.coefficient} {name}"


def _ratio(ratio: Ratio) -> str:
    top, bottom = (" times ".join(map(_amount, amounts)) for amounts in (ratio.top, ratio.bottom))
    return f"{top} over {bottom}" if bottom else top


def _amount(amount: Amount) -> str:
    return " ".join(filter(None, (amount.number, *map(_unit, amount.unit), spoken_formula(amount.of))))


def _unit(piece: UnitPiece) -> str:
    if piece.exponent == 1:
        return piece.text
    return f"per {piece.text}" if piece.exponent == -1 else f"{piece.text} to the {piece.exponent}"


def _signed(charge: str) -> str:
    return charge.replace("+", " plus").replace("−", " minus").replace("-", " minus")
