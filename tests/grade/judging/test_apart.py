"""What fails for one student stays with that student, and tells a developer where, but nothing that anybody wrote."""

from __future__ import annotations

import logging
from functools import partial
from typing import Any

import pytest

from problemgen.grade.judging import number_verdicts, own_data
from problemgen.grade.judging.apart import apart
from problemgen.grade.judging.judge import explain_student, judge_student
from problemgen.grade.judging.own_data import with_own_data
from tests.support.judged import RIGHT, Judge, Keys, parts
from tests.support.own_set import ALCOHOL, ALCOHOL_OWN, own_key

WROTE = "2.000 mmol"


def _fails(wrote: str, *_: object) -> None:
    raise ValueError(f"cannot read {wrote}")


@pytest.fixture
def failing(failures_stand: pytest.MonkeyPatch) -> None:
    """Reading one answer fails, as no answer should make it."""
    read = number_verdicts.readings_of

    def reading(wrote: str, *more: Any, **how: Any) -> Any:
        return _fails(wrote) if wrote == WROTE else read(wrote, *more, **how)

    failures_stand.setattr(number_verdicts, "readings_of", reading)


def test_what_works_is_given() -> None:
    assert apart(lambda: 1, lambda: 2) == 1


@pytest.mark.usefixtures("failures_stand")
def test_what_fails_is_replaced_and_told_without_a_word_of_it(caplog: pytest.LogCaptureFixture) -> None:
    with caplog.at_level(logging.DEBUG, "problemgen"):
        assert apart(partial(_fails, "by Ada"), lambda: None) is None
    (record,) = caplog.records
    assert record.levelno == logging.DEBUG
    told = record.getMessage()
    assert told.startswith("failed: ValueError\n")
    assert "in _fails" in told
    assert "Ada" not in told


@pytest.mark.usefixtures("failures_stand")
def test_an_interruption_is_no_failure() -> None:
    def interrupted() -> None:
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        apart(interrupted, lambda: None)


@pytest.mark.usefixtures("failing")
def test_one_part_that_fails_leaves_the_others_judged(judge: Judge) -> None:
    result = judge(RIGHT)  # the same text stands in 1b and 1d
    found = {label: (part.verdict, part.reason, part.points) for label, part in parts(result).items()}
    assert found.pop("1b") == found.pop("1d") == ("unjudged", "not-judged", 0)
    assert {verdict for verdict, _, _ in found.values()} == {"right"}
    open_part = parts(result)["1b"]
    assert (open_part.wrote, open_part.of, open_part.is_open) == (WROTE, 1, True)
    assert open_part.sentence == "Not judged yet. Your instructor looks at this answer."
    assert (result.points, result.of) == (12, 14)


@pytest.mark.usefixtures("failing")
def test_an_explanation_names_it_too(keys: Keys) -> None:
    told = {one.result.label: one for one in explain_student(*keys(""), RIGHT)}
    assert told["1b"].result.verdict == "unjudged"
    assert told["1c"].result.verdict == "right"


def test_own_data_that_fail_leave_their_problem_open(failures_stand: pytest.MonkeyPatch) -> None:
    head, key = own_key(ALCOHOL, ALCOHOL_OWN)
    failures_stand.setattr(own_data, "read_own", lambda *_: _fails(""))
    assert with_own_data(head, key, {}) == key
    result = judge_student(head, key, {"1a": "3"})
    assert {part.verdict for part in result.parts} == {"unjudged"}
    assert result.parts[0].wrote == "3"
