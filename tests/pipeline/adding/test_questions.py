"""A question whose answer cannot be read is asked again."""

from __future__ import annotations

import pytest

from problemgen.errors import Fault, FaultsError
from problemgen.pipeline.adding.questions import answered, proposal


def whole(text: str) -> int:
    if not text.isdecimal():
        raise FaultsError([Fault("add", "n", repr(text), "a whole number")])
    return int(text)


def test_without_a_terminal_the_proposal_counts() -> None:
    assert answered(proposal, "How many", "3", whole) == 3


def test_a_slip_is_told_and_asked_again() -> None:
    asked, answers = [], iter(["x", "7"])

    def ask(question: str, _: str) -> str:
        asked.append(question)
        return next(answers)

    assert answered(ask, "How many", "", whole) == 7
    assert asked == ["How many", "add: n: found 'x'; expected a whole number\nHow many"]


def test_who_goes_on_mistyping_is_told_so() -> None:
    with pytest.raises(FaultsError, match="found 'x'; expected a whole number"):
        answered(lambda *_: "x", "How many", "", whole)
