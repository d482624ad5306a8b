"""Numbers with their written digits: what is read, what is refused, what is printed."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from problemgen.errors import NumberError
from problemgen.exact.digits import Written, number_text, read_written, written_steps

DIGITS = st.text("0123456789", min_size=1, max_size=12)
SPELLED = st.builds(
    lambda sign, whole, decimals, power: (
        f"{sign}{whole}" + (f".{decimals}" if decimals else "") + (f"e{power}" if power is not None else "")
    ),
    st.sampled_from(["", "+", "-"]),
    DIGITS,
    st.one_of(st.just(""), DIGITS),
    st.one_of(st.none(), st.integers(-40, 40)),
)


@pytest.mark.parametrize(
    ("text", "value", "place", "figures", "printed"),
    [
        ("1.0080", "1.008", -4, 5, "1.0080"),
        ("3.95e1", "39.5", -1, 3, "3.95e1"),
        ("250", "250", 0, 3, "250"),
        ("0.0500", "0.05", -4, 3, "0.0500"),
        ("9.2E-04", "0.00092", -5, 2, "9.2e-4"),
        ("+7", "7", 0, 1, "7"),
        ("-3.20", "-3.2", -2, 3, "-3.20"),
        ("6.02214076e+23", "602214076000000000000000", 15, 9, "6.02214076e23"),
        ("2e2", "200", 2, 1, "2e2"),
        ("007.50", "7.5", -2, 3, "7.50"),
        ("0", "0", 0, 1, "0"),
        ("-0.00", "0", -2, 1, "0.00"),
        ("1e999", "1e999", 999, 1, "1e999"),
    ],
)
def test_reads(text: str, value: str, place: int, figures: int, printed: str) -> None:
    written = read_written(text)
    assert written == Written(Fraction(value), place, printed)
    assert written.figures == figures


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("", "nothing is written where a number is expected"),
        ("  ", "nothing is written where a number is expected"),
        ("abc", "'abc' is not a number"),
        ("1,5", "'1,5' is not a number; write 1.5"),
        ("1,250", "'1,250' is not a number"),
        ("1 250", "'1 250' is not a number"),
        (" 5", "' 5' is not a number; write 5"),
        (".5", "'.5' is not a number; write 0.5"),
        ("5.", "'5.' is not a number; write 5"),
        ("5.e3", "'5.e3' is not a number; write 5e3"),
        ("−3.2", "'−3.2' is not a number; write -3.2"),
        ("1.2.3", "'1.2.3' is not a number"),
        ("1e", "'1e' is not a number"),
        ("1e2.5", "'1e2.5' is not a number"),
        ("--1", "'--1' is not a number"),
        ("1_000", "'1_000' is not a number"),
        ("٣", "'٣' is not a number"),
        ("nan", "'nan' is not a number"),
        ("inf", "'inf' is not a number"),
        ("0x10", "'0x10' is not a number"),
        ("1/2", "'1/2' is not a number"),
        ("1e1000", "the power of ten of '1e1000' is beyond 999"),
        ("1e-1000", "the power of ten of '1e-1000' is beyond 999"),
        ("1" * 101, "a number of 101 characters; at most 100 are read"),
    ],
)
def test_refuses(text: str, message: str) -> None:
    with pytest.raises(NumberError, match=f"^{re.escape(message)}$"):
        read_written(text)


@given(SPELLED)
def test_printed_text_reads_back_the_same(text: str) -> None:
    written = read_written(text)
    assert written.value == Fraction(text)
    assert read_written(written.text) == written
    assert written.value == 0 or (written.value / Fraction(10) ** written.place).denominator == 1


@pytest.mark.parametrize(
    ("count", "step", "expected"),
    [
        (145, "0.05", "7.25"),
        (400, "0.01", "4.00"),
        (0, "0.05", "0.00"),
        (3, "5", "15"),
        (12, "10", "120"),
        (12, "1e1", "1.2e2"),
        (10, "1e1", "1.0e2"),
        (0, "1e1", "0"),
        (7, "0.1", "0.7"),
        (25, "1e-3", "0.025"),
    ],
)
def test_steps_of_a_scale(count: int, step: str, expected: str) -> None:
    scale = read_written(step)
    written = written_steps(count, scale)
    assert (written.text, written.value, written.place) == (expected, count * scale.value, scale.place)


@given(st.integers(1, 10**6), st.sampled_from(["0.05", "0.001", "1", "0.2", "2e1", "5e-3"]))
def test_steps_read_back_the_same(count: int, step: str) -> None:
    written = written_steps(count, read_written(step))
    assert read_written(written.text) == written


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("0.0500", "0.0500"),
        ("-3.20", "−3.20"),
        ("9.2e-4", "9.2\u00a0×\u00a010⁻⁴"),
        ("1.20e12", "1.20\u00a0×\u00a010¹²"),
        ("-1.5e3", "−1.5\u00a0×\u00a010³"),
    ],
)
def test_numbers_are_printed_for_reading(text: str, expected: str) -> None:
    assert number_text(text) == expected
