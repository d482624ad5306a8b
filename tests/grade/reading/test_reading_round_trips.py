"""A number written in many ways is one number, with the same figures."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from problemgen.chemistry.units import read_unit
from problemgen.exact.digits import Written, read_written
from problemgen.exact.rounding import exponent, figures_text, plain_text
from problemgen.grade.reading.cell import read_answer

RAISED = str.maketrans("0123456789+-", "⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻")
FULL_WIDTH = str.maketrans("0123456789.+-eE", "０１２３４５６７８９．＋－ｅＥ")
ARABIC = str.maketrans("0123456789.", "٠١٢٣٤٥٦٧٨٩٫")


def scientific(written: Written) -> tuple[str, int]:
    """Mantissa and power of ten, with the figures of the number."""
    shift = exponent(written.value) if written.value else written.place
    return plain_text(written.value / Fraction(10) ** shift, written.place - shift), shift


def grouped(mark: str) -> Callable[[Written], str]:
    """A number in plain decimals, the figures before the mark grouped by threes."""

    def write(written: Written) -> str:
        plain = plain_text(written.value, written.place)
        sign, figures = ("-", plain[1:]) if plain.startswith("-") else ("", plain)
        whole, point, decimals = figures.partition(".")
        return f"{sign}{int(whole):,}".replace(",", mark) + point + decimals

    return write


def powered(pattern: str) -> Callable[[Written], str]:
    """A number as a mantissa and a power of ten, in a pattern with {0}, {1} and {2}, the raised power."""

    def write(written: Written) -> str:
        mantissa, shift = scientific(written)
        return pattern.format(mantissa, shift, str(shift).translate(RAISED))

    return write


PLAIN: list[Callable[[Written], str]] = [
    lambda written: plain_text(written.value, written.place),
    lambda written: plain_text(written.value, written.place).translate(FULL_WIDTH),
    lambda written: plain_text(written.value, written.place).translate(ARABIC),
    lambda written: plain_text(written.value, written.place).replace("-", "−"),
    *map(grouped, (" ", "'", "’", "\N{THIN SPACE}", "\N{NARROW NO-BREAK SPACE}", "\N{NO-BREAK SPACE}")),
]
POWERED = [
    *map(powered, ("{0}e{1}", "{0}E{1:+03d}", "{0} x 10^{1}", "{0} × 10{2}", "{0}×10{2}", "{0}·10^{1}")),
    *map(powered, ("{0} * 10**{1}", "{0} x 10^({1})", "{0} \\times 10^{{{1}}}", "{0} X 10 ^ {1}", "{0}EE{1}")),
]
ROUND = st.sampled_from(
    [
        "{}",
        " {} ",
        "= {}",
        "≈ {}",
        "~{}",
        "m = {}",
        "m(NaCl) ≈ {}",
        "about {}",
        "ca. {}",
        "Answer: {}",
        "\u200e{}\u200f",
    ]
)
BEHIND = st.sampled_from(["", " g", "g", "\N{THIN SPACE}g", " grams", " g.", " g NaCl", " g of product", " g (3 s.f.)"])
VALUES = st.fractions(min_value=Fraction(-(10**9)), max_value=Fraction(10**9), max_denominator=10**9)
NUMBERS = st.builds(lambda value, figures: read_written(figures_text(value, figures)), VALUES, st.integers(1, 9))


def read_back(cell: str, written: Written, mark: str = ".") -> None:
    reading = read_answer(cell, read_unit("g"), decimal_mark=mark)
    assert reading.status == "number", (cell, reading.reason)
    assert reading.written is not None
    assert (reading.value_in_unit, reading.written.place) == (written.value, written.place), cell
    assert reading.written.figures == written.figures


@given(NUMBERS, st.sampled_from(POWERED), ROUND, BEHIND)
def test_every_way_to_write_a_power_of_ten(
    written: Written, write: Callable[[Written], str], around: str, behind: str
) -> None:
    read_back(around.format(write(written) + behind), written)


@given(NUMBERS, st.sampled_from(PLAIN), ROUND, BEHIND)
def test_every_way_to_write_plain_decimals(
    written: Written, write: Callable[[Written], str], around: str, behind: str
) -> None:
    plain = read_written(plain_text(written.value, min(written.place, 0)))
    read_back(around.format(write(plain) + behind), plain)


@given(NUMBERS, st.sampled_from(["", " ", "\N{THIN SPACE}", "."]), BEHIND)
def test_the_decimal_comma_and_what_may_group_before_it(written: Written, mark: str, behind: str) -> None:
    plain = read_written(plain_text(written.value, min(written.place, -1)))
    read_back(grouped("#")(plain).replace(".", ",").replace("#", mark) + behind, plain, ",")


@given(st.integers(-999, 999), st.integers(1, 999), BEHIND)
def test_a_simple_fraction_is_exact(over: int, under: int, behind: str) -> None:
    reading = read_answer(f"{over}/{under}{behind}", read_unit("g"))
    assert (reading.status, reading.value_in_unit, reading.counts_figures) == ("number", Fraction(over, under), False)
