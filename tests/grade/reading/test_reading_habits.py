"""What people put round their answers, and units as they type them: read, read with a remark, or refused."""

from __future__ import annotations

from fractions import Fraction

import pytest

from problemgen.chemistry.units import read_unit
from problemgen.grade.reading.cell import read_answer

# unit asked for, cell, value in it
READ = [
    # words in front
    ("g", "the mass is 3.95 g", "3.95"),
    ("g", "I got 3.95 g", "3.95"),
    ("g", "It’s 3.95 g", "3.95"),
    ("g", "theoretical yield 3.95 g", "3.95"),
    ("g", "Mass 3.95 g", "3.95"),
    ("g", "c. 3.95 g", "3.95"),
    ("g", "equals 3.95 g", "3.95"),
    ("g", "approximately equal to 3.95 g", "3.95"),
    ("g", "m_{NaCl} = 3.95 g", "3.95"),
    ("g", "m [g] = 3.95", "3.95"),
    # brackets, quotation marks, marks behind
    ("g", "[3.95 g]", "3.95"),
    ("g", "(3.95) g", "3.95"),
    ("g", "3.95 [g]", "3.95"),
    ("g", "m = 3.95 [g]", "3.95"),
    ("g", "3.95 (g)", "3.95"),
    ("g", "3.95 g!", "3.95"),
    ("g", "3.95 g'", "3.95"),
    ("g", "`3.95 g`", "3.95"),
    ("g", "3.95 g;", "3.95"),
    # notes on the figures
    ("g", "3.95 g (3 s.f.)", "3.95"),
    ("g", "3.95 g (3 sf)", "3.95"),
    ("g", "3.95 g (3 sig figs)", "3.95"),
    ("g", "3.95 g to 3 significant figures.", "3.95"),
    ("g", "3.95 g, 2 d.p.", "3.95"),
    ("g", "3.95 (rounded to 2 decimal places)", "3.95"),
    ("g", "3.95 g to 3 s.f. = 0.00395 kg", "3.95"),
    # numbers of other keyboards
    ("g", "٣٫٩٥ g", "3.95"),
    ("g", "３。９５ g", "3.95"),
    ("g", "１．２Ｅ－３　ｋｇ", "1.2"),
    ("g", "५ g", "5"),
    ("g", "5.E-1 g", "0.5"),
    ("g", "12´345,5 g", "12345.5"),
    # masses
    ("g", "3950 ㎎", "3.95"),
    ("g", "3.95 Gramm", "3.95"),
    ("g", "3.95 g Ph3COH", "3.95"),
    ("g", "3.95 g of Et2O", "3.95"),
    ("g", "3.95 g PhCO2Me (liquid)", "3.95"),
    # volumes
    ("mL", "25 ㎖", "25"),
    ("mL", "25 ㎤", "25"),
    ("mL", "0.025 ℓ", "25"),
    ("mL", "25 c.c.", "25"),
    ("mL", "25 ccm", "25"),
    ("mL", "25 cubic centimetres", "25"),
    ("mL", "25 cubic centimeters of water", "25"),
    ("mL", "0.025 cubic decimetre", "25"),
    # concentrations
    ("mol/L", "0.5 molar", "0.5"),
    ("mol/L", "0.5 Molar HCl", "0.5"),
    ("mol/L", "500 millimolar", "0.5"),
    ("mol/L", "0.5 mol × L⁻¹", "0.5"),
    ("mol/L", "0.5 mol∙L⁻¹", "0.5"),
    ("mol/L", "0.5 mol•L⁻¹", "0.5"),
    ("mol/L", "0.5 mol L ⁻¹", "0.5"),
    ("mol/L", "[NaOH] = 0.5 mol/L", "0.5"),
    # amounts
    ("mmol", "2.5 mmoles", "2.5"),
    ("mmol", "2.5 millimol", "2.5"),
    ("mmol", "0.0025 mol", "2.5"),
    # temperatures
    ("°C", "25 oC", "25"),
    ("°C", "298.15 °K", "25"),
    ("°C", "77 oF", "25"),
    ("K", "25 °", "298.15"),
    ("°C", "25 degrees", "25"),
    # percent
    ("%", "82 wt%", "82"),
    ("%", "82 wt. %", "82"),
    ("%", "82 mass %", "82"),
    ("%", "82 w/w %", "82"),
    ("%", "82 Prozent", "82"),
    ("%", "percent yield 82 %", "82"),
]
REMARKS = {
    "3.95 Gramm": '"Gramm" is read as g.',
    "25 ccm": '"ccm" is read as cm3.',
    "0.5 molar": '"molar" is read as M.',
    "0.5 Molar HCl": '"Molar" is read as M.',
    "500 millimolar": '"millimolar" is read as mM.',
    "2.5 mmoles": '"mmoles" is read as mmol.',
    "2.5 millimol": '"millimol" is read as mmol.',
    "25 °": '"°" is read as °C.',
    "25 degrees": '"degrees" is read as °C.',
    "82 Prozent": '"Prozent" is read as %.',
}
SEVERAL = "More than one number stands in the answer; write one only."
REFUSED = [
    ("between 3 and 4 g", 'No number is found at the start of "between 3 and 4 g".'),
    ("3 .95", SEVERAL),
    ("3. 95", SEVERAL),
    ("3;95", SEVERAL),
    ("1 ¾ g", SEVERAL),
    ("12(2) g", SEVERAL),
    ("3.95 10^1 g", SEVERAL),
    ("12 3 s.f.", SEVERAL),
    ("3!", 'The unit "!" is not known.'),
    ("3·95", "The answer is a calculation; write its result only."),
    ("3.95^2", "The answer is a calculation; write its result only."),
    ("2+2", "The answer is a calculation; write its result only."),
    ("0x10", "The answer is a calculation; write its result only."),
    ("3.95e1e2", 'The unit "e2" is not known.'),
    ("1e", 'The unit "e" is not known.'),
    ("e5", 'No number is found in "e5".'),
    ("^2", 'No number is found at the start of "^2".'),
    ("sqrt(2)", 'No number is found at the start of "sqrt(2)".'),
    ("√2", 'No number is found at the start of "√2".'),
    ("*3.95 g*", 'No number is found at the start of "*3.95 g*".'),
    ("about", 'No number is found in "about".'),
    ("the mass", 'No number is found in "the mass".'),
    ("12 Gr", 'The unit "Gr" is not known.'),
    ("12 m", 'The unit "m" is not known.'),
    ("12 N", 'The unit "N" is not known.'),
    ("12 g × mol x", 'What stands behind the unit is not understood: "g·mol x".'),
    ("3.95 с", 'The unit "с" is not known.'),  # Cyrillic
    ("{{7*7}}", 'No number is found at the start of "{{7*7}}".'),
    ("'; DROP TABLE answers; --", """No number is found in "; DROP TABLE answers; --"."""),
    ("${jndi:ldap://x}", 'No number is found in "${jndi:ldap://x}".'),
    ("x" * 201, "An answer of 201 characters is not read; write a number."),
    ("1 " * 100_000, "An answer of 199999 characters is not read; write a number."),
]  # fmt: skip


@pytest.mark.parametrize(("asked", "cell", "value"), READ)
def test_read(asked: str, cell: str, value: str) -> None:
    reading = read_answer(cell, read_unit(asked))
    assert (reading.status, reading.value_in_unit) == ("number", Fraction(value)), reading.reason
    assert reading.reason == REMARKS.get(cell, "")


@pytest.mark.parametrize(("cell", "reason"), REFUSED)
def test_refused(cell: str, reason: str) -> None:
    reading = read_answer(cell, read_unit("g"))
    assert (reading.status, reading.reason) == ("unreadable", reason)


def test_bare_degrees_are_the_scale_asked_for() -> None:
    fahrenheit, kelvin = (read_answer("77 °", read_unit(scale)).unit for scale in ("°F", "K"))
    assert (fahrenheit, kelvin) == (read_unit("°F"), read_unit("°C"))
    assert read_answer("77 °", read_unit("g")).status == "wrong_dimension"
