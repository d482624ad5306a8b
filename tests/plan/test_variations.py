"""Many ways of working at once give what each gives alone."""

from __future__ import annotations

import math
from fractions import Fraction
from itertools import combinations

import numpy as np
import pytest

from problemgen.chemistry.units import read_unit
from problemgen.exact.rounding import round_to_figures, round_to_place
from problemgen.model.plan import rewrites_of
from problemgen.plan.arithmetic import Exact
from problemgen.plan.variations import Rounding, as_float, changes_of, rounded, varied_values
from tests.support.shipped import NAMES, set_of, shipped, variant_of
from tests.support.worked_values import exact_values, mistaken_values, run_steps

SOME = [name for name in NAMES if shipped(name).plan.mistakes][::12]


def _right(name: str) -> dict[str, Fraction]:
    given = {key: read_unit(d.unit).to_engine(d.written.value) for key, d in variant_of(name).given.items()}
    return exact_values(set_of(name).problems[0].templates[0].plan, given)


@pytest.mark.parametrize("name", SOME)
def test_a_row_is_what_its_mistakes_lead_to(name: str) -> None:
    plan, right = shipped(name).plan, _right(name)
    ways = [(m,) for m in plan.mistakes] + list(combinations(plan.mistakes, 2))[:40]
    floats = {key: float(value) for key, value in right.items()}
    values = varied_values(plan.steps, changes_of([rewrites_of(way) for way in ways]), floats, len(ways))
    worked = 0
    for row, way in enumerate(ways):
        try:
            expected = mistaken_values(plan, way, right, Exact())
        except ZeroDivisionError:
            continue
        for key, one in values.items():
            assert float(one[row]) == pytest.approx(float(expected[key]), rel=1e-9, abs=1e-15)
            worked += 1
    assert worked > len(ways)


def test_a_row_is_what_its_roundings_lead_to() -> None:
    name = "preparations/triphenylmethanol"
    plan, right = shipped(name).plan, _right(name)
    steps = [step for step in plan.steps if step.rounding == "figures"]
    ways = [{step.quantity.id: Rounding(2)} for step in steps]
    floats = {key: float(value) for key, value in right.items()}
    values = varied_values(plan.steps, changes_of(ways), floats, len(ways))
    for row, step in enumerate(steps):
        own = step.quantity.id
        put = {key: value for key, value in right.items() if key not in {s.quantity.id for s in plan.steps}}
        known = run_steps(plan.steps, {**put, own: round_to_figures(right[own], 2)}, Exact())
        for key, one in values.items():
            assert float(one[row]) == pytest.approx(float(known[key]), rel=1e-9)


@pytest.mark.parametrize("text", ["1.2345", "0.04594", "99.6", "663.46", "7.0", "0.000351"])
def test_rounding_of_floats_is_that_of_fractions(text: str) -> None:
    value = Fraction(text)
    for figures in (1, 2, 3):
        assert rounded(np.array([float(value)]), Rounding(figures))[0] == pytest.approx(
            float(round_to_figures(value, figures))
        )
    for place in (-3, -1, 0):
        assert rounded(np.array([float(value)]), Rounding(place=place))[0] == pytest.approx(
            float(round_to_place(value, place))
        )


@pytest.mark.parametrize(
    ("value", "expected"),
    [("1.5", 1.5), ("0", 0.0), ("1e400", math.inf), ("-1e400", -math.inf), ("1.798e308", math.inf), ("1e-400", 0.0)],
)
def test_what_is_beyond_floats_is_infinite(value: str, expected: float) -> None:
    assert as_float(Fraction(value)) == expected
