"""Answers that stand in the wrong place: two rows exchanged, a value of the sheet copied."""

from __future__ import annotations

import pytest

from tests.support.judged import RIGHT, Judge, parts


@pytest.mark.parametrize(
    ("label", "wrote", "reason", "title"),
    [
        ("1a", "1.250 mmol", "answer-of:c", "the answer to another part"),
        ("2c", "4.05 g", "", ""),  # what a listed mistake leads to goes before
    ],
)
def test_another_parts_answer_is_told(judge: Judge, label: str, wrote: str, reason: str, title: str) -> None:
    part = parts(judge({**RIGHT, label: wrote}))[label]
    assert (part.verdict, part.points) == ("mistake", 0)
    if reason:
        assert (part.reason, part.mistakes, part.titles) == (reason, (reason,), (title,))
        assert part.sentence == "This is the answer to 1c: have two answers changed places?"
    else:
        assert not part.reason.startswith("answer-of")


def test_a_right_answer_is_no_mix_up(judge: Judge) -> None:
    assert {part.verdict for part in judge(RIGHT).parts} == {"right"}
