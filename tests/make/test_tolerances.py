"""Windows that are accepted in the place of derived ones: the variants, and what an instructor is told."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from problemgen.make.tolerances import Tolerances
from problemgen.model.policy import Policy
from problemgen.model.variant import Variant
from tests.support.small_set import made, small_set

F = Fraction

WIDE, LOOSE = Policy(widen_percent=F(1)), Policy(replace_percent=F(25))
NARROW = Policy(replace_percent=F(1, 10**4))


@pytest.fixture(scope="module")
def ester(tmp_path_factory: pytest.TempPathFactory) -> Variant:
    return made(small_set(tmp_path_factory.mktemp("set")), "s1")[1]


def policies(**named: Policy) -> dict[str, Policy]:
    return {letter: named.get(letter, Policy()) for letter in "abcd"}


def test_only_the_parts_that_are_named_change(ester: Variant) -> None:
    changed = Tolerances().applied(ester, policies(b=WIDE))
    assert [one != other for one, other in zip(changed.answers, ester.answers, strict=True)] == [
        False,
        True,
        False,
        False,
    ]
    before, after = ester.answers[1], changed.answers[1]
    margin = before.value / 100
    assert (after.low, after.high) == (before.low - margin, before.high + margin)
    assert replace(after, low=before.low, high=before.high) == before


def test_derived_windows_leave_the_variant_as_it_is_and_tell_nothing(ester: Variant) -> None:
    tolerances = Tolerances()
    assert tolerances.applied(ester, policies()) is ester
    assert tolerances.applied(ester, {}) is ester
    assert list(tolerances.notes()) == []


def test_a_choice_has_no_window(tmp_path: Path) -> None:
    chromate = made(small_set(tmp_path), "s1")[0]
    every = dict.fromkeys("abcdefg", LOOSE)
    assert Tolerances().applied(chromate, every).answers[4] == chromate.answers[4]


def test_notes_count_the_variants_that_reward_a_mistake(ester: Variant) -> None:
    """4.05 g of 5.00 mL: with the density forgotten 5.00 g, a quarter more."""
    tolerances = Tolerances()
    for _ in range(3):
        tolerances.applied(ester, policies(a=LOOSE, b=WIDE, c=NARROW, d=WIDE))
    assert list(tolerances.notes()) == [
        "Part 2c: the window is replaced by ± 0.0001 %; no usual mistake earns its points in full.",
        "Parts 2b, 2d: the window is widened by 1 %; no usual mistake earns their points in full.",
        (
            "Part 2a (ester): the window is replaced by ± 25 %; in 3 of 3 variants a usual mistake earns this part's "
            "points in full."
        ),
        (
            "Part 2c (ester): the window is replaced by ± 0.0001 %; in 3 of 3 variants it leaves out answers of "
            "honest workers."
        ),
    ]
