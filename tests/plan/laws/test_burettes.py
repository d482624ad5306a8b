"""Burette readings, worked by hand with invented volumes."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from problemgen.plan.laws.burettes import LAWS
from tests.support.law_table import LawTable

F = Fraction

NEUTRALISED = "HCl + NaOH -> NaCl + H2O"


def readings(*runs: int, rough: bool = False) -> list[str]:
    """The ids of both readings of some runs."""
    stages = [f"{end}_{('one', 'two', 'three', 'four')[run - 1]}" for run in runs for end in ("start", "end")]
    return [f"volume(HCl,{stage})" for stage in (*stages, *(("rough_start", "rough_end") if rough else ()))]


ONE: dict[str, Any] = {"equation": NEUTRALISED, "given": readings(1)}
THREE: dict[str, Any] = {"equation": NEUTRALISED, "given": readings(1, 2, 3, rough=True)}

# law, scene, letter, values, expected in the unit, unit, what each error gives
CASES: list[tuple[str, dict[str, Any], str, dict[str, str], Fraction, str, dict[str, Fraction]]] = [
    (
        "titre",
        ONE,
        "titre",
        {"end": "22.40 mL", "start": "0.35 mL"},
        F("22.05"),
        "mL",
        {"readings-added": F("22.75"), "end-for-titre": F("22.4")},
    ),
    ("titre", ONE, "end", {"titre": "22.05 mL", "start": "0.35 mL"}, F("22.4"), "mL", {}),
    (
        "mean-titre",
        THREE,
        "mean",
        {
            "volume(HCl,run_one)": "22.05 mL",
            "volume(HCl,run_two)": "22.10 mL",
            "volume(HCl,run_three)": "22.15 mL",
            "volume(HCl,rough_start)": "1.00 mL",
            "volume(HCl,rough_end)": "24.10 mL",
            **dict.fromkeys(readings(1)[:1], "0.35 mL"),
            **dict.fromkeys(readings(1)[1:], "22.40 mL"),
            **dict.fromkeys(readings(2)[:1], "0.40 mL"),
            **dict.fromkeys(readings(2)[1:], "22.50 mL"),
            **dict.fromkeys(readings(3)[:1], "0.85 mL"),
            **dict.fromkeys(readings(3)[1:], "23.00 mL"),
        },
        F("22.1"),
        "mL",
        {
            "rough-averaged-in": F("22.35"),
            "rough-titre-alone": F("23.1"),
            "all-readings-averaged": F("69.5") / 6,
            "titres-added-up": F("66.3"),
            "first-titre-alone": F("22.05"),
            "second-titre-alone": F("22.1"),
            "third-titre-alone": F("22.15"),
        },
    ),
]


class TestTable(LawTable):
    laws = LAWS
    cases = CASES


GIVEN = {
    "volume(HCl,rough_start)": "0.50 mL",
    "volume(HCl,rough_end)": "21.30 mL",
    "volume(HCl,start_one)": "0.30 mL",
    "volume(HCl,end_one)": "20.30 mL",
    "volume(HCl,start_two)": "1.20 mL",
    "volume(HCl,end_two)": "21.30 mL",
    "concentration(HCl)": "0.1000 mol/L",
}


def test_any_titration_goes_on_from_the_mean(problems: Any) -> None:
    plan = problems.plan(GIVEN, {"volume(HCl,solution)": "mL", "amount(NaOH)": "mmol"}, NEUTRALISED)
    found = problems.answers(plan, GIVEN)
    assert found == {"volume(HCl,solution)": F("20.05"), "amount(NaOH)": F("2.005")}


def test_beside_a_blank_the_mean_is_that_of_the_sample(problems: Any) -> None:
    told = {**GIVEN, "volume(HCl,blank)": "0.05 mL"}
    plan = problems.plan(told, {"volume(HCl,with_sample)": "mL", "amount(NaOH)": "mmol"}, NEUTRALISED)
    assert problems.answers(plan, told) == {"volume(HCl,with_sample)": F("20.05"), "amount(NaOH)": F(2)}


def test_a_rough_run_is_needed_by_mistakes_alone(problems: Any) -> None:
    """It counts as used all the same: a student has to see it to leave it out."""
    plan = problems.plan(GIVEN, {"volume(HCl,solution)": "mL"}, NEUTRALISED)
    assert {"volume(HCl,rough_start)", "volume(HCl,rough_end)"} <= {quantity.id for quantity in plan.given}
    assert not any("rough" in name for step in plan.steps for name in step.needs)


def test_the_rough_titre_can_be_asked(problems: Any) -> None:
    plan = problems.plan(GIVEN, {"volume(HCl,rough)": "mL", "volume(HCl,run_two)": "mL"}, NEUTRALISED)
    assert problems.answers(plan, GIVEN) == {"volume(HCl,rough)": F("20.8"), "volume(HCl,run_two)": F("20.1")}


@pytest.mark.parametrize(
    ("mistake", "expected"),
    [
        ("readings-added", F("21.55")),  # 20.60 and 22.50
        ("end-for-titre", F("20.8")),  # 20.30 and 21.30
        ("rough-averaged-in:volume(HCl,solution)", F("60.9") / 3),
        ("rough-titre-alone:volume(HCl,solution)", F("20.8")),
        ("all-readings-averaged:volume(HCl,solution)", F("43.1") / 4),
        ("first-titre-alone:volume(HCl,solution)", F(20)),
        ("second-titre-alone:volume(HCl,solution)", F("20.1")),
    ],
)
def test_mistakes_with_the_runs(problems: Any, after_mistake: Any, mistake: str, expected: Fraction) -> None:
    plan = problems.plan(GIVEN, {"volume(HCl,solution)": "mL"}, NEUTRALISED)
    assert after_mistake(plan, GIVEN, mistake) == {"volume(HCl,solution)": expected}


def test_titres_may_be_told_without_readings(problems: Any) -> None:
    told = {"volume(HCl,run_one)": "20.00 mL", "volume(HCl,run_two)": "20.10 mL", "volume(HCl,rough)": "20.80 mL"}
    plan = problems.plan(told, {"volume(HCl,solution)": "mL"}, NEUTRALISED)
    assert problems.answers(plan, told) == {"volume(HCl,solution)": F("20.05")}
    assert "rough-averaged-in:volume(HCl,solution)" in {mistake.id for mistake in plan.mistakes}


def test_one_run_has_no_mean(problems: Any) -> None:
    scene = problems.scene(**ONE)
    (law,) = (one for one in LAWS if one.id == "mean-titre")
    assert list(law.instances(law, scene)) == []


@given(st.lists(st.tuples(st.integers(0, 40), st.integers(300, 440)), min_size=2, max_size=4))
def test_exact_batch_and_published_means_agree(problems: Any, runs: list[tuple[int, int]]) -> None:
    """Against numpy's mean; the window holds the value, and the batch has it within the noise of floats."""
    ids = readings(*range(1, len(runs) + 1))
    steps = [reading for start, used in runs for reading in (start, start + used)]
    told = {name: f"{step // 20}.{step % 20 * 5:02d} mL" for name, step in zip(ids, steps, strict=True)}
    plan = problems.plan(told, {"volume(HCl,solution)": "mL"}, NEUTRALISED)
    answer = problems.answers(plan, told)["volume(HCl,solution)"]
    assert float(answer) == pytest.approx(np.mean([used * 0.05 for _, used in runs]), rel=1e-12)
    data = problems.data(told)
    window = problems.answer_windows(plan, data)["volume(HCl,solution)"]
    assert window.low < answer < window.high
    assert window.high - window.low < F("0.03")
    batch = problems.batch_windows(plan, [data, data])["volume(HCl,solution)"]
    assert batch.value == pytest.approx([float(answer) / 1000] * 2, rel=1e-12)
