"""Remarks for the instructor alone: what a student's own data leave open."""

from __future__ import annotations

from problemgen.grade.judging.judge import judge_student
from problemgen.model.verdict import PartResult
from tests.support.own_set import ALCOHOL, ALCOHOL_OWN, drawn_key, own_key

FLUORESCEIN = "yield/fluorescein"
OWN = ("resorcinol.mass", "phthalic-anhydride.mass", "fluorescein.obtained")


def marked(name: str, own: tuple[str, ...], cells: dict[str, str]) -> dict[str, PartResult]:
    head, key = own_key(name, own)
    return {part.label: part for part in judge_student(head, key, cells).parts}


def data(resorcinol: str, anhydride: str, product: str) -> dict[str, str]:
    return dict(zip(("1.resorcinol.mass", "1.phthalic-anhydride.mass", "1.fluorescein.obtained"),
                    (resorcinol, anhydride, product), strict=True))  # fmt: skip


def test_usual_data_leave_nothing_open() -> None:
    results = marked(FLUORESCEIN, OWN, {**data("1.750 g", "1.620 g", "1.900 g"), "1e": "resorcinol"})
    assert {part.notes for part in results.values()} == {()}


def test_a_mistake_that_would_not_show_is_noted_where_the_answer_is_right() -> None:
    # 13.2 mL of 1.00 mol/L: times and divided by the concentration is one number.
    cells = ("0.612 g", "2.45 mL", "13.2 mL", "1.00 mol/L", "1.74 g")
    own = {f"1.{name}": cell for name, cell in zip(ALCOHOL_OWN, cells, strict=True)}
    results = marked(ALCOHOL, ALCOHOL_OWN, {**own, "1d": "13.2 mmol"})
    assert (results["1d"].verdict, results["1d"].points) == ("right", results["1d"].of)
    (note,) = results["1d"].notes
    assert note == (
        "With these data a usual mistake leads to the same answers, and would not show: concentration used upside down."
    )
    assert results["1a"].notes == ()


def test_where_each_product_is_asked_a_mistake_about_the_reagent_needs_no_note() -> None:
    # 1.200 g is the least mass, and 10.9 mmol the least amount, whether or not two are needed for one.
    cells = {**data("1.200 g", "2.500 g", "1.400 g"), "1e": "resorcinol", "1f": "1.811 g", "1g": "77.3 %"}
    results = marked(FLUORESCEIN, OWN, cells)
    assert (results["1f"].verdict, results["1f"].points) == ("right", results["1f"].of)
    assert {part.notes for part in results.values()} == {()}


def test_a_wrong_answer_gets_no_such_note() -> None:
    results = marked(FLUORESCEIN, OWN, {**data("1.200 g", "2.500 g", "1.400 g"), "1f": "9.999 g"})
    assert results["1f"].notes == ()


def test_undecided_reagents_are_noted() -> None:
    close = ("0.568 g", "2.45 mL", "13.2 mL", "1.10 mol/L", "1.74 g")
    results = marked(ALCOHOL, ALCOHOL_OWN, {f"1.{name}": cell for name, cell in zip(ALCOHOL_OWN, close, strict=True)})
    note = "These data do not decide which reagent limits: bromobenzene or magnesium is accepted."
    assert note in results["1h"].notes


def test_a_small_difference_of_large_numbers_is_noted() -> None:
    # 15.89 and 2 × 7.97 mmol: nothing is left over but what rounding makes of it.
    results = marked(FLUORESCEIN, OWN, data("1.750 g", "1.180 g", "1.900 g"))
    assert "These data leave a wide window: a small difference of large numbers." in results["1h"].notes


def test_drawn_numbers_get_no_notes() -> None:
    head, key = drawn_key(FLUORESCEIN)
    assert {part.notes for part in judge_student(head, key, {"1e": "resorcinol"}).parts} == {()}
