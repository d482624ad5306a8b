"""What floats exclude at first is excluded by the exact numbers too."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from problemgen.chemistry.units import read_unit
from problemgen.grade.judging.closeness import farthest, surely_farther
from problemgen.grade.judging.findings import AnsweredNumber
from problemgen.model.problem import Asked
from problemgen.model.quantity import quantity_named
from problemgen.plan.arithmetic import EXACT_FIGURES, Window

VALUES = st.fractions(min_value=-(10**6), max_value=10**6, max_denominator=10**6)
TIMES = st.sampled_from(
    [Fraction(97, 100), Fraction(103, 100), Fraction(1), Fraction(0), Fraction(-1), Fraction(10**400)]
)
ALMOST = st.sampled_from([Fraction(0), Fraction(1, 10**12), Fraction(-1, 10**12), Fraction(1, 10**3)])


@given(VALUES, TIMES, ALMOST, st.sampled_from(["g", "mg", "kg"]))
def test_an_answer_that_floats_find_too_far_off_is(value: Fraction, times: Fraction, more: Fraction, unit: str) -> None:
    asked = Asked(quantity_named("mass(NaCl)"), unit)
    answer = AnsweredNumber(asked, value * (times + more), EXACT_FIGURES, 3)
    known = read_unit(unit).to_engine(value)
    if surely_farther(answer, Window(known, known, known)):
        assert abs(answer.value - value) > farthest(value)


def test_floats_find_most_wrong_answers() -> None:
    asked, known = Asked(quantity_named("mass(NaCl)"), "g"), Window(Fraction(2), Fraction(2), Fraction(2))
    told = [surely_farther(AnsweredNumber(asked, Fraction(text), 3, 3), known) for text in ("2.05", "2.07", "4", "-2")]
    assert told == [False, True, True, True]


def test_floats_tell_nothing_where_zero_lies_elsewhere() -> None:
    asked, known = Asked(quantity_named("temperature(gas)"), "°C"), Window(Fraction(2), Fraction(2), Fraction(2))
    assert not surely_farther(AnsweredNumber(asked, Fraction(500), 3, 3), known)
