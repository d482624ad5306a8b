"""What usual errors answer, for marking by hand: worked by hand beside, in the order in which they are likely met."""

from __future__ import annotations

from fractions import Fraction

import pytest

from problemgen.model.template import Part, Template
from problemgen.model.truths import NumberTruth
from problemgen.model.variant import Variant
from problemgen.plan.common_errors import common_errors
from tests.support.every_row import for_every
from tests.support.shipped import NAMES, shipped, variant_of

SILVER = "limiting-reagent/silver-chromate"


def part_of(template: Template, letter: str) -> Part:
    return template.parts["abcdefgh".index(letter)]


def told(variant: Variant, letter: str) -> list[tuple[str, Fraction]]:
    part = part_of(variant.template, letter)
    return [(one.title, one.value) for one in common_errors(variant.template.plan, part.asked, variant.values)]


def test_the_amount_of_a_solution_upside_down_and_in_millilitres() -> None:
    """V/c and c times the millilitres, of n = cV."""
    variant = variant_of(SILVER)
    volume = variant.given["volume(silver-nitrate,solution)"].written.value
    concentration = variant.given["concentration(silver-nitrate)"].written.value
    errors = dict(told(variant, "a"))
    assert float(errors["concentration used upside down"]) == pytest.approx(float(volume / concentration))
    assert float(errors["millilitres taken as litres"]) == pytest.approx(float(1000 * volume * concentration))


def test_errors_at_a_parts_own_steps_come_before_those_of_the_parts_before() -> None:
    errors = [title for title, _ in told(variant_of(SILVER), "c")]
    own, before = errors.index("coefficients left out"), errors.index("concentration used upside down")
    assert own < before


@for_every(NAMES)
def test_every_error_changes_something_that_the_part_rests_on(name: str) -> None:
    template, variant = shipped(name), variant_of(name)
    for part in template.parts:
        if part.asked.form != "number":
            continue
        errors = common_errors(template.plan, part.asked, variant.values)
        titles = {mistake.title for mistake in template.plan.mistakes}
        assert {error.title for error in errors} <= titles
        right = next(t for one, t in zip(template.parts, variant.answers, strict=True) if one is part)
        assert isinstance(right, NumberTruth)
        times = [abs(error.value / right.value) for error in errors]
        far = [place for place, one in enumerate(times) if not Fraction(1, 101) < one < 101]
        near = [place for place, one in enumerate(times) if Fraction(1, 99) < one < 99]
        assert max(near, default=0) <= min(far, default=len(times))
