"""What the parts of an answers.json say of each other, in files whose digest fits."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from problemgen.errors import FaultsError
from problemgen.load.answers.answers import Answers
from tests.support.forged_answers import in_lines, parsed
from tests.support.small_set import small_set, write_answers

TEMPLATE, PROBLEM = "head.templates.chromate", "students.s1.problems.1"
NAME = "expected the name of something in this file"
GONE = object()
"""Stands for a key that is taken out."""


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("sound")
    return write_answers(folder, small_set(folder))


def changed(built: Path, place: str, value: Any) -> bytes:
    """The file with another value in a place, numbers of lists from 0."""
    data = found = parsed(built)
    *way, last = place.split("/")
    for key in way:
        found = found[int(key)] if isinstance(found, list) else found[key]
    if value is GONE:
        del found[last]
    else:
        found[last] = value
    return in_lines(data)


def test_what_was_built_is_read(built: Path, tmp_path: Path) -> None:
    path = tmp_path / "answers.json"
    path.write_bytes(in_lines(parsed(built)))
    with Answers(path) as answers:
        assert [key.student for key in answers] == ["s1", "s2"]


STEP = f"{TEMPLATE}.plan.steps.1"
PLAN, PART, SCENE = (f"head/templates/chromate/{one}" for one in ("plan", "parts/0", "scene"))
MINE = "students/0/problems/0"
VOLUME = "volume(silver-nitrate,solution)"


@pytest.mark.parametrize(
    ("place", "value", "fault"),
    [
        (
            f"{PLAN}/steps/0/expression",
            "mass(water)",
            f"{STEP}.expression: found 'mass(water)'; {NAME}",
        ),
        (
            f"{PLAN}/steps/0/expression",
            ["pow", ["num", "10"], 10],
            f"{STEP}.expression: found ['pow', ",
        ),
        (
            f"{PLAN}/steps/0/expression",
            ["whole", 1, ["num", "1"]],
            f"{STEP}.expression: found ['whole', ",
        ),
        (f"{PLAN}/steps/0/expression", ["num", "9" * 201], f"{STEP}.expression: found ['num', "),
        (f"{PLAN}/steps/0/quantity", "essence(water)", f"{STEP}.quantity: found 'essence'; {NAME}"),
        (f"{PLAN}/sources", ["nobody"], f"{TEMPLATE}.plan.sources: found 'nobody'; {NAME}"),
        (f"{SCENE}/product", "nobody", f"{TEMPLATE}.scene.species: found 'nobody'; {NAME}"),
        (f"{PART}/asked/form", "essay", f"{TEMPLATE}.parts.01.form: found 'essay'; {NAME}"),
        (f"{PART}/asked/unit", "furlong", f"{TEMPLATE}.parts.01.unit: found 'furlong'; expected a unit of the list: "),
        (f"{PART}/asked/unit", "kPa", f"{TEMPLATE}.parts.01.unit: found 'kPa'; expected a unit of amount"),
        (f"{PART}/points", "-1", f"{TEMPLATE}.parts.01.points: found -1; expected from 0 to 1,000,000"),
        (f"{PART}/label", "b", f"{TEMPLATE}.parts.02: found an id or a letter twice; expected each once"),
        (f"{PART}/session", 10**30, f"{TEMPLATE}.parts.1.session: found "),
        (f"{MINE}/template", "gone", f"{PROBLEM}.template: found 'gone'; {NAME}"),
        (f"{MINE}/problem", "p2", "students.s1.problems.2.problem: found 'p2'; expected each problem once"),
        (f"{MINE}/given/mass(water)", {"written": "1", "unit": "g"}, f"{PROBLEM}.given: found 'mass(water)'; {NAME}"),
        (f"{MINE}/given/{VOLUME}", GONE, f"{PROBLEM}.given.{VOLUME}: found nothing; expected a value: the plan begin"),
        (
            f"{MINE}/given/{VOLUME}/unit",
            "mol",
            f"{PROBLEM}.given.{VOLUME}.unit: found 'mol'; expected a unit of volume",
        ),
        (
            f"{MINE}/given/{VOLUME}/written",
            "1e100",
            f"{PROBLEM}.given.{VOLUME}.written: found '1e100'; expected a deci",
        ),
        (f"{MINE}/truths/99", {"choice": "water"}, f"{PROBLEM}.truths: found '99'; {NAME}"),
        (f"{MINE}/truths/01", GONE, f"{PROBLEM}.truths.01: found nothing; expected what is right"),
        (
            f"{MINE}/truths/01",
            {"text": "H2O"},
            f"{PROBLEM}.truths.01: found another kind of answer; expected what is r",
        ),
        (
            f"{MINE}/truths/01/low",
            "9999",
            f"{PROBLEM}.truths.01: found a value outside its window; expected low, value",
        ),
        (f"{MINE}/truths/01/figures", 1000, f"{PROBLEM}.truths.01.figures: found 1000; expected at most 99"),
        (
            f"{MINE}/truths/01/low",
            "1e99999999999",
            f"{PROBLEM}.truths.01.low: found '1e99999999999'; expected a decimal",
        ),
    ],
)
def test_what_does_not_fit_is_told_with_its_place(
    built: Path, tmp_path: Path, place: str, value: Any, fault: str
) -> None:
    path = tmp_path / "answers.json"
    path.write_bytes(changed(built, place, value))
    with pytest.raises(FaultsError) as caught, Answers(path) as answers:
        list(answers)
    told = [str(one).removeprefix(f"{path}: ") for one in caught.value.faults]
    assert any(one.startswith(fault) for one in told), told


def test_a_student_twice_is_refused(built: Path, tmp_path: Path) -> None:
    path = tmp_path / "answers.json"
    path.write_bytes(changed(built, "students/1/student", "s1"))
    with pytest.raises(FaultsError, match="found the student 's1' twice; expected each attempt of a student once"):
        Answers(path)
