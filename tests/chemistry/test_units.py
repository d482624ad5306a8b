"""Units: accepted and rejected spellings, factors, dimensions, what is written for them."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from problemgen.chemistry.unit_list import SPELLINGS
from problemgen.chemistry.units import read_unit, unit_text
from problemgen.errors import UnitError
from tests.support.every_row import for_every

PLAIN = sorted(spelling for spelling in SPELLINGS if spelling.isascii() and spelling.isalpha())
PRODUCTS = st.builds(
    lambda factors, mark: mark.join(f"{name}^{power}" for name, power in factors),
    st.lists(st.tuples(st.sampled_from(PLAIN), st.integers(-3, 3).filter(bool)), min_size=1, max_size=4),
    st.sampled_from([" ", "·", "*", "."]),
)


@pytest.mark.parametrize(
    ("text", "canonical", "factor", "dimension"),
    [
        ("g", "g", "1", "mass:1"),
        ("kg", "kg", "1000", "mass:1"),
        ("grams", "g", "1", "mass:1"),
        ("ug", "µg", "1e-6", "mass:1"),
        ("\N{MICRO SIGN}g", "µg", "1e-6", "mass:1"),
        ("\N{GREEK SMALL LETTER MU}g", "µg", "1e-6", "mass:1"),
        ("L", "L", "1", "length:3"),
        ("l", "L", "1", "length:3"),
        ("ml", "mL", "1e-3", "length:3"),
        ("millilitres", "mL", "1e-3", "length:3"),
        ("milliliter", "mL", "1e-3", "length:3"),
        ("cc", "cm3", "1e-3", "length:3"),
        ("cm3", "cm3", "1e-3", "length:3"),
        ("cm^3", "cm3", "1e-3", "length:3"),
        ("cm³", "cm3", "1e-3", "length:3"),
        ("dm3", "dm3", "1", "length:3"),
        ("m3", "m3", "1000", "length:3"),
        ("mol", "mol", "1", "amount:1"),
        ("moles", "mol", "1", "amount:1"),
        ("umol", "µmol", "1e-6", "amount:1"),
        ("M", "M", "1", "amount:1 length:-3"),
        ("mM", "mM", "1e-3", "amount:1 length:-3"),
        ("mol/L", "mol/L", "1", "amount:1 length:-3"),
        ("mol L-1", "mol/L", "1", "amount:1 length:-3"),
        ("mol L^-1", "mol/L", "1", "amount:1 length:-3"),
        ("mol·L⁻¹", "mol/L", "1", "amount:1 length:-3"),
        ("mol.L−1", "mol/L", "1", "amount:1 length:-3"),
        ("mol*L^-1", "mol/L", "1", "amount:1 length:-3"),
        ("mol / L", "mol/L", "1", "amount:1 length:-3"),
        ("mol dm-3", "mol/dm3", "1", "amount:1 length:-3"),
        ("mol/dm³", "mol/dm3", "1", "amount:1 length:-3"),
        ("moles per litre", "mol/L", "1", "amount:1 length:-3"),
        ("g/mL", "g/mL", "1000", "length:-3 mass:1"),
        ("g/cm3", "g/cm3", "1000", "length:-3 mass:1"),
        ("g cm⁻³", "g/cm3", "1000", "length:-3 mass:1"),
        ("kg/m3", "kg/m3", "1", "length:-3 mass:1"),
        ("grams per mole", "g/mol", "1", "amount:-1 mass:1"),
        ("kPa", "kPa", "1", "length:-1 mass:1 time:-2"),
        ("atm", "atm", "101.325", "length:-1 mass:1 time:-2"),
        ("torr", "Torr", "101325/760000", "length:-1 mass:1 time:-2"),
        ("mm Hg", "mmHg", "0.133322387415", "length:-1 mass:1 time:-2"),
        ("J", "J", "1", "length:2 mass:1 time:-2"),
        ("kPa·L", "kPa·L", "1", "length:2 mass:1 time:-2"),
        ("kPa L/(mol K)", "kPa·L/(mol·K)", "1", "amount:-1 length:2 mass:1 temperature:-1 time:-2"),
        ("J/(mol·K)", "J/(mol·K)", "1", "amount:-1 length:2 mass:1 temperature:-1 time:-2"),
        ("J/mol/K", "J/(mol·K)", "1", "amount:-1 length:2 mass:1 temperature:-1 time:-2"),
        ("(L atm)/(mol K)", "L·atm/(mol·K)", "101.325", "amount:-1 length:2 mass:1 temperature:-1 time:-2"),
        ("L atm mol^-1 K^-1", "L·atm/(mol·K)", "101.325", "amount:-1 length:2 mass:1 temperature:-1 time:-2"),
        ("°", "°", "1", "angle:1"),
        ("degrees", "°", "1", "angle:1"),
        ("dm", "dm", "1", "length:1"),
        ("cm", "cm", "0.1", "length:1"),
        ("mm", "mm", "0.01", "length:1"),
        ("° cm3 g^-1 dm^-1", "°·cm3/(g·dm)", "0.001", "angle:1 length:2 mass:-1"),
        ("deg mL/(g dm)", "°·mL/(g·dm)", "0.001", "angle:1 length:2 mass:-1"),
        ("J/(g °C)", "J/(g·°C)", "1", "length:2 temperature:-1 time:-2"),
        ("J/(g °F)", "J/(g·°F)", "9/5", "length:2 temperature:-1 time:-2"),
        ("mol/(L s)", "mol/(L·s)", "1", "amount:1 length:-3 time:-1"),
        ("mL/min", "mL/min", "1/60000", "length:3 time:-1"),
        ("1/s", "1/s", "1", "time:-1"),
        ("1/mol", "1/mol", "1", "amount:-1"),
        ("molecules/mol", "molecules/mol", "1", "amount:-1 entity:1"),
        ("molecules per mole", "molecules/mol", "1", "amount:-1 entity:1"),
        ("carat", "carat", "0.2", "mass:1"),
        ("carats", "carat", "0.2", "mass:1"),
        ("short ton", "tn", "907184.74", "mass:1"),
        ("short tons", "tn", "907184.74", "mass:1"),
        ("lb/short_ton", "lb/tn", "0.0005", ""),
        ("tonnes", "t", "1e6", "mass:1"),
        ("formula units", "formula units", "1", "entity:1"),
        ("formula unit", "formula units", "1", "entity:1"),
        ("formula units/mol", "formula units/mol", "1", "amount:-1 entity:1"),
        ("atoms", "atoms", "1", "entity:1"),
        ("cm6", "cm6", "1e-6", "length:6"),
        ("s^2", "s2", "1", "time:2"),
        ("mg^2", "mg2", "1e-6", "mass:2"),
        ("%", "%", "0.01", ""),
        ("percent", "%", "0.01", ""),
        ("per cent", "%", "0.01", ""),
        ("ppm", "ppm", "1e-6", ""),
        ("ppb", "ppb", "1e-9", ""),
        ("g/g", "g/g", "1", ""),
        ("mg/kg", "mg/kg", "1e-6", ""),
        ("1", "1", "1", ""),
    ],
)
def test_reads(text: str, canonical: str, factor: str, dimension: str) -> None:
    unit = read_unit(text)
    assert (unit.text, unit.factor, unit.offset) == (canonical, Fraction(factor), Fraction(0))
    assert " ".join(f"{name}:{power}" for name, power in unit.dimension) == dimension
    assert read_unit(unit.text) == unit


@pytest.mark.parametrize(
    ("text", "canonical", "value", "kelvins"),
    [
        ("°C", "°C", "25", "298.15"),
        ("C", "°C", "-273.15", "0"),
        ("degC", "°C", "0", "273.15"),
        ("℃", "°C", "100", "373.15"),
        ("°F", "°F", "32", "273.15"),
        ("F", "°F", "212", "373.15"),
        ("degF", "°F", "-40", "233.15"),
        ("K", "K", "298.15", "298.15"),
    ],
)
def test_temperature_scales(text: str, canonical: str, value: str, kelvins: str) -> None:
    unit = read_unit(text)
    assert unit.text == canonical
    assert unit.dimension == (("temperature", 1),)
    assert unit.to_engine(Fraction(value)) == Fraction(kelvins)
    assert unit.from_engine(Fraction(kelvins)) == Fraction(value)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("", "no unit is written; the unit of a bare number is 1"),
        (" ", "no unit is written; the unit of a bare number is 1"),
        ("pa", "unknown unit 'pa'; did you mean 'Pa'?"),
        ("ML", "unknown unit 'ML'; did you mean 'mL'?"),
        ("Mol/L", "unknown unit 'Mol' in 'Mol/L'; did you mean 'mol'?"),
        ("g/ML", "unknown unit 'ML' in 'g/ML'; did you mean 'mL'?"),
        ("KG", "unknown unit 'KG'; did you mean 'kg'?"),
        ("Grams", "unknown unit 'Grams'; did you mean 'grams'?"),
        ("grms", "unknown unit 'grms'; did you mean 'grams'?"),
        ("mmhg", "unknown unit 'mmhg'; did you mean 'mmHg'?"),
        ("picoyear", "unknown unit 'picoyear'; units such as g, mL, mol/L, kPa, °C and % are known"),
        ("metre", "unknown unit 'metre'; did you mean 'decimetre'?"),
        ("m", "'m' in 'm' is a length; only volumes are known: m3"),
        ("m^2", "'m' in 'm^2' is a length; only volumes are known: m3"),
        ("g/m2", "'m' in 'g/m2' is a length; only volumes are known: m3"),
        ("L atm/mol K", "'L atm/mol K' can be misread; write …/(mol·K), or negative exponents"),
        ("J/(mol/K)", "'J/(mol/K)': brackets stand only around units without a slash, as in J/(mol·K)"),
        ("(g", "'(g': brackets stand only around units without a slash, as in J/(mol·K)"),
        ("g (mol)", "'g (mol)': brackets stand only around units without a slash, as in J/(mol·K)"),
        ("g//mL", "a unit is missing in 'g//mL'"),
        ("g/", "a unit is missing in 'g/'"),
        ("/g", "a unit is missing in '/g'"),
        ("per mole", "a unit is missing in 'per mole'"),
        ("g..mL", "a unit is missing in 'g..mL'"),
        ("g/100 mL", "the number 100 does not belong in the unit 'g/100 mL'"),
        ("5 g", "the number 5 does not belong in the unit '5 g'"),
        ("g/1", "the number 1 does not belong in the unit 'g/1'"),
        ("2", "the number 2 does not belong in the unit '2'"),
        ("g^0", "the exponent 0 in 'g^0' is not from 1 to 9"),
        ("g^99", "the exponent 99 in 'g^99' is not from 1 to 9"),
        ("cm^0", "the exponent 0 in 'cm^0' is not from 1 to 9"),
        ("g**2", "a unit is missing in 'g**2'"),
        ("__import__", "unknown unit '__import__'; units such as g, mL, mol/L, kPa, °C and % are known"),
        ("g" * 81, "a unit of 81 characters; at most 80 are read"),
    ],
)
def test_refuses(text: str, message: str) -> None:
    with pytest.raises(UnitError, match=f"^{re.escape(message)}$"):
        read_unit(text)


@for_every(sorted(SPELLINGS))
def test_every_spelling_of_the_list_is_read(spelling: str) -> None:
    unit = read_unit(spelling)
    assert unit.text == SPELLINGS[spelling].symbol
    assert unit.factors == ((SPELLINGS[spelling].symbol, 1),)
    assert unit.factor > 0


def test_factors_are_as_written_for_cancelling() -> None:
    assert read_unit("g/mL").factors == (("g", 1), ("mL", -1))
    assert read_unit("mol dm-3").factors == (("mol", 1), ("dm3", -1))
    assert read_unit("kPa L/(mol K)").factors == (("kPa", 1), ("L", 1), ("mol", -1), ("K", -1))
    assert read_unit("g/g").factors == (("g", 1), ("g", -1))
    assert read_unit("1").factors == ()


@given(PRODUCTS)
def test_products_multiply_and_read_back(text: str) -> None:
    unit = read_unit(text)
    same = read_unit(unit.text)
    assert (same.text, same.factor, same.dimension) == (unit.text, unit.factor, unit.dimension)
    powers: dict[str, int] = {}
    for symbol, power in unit.factors:
        for name, base in read_unit(symbol).dimension:
            powers[name] = powers.get(name, 0) + base * power
    assert dict(unit.dimension) == {name: power for name, power in powers.items() if power}


@given(
    st.sampled_from(sorted(SPELLINGS)),
    st.fractions(min_value=-(10**6), max_value=10**6, max_denominator=10**6),
)
def test_values_go_to_the_engine_and_back(spelling: str, value: Fraction) -> None:
    unit = read_unit(spelling)
    assert unit.from_engine(unit.to_engine(value)) == value


@given(st.text("gmLoKPaC°µ%·/^-1230 ().*⁻¹per", max_size=14))
def test_whatever_is_typed_is_read_or_refused(text: str) -> None:
    try:
        unit = read_unit(text)
    except UnitError:
        return
    again = read_unit(unit.text)
    assert (again.dimension, again.factor) == (unit.dimension, unit.factor)


@pytest.mark.parametrize(
    ("unit", "text"),
    [
        ("1", ""),
        ("g mL^-1", "g/mL"),
        ("°C", "°C"),
        ("%", "%"),
        ("kPa L/(mol K)", "kPa·L/(mol·K)"),
        ("kg m^-3", "kg/m³"),
        ("cm3", "cm³"),
        ("°", "°"),
        ("° cm3 g^-1 dm^-1", "° cm³ g⁻¹ dm⁻¹"),
    ],
)
def test_units_are_printed_in_their_canonical_spelling_with_raised_exponents(unit: str, text: str) -> None:
    assert unit_text(unit) == text
