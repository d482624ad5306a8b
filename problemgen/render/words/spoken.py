"""What a screen reader says for a scheme or a line of working that brings no words of its own."""

from __future__ import annotations

from problemgen.language.messages import N_, _
from problemgen.language.numbers import in_digits
from problemgen.model.blocks import (
    Amount,
    Blank,
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

SIGNS = {"+": N_("plus"), "−": N_("minus"), "-": N_("minus"), "×": N_("times"), "·": N_("times"), "/": N_("over")}


def spoken_formula(formula: str) -> str:
    """A formula in plain letters: a charge is said ("SO4 2 minus"), a dot too ("CuSO4 dot 5H2O")."""
    words = []
    for place, piece in chemical_pieces(formula):
        words.append(f" {_signed(piece)} " if place == "sup" else piece.replace("·", f" {_('dot')} "))
    return " ".join("".join(words).split())


def spoken_scheme(scheme: Scheme) -> str:
    """The scheme's own words, or else "2 hydrogen plus oxygen gives 2 water"."""
    if scheme.alt.strip():
        return clean_text(scheme.alt).strip()
    left, right = (f" {_('plus')} ".join(map(_species, side)) for side in (scheme.left, scheme.right))
    conditions = ", ".join(filter(None, (scheme.above, scheme.below)))
    if not conditions:
        return clean_text(_("{reagents} gives {products}").format(reagents=left, products=right))
    told = _("{reagents} gives {products}. Conditions: {conditions}")
    return clean_text(told.format(reagents=left, products=right, conditions=conditions))


def spoken_calculation(line: Calculation) -> str:
    """The line's own words, or else its symbols, numbers and units in order."""
    if line.alt.strip():
        return clean_text(line.alt).strip()
    chain = [_ratio(line.terms[0])] if line.terms else []
    for operator, term in zip(line.operators, line.terms[1:], strict=False):
        chain += [_said(operator), _ratio(term)]
    sides = [spoken_line((line.symbol,)), spoken_line(line.relation), " ".join(chain), _amount(line.result)]
    return clean_text(f" {_('equals')} ".join(side for side in sides if side)) or _("calculation")


def spoken_line(line: Line) -> str:
    """A line of text in plain letters."""
    return " ".join(" ".join(map(_inline, line)).split())


def _inline(piece: Inline) -> str:
    match piece:
        case Prose(text) | Strong(text):
            return _said(text)
        case Blank():
            return piece.said
        case Chemical(formula):
            return spoken_formula(formula)
        case Symbol(letter, of, chemical, sub):
            owner = spoken_formula(of) if chemical and of else of
            named = " ".join(filter(None, (letter, sub)))
            # Translators: read aloud: "n of sodium chloride".
            return _("{symbol} of {owner}").format(symbol=named, owner=owner) if owner else named


def _said(sign: str) -> str:
    """A sign in words; any other text as it is."""
    return _(SIGNS[sign.strip()]) if sign.strip() in SIGNS else sign


def _species(item: SchemeItem) -> str:
    name = item.name or spoken_formula(item.formula)
    return name if item.coefficient == 1 else f"{item.coefficient} {name}"


def _ratio(ratio: Ratio) -> str:
    top, bottom = (f" {_('times')} ".join(map(_amount, amounts)) for amounts in (ratio.top, ratio.bottom))
    return _("{top} over {bottom}").format(top=top, bottom=bottom) if bottom else top


def _amount(amount: Amount) -> str:
    return " ".join(filter(None, (in_digits(amount.number), *map(_unit, amount.unit), spoken_formula(amount.of))))


def _unit(piece: UnitPiece) -> str:
    if piece.exponent == 1:
        return piece.text
    if piece.exponent == -1:
        return _("per {unit}").format(unit=piece.text)
    return _("{unit} to the {power}").format(unit=piece.text, power=piece.exponent)


def _signed(charge: str) -> str:
    return charge.replace("+", f" {_('plus')}").replace("−", "-").replace("-", f" {_('minus')}")
