"""Any text is read or refused with a reason; whatever is printed is read back exactly."""

from __future__ import annotations

import random
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from problemgen.chemistry.unit_list import SPELLINGS, UNITS
from problemgen.chemistry.units import read_unit
from problemgen.exact.digits import read_written
from problemgen.exact.rounding import figures_text, plain_text
from problemgen.grade.reading.cell import read_answer

VALUES = st.fractions(min_value=Fraction(-(10**9)), max_value=Fraction(10**9), max_denominator=10**9)
USUAL = st.sampled_from([*sorted(SPELLINGS), "mol/L", "g mol^-1", "g/cm³", "mol·L⁻¹", "kJ/mol", "L atm"])
BEHIND = st.sampled_from(["", ".", " NaCl", " of product", " (H2O)", " CuSO4·5H2O", " 2-butanol"])
PRINTED = st.one_of(
    st.builds(figures_text, VALUES, st.integers(1, 10)), st.builds(plain_text, VALUES, st.integers(-8, 3))
)


@given(PRINTED, USUAL, BEHIND, st.sampled_from(["", " ", "\N{NO-BREAK SPACE}", "\N{NARROW NO-BREAK SPACE}"]))
def test_what_is_printed_is_read_back_exactly(number: str, unit: str, behind: str, space: str) -> None:
    asked, written = read_unit(unit), read_written(number)
    reading = read_answer(f"{number}{space}{unit}{behind}", asked)
    assert (reading.status, reading.written, reading.unit) == ("number", written, asked)
    assert reading.value_in_unit == written.value


@given(PRINTED, st.sampled_from(["{} g", "m = {} g", "≈ {} g", "about {}", "={}", "m(NaCl) = {} g NaCl."]))
def test_leads_and_labels_change_nothing(number: str, pattern: str) -> None:
    reading = read_answer(pattern.format(number), read_unit("g"))
    assert (reading.status, reading.written) == ("number", read_written(number))


@given(PRINTED)
def test_a_decimal_comma_is_read_back_where_it_is_the_mark(number: str) -> None:
    for typed in (number.replace(".", ","), number.replace(".", ",").replace("-", "−").replace("e", " × 10^")):
        reading = read_answer(typed, None, decimal_mark=",")
        assert (reading.status, reading.written) == ("number", read_written(number))


@given(VALUES, st.sampled_from([unit.symbol for unit in UNITS if unit.symbol]), USUAL)
def test_conversion_is_exact_or_the_dimension_is_wrong(value: Fraction, written: str, asked: str) -> None:
    number = figures_text(value, 6)
    reading = read_answer(f"{number} {written}", read_unit(asked))
    ours, theirs = read_unit(written), read_unit(asked)
    if ours.dimension != theirs.dimension:
        assert (reading.status, reading.unit) == ("wrong_dimension", ours)
    else:
        assert reading.value_in_unit is not None
        assert theirs.to_engine(reading.value_in_unit) == ours.to_engine(read_written(number).value)


def test_ten_thousand_random_texts_raise_nothing_and_say_why() -> None:
    draw = random.Random(20261125)  # noqa: S311 - a fuzz test keeps no secret
    usual = "0123456789.,, '-+=~≈x×*^eE/()[]%°µ±gmolLkM NaClH2O\u00a0\u2009⁻¹²½\n\t:;<?"
    asked = read_unit("g")
    for turn in range(10_000):
        length = draw.randrange(40)
        letters = [draw.choice(usual) if turn % 2 else chr(draw.randrange(0x110000)) for _ in range(length)]
        reading = read_answer("".join(letters), asked, decimal_mark=".,"[turn % 3 == 0])
        is_number = reading.status in {"number", "ambiguous"}
        assert is_number == (reading.value_in_unit is not None)
        assert reading.reason or reading.status in {"number", "blank"}


@given(st.text())
def test_any_text_is_read_or_refused_with_a_reason(text: str) -> None:
    reading = read_answer(text, read_unit("mol"))
    assert reading.text == text
    assert reading.reason or reading.status in {"number", "blank"}


@pytest.mark.parametrize(
    "cell",
    [
        *("1," * 100, "1 " * 100, "(" * 200, "1" + " g" * 99, "=" * 199 + "a", "m^" * 100, "1" + "-a" * 99),
        *("1" + " mol/L" * 33, "a." * 99 + "1", "1 " + "a-" * 99, "e" * 200, "1" + "·" * 199, "±1" * 100),
        *("about " * 33, "\\times" * 33, "1 " + "C" * 198, "1 (" * 66, "1" + "/" * 199, "1/" * 100, "a1" * 100),
    ],
)
def test_long_and_hostile_texts_end_in_a_reason(cell: str) -> None:
    reading = read_answer(cell, read_unit("g"))
    assert reading.status in {"unreadable", "wrong_dimension"}
    assert reading.reason
