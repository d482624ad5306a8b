"""Conversion factors as they are printed: seven digits, fewer where the factor is exact.

Ours, rounded to the printed digits, must be the printed number.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from problemgen.chemistry.units import read_unit
from problemgen.exact.digits import read_written
from problemgen.exact.rounding import round_to_figures, round_to_place

EXACT = {"1.01325e5", "1.0e5", "1.0e2", "1.0e3", "1.0e-3", "1.0e-6", "6.0e1", "3.6e3", "2.0e-1"}


@pytest.mark.source("nist-sp-811-2008 B.8: factors in alphabetical order of units")
@pytest.mark.parametrize(
    ("unit", "printed", "target"),
    [
        ("atm", "1.01325e5", "Pa"),  # atmosphere, standard
        ("bar", "1.0e5", "Pa"),
        ("mbar", "1.0e2", "Pa"),
        ("Torr", "1.333224e2", "Pa"),
        ("mmHg", "1.333224e2", "Pa"),  # millimeter of mercury, conventional
        ("psi", "6.894757e3", "Pa"),  # pound-force per square inch
        ("lb", "4.535924e-1", "kg"),  # pound (avoirdupois)
        ("oz", "2.834952e1", "g"),  # ounce (avoirdupois)
        ("t", "1.0e3", "kg"),  # tonne
        ("short ton", "9.071847e2", "kg"),  # ton, short (2000 lb)
        ("carat", "2.0e-1", "g"),  # carat, metric
        ("gal", "3.785412", "L"),  # gallon (U.S.)
        ("qt", "9.463529e-1", "L"),  # quart (U.S. liquid)
        ("ft3", "2.831685e-2", "m3"),  # cubic foot
        ("L", "1.0e-3", "m3"),
        ("mL", "1.0e-6", "m3"),
        ("min", "6.0e1", "s"),
        ("h", "3.6e3", "s"),
        ("lb/ft3", "1.601846e1", "kg/m3"),
        ("oz/gal", "7.489152", "kg/m3"),  # ounce per gallon (U.S.)
        ("lb/gal", "1.198264e2", "kg/m3"),  # pound per gallon (U.S.)
    ],
)
def test_factor(unit: str, printed: str, target: str) -> None:
    ours, theirs = read_unit(unit), read_unit(target)
    assert ours.dimension == theirs.dimension
    published = read_written(printed)
    ratio = ours.factor / theirs.factor
    assert round_to_figures(ratio, published.figures) == published.value
    if printed in EXACT:
        assert ratio == published.value


@pytest.mark.source("own: the product of two factors of the table, exact")
def test_litre_atmosphere() -> None:
    assert read_unit("atm·L").dimension == read_unit("J").dimension
    assert read_unit("atm·L").factor / read_unit("J").factor == Fraction("101.325")


@pytest.mark.source("nist-sp-811-2008 B.8: formulas for temperatures")
@pytest.mark.parametrize(
    ("scale", "formula"),
    [
        ("°C", lambda t: t + Fraction("273.15")),
        ("°F", lambda t: (t + Fraction("459.67")) / Fraction("1.8")),
    ],
    ids=["celsius", "fahrenheit"],
)
@pytest.mark.parametrize("reading", ["-40", "0", "25", "98.6"])
def test_temperature(scale: str, formula: object, reading: str) -> None:
    assert callable(formula)
    assert read_unit(scale).to_engine(Fraction(reading)) == formula(Fraction(reading))


@pytest.mark.source(
    "codata-2022: atomic mass constant, molar mass constant; si-brochure-2019: the Avogadro constant, exact"
)
def test_dalton_is_the_measured_one() -> None:
    # In kg 1.660 539 068 92(52) × 10^-27; the molar mass constant is 1.000 000 001 05(31) g/mol.
    dalton = read_unit("Da").factor
    assert dalton == read_unit("u").factor == read_unit("amu").factor == Fraction("1.66053906892e-24")
    assert round_to_place(dalton * Fraction("6.02214076e23"), -11) == Fraction("1.00000000105")
