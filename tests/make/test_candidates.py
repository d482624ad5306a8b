from __future__ import annotations

from fractions import Fraction
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from problemgen.chemistry.units import read_unit
from problemgen.load.banks.banks import load_banks
from problemgen.make.candidates import Stream, draw_candidates
from problemgen.make.draws import draw_numbers, indices
from problemgen.model.template import Draw, Template
from tests.support.every_row import for_every
from tests.support.shipped import NAMES, shipped

TEMPLATES = Path(__file__).parents[2] / "templates"
STREAM = Stream(b"a published secret", "first-week", "1")
STUDENTS = ("s1", "s2", "s3")

WEIGH = """
[given.sodium-chloride]
mass = { from = 2.00, to = 8.00, unit = "g", read = "balance-0.01" }
[[part]]
quantity = "amount"
of = "sodium-chloride"
unit = "mmol"
"""

VOLUME = """
[given.acetic-anhydride]
volume = { from = 3.00, to = 9.00, unit = "mL", read = "pipette-graduated-10" }
[[part]]
quantity = "amount"
of = "acetic-anhydride"
unit = "mmol"
"""


def draws_of(template: Template) -> list[Draw]:
    return list(template.draws)


@for_every(NAMES)
def test_a_drawn_value_stands_on_its_scale_with_the_scale_s_digits(name: str) -> None:
    template = shipped(name)
    candidates = draw_candidates(template, STREAM, STUDENTS, 0, 20)
    for row in range(60):
        for draw in draws_of(template):
            datum = candidates.datum(template, draw.quantity.id, row)
            assert datum.unit == draw.unit
            if draw.choices:
                assert datum.written in draw.choices
            else:
                steps = datum.written.value / draw.step.value
                assert steps.denominator == 1
                assert draw.first <= steps < draw.first + draw.count
                assert datum.written.place == draw.step.place


@for_every(NAMES)
def test_the_window_of_a_candidate_is_that_of_what_is_printed(name: str) -> None:
    template = shipped(name)
    candidates = draw_candidates(template, STREAM, STUDENTS, 0, 5)
    for quantity, window in candidates.windows.items():
        for row in range(15):
            datum = candidates.datum(template, quantity, row)
            exact = read_unit(datum.unit).to_engine(datum.written.value)
            assert window.value[row] == pytest.approx(float(exact), rel=1e-14)


@for_every(NAMES)
def test_every_candidate_has_a_value_for_all_that_is_given(name: str) -> None:
    template = shipped(name)
    candidates = draw_candidates(template, STREAM, STUDENTS, 0, 4)
    assert {quantity.id for quantity in template.scene.given} == set(candidates.windows)
    assert all(window.value.shape == (12,) for window in candidates.windows.values())


def test_both_ends_of_a_range_are_drawn(bench: Any) -> None:
    narrow = WEIGH.replace("from = 2.00, to = 8.00", "from = 2.00, to = 2.03")
    template = bench.template(narrow)
    candidates = draw_candidates(template, STREAM, ["s1"], 0, 200)
    texts = {candidates.datum(template, "mass(sodium-chloride)", row).written.text for row in range(200)}
    assert texts == {"2.00", "2.01", "2.02", "2.03"}


def test_a_value_from_a_list_keeps_the_digits_of_the_list(bench: Any) -> None:
    listed = WEIGH.replace(
        'from = 2.00, to = 8.00, unit = "g", read = "balance-0.01"', 'choose = [2.5, 2.50, 2.500], unit = "g"'
    )
    template = bench.template(listed)
    candidates = draw_candidates(template, STREAM, ["s1"], 0, 60)
    texts = {candidates.datum(template, "mass(sodium-chloride)", row).written.text for row in range(60)}
    assert texts == {"2.5", "2.50", "2.500"}
    figures = {int(n) for n in candidates.windows["mass(sodium-chloride)"].figures}
    assert figures == {2, 3, 4}


def test_a_draw_is_named_by_what_it_is_for(bench: Any) -> None:
    template = bench.template(WEIGH)
    candidates = draw_candidates(template, STREAM, STUDENTS, 3, 4)
    (draw,) = template.draws
    expected = []
    for student in STUDENTS:
        names = ["graded", "first-week", "1", student, "mass(sodium-chloride)", "3"]
        drawn = indices(draw_numbers(b"a published secret", names, 4), draw.count) + draw.first
        expected.extend(drawn.tolist())
    assert candidates.steps["mass(sodium-chloride)"].tolist() == expected


@pytest.mark.parametrize(
    "other",
    [
        Stream(b"another secret", "first-week", "1"),
        Stream(b"a published secret", "second-week", "1"),
        Stream(b"a published secret", "first-week", "2"),
        Stream(b"a published secret", "first-week", "1", "practice"),
    ],
)
def test_another_stream_draws_otherwise(bench: Any, other: Stream) -> None:
    template = bench.template(WEIGH)
    ours, theirs = (draw_candidates(template, stream, STUDENTS, 0, 8) for stream in (STREAM, other))
    assert ours.steps["mass(sodium-chloride)"].tolist() != theirs.steps["mass(sodium-chloride)"].tolist()


def test_adding_a_draw_leaves_the_others_as_they_were(bench: Any) -> None:
    before = draw_candidates(bench.template(WEIGH), STREAM, STUDENTS, 0, 50)
    after = draw_candidates(bench.template(VOLUME + WEIGH), STREAM, STUDENTS, 0, 50)
    assert set(after.steps) - set(before.steps) == {"volume(acetic-anhydride)"}
    for name, steps in before.steps.items():
        assert after.steps[name].tolist() == steps.tolist()


def test_a_student_s_candidates_do_not_depend_on_the_class(bench: Any) -> None:
    template = bench.shipped("yield/zinc-iodide")
    together = draw_candidates(template, STREAM, STUDENTS, 0, 10)
    alone = draw_candidates(template, STREAM, ["s2"], 0, 10)
    for name, steps in alone.steps.items():
        assert together.steps[name][10:20].tolist() == steps.tolist()


def test_a_block_can_be_drawn_in_pieces(bench: Any) -> None:
    template = bench.shipped("yield/zinc-iodide")
    whole = draw_candidates(template, STREAM, ["s1"], 1, 12)
    first = draw_candidates(template, STREAM, ["s1"], 1, 5)
    rest = draw_candidates(template, STREAM, ["s1"], 1, 7, 5)
    for name, steps in whole.steps.items():
        assert [*first.steps[name].tolist(), *rest.steps[name].tolist()] == steps.tolist()


def test_a_mass_obtained_is_the_drawn_yield_of_what_was_possible(bench: Any) -> None:
    template = bench.shipped("yield/zinc-iodide")
    (obtained,) = template.obtained
    candidates = draw_candidates(template, STREAM, STUDENTS, 0, 300)
    value = {name: window.value for name, window in candidates.windows.items()}
    zinc, iodine = value["mass(zinc)"] / 65.38, value["mass(iodine)"] / 253.80
    share = 100 * value["mass(zinc-iodide,actual)"] / (np.minimum(zinc, iodine) * 319.18)
    rounding = 0.1  # half a step of the balance, and the molar masses written here
    assert share.min() >= float(obtained.low.value) - rounding
    assert share.max() <= float(obtained.high.value) + rounding
    assert share.min() < float(obtained.low.value) + 2
    assert share.max() > float(obtained.high.value) - 2


def test_a_fixed_value_is_the_same_for_everybody(bench: Any) -> None:
    template = bench.shipped("amounts/four-ways")
    candidates = draw_candidates(template, STREAM, STUDENTS, 0, 3)
    texts = {candidates.datum(template, "mass_fraction(hydrogen-chloride)", row).written.text for row in range(9)}
    assert texts == {"37.0"}
    assert set(candidates.windows["mass_fraction(hydrogen-chloride)"].value.tolist()) == {0.37}
    assert Fraction("0.37") == Fraction(37, 100)


def test_a_value_that_follows_another_stands_at_the_same_place(bench: Any) -> None:
    template = bench.shipped("gases/magnesium-over-water")
    candidates = draw_candidates(template, Stream(b"secret", "set", "p1"), ["s001"], 0, 200)
    (vapour,) = [draw for draw in template.draws if draw.follows is not None]
    table = load_banks(TEMPLATES.parent / "banks").water_vapour
    seen = set()
    for row in range(200):
        celsius = candidates.datum(template, "temperature(hydrogen)", row).written
        told = candidates.datum(template, vapour.quantity.id, row).written
        assert told == table[int(celsius.value)]
        assert candidates.windows[vapour.quantity.id].value[row] == float(told.value)
        seen.add(celsius.text)
    assert len(seen) == 11
