"""The right digits with something beside them wrong."""

from __future__ import annotations

from fractions import Fraction

import pytest

from problemgen.chemistry.units import read_unit
from problemgen.grade.judging.right_digits import slip_of
from problemgen.grade.reading.cell import read_answer
from problemgen.model.truths import NumberTruth

F = Fraction
TRUTH = NumberTruth(F("20.82"), F("20.811"), F("20.829"), 4, "20.82")


@pytest.mark.parametrize(
    ("unit", "value", "reason", "title"),
    [
        ("%", "0.2082", "fraction-for-percent", "a fraction given for a percentage"),
        ("mmol", "0.02082", "other-unit:mol", "mol in a blank for mmol"),
        ("g", "20820", "other-unit:mg", "mg in a blank for g"),
        ("mmol", "2.082", "power-of-ten:-1", ""),
        ("mmol", "-20.82", "sign", ""),
    ],
)
def test_slips_that_have_a_name(unit: str, value: str, reason: str, title: str) -> None:
    slip = slip_of(unit, TRUTH, F(value))
    assert slip is not None
    assert (slip.reason, slip.title) == (reason, title)


@pytest.mark.parametrize(
    ("unit", "wrote", "reason", "title", "sentence"),
    [
        ("g", "20.82 kg", "written-unit:kg:g", "kg written for g", "You wrote kg; the number is right in g."),
        ("mmol", "20.82 mol", "written-unit:mol:mmol", "mol written for mmol",
         "You wrote mol; the number is right in mmol."),
        ("g", "20820 kg", "written-unit:kg:mg", "kg written for mg", "You wrote kg; the number is right in mg."),
        ("mL", "0.02082 cm3", "written-unit:cm3:L", "cm³ written for L", "You wrote cm³; the number is right in L."),
        ("1", "20.82 %", "written-unit:%:1", "% written for a plain number",
         "You wrote %; the number is right without a unit."),
        ("g", "20820 g", "other-unit:mg", "mg in a blank for g", "Did you give mg? The blank asks for g."),
        ("g", "2.082 g", "power-of-ten:-1", "",
         "The digits are right, but the value is too small by a factor of 10: look at units and powers of ten."),
        ("g", "2.082 mg", "power-of-ten:-4", "",
         "The digits are right, but the value is too small by a factor of 10000: look at units and powers of ten."),
    ],
)  # fmt: skip
def test_a_unit_that_was_written_is_never_contradicted(
    unit: str, wrote: str, reason: str, title: str, sentence: str
) -> None:
    reading = read_answer(wrote, read_unit(unit))
    assert reading.value_in_unit is not None
    slip = slip_of(unit, TRUTH, reading.value_in_unit, reading.unit)
    assert slip is not None
    assert (slip.reason, slip.title, slip.sentence) == (reason, title, sentence)


def test_other_digits_are_no_slip() -> None:
    assert slip_of("mmol", TRUTH, F("20.9")) is None
