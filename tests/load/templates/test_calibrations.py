"""Standard curves: what a template says of them, as draws and readings."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import numpy as np
import pytest

from problemgen.make.candidates import Stream, draw_candidates
from problemgen.model.quantity import Quantity, Role
from problemgen.model.template import Template
from problemgen.plan.laws.absorbance import intercept_of, slope_of

Load = Callable[[str], Template]
FaultsOf = Callable[[str], list[str]]

DYE = "potassium-permanganate"
CURVE = """
[given.potassium-permanganate]
calibration.standards = 4
calibration.spacing = { from = 0.0500, to = 0.0700, unit = "mmol/L", step = 0.0005 }
calibration.slope = { from = 2.05, to = 2.35, unit = "L/mmol", step = 0.01 }
calibration.intercept = { from = 0.050, to = 0.090, unit = "1", step = 0.001 }
calibration.spread = 0.004
absorbance = { from = 0.250, to = 0.480, unit = "1", step = 0.001 }
[[part]]
quantity = "concentration"
unit = "mmol/L"
"""


def standard(kind: str, number: int) -> Quantity:
    return Quantity(kind, DYE, Role.STANDARD, stage=number)


def test_the_first_standard_is_drawn_and_the_others_follow(template: Load) -> None:
    read = template(CURVE)
    assert standard("concentration", 1) in {draw.quantity for draw in read.draws}
    assert [one.quantity for one in read.hidden] == [slope_of(DYE), intercept_of(DYE)]
    held = [one.quantity for one in read.readings if one.quantity.kind == "concentration"]
    absorbed = [one for one in read.readings if one.quantity.kind == "absorbance"]
    assert held == [standard("concentration", number) for number in (2, 3, 4)]
    assert [one.quantity for one in absorbed] == [standard("absorbance", number) for number in (1, 2, 3, 4)]
    assert {(one.least, one.most) for one in absorbed} == {(-4, 4)}
    assert not read.scene.given & {slope_of(DYE), intercept_of(DYE)}


def test_candidates_lie_about_a_line(template: Load) -> None:
    read = template(CURVE)
    candidates = draw_candidates(read, Stream(b"a secret", "set", "p1"), ["s1"], 0, 300)
    steps = candidates.steps
    first = candidates.windows[standard("concentration", 1).id].value * 1e6  # mol/L in units of 1e-6
    for number in (2, 3, 4):
        held = candidates.windows[standard("concentration", number).id].value * 1e6
        assert held == pytest.approx(number * first, rel=1e-12)
    absorbed = np.stack([steps[standard("absorbance", number).id] for number in (1, 2, 3, 4)])
    bend = absorbed[0] - 2 * absorbed[1] + absorbed[2]
    assert np.abs(bend).max() <= 4 * 4 + 2  # each reading is off by four steps at most, and rounded
    assert len(np.unique(bend)) > 10
    rise = (absorbed[3] - absorbed[0]) / 3000
    slopes = rise / (first / 1000)
    assert 1.9 < slopes.min() < 2.1
    assert 2.3 < slopes.max() < 2.5


def test_a_reading_is_told_to_its_step(template: Load) -> None:
    read = template(CURVE)
    candidates = draw_candidates(read, Stream(b"a secret", "set", "p1"), ["s1"], 0, 4)
    held = candidates.datum(read, standard("concentration", 3).id, 2)
    absorbed = candidates.datum(read, standard("absorbance", 3).id, 2)
    assert (held.unit, held.written.place) == ("mmol/L", -4)
    assert (absorbed.unit, absorbed.written.place) == ("1", -3)
    assert (held.written.value / Fraction("0.0005")).denominator == 1


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        (
            "spread = 0.004",
            "spread = 0.0045",
            "calibration.spread: found 0.0045; expected a whole number of steps of 0.001",
        ),
        (
            '{ from = 2.05, to = 2.35, unit = "L/mmol", step = 0.01 }',
            '{ value = 2.05, unit = "L/mmol" }',
            "calibration.slope: found no range; expected `from`, `to` and `step`: everybody has another curve",
        ),
        (
            'from = 0.050, to = 0.090, unit = "1"',
            'from = 0.050, to = 0.090, unit = "L"',
            "calibration.intercept.unit: found 'L'; expected a unit of intercept of the standard curve, such as 1",
        ),
        ("standards = 4", "standards = 2", "calibration.standards: found 2; expected greater than or equal to 3"),
    ],
)
def test_what_is_no_curve_is_refused(faults_of: FaultsOf, old: str, new: str, expected: str) -> None:
    assert f"t.toml: given.{DYE}.{expected}" in faults_of(CURVE.replace(old, new))
