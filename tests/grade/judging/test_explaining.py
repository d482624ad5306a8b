"""Explanations come from the marking itself: the same results, and what it tried on the way to them."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from problemgen.grade.judging.judge import explain_student, judge_student
from problemgen.model.explanation import Explanation
from tests.support.judged import RIGHT, Keys

CELLS = st.fixed_dictionaries(
    {},
    optional=dict.fromkeys(
        RIGHT, st.sampled_from([*RIGHT.values(), "", "5", "0", "6.51", "103.7", "0.0474", "2500", "K2CrO4", "6,136"])
    ),
)


@given(CELLS)
def test_an_explanation_has_the_results_of_the_marking(keys: Keys, cells: dict[str, str]) -> None:
    head, key = keys("")
    explained = tuple(one.result for one in explain_student(head, key, cells))
    assert explained == judge_student(head, key, cells).parts


def explained(keys: Keys, label: str, cells: dict[str, str]) -> Explanation:
    return next(one for one in explain_student(*keys(""), cells) if one.result.label == label)


def test_the_way_tells_each_window_and_why(keys: Keys) -> None:
    one = explained(keys, "2b", {"2b": "0.0459 mol"})
    way = {value.quantity.id: value for value in one.way}
    assert (way["volume(isopentyl-alcohol)"].source, way["volume(isopentyl-alcohol)"].why) == (
        "given",
        "as given, 3 significant figures",
    )
    assert way["atomic_weight(C)"].why == "tables in use, two decimals or more"
    assert way["molar_mass(isopentyl-alcohol)"].why == "two decimals, or 3 figures, or more"
    assert way["amount(isopentyl-alcohol)"].why == "3 figures or more"
    bounds = way["amount(isopentyl-alcohol)"].bounds
    assert bounds.low < bounds.value < bounds.high
    assert (one.value, one.figures, one.carried) == (Fraction("0.0459"), 3, ())
    assert [(trial.kind, trial.fits) for trial in one.trials] == [("window", True)]


def test_the_students_own_values_are_told_apart(keys: Keys) -> None:
    one = explained(keys, "2c", {"2b": "0.0520 mol", "2c": "6.77 g"})
    assert one.result.verdict == "follows"
    assert [value.quantity.id for value in one.carried if value.source == "answered"] == ["amount(isopentyl-alcohol)"]
    assert [trial.fits for trial in one.trials if trial.kind == "follow-through"] == [True]


@pytest.mark.parametrize(
    ("cells", "label", "kind", "fitting", "why"),
    [
        ({"2b": "45.9 mol"}, "2b", "slip", ["a unit, a power of ten, or the sign"],
         "mmol in a blank for mol"),
        ({"2a": "5.00"}, "2a", "mistake", ["density left out [density-forgotten:mass(isopentyl-alcohol)]"],
         "leads to this answer, from what was answered before"),
        ({"2c": "5.85"}, "2c", "rounding", ["results rounded to 2 figures"], "may lead to this answer"),
        ({"2b": "0.05"}, "2b", "rounding", ["the answer itself"], "the right value rounds to it"),
    ],
)  # fmt: skip
def test_what_fits_is_among_what_was_tried(
    keys: Keys, cells: dict[str, str], label: str, kind: str, fitting: list[str], why: str
) -> None:
    trials = [trial for trial in explained(keys, label, cells).trials if trial.kind == kind and trial.fits]
    assert [trial.what for trial in trials] == fitting
    assert {trial.why for trial in trials} == {why}


@pytest.mark.parametrize(
    ("cells", "label", "mistake", "why"),
    [
        ({"2c": "7.77"}, "2c", "density-divided", "leads elsewhere"),
        ({"2a": "4.05", "2b": "0.0700"}, "2b", "molar-mass-inverted", "leads elsewhere"),
    ],
)  # fmt: skip
def test_what_was_ruled_out_has_a_reason(keys: Keys, cells: dict[str, str], label: str, mistake: str, why: str) -> None:
    one = explained(keys, label, cells)
    trials = [trial for trial in one.trials if trial.kind == "mistake" and f"[{mistake}" in trial.what]
    assert [trial.fits for trial in trials if trial.why == why][:1] == [False]


def test_a_wrong_number_once_more_is_told(keys: Keys) -> None:
    one = explained(keys, "2c", {"2a": "5.50 g", "2c": "5.50 g"})
    (trial,) = (trial for trial in one.trials if trial.kind == "follow-through")
    assert (trial.fits, trial.why) == (False, "is the wrong answer to 2a once more, and this part has another")


def test_pairs_are_told_of(keys: Keys) -> None:
    found = [t for t in explained(keys, "2b", {"2b": "0.0474"}).trials if t.kind == "two mistakes"]
    assert [trial.fits for trial in found] == [True]
    assert " together with " in found[0].what
    none = [t for t in explained(keys, "2b", {"2b": "0.0333"}).trials if t.kind == "two mistakes"]
    assert [(trial.fits, trial.why) for trial in none] == [(False, "none is so near that it is not by chance")]
