"""Places of answers over the window: evenly inside, by their factor outside, alike for all; piles."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, cast

import pytest
from hypothesis import given
from hypothesis import strategies as st

from problemgen.grade.classes.strips import REACH, Strip, strips
from problemgen.model.answers import PartKey, ProblemKey, StudentKey
from problemgen.model.problem import Asked
from problemgen.model.quantity import Quantity
from problemgen.model.truths import ChoiceTruth, NumberTruth, Truth
from problemgen.model.verdict import PartResult, StudentResult


@dataclass(frozen=True)
class Template:
    """What strips look at of a template."""

    title: str
    parts: Sequence[PartKey]


@dataclass(frozen=True)
class Head:
    """What strips look at of a head."""

    templates: dict[str, Template]
    columns: Sequence[str]


PART = PartKey("01", "a", Asked(Quantity("mass", "x"), "g"), Fraction(1), (), 1)
HEAD = cast("Any", Head({"t": Template("T", [PART]), "u": Template("U", [PART])}, ["1a"]))


def number(value: object, width: float = 0.01) -> NumberTruth:
    exact = Fraction(str(value))
    spread = abs(exact) * Fraction(str(width))
    return NumberTruth(exact, exact - spread, exact + spread, 3, str(value))


def answer(
    who: int, truth: Truth, value: object, verdict: str = "wrong", template: str = "t", title: str = ""
) -> tuple[StudentKey, StudentResult]:
    name = f"s{who:03}"
    read = None if value is None else Fraction(str(value))
    one = Fraction(1)
    titles = (title,) if title else ()
    part = PartResult("p1", "01", "1a", verdict, "r", "", (), one, one, "w", "w", titles=titles, value=read)
    key = StudentKey(name, name, "", "", (ProblemKey("p1", template, {}, {"01": truth}),))
    return key, StudentResult(name, name, "", "", (part,))


def only(*answers: tuple[StudentKey, StudentResult]) -> Strip:
    (strip,) = strips(HEAD, answers)
    return strip


@pytest.mark.parametrize(
    ("value", "place"),
    [("50", 0), ("50.5", 1), ("49.5", -1), ("50.25", 0.5), ("0", -REACH), ("-50", -REACH), ("50000", REACH), ("9e9", 4),
     ("0.05", -REACH)],
)  # fmt: skip
def test_places(value: str, place: float) -> None:
    strip = only(answer(1, number(50), value), answer(2, number(50), "50", "right"))
    assert strip.points[0].place == pytest.approx(place)


@given(st.lists(st.floats(0.0001, 10_000), min_size=2, max_size=30), st.floats(0.0005, 0.2))
def test_places_rise_with_the_answer_and_tell_the_inside_from_the_outside(factors: list[float], width: float) -> None:
    values = sorted(Fraction(factor) * 7 for factor in factors)
    truth = number(7, round(width, 6))
    points = only(*(answer(place, truth, value) for place, value in enumerate(values))).points
    places = [point.place for point in points if point.place is not None]
    assert places == sorted(places)
    for value, place in zip(values, places, strict=True):
        assert (abs(place) <= 1) == (truth.low <= value <= truth.high)
        assert abs(place) <= REACH


@given(st.floats(1.3, 900), st.lists(st.sampled_from([0.001, 0.004, 0.02, 0.1]), min_size=2, max_size=6))
def test_one_factor_is_one_place_whatever_the_keys_and_windows(factor: float, widths: list[float]) -> None:
    keys = [number(13 * (place + 1), width) for place, width in enumerate(widths)]
    answers = (answer(place, key, key.value * Fraction(factor)) for place, key in enumerate(keys))
    places = [point.place for point in only(*answers).points]
    assert max(filter(None, places)) - min(filter(None, places)) < 1e-9


def test_a_key_that_is_wrong_is_seen_and_told() -> None:
    piled = [answer(place, number(20 + place), Fraction(20 + place) * Fraction("1.02")) for place in range(34)]
    honest = [answer(100 + place, number(20 + place), 20 + place, "right") for place in range(66)]
    (mass,) = only(*piled, *honest).masses
    assert (mass.count, round(mass.ratio, 6), mass.verdict, mass.is_suspicious) == (34, 1.02, "wrong", True)


def test_few_at_one_place_are_no_pile_and_a_named_mistake_has_its_name() -> None:
    honest = [answer(100 + place, number(20), 20, "right") for place in range(60)]
    assert only(*honest, *(answer(place, number(20), 41) for place in range(2))).masses == ()
    doubled = [answer(place, number(20), 40, "mistake", title="doubled") for place in range(4)]
    (mass,) = only(*honest, *doubled).masses
    assert (mass.count, mass.ratio, mass.title, mass.is_suspicious) == (4, 2.0, "doubled", False)


def test_what_is_no_number_has_no_place_and_what_is_blank_is_counted() -> None:
    strip = only(answer(1, number(5), None, "unread"), answer(2, number(5), None, "blank"),
                 answer(3, number(5), 5, "right"))  # fmt: skip
    assert [point.place for point in strip.points] == [None, 0.0]
    assert strip.blank == 1
    assert list(strip.verdicts.items()) == [("right", 1), ("unread", 1)]


def test_a_part_without_numbers_has_no_axis() -> None:
    strip = only(answer(1, ChoiceTruth("x"), None, "right"), answer(2, ChoiceTruth("y"), None, "wrong"))
    assert (strip.ticks, strip.masses, len(strip.points)) == ((), (), 2)


def test_templates_of_one_problem_have_strips_of_their_own() -> None:
    found = strips(HEAD, [answer(1, number(5), 5, template="u"), answer(2, number(5), 5), answer(3, number(6), 6)])
    assert [(one.name, one.label, one.title, len(one.points)) for one in found] == [
        ("1a-1", "1a", "T", 2), ("1a-2", "1a", "U", 1),
    ]  # fmt: skip


@pytest.mark.parametrize(("value", "width"), [("5", 0), ("0", 0), ("-20", 0.01), ("0.0000001", 0.3)])
def test_keys_of_all_kinds_are_drawn(value: str, width: float) -> None:
    truth = number(value, width)
    strip = only(*(answer(place, truth, given) for place, given in enumerate((value, "5", "-3", "0", "1e-9", "1e12"))))
    places = [point.place for point in strip.points]
    assert places[0] == 0
    assert all(place is not None and abs(place) <= REACH and math.isfinite(place) for place in places)


def test_ticks_stand_outside_of_the_window_in_order() -> None:
    places = [tick.place for tick in sorted(only(answer(1, number(5), 5)).ticks, key=lambda one: one.factor)]
    assert places == sorted(places)
    assert all(1 < abs(place) <= REACH for place in places)
