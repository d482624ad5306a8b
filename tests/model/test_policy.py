"""Policies: windows that are widened or replaced, shares of mistakes, names of files."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from problemgen.model.policy import Attempts, Policy, Tolerance

F = Fraction

NUMBERS = st.fractions(min_value=F(-1000), max_value=F(1000))
MARGINS = st.fractions(min_value=F(0), max_value=F(10))
SHARES = st.fractions(min_value=F(0), max_value=F(1))


@given(NUMBERS, MARGINS, MARGINS, SHARES, SHARES)
def test_a_widened_window_holds_the_derived_one_and_grows_with_the_share(
    value: F, below: F, above: F, one: F, other: F
) -> None:
    low, high = value - below, value + above
    less, more = sorted((one, other))
    inner, outer = (Tolerance("widened", share).bounds(value, low, high) for share in (less, more))
    assert outer[0] <= inner[0] <= low <= value <= high <= inner[1] <= outer[1]
    assert (high - low) + 2 * less * abs(value) == inner[1] - inner[0]
    assert Tolerance().bounds(value, low, high) == (low, high)


@given(NUMBERS, MARGINS, MARGINS, SHARES)
def test_a_replaced_window_holds_the_value_whatever_was_derived(value: F, below: F, above: F, share: F) -> None:
    low, high = Tolerance("replaced", share).bounds(value, value - below, value + above)
    assert low <= value <= high
    assert high - value == value - low == share * abs(value)


@pytest.mark.parametrize(
    ("tolerance", "words"),
    [
        (Tolerance(), ""),
        (Tolerance("widened", F(1, 100)), "widened by 1 %"),
        (Tolerance("widened", F(1, 800)), "widened by 0.125 %"),
        (Tolerance("replaced", F(1, 20)), "replaced by ± 5 %"),
        (Tolerance("replaced", F(1)), "replaced by ± 100 %"),
    ],
)
def test_a_window_is_told(tolerance: Tolerance, words: str) -> None:
    assert tolerance.words == words


@pytest.mark.parametrize(
    ("explanations", "share"),
    [
        ([], F(0)),
        ([["other"]], F(1, 5)),
        ([["half:x"]], F(1, 2)),
        ([["third:here"]], F(1, 3)),
        ([["third:there"]], F(1)),
        ([["half:x", "third:here"]], F(1, 3)),  # made together
        ([["half:x"], ["third:here"]], F(1, 2)),  # not to be told apart
        ([["none"], ["none", "half"]], F(0)),
    ],
)
def test_the_share_of_mistakes(explanations: list[list[str]], share: F) -> None:
    named = {"half": F(1, 2), "none": F(0), "third": F(1), "third:here": F(1, 3)}
    assert Policy(named_mistake=F(1, 5), named_mistakes=named).share_of_mistakes(explanations) == share


def test_attempts_are_told_only_where_there_are_several() -> None:
    assert (Attempts().several, Attempts().told(1)) == (False, "")
    assert (Attempts(3).several, Attempts(3).told(2)) == (True, "attempt 2 of 3")


def test_a_missing_unit_and_bad_figures_cost_together_what_a_slip_of_the_unit_does() -> None:
    policy = Policy()
    assert 0 < policy.deduction < 1 - policy.unit_slip == 2 * policy.deduction
