"""Units of measurement: a closed, case-sensitive list, every factor exact.

unit     = product ("/" (factor | "(" product ")"))* | "1"
product  = factor ((" " | "·" | "⋅" | "*" | ".") factor)*
factor   = spelling [exponent]
exponent = "^-1" | "-1" | "⁻¹" | "^2" | "2" | "²"       a whole number that is not 0

"per" stands for "/", words are read in singular and plural ("grams per mole"). Behind a slash only one
factor, or a bracket, is taken: "L atm/mol K" can be misread and is refused. Volumes from lengths are
units of their own (cm3, dm3, m3, ft3); of the lengths, dm, cm and mm are read alone (polarimeter tubes,
distances on a plate).

Engine units: g, L, mol, K, s, kPa (so J for energy, since 1 kPa·L = 1 J). A temperature on a scale with
another zero (°C, °F) has an offset where it stands alone, and is a difference inside a compound unit.

Sources of the factors: SI Brochure, 9th edition (2019), tables 2, 4, 8; NIST Special Publication 811
(2008), appendix B; the dalton, which alone is measured, from CODATA 2022.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache, lru_cache
from typing import Any, TypeAlias

from problemgen.chemistry.unit_list import LENGTHS, SCALES, SPACED, SPELLINGS, UNITS
from problemgen.errors import UnitError
from problemgen.late import late
from problemgen.remembered import Table

__all__ = ["RULES", "Dimension", "Unit", "read_unit", "unit_text"]

Dimension: TypeAlias = tuple[tuple[str, int], ...]
"""Base name and exponent, sorted by name: amount, angle, entity, length, mass, temperature, time; () for none."""

pint = late("pint")

Factors: TypeAlias = tuple[tuple[str, int], ...]

# No unit of the laboratory comes near: they keep a hostile text from stalling the reader.
_LONGEST = 80
_GREATEST_EXPONENT = 9
_RAISED = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻−", "0123456789+--")
_TO_RAISED = str.maketrans("0123456789-", "⁰¹²³⁴⁵⁶⁷⁸⁹⁻")
_RAISED_RUN = re.compile("[⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻]+")
_MULTIPLY = re.compile(r"\s*[·⋅*.]\s*|\s+")
_FACTOR = re.compile(r"(.*?)(?:\^?([+-]?[0-9]+))?", re.DOTALL)
_DIVISION = re.compile(r"\s*/\s*|(?:\s+|^)per\s+")
_BRACKET = re.compile(r"\(([^()]*)\)")

# 1 kPa in grams, decimetres and seconds.
_KILOPASCAL = Fraction(100_000)
# 1 m in decimetres: the litre is the cubic decimetre.
_METRE = Fraction(10)

RULES: Mapping[str, object] = {
    "longest": _LONGEST,
    "greatest_exponent": _GREATEST_EXPONENT,
    "raised": dict(zip("⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻−", "0123456789+--", strict=True)),
    "raised_run": _RAISED_RUN,
    "multiply": _MULTIPLY,
    "factor": _FACTOR,
    "division": _DIVISION,
    "bracket": _BRACKET,
    "spaced": tuple((re.compile(spaced), joined) for spaced, joined in SPACED.items()),
    "kilopascal": _KILOPASCAL,
    "metre": _METRE,
}
"""What the practice page reads of this: `problemgen.practice.rules` carries it into the page."""


@dataclass(frozen=True)
class Unit:
    """A unit: value in engine units = value × factor + offset.

    `text` is the canonical spelling ("g/mL", "kPa·L/(mol·K)", "1" for none); `factors` are the units as
    written, with exponents, for cancelling.
    """

    text: str
    factor: Fraction
    offset: Fraction
    dimension: Dimension
    factors: Factors

    def to_engine(self, value: Fraction) -> Fraction:
        """A value in this unit, in engine units."""
        return value * self.factor + self.offset if self.offset else value * self.factor

    def from_engine(self, value: Fraction) -> Fraction:
        """A value in engine units, in this unit."""
        return (value - self.offset) / self.factor


@cache
def _registry() -> Any:
    """A pint registry that knows the closed list and nothing else."""
    registry = pint.UnitRegistry(None, non_int_type=Fraction, case_sensitive=True, autoconvert_offset_to_baseunit=False)
    for unit in UNITS:
        registry.define(f"{unit.name} = {unit.definition}")
    return registry


@lru_cache(maxsize=1024)
def read_unit(text: str) -> Unit:
    """Read a unit; the grammar is in the module's docstring.

    Raises UnitError, with the nearest spelling of the list where there is one.

    >>> read_unit("g mL^-1").text, read_unit("g/mL").factor
    ('g/mL', Fraction(1000, 1))
    >>> read_unit("°C").to_engine(Fraction(25))
    Fraction(5963, 20)
    """
    if len(text) > _LONGEST:
        raise UnitError(f"a unit of {len(text)} characters; at most {_LONGEST} are read")
    if not text.strip():
        raise UnitError("no unit is written; the unit of a bare number is 1")
    plain = _RAISED_RUN.sub(lambda run: "^" + run[0].translate(_RAISED), text.strip())
    plain = plain.replace("−", "-")
    for spaced, joined in SPACED.items():
        plain = re.sub(spaced, joined, plain)
    over, *under = _DIVISION.split(plain)
    factors = _read_product(over, text, leading=True)
    for part in under:
        factors += tuple((symbol, -power) for symbol, power in _read_divisor(part, text))
    return _unit(factors)


def unit_text(unit: str) -> str:
    """A unit as it is printed, its exponents raised; nothing for a plain number.

    A rotation's unit is written as a product, as the trade writes it.

    >>> unit_text("kg/m3"), unit_text("° cm3 g^-1 dm^-1")
    ('kg/m³', '° cm³ g⁻¹ dm⁻¹')
    """
    if unit == "1":
        return ""
    factors = read_unit(unit).factors
    if len(factors) > 1 and factors[0][0] == "°":
        return " ".join(symbol.translate(_TO_RAISED) + _power(power) for symbol, power in factors)
    return read_unit(unit).text.translate(_TO_RAISED)


def _power(power: int) -> str:
    return "" if power == 1 else str(power).translate(_TO_RAISED)


def _read_divisor(part: str, whole: str) -> Factors:
    """What stands behind one slash: a factor, or a product in brackets."""
    factors = _read_product(part, whole)
    if len(factors) > 1 and not part.startswith("("):
        clear = _text(tuple((symbol, -power) for symbol, power in factors)).removeprefix("1")
        raise UnitError(f"{whole!r} can be misread; write …{clear}, or negative exponents")
    return factors


def _read_product(part: str, whole: str, *, leading: bool = False) -> Factors:
    """Factors side by side, in brackets or not; a leading 1 stands for none."""
    bracket = _BRACKET.fullmatch(part)
    inner = bracket[1].strip() if bracket else part
    if leading and inner == "1":
        return ()
    return tuple(_read_factor(factor, whole) for factor in _MULTIPLY.split(inner))


def _read_factor(text: str, whole: str) -> tuple[str, int]:
    """The canonical symbol of a factor and its exponent."""
    match = _FACTOR.fullmatch(text)
    spelling, power = (match[1], int(match[2] or "1")) if match else (text, 1)
    _check_spelling(text, spelling, whole)
    if spelling in LENGTHS and (power % 3 == 0 or spelling not in SPELLINGS):
        spelling, power = _volume(spelling, power, whole)
    if spelling not in SPELLINGS:
        raise UnitError(_unknown(spelling, whole))
    if power == 0 or abs(power) > _GREATEST_EXPONENT:
        raise UnitError(f"the exponent {power} in {whole!r} is not from 1 to {_GREATEST_EXPONENT}")
    return SPELLINGS[spelling].symbol, power


def _check_spelling(text: str, spelling: str, whole: str) -> None:
    """Refuse what is no spelling at all: nothing, a number, a bracket out of place."""
    if not text:
        raise UnitError(f"a unit is missing in {whole!r}")
    if not spelling:
        raise UnitError(f"the number {text} does not belong in the unit {whole!r}")
    if "(" in text or ")" in text:
        raise UnitError(f"{whole!r}: brackets stand only around units without a slash, as in J/(mol·K)")


def _volume(length: str, power: int, whole: str) -> tuple[str, int]:
    """A length with an exponent as a volume: cm^-3 is cm3 with the exponent -1."""
    if power % 3:
        raise UnitError(f"{length!r} in {whole!r} is a length; only volumes are known: {length}3")
    return f"{length}3", power // 3


def _unknown(spelling: str, whole: str) -> str:
    """Why a spelling is refused, with the nearest one that is read."""
    folded = [known for known in SPELLINGS if known.casefold() == spelling.casefold()]
    # Tried on thirty misspellings: at 0.5 "cups" is taken for psi, at 0.6 "mL/min" for min, at 0.8 "lit" for nothing.
    near = folded or difflib.get_close_matches(spelling, SPELLINGS, n=1, cutoff=0.7)
    where = "" if spelling == whole.strip() else f" in {whole!r}"
    hint = f"did you mean {near[0]!r}?" if near else "units such as g, mL, mol/L, kPa, °C and % are known"
    return f"unknown unit {spelling!r}{where}; {hint}"


def _text(factors: Factors) -> str:
    """The canonical spelling: units above, a slash, units below, in brackets where there are several."""
    over = [_power_text(symbol, power) for symbol, power in factors if power > 0]
    under = [_power_text(symbol, -power) for symbol, power in factors if power < 0]
    below = f"({'·'.join(under)})" if len(under) > 1 else "".join(under)
    return ("·".join(over) or "1") + (f"/{below}" if below else "")


def _power_text(symbol: str, power: int) -> str:
    """A unit with its exponent: "s2", "cm6"."""
    if power == 1:
        return symbol
    return f"{symbol[:-1]}{3 * power}" if symbol.endswith("3") else f"{symbol}{power}"


def _plain_unit(unit: Unit) -> list[Any]:
    return [unit.text, str(unit.factor), str(unit.offset), unit.dimension, unit.factors]


def _unit_again(data: Any) -> Unit:
    text, factor, offset, dimension, factors = data
    pairs = [tuple((str(name), int(power)) for name, power in one) for one in (dimension, factors)]
    return Unit(str(text), Fraction(factor), Fraction(offset), *pairs)


@Table("units", _plain_unit, _unit_again, most=1024).remembering
def _unit(factors: Factors) -> Unit:
    """The unit that factors make, its factor and dimension computed by the registry."""
    names = [(SPELLINGS[symbol].name, power) for symbol, power in factors]
    if len(names) == 1 and names[0][0] in SCALES and names[0][1] == 1:
        zero, one = (_kelvins(number, names[0][0]) for number in (0, 1))
        return Unit(_text(factors), one - zero, zero, (("temperature", 1),), factors)
    powers: dict[str, int] = {}
    for name, power in names:
        inside = SCALES.get(name, name)
        powers[inside] = powers.get(inside, 0) + power
    container = pint.util.UnitsContainer({name: power for name, power in powers.items() if power})
    factor = _exact(_registry().get_base_units(container)[0])
    dimensions = _registry().get_dimensionality(container)
    exponents = {name[1:-1]: int(_exact(power)) for name, power in dimensions.items()}
    return Unit(
        _text(factors),
        factor * _engine(exponents),
        Fraction(0),
        tuple(sorted(exponents.items())),
        factors,
    )


def _kelvins(number: int, scale: str) -> Fraction:
    """A reading of a temperature scale in kelvins."""
    return _exact(_registry().Quantity(Fraction(number), scale).to("kelvin").magnitude)


def _exact(number: object) -> Fraction:
    """A number that the registry computed: exact, or a programming error."""
    if not isinstance(number, int | Fraction):
        raise TypeError(f"the registry left exact numbers: {number!r}")
    return Fraction(number)


def _engine(exponents: dict[str, int]) -> Fraction:
    """What turns grams, metres and seconds into engine units, for a dimension.

    Lengths go to decimetres. Two inverse times make one kilopascal (or joule); a single one is left as it
    is, so that a rate per second stays one.
    """
    kilopascals = max(-exponents.get("time", 0), 0) // 2
    return _METRE ** exponents.get("length", 0) / _KILOPASCAL**kilopascals
