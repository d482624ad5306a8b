"""An answers.json in which anything may stand: it is marked or refused, and never stalls or breaks the program.

The digest fits. Where the secret is at hand the signature refuses the file anyway; it need not be.
"""

from __future__ import annotations

import logging
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

import pytest

from problemgen.errors import ProblemgenError
from problemgen.grade.judging.judge import explain_student, judge_student
from problemgen.load.answers.answers import Answers
from problemgen.model.problem_set import ProblemSet
from problemgen.pipeline.mark import MarkingRequest, mark_set
from problemgen.pipeline.outlets.marking.outlet import FeedbackChoices
from tests.support.forged_answers import forged, in_lines, parsed
from tests.support.own_set import ALCOHOL, ALCOHOL_OWN, own_set
from tests.support.small_set import small_set, write_answers

WRITTEN = ("", "2.5 g", "silver nitrate", "-3e5")


@pytest.fixture(autouse=True)
def failures_are_told_to_the_instructor(no_failure_is_passed_over: object) -> Iterator[None]:
    """A part that cannot be judged with what stands in the file is left unjudged: here that is as it should be."""
    log = logging.getLogger("problemgen")
    log.removeHandler(no_failure_is_passed_over)  # type: ignore[arg-type]  # it is the handler
    yield
    log.addHandler(no_failure_is_passed_over)  # type: ignore[arg-type]


def problem_set(folder: Path, kind: str) -> ProblemSet:
    return own_set(ALCOHOL, ALCOHOL_OWN) if kind == "own" else small_set(folder, "[policy]\nwiden_percent = 1\n")


def judged(path: Path) -> int:
    """How many parts are judged."""
    parts = 0
    with Answers(path) as answers:
        for key in answers:
            for wrote in WRITTEN:
                cells = dict.fromkeys(answers.head.response_columns, wrote)
                parts += len(judge_student(answers.head, key, cells).parts)
            explain_student(answers.head, key, dict.fromkeys(answers.head.response_columns, "2.5"))
    return parts


@pytest.mark.parametrize("kind", ["drawn", "own"])
def test_whatever_stands_in_it_is_judged_or_refused(tmp_path: Path, kind: str) -> None:
    path, through = write_answers(tmp_path, problem_set(tmp_path, kind)), 0
    for _, data in forged(parsed(path), 200, seed=11):
        path.write_bytes(in_lines(data))
        with suppress(ProblemgenError):
            judged(path)
            through += 1
    assert 5 < through < 100


def test_whatever_stands_in_it_is_marked_whole_or_refused(tmp_path: Path) -> None:
    path, through = write_answers(tmp_path, problem_set(tmp_path, "drawn")), 0
    for secret in tmp_path.glob("*secret*"):
        secret.unlink()
    responses = tmp_path / "r.csv"
    responses.write_text("id,1a,1b,2a\ns1,2.5,2.00,4.2\ns2,1,1,1\n", encoding="utf-8")
    request = MarkingRequest(
        tmp_path, (responses,), tmp_path / "out", replace=True, feedback=FeedbackChoices(pdf=False)
    )
    for _, data in forged(parsed(path), 60, seed=12):
        path.write_bytes(in_lines(data))
        with suppress(ProblemgenError):
            mark_set(request, lambda *_: None)
            through += 1
    assert through


def test_numbers_that_square_and_square_again_end(tmp_path: Path) -> None:
    path = write_answers(tmp_path, problem_set(tmp_path, "drawn"))
    data = parsed(path)
    for template in data["head"]["templates"].values():
        for step in template["plan"]["steps"]:
            step["expression"] = ["mul", step["expression"], *(["pow", ["pow", step["expression"], 9], 9],) * 3]
    path.write_bytes(in_lines(data))
    assert judged(path) > 0
