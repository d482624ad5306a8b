"""The closed list of units: symbol, name in the registry, exact definition, spellings.

Sources: SI Brochure, 9th edition (2019), tables 2, 4, 5, 7 and 8; NIST Special Publication 811 (2008),
appendix B.8, for the inch, the pound, the ounce, the short ton, the metric carat, the US liquid quart and gallon,
the foot, the standard atmosphere and the standard acceleration of free fall. Every definition is exact but the
dalton's, which is measured (CODATA 2022).
"""

from __future__ import annotations

from typing import NamedTuple

__all__ = ["LENGTHS", "SCALES", "SPACED", "SPELLINGS", "UNITS", "ListedUnit"]


class ListedUnit(NamedTuple):
    """One unit: its symbol, its name in the registry, its definition, other spellings."""

    symbol: str
    name: str
    definition: str
    spellings: str = ""


_MICRO = "\N{MICRO SIGN}"  # keyboards write this one, the Greek alphabet \N{GREEK SMALL LETTER MU}
_MU = "\N{GREEK SMALL LETTER MU}"

_MASS = (
    ListedUnit("g", "gram", "[mass]", "gram grams"),
    ListedUnit("kg", "kilogram", "1000 * gram", "kilogram kilograms"),
    ListedUnit("mg", "milligram", "1e-3 * gram", "milligram milligrams"),
    ListedUnit(f"{_MICRO}g", "microgram", "1e-6 * gram", f"ug {_MU}g microgram micrograms"),
    ListedUnit("ng", "nanogram", "1e-9 * gram", "nanogram nanograms"),
    ListedUnit("t", "tonne", "1e6 * gram", "tonne tonnes"),
    ListedUnit("lb", "pound", "453.59237 * gram", "lbs pound pounds"),
    ListedUnit("oz", "ounce", "pound / 16", "ounce ounces"),
    # "ton" alone is not read: it is the short one in the United States, the long one or the tonne elsewhere. Written
    # "short ton"; the symbol is common practice, no source.
    ListedUnit("tn", "short_ton", "2000 * pound"),
    # No symbol is in general use ("ct" is a cent too, "kt" a knot), so the word is the symbol.
    ListedUnit("carat", "metric_carat", "0.2 * gram", "carats"),
    # The mass of one entity: CODATA 2022, 1.660 539 068 92(52) × 10^-27 kg. Measured.
    ListedUnit("u", "dalton", "1.66053906892e-24 * gram"),
    ListedUnit("Da", "dalton_", "dalton", "dalton daltons"),
    ListedUnit("amu", "dalton__", "dalton"),
)
_VOLUME = (
    ListedUnit("m3", "cubic_metre", "metre ** 3"),
    ListedUnit("dm3", "cubic_decimetre", "1e-3 * metre ** 3"),
    ListedUnit("cm3", "cubic_centimetre", "1e-6 * metre ** 3", "cc"),
    ListedUnit("ft3", "cubic_foot", "0.3048 ** 3 * metre ** 3"),
    ListedUnit("L", "litre", "1e-3 * metre ** 3", "l litre litres liter liters"),
    ListedUnit("kL", "kilolitre", "1000 * litre", "kl kilolitre kilolitres kiloliter kiloliters"),
    ListedUnit("dL", "decilitre", "1e-1 * litre", "dl decilitre decilitres deciliter deciliters"),
    ListedUnit("cL", "centilitre", "1e-2 * litre", "cl centilitre centilitres centiliter centiliters"),
    ListedUnit("mL", "millilitre", "1e-3 * litre", "ml millilitre millilitres milliliter milliliters"),
    ListedUnit(
        f"{_MICRO}L",
        "microlitre",
        "1e-6 * litre",
        f"uL {_MU}L ul {_MICRO}l {_MU}l microlitre microlitres microliter microliters",
    ),
    ListedUnit("nL", "nanolitre", "1e-9 * litre", "nl nanolitre nanolitres nanoliter nanoliters"),
    ListedUnit("gal", "us_gallon", "231 * (0.0254 * metre) ** 3", "gallon gallons"),
    ListedUnit("qt", "us_liquid_quart", "us_gallon / 4", "quart quarts"),
)
_AMOUNT = (
    ListedUnit("mol", "mole", "[amount]", "mole moles"),
    ListedUnit("mmol", "millimole", "1e-3 * mole", "millimole millimoles"),
    ListedUnit(f"{_MICRO}mol", "micromole", "1e-6 * mole", f"umol {_MU}mol micromole micromoles"),
    ListedUnit("nmol", "nanomole", "1e-9 * mole", "nanomole nanomoles"),
    ListedUnit("kmol", "kilomole", "1000 * mole", "kilomole kilomoles"),
    ListedUnit("M", "molar", "mole / litre"),
    ListedUnit("mM", "millimolar", "1e-3 * molar"),
    ListedUnit(f"{_MICRO}M", "micromolar", "1e-6 * molar", f"uM {_MU}M"),
    ListedUnit("nM", "nanomolar", "1e-9 * molar"),
)
_TEMPERATURE = (
    ListedUnit("K", "kelvin", "[temperature]", "kelvin kelvins"),
    ListedUnit("°C", "degree_celsius", "kelvin; offset: 273.15", "C degC ℃"),
    ListedUnit("°F", "degree_fahrenheit", "5 / 9 * kelvin; offset: 2298.35 / 9", "F degF ℉"),
)
_PRESSURE_AND_ENERGY = (
    ListedUnit("Pa", "pascal", "1000 * gram / metre / second ** 2", "pascal pascals"),
    ListedUnit("hPa", "hectopascal", "100 * pascal", "hectopascal hectopascals"),
    ListedUnit("kPa", "kilopascal", "1000 * pascal", "kilopascal kilopascals"),
    ListedUnit("MPa", "megapascal", "1e6 * pascal", "megapascal megapascals"),
    ListedUnit("bar", "bar", "1e5 * pascal"),
    ListedUnit("mbar", "millibar", "100 * pascal", "millibar millibars"),
    ListedUnit("atm", "standard_atmosphere", "101325 * pascal", "atmosphere atmospheres"),
    ListedUnit("Torr", "torr", "101325 / 760 * pascal", "torr"),
    # Conventional: 1 mm of mercury of 13 595.1 kg/m3 under 9.806 65 m/s2, which is exactly 133.322387415 Pa.
    ListedUnit("mmHg", "millimetre_of_mercury", "13.5951 * 9.80665 * pascal"),
    ListedUnit("psi", "pound_force_per_square_inch", "0.45359237 * 9.80665 / 0.0254 ** 2 * pascal"),
    ListedUnit("J", "joule", "pascal * metre ** 3", "joule joules"),
    ListedUnit("kJ", "kilojoule", "1000 * joule", "kilojoule kilojoules"),
)
_TIME = (
    ListedUnit("s", "second", "[time]", "second seconds"),
    ListedUnit("min", "minute", "60 * second", "minute minutes"),
    ListedUnit("h", "hour", "3600 * second", "hour hours"),
)
_NUMBER = (
    ListedUnit("%", "percent", "0.01", "percent"),
    ListedUnit("million", "million", "1e6"),
    ListedUnit("billion", "billion", "1e9"),  # short scale, as in "683 billion ft3"
    ListedUnit("ppm", "part_per_million", "1e-6"),
    ListedUnit("ppb", "part_per_billion", "1e-9"),
    ListedUnit("particles", "particle", "[entity]", "particle"),
    ListedUnit("molecules", "molecule", "particle", "molecule"),
    ListedUnit("atoms", "atom", "particle", "atom"),
    ListedUnit("ions", "ion", "particle", "ion"),
    ListedUnit("formula units", "formula_unit", "particle", "formula_units"),
)
_ANGLE = (
    # A base of its own: a rotation is read off in degrees and stays in them.
    ListedUnit("°", "degree_of_arc", "[angle]", "deg degree degrees"),
)
_LENGTH = (
    # The metre is needed to define the volumes; it has no spelling and cannot be read.
    ListedUnit("", "metre", "[length]"),
    ListedUnit("dm", "decimetre", "1e-1 * metre", "decimetre decimetres decimeter decimeters"),
    ListedUnit("cm", "centimetre", "1e-2 * metre", "centimetre centimetres centimeter centimeters"),
    ListedUnit("mm", "millimetre", "1e-3 * metre", "millimetre millimetres millimeter millimeters"),
)

UNITS: tuple[ListedUnit, ...] = (
    *_LENGTH,
    *_MASS,
    *_VOLUME,
    *_AMOUNT,
    *_TEMPERATURE,
    *_TIME,
    *_PRESSURE_AND_ENERGY,
    *_NUMBER,
    *_ANGLE,
)
"""The list, each unit behind those that its definition uses."""

SPELLINGS: dict[str, ListedUnit] = {
    spelling: unit for unit in UNITS if unit.symbol for spelling in (unit.symbol, *unit.spellings.split())
}
"""Every spelling that is read, to its unit."""

LENGTHS = frozenset({"m", "dm", "cm", "ft"})
"""Lengths that make volumes: "cm3", "dm^-3". Those in the list are read as lengths too: "dm", "dm^-1"."""

SCALES = {"degree_celsius": "kelvin", "degree_fahrenheit": "delta_degree_fahrenheit"}
"""Scales with a zero of their own, and what they are inside a compound unit: a difference."""

SPACED = {
    r"\bformula\s+units?(?!\w)": "formula_units",
    r"\bshort[\s_]+tons?(?!\w)": "tn",
    r"\bmm\s+Hg\b": "mmHg",
    r"\bper\s+cent\b": "percent",
}
"""Spellings with a space in them, as patterns, and how they are read."""
