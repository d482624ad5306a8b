"""Answers as students write them: what is read, what is refused, and with which words."""

from __future__ import annotations

from fractions import Fraction

import pytest

from problemgen.chemistry.units import read_unit
from problemgen.grade.reading.cell import read_answer

# cell, number as read, unit as read ("" for none), value in the unit asked for
MASSES = [
    ("3.95", "3.95", "", "3.95"),
    ("3.95 g", "3.95", "g", "3.95"),
    ("3.95g", "3.95", "g", "3.95"),
    ("  3.95   g  ", "3.95", "g", "3.95"),
    ("3.95\N{NO-BREAK SPACE}g", "3.95", "g", "3.95"),
    ("3.95\N{THIN SPACE}g", "3.95", "g", "3.95"),
    ("3.950 g", "3.950", "g", "3.95"),
    ("0.0500 g", "0.0500", "g", "0.05"),
    ("250", "250", "", "250"),
    ("3,95", "3.95", "", "3.95"),
    ("3,95 g", "3.95", "g", "3.95"),
    ("0,125 g", "0.125", "g", "0.125"),
    ("1.234", "1.234", "", "1.234"),
    ("1,234.5", "1234.5", "", "1234.5"),
    ("1.234,5", "1234.5", "", "1234.5"),
    ("1234,567", "1234.567", "", "1234.567"),
    ("1,234,567", "1234567", "", "1234567"),
    ("1.234.567", "1234567", "", "1234567"),
    ("1 234.5 g", "1234.5", "g", "1234.5"),
    ("1\N{THIN SPACE}234,5 g", "1234.5", "g", "1234.5"),
    ("1\N{NARROW NO-BREAK SPACE}234\N{NARROW NO-BREAK SPACE}567", "1234567", "", "1234567"),
    ("12 345 mg", "12345", "mg", "12.345"),
    ("1'234.5", "1234.5", "", "1234.5"),
    ("1’234’567.8", "1234567.8", "", "1234567.8"),
    ("3.141\N{THIN SPACE}59", "3.14159", "", "3.14159"),
    (".5 g", "0.5", "g", "0.5"),
    (",5 g", "0.5", "g", "0.5"),
    ("5.", "5", "", "5"),
    ("5. g", "5", "g", "5"),
    ("007", "7", "", "7"),
    ("0", "0", "", "0"),
    ("0.00 g", "0.00", "g", "0"),
    ("3.95 x 10^1", "3.95e1", "", "39.5"),
    ("3.95 X 10^1 g", "3.95e1", "g", "39.5"),
    ("3.95 × 10¹", "3.95e1", "", "39.5"),
    ("3.95×10⁻² g", "3.95e-2", "g", "0.0395"),
    ("3.95*10^1", "3.95e1", "", "39.5"),
    ("3.95*10**1", "3.95e1", "", "39.5"),
    ("3.95 · 10^+1", "3.95e1", "", "39.5"),
    ("3.95 x 10^(-2) g", "3.95e-2", "g", "0.0395"),
    (r"3.95 \times 10^{-2} g", "3.95e-2", "g", "0.0395"),
    (r"3.95 \cdot 10^{2}", "3.95e2", "", "395"),
    ("3.95 x 10 ^ -2", "3.95e-2", "", "0.0395"),
    ("3.95 x 10^−2", "3.95e-2", "", "0.0395"),
    ("3,95.10^-2 g", "3.95e-2", "g", "0.0395"),
    ("3.95E+01", "3.95e1", "", "39.5"),
    ("3.95e1g", "3.95e1", "g", "39.5"),
    ("3,95E-02 g", "3.95e-2", "g", "0.0395"),
    ("3.95 E -2", "3.95e-2", "", "0.0395"),
    ("3.95EE2", "3.95e2", "", "395"),
    ("10^-2", "1e-2", "", "0.01"),
    ("10⁻² kg", "1e-2", "kg", "10"),
    ("-10^2 g", "-1e2", "g", "-100"),
    ("3/4", "3/4", "", "0.75"),
    ("-3/4 g", "-3/4", "g", "-0.75"),
    ("6 / 8 g", "6/8", "g", "0.75"),
    ("½ g", "1/2", "g", "0.5"),
    ("3⁄4 g", "3/4", "g", "0.75"),
    ("-5 g", "-5", "g", "-5"),
    ("−5 g", "-5", "g", "-5"),
    ("– 5 g", "-5", "g", "-5"),
    ("+5 g", "5", "g", "5"),
    ("３．９５ｇ", "3.95", "g", "3.95"),
    ("３，９５", "3.95", "", "3.95"),
    ("٣.٩٥ g", "3.95", "g", "3.95"),
    ("\N{ZERO WIDTH SPACE}3.95\N{LEFT-TO-RIGHT MARK} g", "3.95", "g", "3.95"),
    ("\N{ZERO WIDTH NO-BREAK SPACE}3.95", "3.95", "", "3.95"),
    ("=3.95", "3.95", "", "3.95"),
    ("= 3.95 g", "3.95", "g", "3.95"),
    ("=> 3.95 g", "3.95", "g", "3.95"),
    ("→ 3.95 g", "3.95", "g", "3.95"),
    ("≈3.95 g", "3.95", "g", "3.95"),
    ("~ 3.95 g", "3.95", "g", "3.95"),
    ("≈ -3.95", "-3.95", "", "-3.95"),
    ("m = 3.95 g", "3.95", "g", "3.95"),
    ("m=3.95", "3.95", "", "3.95"),
    ("m1 = 3.95 g", "3.95", "g", "3.95"),
    ("m(NaCl) = 3.95 g", "3.95", "g", "3.95"),
    ("m(H₂SO₄) ≈ 3.95 g", "3.95", "g", "3.95"),
    ("m(CuSO4·5H2O) = 3.95 g", "3.95", "g", "3.95"),
    ("m(CuSO4.5H2O) = 3.95 g", "3.95", "g", "3.95"),
    ("m(1,2-dibromoethane) = 3.95 g", "3.95", "g", "3.95"),
    ("m = n × M = 3.95 g", "3.95", "g", "3.95"),
    ("m/g = 3.95", "3.95", "g", "3.95"),
    ("mass of product = 3.95 g", "3.95", "g", "3.95"),
    ("theoretical yield: 3.95 g", "3.95", "g", "3.95"),
    ("Answer: 3.95 g", "3.95", "g", "3.95"),
    ("about 3.95 g", "3.95", "g", "3.95"),
    ("About 3.95", "3.95", "", "3.95"),
    ("approx. 3.95 g", "3.95", "g", "3.95"),
    ("approximately 3.95 g", "3.95", "g", "3.95"),
    ("ca. 3.95 g", "3.95", "g", "3.95"),
    ("m = ca. 3.95 g", "3.95", "g", "3.95"),
    ("circa 3.95", "3.95", "", "3.95"),
    ("3.95 g.", "3.95", "g", "3.95"),
    ("3.95.", "3.95", "", "3.95"),
    ("3.95 g?", "3.95", "g", "3.95"),
    ("'3.95", "3.95", "", "3.95"),
    ('"3.95 g"', "3.95", "g", "3.95"),
    ("“3.95 g”", "3.95", "g", "3.95"),
    ("12 g NaCl", "12", "g", "12"),
    ("12 g of NaCl", "12", "g", "12"),
    ("12 g (NaCl)", "12", "g", "12"),
    ("12 g(NaCl)", "12", "g", "12"),
    ("12 g, NaCl", "12", "g", "12"),
    ("12 g of product", "12", "g", "12"),
    ("12 g of the crude product.", "12", "g", "12"),
    ("12 g sodium chloride", "12", "g", "12"),
    ("12 g copper(II) sulfate", "12", "g", "12"),
    ("12 g CuSO₄·5H₂O", "12", "g", "12"),
    ("12 g CuSO4 · 5 H2O", "12", "g", "12"),
    ("12 g H2O(l)", "12", "g", "12"),
    ("12 g 2-butanol", "12", "g", "12"),
    ("12 g C", "12", "g", "12"),
    ("12 g K", "12", "g", "12"),
    ("12 NaCl", "12", "", "12"),
    ("12 of product", "12", "", "12"),
    ("12 product", "12", "", "12"),
    ("12 grams", "12", "g", "12"),
    ("12 Gram", "12", "g", "12"),
    ("0.012 kg", "0.012", "kg", "12"),
    ("12 000 mg", "12000", "mg", "12"),
    ("12 µg", "12", "µg", "0.000012"),
    ("12 μg", "12", "µg", "0.000012"),
    ("12 ug", "12", "µg", "0.000012"),
    ("39.5 g = 0.0395 kg", "0.0395", "kg", "39.5"),
    ("39.52 g = 39.5 g", "39.5", "g", "39.5"),
    ("39.5 = 39.5 g", "39.5", "g", "39.5"),
    ("3/4 = 0.75 g", "0.75", "g", "0.75"),
    ("12 g (0.012 kg)", "12", "g", "12"),
    ("3.95 g =", "3.95", "g", "3.95"),
    ("3.95 g = m", "3.95", "g", "3.95"),
]
OTHERS = [
    ("mol", "0.25 mol", "0.25", "mol", "0.25"),
    ("mol", "0.25 mol NaCl", "0.25", "mol", "0.25"),
    ("mol", "0.5 mol C", "0.5", "mol", "0.5"),
    ("mol", "0.5 mol of K", "0.5", "mol", "0.5"),
    ("mol", "n(NaCl) = 250 mmol", "250", "mmol", "0.25"),
    ("mol", "0.25 moles", "0.25", "mol", "0.25"),
    ("mol/L", "0.5 M", "0.5", "M", "0.5"),
    ("mol/L", "0.5 M NaOH", "0.5", "M", "0.5"),
    ("mol/L", "500 mM", "500", "mM", "0.5"),
    ("mol/L", "0.5 mol/L", "0.5", "mol/L", "0.5"),
    ("mol/L", "0.5mol/l", "0.5", "mol/L", "0.5"),
    ("mol/L", "0.5 mol L^-1", "0.5", "mol/L", "0.5"),
    ("mol/L", "0.5 mol L^{-1}", "0.5", "mol/L", "0.5"),
    ("mol/L", "0.5 mol L-1", "0.5", "mol/L", "0.5"),
    ("mol/L", "0.5 mol·L⁻¹", "0.5", "mol/L", "0.5"),
    ("mol/L", "0.5 mol.L⁻¹ NaCl", "0.5", "mol/L", "0.5"),
    ("mol/L", "0.5 mol dm⁻³", "0.5", "mol/dm3", "0.5"),
    ("mol/L", "0.5 moles per litre", "0.5", "mol/L", "0.5"),
    ("mL", "25 cm³", "25", "cm3", "25"),
    ("mL", "25 cm3", "25", "cm3", "25"),
    ("mL", "25 cc", "25", "cm3", "25"),
    ("mL", "25 ml of water", "25", "mL", "25"),
    ("mL", "0,025 l", "0.025", "L", "25"),
    ("mL", "250 \N{MICRO SIGN}L", "250", "µL", "0.25"),
    ("mL", "250 \N{GREEK SMALL LETTER MU}L", "250", "µL", "0.25"),
    ("K", "25 °C", "25", "°C", "298.15"),
    ("K", "25°C", "25", "°C", "298.15"),
    ("K", "25 ° C", "25", "°C", "298.15"),
    ("K", "25 ºC", "25", "°C", "298.15"),
    ("K", "25 degrees Celsius", "25", "°C", "298.15"),
    ("K", "25 deg. C", "25", "°C", "298.15"),
    ("K", "T/°C = 25 °C", "25", "°C", "298.15"),
    ("K", "298.15 K", "298.15", "K", "298.15"),
    ("kPa", "1 atm", "1", "atm", "101.325"),
    ("%", "82 %", "82", "%", "82"),
    ("%", "82%", "82", "%", "82"),
    ("%", "82％", "82", "%", "82"),
    ("%", "82.0 percent", "82.0", "%", "82"),
    ("%", "82 percent yield", "82", "%", "82"),
    ("%", "82% of theory", "82", "%", "82"),
    ("%", "37 % w/w", "37", "%", "37"),
    ("%", "% yield = 82 %", "82", "%", "82"),
    ("%", "yield (%): 82", "82", "%", "82"),
    ("%", "0.82", "0.82", "", "0.82"),
    ("%", "0.82 = 82 %", "82", "%", "82"),
    ("molecules", "1.2e24 molecules of CO2", "1.2e24", "molecules", "1.2e24"),
    ("molecules", "1.2e24 CO2 molecules", "1.2e24", "molecules", "1.2e24"),
    ("g/mol", "58.44 g mol⁻¹", "58.44", "g/mol", "58.44"),
    ("g/mL", "1.18 g/cm³", "1.18", "g/cm3", "1.18"),
    ("J/(mol·K)", "8.314 J/(mol·K)", "8.314", "J/(mol·K)", "8.314"),
    ("J/(mol·K)", "8.314 J mol-1 K-1", "8.314", "J/(mol·K)", "8.314"),
]
SEVERAL = "More than one number stands in the answer; write one only."
DISAGREE = "More than one number stands in the answer, and they do not agree; write one only."
CALCULATION = "The answer is a calculation; write its result only."
SPREADSHEET = "A spreadsheet's formula is not read; write its result."
INEQUALITY = "An inequality is not an answer; write one number."
BEYOND = "The number has too many figures or too great a power of ten."
REFUSED = [
    ("12 or 13", SEVERAL),
    ("12 g 13 g", SEVERAL),
    ("12, 13", SEVERAL),
    ("12; 13", SEVERAL),
    ("12\n13", SEVERAL),
    ("1\n234", SEVERAL),
    ("12\t345", SEVERAL),
    ("12 g or 13 g", SEVERAL),
    ("12 g and 5 mL", SEVERAL),
    ("12 to 13 g", SEVERAL),
    ("1½ g", SEVERAL),
    ("1 1/2 g", SEVERAL),
    ("12 g + 5 g", SEVERAL),
    ("2.00 g/mol x 3 mol = 6.00 g", SEVERAL),
    ("3.95 g = 0.0395 kg", DISAGREE),
    ("3.95 = 4.95", DISAGREE),
    ("3.95 g = 3.95 mol", DISAGREE),
    ("12 g (13 g)", DISAGREE),
    ("12-13 g", CALCULATION),
    ("12 x 3", CALCULATION),
    ("12 * 3 g", CALCULATION),
    ("=3+4", CALCULATION),
    ("12 / 3.5", CALCULATION),
    ("1/2/3", CALCULATION),
    ("0.10^2", CALCULATION),
    ("3.95 x 10", CALCULATION),
    ("12:30", CALCULATION),
    ("=SUM(A1:A3)", SPREADSHEET),
    ("=cmd|' /C calc'!A0", SPREADSHEET),
    ("@SUM(1,2)", SPREADSHEET),
    ("+Sheet1!A1", SPREADSHEET),
    ("-A1:B2", SPREADSHEET),
    ("<5 g", INEQUALITY),
    ("m ≥ 5 g", INEQUALITY),
    ("<b>5</b>", INEQUALITY),
    ("1e1000", BEYOND),
    ("1" * 150, BEYOND),
    ("1" * 201, "An answer of 201 characters is not read; write a number."),
    ("x" * 100_000, "An answer of 100000 characters is not read; write a number."),
    ("1/0", '"1/0" divides by zero.'),
    ("1234567890123/7", "The fraction has too many figures; write a decimal number."),
    ("3.95 x 102", 'The power of ten in "3.95 x 102" is not clear; write e2 or 10^2.'),
    ("10^", 'The power of ten in "10^" is not finished.'),
    ("1,23,456", '"1,23,456" is not one number; write it like 1234.5 or 1234,5.'),
    ("1,2,3", '"1,2,3" is not one number; write it like 1234.5 or 1234,5.'),
    ("1.234,567,8", '"1.234,567,8" is not one number; write it like 1234.5 or 1234,5.'),
    ("12.5.2026", '"12.5.2026" is not one number; write it like 1234.5 or 1234,5.'),
    ("0,123,456", '"0,123,456" is not one number; write it like 1234.5 or 1234,5.'),
    ("3.95 100 g", '"3.95 100" is not one number; write it like 1234.5 or 1234,5.'),
    ("hello", 'No number is found in "hello".'),
    ("g", 'No number is found in "g".'),
    ("=", 'No number is found in "=".'),
    ("#REF!", 'No number is found in "#REF!".'),
    ("twelve grams", 'No number is found in "twelve grams".'),
    ("none", 'No number is found in "none".'),
    ("nan", 'No number is found in "nan".'),
    ("inf", 'No number is found in "inf".'),
    ("∞", 'No number is found in "∞".'),
    ("$5", 'No number is found at the start of "$5".'),
    ("not 12 g", 'No number is found at the start of "not 12 g".'),
    ("\N{SOFT HYPHEN}5", 'No number is found at the start of "5".'),
    ("12 Mg", """The unit "Mg" is not known; did you mean 'mg'?"""),
    ("12 G", """The unit "G" is not known; did you mean 'g'?"""),
    ("12 gramz", """The unit "gramz" is not known; did you mean 'gram'?"""),
    ("12 bananas", 'The unit "bananas" is not known.'),
    ("1_000", 'The unit "_000" is not known.'),
    ("12 g or so", 'What stands behind the unit is not understood: "g or so".'),
    ("12 g or13", 'What stands behind the unit is not understood: "g or13".'),
    ("__import__('os').system('ls')", """No number is found in "__import__('os').system('ls')"."""),
]
REMARKED = [
    ("mol", "0.25 Mol", "0.25", "mol", '"Mol" is read as mol.'),
    ("g", "12 gms", "12", "g", '"gms" is read as g.'),
    ("g", "0.012 KG", "12", "kg", '"KG" is read as kg.'),
    ("mL", "25 ML", "25", "mL", '"ML" is read as mL.'),
    ("mol/L", "0.5 MOL/L", "0.5", "mol/L", '"MOL" is read as mol.'),
    ("g", "3.95 x 10-2 g", "0.0395", "g", "The power of ten is read as 10^-2."),
    ("g", "3.95 ± 0.05 g", "3.95", "g", "The uncertainty behind ± is not judged."),
    ("g", "3.95 g +/- 0.05 g", "3.95", "g", "The uncertainty behind ± is not judged."),
    ("g", "(3.95 ± 0.05) g", "3.95", "g", "The uncertainty behind ± is not judged."),
]
BLANK = ["", " ", "\n", "-", "–", "—", "--", "?", "???", "n/a", "N/A", "n.a.", "...", "…", ".", "\N{ZERO WIDTH SPACE}"]


@pytest.mark.parametrize(("cell", "text", "unit", "value"), MASSES)
def test_masses_that_are_read(cell: str, text: str, unit: str, value: str) -> None:
    check_number("g", cell, text, unit, value)


@pytest.mark.parametrize(("asked", "cell", "text", "unit", "value"), OTHERS)
def test_other_quantities_that_are_read(asked: str, cell: str, text: str, unit: str, value: str) -> None:
    check_number(asked, cell, text, unit, value)


def check_number(asked: str, cell: str, text: str, unit: str, value: str) -> None:
    reading = read_answer(cell, read_unit(asked))
    assert (reading.status, reading.text) == ("number", cell), reading.reason
    assert reading.written is not None
    assert reading.written.text == text
    assert (reading.unit.text if reading.unit else "") == unit
    assert reading.value_in_unit == Fraction(value)
    assert not reading.reason or reading.reason.endswith("is read as g.")


@pytest.mark.parametrize(("cell", "reason"), REFUSED)
def test_refused(cell: str, reason: str) -> None:
    reading = read_answer(cell, read_unit("g"))
    assert (reading.status, reading.reason) == ("unreadable", reason)
    assert (reading.text, reading.written, reading.unit, reading.value_in_unit) == (cell, None, None, None)


@pytest.mark.parametrize(("asked", "cell", "value", "unit", "remark"), REMARKED)
def test_read_with_a_remark(asked: str, cell: str, value: str, unit: str, remark: str) -> None:
    reading = read_answer(cell, read_unit(asked))
    assert (reading.status, reading.reason, reading.value_in_unit) == ("number", remark, Fraction(value))
    assert reading.unit is not None
    assert reading.unit.text == unit


@pytest.mark.parametrize("cell", BLANK)
def test_blank(cell: str) -> None:
    reading = read_answer(cell, read_unit("g"))
    assert (reading.status, reading.reason, reading.written, reading.value_in_unit) == ("blank", "", None, None)


def test_an_ambiguous_number_is_read_by_the_decimal_mark_and_remarked_on() -> None:
    reading = read_answer("12,500 mg", read_unit("g"))
    assert (reading.status, reading.value_in_unit) == ("ambiguous", Fraction("12.5"))
    assert reading.reason == '"12,500" can mean 12500 or 12.500; it is read as 12500.'
    reading = read_answer("12,500 mg", read_unit("g"), decimal_mark=",")
    assert (reading.status, reading.value_in_unit) == ("number", Fraction("0.0125"))
    assert reading.reason == '"12,500" can mean 12.500 or 12500; it is read as 12.500.'


@pytest.mark.parametrize(
    ("asked", "cell", "unit", "reason"),
    [
        ("g", "3 mol", "mol", "The answer is given in mol (amount); g (mass) is asked for."),
        ("g", "3 mL", "mL", "The answer is given in mL (volume); g (mass) is asked for."),
        ("g", "3.95 g/mL", "g/mL", "The answer is given in g/mL (density); g (mass) is asked for."),
        ("g", "3 %", "%", "The answer is given in % (a plain number); g (mass) is asked for."),
        ("g", "12 C", "°C", "The answer is given in °C (temperature); g (mass) is asked for."),
        ("g", "12 g mL", "g·mL", "The answer is given in g·mL; g (mass) is asked for."),
        ("g", "12 g g", "g g", "The answer is given in g·g; g (mass) is asked for."),
        ("g", "5 mol L-1", "mol/L", "The answer is given in mol/L (amount concentration); g (mass) is asked for."),
        ("g", "2e23 atoms", "atoms", "The answer is given in atoms (number of particles); g (mass) is asked for."),
        ("%", "12 g", "g", "The answer is given in g (mass); % (a plain number) is asked for."),
        ("1", "12 g", "g", "The answer is given in g (mass); a plain number is asked for."),
    ],
)
def test_a_wrong_dimension_names_both(asked: str, cell: str, unit: str, reason: str) -> None:
    reading = read_answer(cell, read_unit(asked))
    assert (reading.status, reading.reason, reading.value_in_unit) == ("wrong_dimension", reason, None)
    assert reading.written is not None
    assert reading.unit == read_unit(unit)


def test_no_unit_asked_for_is_a_plain_number() -> None:
    assert read_answer("50 %", None).value_in_unit == Fraction(1, 2)
    assert read_answer("0.5", None).value_in_unit == Fraction(1, 2)
    assert read_answer("0.5 g", None).reason == "The answer is given in g (mass); a plain number is asked for."


def test_a_fraction_is_exact_and_counts_no_figures() -> None:
    third, half, plain = (read_answer(cell, None) for cell in ("1/3", "1/2", "0.50"))
    assert (third.value_in_unit, third.counts_figures, half.counts_figures) == (Fraction(1, 3), False, False)
    assert third.written is not None
    assert half.written is not None
    assert (third.written.place, half.written.place) == (-12, -1)
    assert plain.counts_figures
    assert not read_answer("none", None).counts_figures


def test_another_decimal_mark_is_a_programming_error() -> None:
    with pytest.raises(ValueError, match=r"^the decimal mark is '\.' or ',', not ';'$"):
        read_answer("1", None, decimal_mark=";")
