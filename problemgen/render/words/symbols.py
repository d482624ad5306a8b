"""Quantities and units as a worked solution writes them, and as it is read aloud."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import lru_cache

from problemgen.chemistry.units import read_unit
from problemgen.language.messages import N_, NN_, _, ngettext, spoken
from problemgen.language.numbers import in_digits
from problemgen.model.blocks import Amount, Ratio, Symbol, UnitPiece
from problemgen.model.problem import Scene
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
    "g": NN_("gram", "grams"),
    "kg": NN_("kilogram", "kilograms"),
    "mg": NN_("milligram", "milligrams"),
    "µg": NN_("microgram", "micrograms"),
    "ng": NN_("nanogram", "nanograms"),
    "t": NN_("tonne", "tonnes"),
    "lb": NN_("pound", "pounds"),
    "L": NN_("litre", "litres"),
    "dL": NN_("decilitre", "decilitres"),
    "cL": NN_("centilitre", "centilitres"),
    "mL": NN_("millilitre", "millilitres"),
    "µL": NN_("microlitre", "microlitres"),
    "m3": NN_("cubic metre", "cubic metres"),
    "dm3": NN_("cubic decimetre", "cubic decimetres"),
    "cm3": NN_("cubic centimetre", "cubic centimetres"),
    "gal": NN_("gallon", "gallons"),
    "qt": NN_("quart", "quarts"),
    "mol": NN_("mole", "moles"),
    "mmol": NN_("millimole", "millimoles"),
    "µmol": NN_("micromole", "micromoles"),
    "kmol": NN_("kilomole", "kilomoles"),
    "K": NN_("kelvin", "kelvins"),
    "Pa": NN_("pascal", "pascals"),
    "hPa": NN_("hectopascal", "hectopascals"),
    "kPa": NN_("kilopascal", "kilopascals"),
    "MPa": NN_("megapascal", "megapascals"),
    "mbar": NN_("millibar", "millibars"),
    "atm": NN_("atmosphere", "atmospheres"),
    "J": NN_("joule", "joules"),
    "kJ": NN_("kilojoule", "kilojoules"),
    "s": NN_("second", "seconds"),
    "min": NN_("minute", "minutes"),
    "h": NN_("hour", "hours"),
    "°": NN_("degree", "degrees"),
    "dm": NN_("decimetre", "decimetres"),
    "cm": NN_("centimetre", "centimetres"),
    "mm": NN_("millimetre", "millimetres"),
}
"""Units in words, one and several."""

_SAME_WORDS = {
    "°C": N_("degrees Celsius"),
    "°F": N_("degrees Fahrenheit"),
    "%": N_("percent"),
    "bar": N_("bar"),
    "Torr": N_("torr"),
    "mmHg": N_("millimetres of mercury"),
    "ppm": N_("parts per million"),
    "ppb": N_("parts per billion"),
    "oz": N_("ounces"),
    "ft3": N_("cubic feet"),
    "psi": N_("pounds per square inch"),
}
"""Units that are said in one way for any number."""

_RAISED = str.maketrans("0123456789-", "⁰¹²³⁴⁵⁶⁷⁸⁹⁻")
_PREFIX = re.compile(
    r"(?:\([0-9A-Z±,]+\)-)?(?:[0-9A-Z,']+-)?(?:(?:tert|terc|sec|cis|trans|meso|[omnp])-)?(?:[0-9,']+-)?"
)
_OPERATORS = {"×": N_("times"), "+": N_("plus"), "−": N_("minus")}


def owner(scene: Scene, species_id: str) -> tuple[str, bool]:
    """What a species' symbols carry in brackets, and whether that is a formula."""
    species = scene.species.get(species_id)
    if species is None:
        return species_id, False
    if species.formula is None or species_id in scene.isomers:  # only the names tell them apart
        return species.name, False
    return species.formula.text, True


def symbol(scene: Scene, quantity: Quantity) -> Symbol:
    """The symbol of a quantity: m(NaCl), n(H2O) with its index, ξ."""
    own = quantity.of and quantity.role.words.owned
    of, chemical = owner(scene, quantity.of) if own else ("", True)
    kind = KINDS[quantity.kind]
    return Symbol(kind.symbol, of, chemical, ", ".join(filter(None, [kind.sub, _index(scene, quantity)])))


def _index(scene: Scene, quantity: Quantity) -> str:
    if not quantity.source:
        pattern = scene.role_words(quantity).index
        return (pattern and quantity.said(pattern)) or quantity.said_role
    # Translators: the index of a symbol.
    return _("from {reagent}").format(reagent=chemical_text(owner(scene, quantity.source)[0]))


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
        words += [_(_OPERATORS[operator]), _spoken_ratio(term, names)]
    return f" {_('equals')} ".join(filter(None, (subject, " ".join(words), spoken_amount(result, names))))


def _spoken_ratio(ratio: Ratio, names: Mapping[str, str]) -> str:
    sides = (ratio.top, ratio.bottom)
    top, bottom = (f" {_('times')} ".join(spoken_amount(a, names) for a in side) for side in sides)
    return _("{top} over {bottom}").format(top=top, bottom=bottom) if bottom else top


def spoken_amount(amount: Amount, names: Mapping[str, str]) -> str:
    """A number with its units read aloud: "1.50 grams per millilitre"."""
    units = _spoken_units(amount.unit, plural=amount.number != "1")
    of = names.get(amount.of, spoken_formula(amount.of) if amount.of else "")
    # Translators: read aloud: "grams of sodium chloride".
    named = _("{units} of {substance}").format(units=units, substance=of) if units and of else units or of
    return " ".join(filter(None, (_spoken_number(amount.number), named)))


def spoken_unit(unit: str) -> str:
    """A unit in words, as it stands without a number: "grams", "millimoles per litre"."""
    return _spoken_units(unit_pieces_of(unit), plural=True)


def _spoken_units(pieces: tuple[UnitPiece, ...], *, plural: bool) -> str:
    above = [piece for piece in pieces if piece.exponent > 0]
    below = [piece for piece in pieces if piece.exponent < 0]
    words = [_unit_word(p.text, plural=plural and p is above[-1]) for p in above]
    words += [_("per {unit}").format(unit=_unit_word(p.text, plural=False)) for p in below]
    return " ".join(words)


def _unit_word(text: str, *, plural: bool) -> str:
    if text in _SAME_WORDS:
        return _(_SAME_WORDS[text])
    if text in _UNIT_WORDS:
        return ngettext(*_UNIT_WORDS[text], 2 if plural else 1)
    return text if plural else text.removesuffix("s")


def _spoken_number(text: str) -> str:
    return _spoken_number_in(spoken(), text)


@lru_cache(maxsize=4096)  # a number stands in several lines of a working
def _spoken_number_in(_language: str, text: str) -> str:
    mantissa, _exponent, power = text.partition("e")
    words = in_digits(mantissa).replace("(", "").replace(")", "")
    for sign, word in (("+", _("plus")), ("−", _("minus")), ("×", _("times")), ("/", _("over"))):
        words = words.replace(sign, f" {word} ")
    minus = f"{_('minus')} "
    words = " ".join(words.replace("-", minus).split())
    if not power:
        return words
    return _("{number} times ten to the {power}").format(number=words, power=power.replace("-", minus))
