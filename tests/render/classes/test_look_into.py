"""Remarks to look into: careful words, and the chance as a figure that can be said."""

from __future__ import annotations

import pytest

from problemgen.model.coincidence import Coincidence, Person
from problemgen.render.classes.look_into import LOOK_INTO_COLUMNS, look_into_row

ADA, BEA = Person("s1", "Ada", "A"), Person("s2", "Bea", "B", 2)


def row(expected: float = 2.5e-5, counted: tuple[str, ...] = ("1a", "1b"), *, fits_all: bool = False) -> dict[str, str]:
    found = Coincidence(ADA, BEA, ("1a", "1b", "2c"), counted, fits_all, expected)
    return dict(zip(LOOK_INTO_COLUMNS, look_into_row(found), strict=True))


def test_a_row_tells_who_what_and_how_likely() -> None:
    assert row() == {
        "id": "s1",
        "name": "Ada",
        "section": "A",
        "attempt": "1",
        "parts": "1a 1b 2c",
        "other_id": "s2",
        "other_name": "Bea",
        "other_section": "B",
        "other_attempt": "2",
        "numbers_that_fit": "some",
        "by_chance": "in less than 1 of 40,000 classes of this size",
        "remark": (
            "The answers to 1a, 1b and 2c are not right for this student's numbers and are right for those of Bea "
            "(s2). Of these, 1a, 1b rest on different given numbers and were counted. This can be a sheet taken by "
            "mistake, "
            "work done together, or, however rarely, coincidence. It shows nothing by itself: look at the papers and "
            "ask before you draw a conclusion."
        ),
    }


def test_a_whole_sheet_is_told_apart() -> None:
    remark = row(counted=("1a", "1b", "2c"), fits_all=True)["remark"]
    assert "perhaps the sheets were mixed up" in remark
    assert "were counted" not in remark


@pytest.mark.parametrize("word", ["cheat", "copied", "copy", "plagiar", "guilty", "fraud", "suspicious", "misconduct"])
def test_nobody_is_accused(word: str) -> None:
    assert word not in row(fits_all=True)["remark"].lower()


@pytest.mark.parametrize(
    ("expected", "told"),
    [
        (9.9e-4, "in less than 1 of 1,000 classes of this size"),
        (1.9e-6, "in less than 1 of 500,000 classes of this size"),
        (3e-10, "in less than 1 of 3,000,000,000 classes of this size"),
        (1e-13, "hardly ever"),
        (0.0, "hardly ever"),
    ],
)
def test_the_chance_is_rounded_to_its_first_figure(expected: float, told: str) -> None:
    assert row(expected)["by_chance"] == told


def test_a_code_in_the_place_of_a_name_is_told_once() -> None:
    code = Person("ABCD-EFGH", "ABCD-EFGH", "B")
    found = Coincidence(ADA, code, ("1a", "1b"), ("1a", "1b"), fits_all=False, expected=1e-6)
    assert "right for those of ABCD-EFGH. This" in look_into_row(found)[-1]
