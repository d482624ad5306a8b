"""Quantities and units as a worked solution writes them, and as it is read aloud."""

from __future__ import annotations

import re
from collections.abc import Mapping

from problemgen.chemistry.units import read_unit
from problemgen.language.numbers import in_digits
from problemgen.model.blocks import Amount, Ratio, Symbol, UnitPiece
from problemgen.model.problem import Scene, Species
from problemgen.model.quantity import KINDS, Quantity
from problemgen.render.words.spoken import spoken_formula
from problemgen.render.words.text import chemical_text

__all__ = [
    "capitalised",
    "coefficient_symbol",
    "owner",
    "prose_number",
    "spoken_amount",
    "spoken_chain",
    "spoken_unit",
    "symbol",
    "unit_pieces_of",
]

_UNIT_WORDS = {
    "g": "gram", "kg": "kilogram", "mg": "milligram", "µg": "microgram", "ng": "nanogram", "t": "tonne",
    "lb": "pound", "L": "litre", "dL": "decilitre", "cL": "centilitre", "mL": "millilitre", "µL": "microlitre",
    "m3": "cubic metre", "dm3": "cubic decimetre", "cm3": "cubic centimetre", "gal": "gallon", "qt": "quart",
    "mol": "mole", "mmol": "millimole", "µmol": "micromole", "kmol": "kilomole", "K": "kelvin",
    "Pa": "pascal", "hPa": "hectopascal", "kPa": "kilopascal", "MPa": "megapascal", "mbar": "millibar",
    "atm": "atmosphere", "J": "joule", "kJ": "kilojoule", "s": "second", "min": "minute", "h": "hour",
    "°": "degree", "dm": "decimetre", "cm": "centimetre", "mm": "millimetre",
}  # fmt: skip
"""Units whose plural takes an s."""

_SAME_WORDS = {
    "°C": "degrees Celsius", "°F": "degrees Fahrenheit", "%": "percent", "bar": "bar", "Torr": "torr",
    "mmHg": "millimetres of mercury", "ppm": "parts per million", "ppb": "parts per billion",
    "oz": "ounces", "ft3": "cubic feet", "psi": "pounds per square inch",
}  # fmt: skip
"""Units that are said in one way for any number."""

_RAISED = str.maketrans("0123456789-", "⁰¹²³⁴⁵⁶⁷⁸⁹⁻")
_PREFIX = re.compile(r"(?:\([0-9A-Z±,]+\)-)?(?:[0-9A-Z,']+-)?(?:(?:tert|sec|cis|trans|meso|[omnp])-)?(?:[0-9,']+-)?")
_OPERATORS = {"×": "times", "+": "plus", "−": "minus"}


def owner(scene: Scene, species_id: str) -> tuple[str, bool]:
    """What a species' symbols carry in brackets, and whether that is a formula."""
    species = scene.species.get(species_id)
    if species is None:
        return species_id, False
    if species.formula is None or _is_shared(scene, species):
        return species.name, False
    return species.formula.text, True


def _is_shared(scene: Scene, species: Species) -> bool:
    """Whether another species, an isomer, has the same formula: then only the names tell them apart."""
    return any(one.formula == species.formula and one.id != species.id for one in scene.species.values())


def symbol(scene: Scene, quantity: Quantity) -> Symbol:
    """The symbol of a quantity: m(NaCl), n(H2O) with its index, ξ."""
    own = quantity.of and quantity.role.words.owned
    of, chemical = owner(scene, quantity.of) if own else ("", True)
    return Symbol(KINDS[quantity.kind].symbol, of, chemical, _index(scene, quantity))


def _index(scene: Scene, quantity: Quantity) -> str:
    if not quantity.source:
        return quantity.said(scene.role_words(quantity).index) or quantity.written_role.replace("_", " ")
    return f"from {chemical_text(owner(scene, quantity.source)[0])}"


def coefficient_symbol(scene: Scene, species_id: str) -> Symbol:
    """The stoichiometric number of a species: ν(HCl)."""
    of, chemical = owner(scene, species_id)
    return Symbol("ν", of, chemical)


def capitalised(name: str) -> str:
    """A name as it opens a sentence: the capital stands behind locants and prefixes.

    >>> capitalised("2-naphthol"), capitalised("tert-butyl alcohol"), capitalised("(E)-cinnamaldehyde")
    ('2-Naphthol', 'tert-Butyl alcohol', '(E)-Cinnamaldehyde')
    >>> capitalised("N,N-dimethylaniline"), capitalised("trans-1,2-dibromocyclohexane")
    ('N,N-Dimethylaniline', 'trans-1,2-Dibromocyclohexane')
    """
    prefix = _PREFIX.match(name)
    start = prefix.end() if prefix else 0
    return name[:start] + name[start : start + 1].upper() + name[start + 1 :]


def prose_number(text: str) -> str:
    """A number in running text: "1.20e-5" as 1.20 × 10⁻⁵, with a real minus sign."""
    mantissa, _, power = text.partition("e")
    raised = f" × 10{power.translate(_RAISED)}" if power else ""
    return in_digits(mantissa).replace("-", "−") + raised


def unit_pieces_of(unit: str) -> tuple[UnitPiece, ...]:
    """A unit's factors as pieces for print; () for a bare number."""
    return tuple(UnitPiece(text, power) for text, power in read_unit(unit).factors)


def spoken_chain(
    subject: str, terms: tuple[Ratio, ...], operators: tuple[str, ...], result: Amount, names: Mapping[str, str]
) -> str:
    """A line of working read aloud; `names` says formulas by name."""
    words = [_spoken_ratio(terms[0], names)] if terms else []
    for operator, term in zip(operators, terms[1:], strict=True):
        words += [_OPERATORS[operator], _spoken_ratio(term, names)]
    return " equals ".join(filter(None, (subject, " ".join(words), spoken_amount(result, names))))


def _spoken_ratio(ratio: Ratio, names: Mapping[str, str]) -> str:
    top, bottom = (" times ".join(spoken_amount(a, names) for a in side) for side in (ratio.top, ratio.bottom))
    return f"{top} over {bottom}" if bottom else top


def spoken_amount(amount: Amount, names: Mapping[str, str]) -> str:
    """A number with its units read aloud: "1.50 grams per millilitre"."""
    units = _spoken_units(amount.unit, plural=amount.number != "1")
    of = names.get(amount.of, spoken_formula(amount.of) if amount.of else "")
    named = f"{units} of {of}" if units and of else units or of
    return " ".join(filter(None, (_spoken_number(amount.number), named)))


def spoken_unit(unit: str) -> str:
    """A unit in words, as it stands without a number: "grams", "millimoles per litre"."""
    return _spoken_units(unit_pieces_of(unit), plural=True)


def _spoken_units(pieces: tuple[UnitPiece, ...], *, plural: bool) -> str:
    above = [piece for piece in pieces if piece.exponent > 0]
    below = [piece for piece in pieces if piece.exponent < 0]
    words = [_unit_word(p.text, plural=plural and p is above[-1]) for p in above]
    words += [f"per {_unit_word(p.text, plural=False)}" for p in below]
    return " ".join(words)


def _unit_word(text: str, *, plural: bool) -> str:
    if text in _SAME_WORDS:
        return _SAME_WORDS[text]
    word = _UNIT_WORDS.get(text)
    if word is None:
        return text if plural else text.removesuffix("s")
    return f"{word}s" if plural else word


def _spoken_number(text: str) -> str:
    mantissa, _, power = text.partition("e")
    words = in_digits(mantissa).replace("(", "").replace(")", "")
    for sign, word in (("+", "plus"), ("−", "minus"), ("×", "times"), ("/", "over")):
        words = words.replace(sign, f" {word} ")
    words = " ".join(words.replace("-", "minus ").split())
    return f"{words} times ten to the {power.replace('-', 'minus ')}" if power else words
