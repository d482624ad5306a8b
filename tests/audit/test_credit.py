"""Credit that falls with the distance from the key, and numbers written at random."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from types import SimpleNamespace
from typing import Any

import pytest

from problemgen.audit.credit import GUESSES, random_numbers, upside_down
from problemgen.audit.records import Credit
from problemgen.make.variants import variant_from
from problemgen.model.variant import Variant

TITRATION = "titrations/oxalic-acid"


@dataclass
class MadeUp:
    """A marking by the distance from the key, relatively, and the figures written; remembers what was handed in."""

    variant: Variant
    points: Callable[[Fraction, int], int]
    handed_in: list[Mapping[str, str]]

    def mark(self, _row: int, answers: Mapping[str, str]) -> Any:
        """The results, by part."""
        self.handed_in.append(answers)
        results = {}
        for part, truth in zip(self.variant.template.parts, self.variant.answers, strict=True):
            if answers[part.id]:
                number = answers[part.id].split(" ")[0]
                off = abs(Fraction(number) / truth.value - 1)
                figures = len(number.replace(".", "").lstrip("0"))
                results[part.id] = SimpleNamespace(points=self.points(off, figures), verdict="mistake")
        return results


@pytest.fixture
def variant(simulated: Any) -> Variant:
    group = simulated(TITRATION, 5)
    return variant_from(group.template, group.candidates, 0, "", "p1")


def near(off: Fraction, _figures: int) -> int:
    return 2 if off < Fraction(1, 1000) else 1 if off < Fraction(1, 20) else 0


def kind_to_few_figures(off: Fraction, figures: int) -> int:
    return 2 if off < Fraction(1, 10) and figures <= 2 else near(off, figures)


def test_credit_that_falls_with_the_distance(variant: Variant) -> None:
    marking: Any = MadeUp(variant, near, [])
    assert upside_down(marking, 0, variant) == Credit(compared=len(variant.template.parts))


def test_credit_that_is_upside_down(variant: Variant) -> None:
    found = upside_down(MadeUp(variant, kind_to_few_figures, []), 0, variant)  # type: ignore[arg-type]  # made up
    assert 0 < found.upside_down <= found.compared


def test_parts_before_are_right_and_parts_behind_blank(variant: Variant) -> None:
    marking: Any = MadeUp(variant, near, [])
    upside_down(marking, 0, variant)
    parts = [part.id for part in variant.template.parts]
    for answers in marking.handed_in:
        filled = [part for part in parts if answers[part]]
        assert filled == parts[: len(filled)]
        assert all(answers[part].startswith(truth.printed) for part, truth in _but_last(filled, variant))


def _but_last(filled: list[str], variant: Variant) -> list[tuple[str, Any]]:
    return list(zip(filled, variant.answers, strict=False))[:-1]


def test_random_numbers_lie_within_a_power_of_ten_and_are_wrong(variant: Variant) -> None:
    marking: Any = MadeUp(variant, near, [])
    found = random_numbers(marking, 0, variant, "beads")
    assert 0.8 * GUESSES * len(variant.answers) < found.guesses <= GUESSES * len(variant.answers)
    assert (found.guesses_named, found.guesses_paid) == (found.guesses, 0)
    again: Any = MadeUp(variant, near, [])
    random_numbers(again, 0, variant, "beads")
    assert again.handed_in == marking.handed_in
    other: Any = MadeUp(variant, near, [])
    random_numbers(other, 0, variant, "stones")
    assert other.handed_in != marking.handed_in


def test_credit_adds_up() -> None:
    assert Credit(1, 2, 3, 4, 5) + Credit(10, 20, 30, 40, 50) == Credit(11, 22, 33, 44, 55)
