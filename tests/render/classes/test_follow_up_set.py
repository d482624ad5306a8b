"""The set.toml and the roster of a follow-up set, read back as they were meant."""

from __future__ import annotations

import tomllib
from dataclasses import replace
from fractions import Fraction
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given
from hypothesis import strategies as st

from problemgen.load.answers.answers import ANSWERS_FILE, Answers
from problemgen.model.answers import KeyHead, StudentKey
from problemgen.model.policy import Policy
from problemgen.render.classes.follow_up_set import NextProblem, roster_rows, set_text
from tests.support.small_set import small_set, write_answers

POLICIES = [
    Policy(),
    Policy(follow_through=Fraction(9, 10), figures="ignore"),
    Policy(named_mistakes={"ratio-left-out": Fraction(1, 4)}, widen_percent=Fraction(3, 2)),
    Policy(replace_percent=Fraction(5), last_digit="refuse"),
]


@cache
def head_of_small() -> KeyHead:
    with TemporaryDirectory() as folder:
        write_answers(Path(folder), small_set(Path(folder)))
        with Answers(Path(folder) / ANSWERS_FILE) as answers:
            return answers.head


@pytest.fixture
def head() -> KeyHead:
    return head_of_small()


@pytest.mark.parametrize("policy", POLICIES)
def test_a_policy_comes_back(head: KeyHead, policy: Policy) -> None:
    text = set_text(replace(head, policy=policy), [NextProblem("a/b", {"why": ("s1",)})])
    said = tomllib.loads(text, parse_float=Fraction).get("policy", {})
    assert Policy(**said) == policy


@given(
    title=st.text(st.characters(codec="utf-8"), min_size=1),
    students=st.lists(st.from_regex(r"[A-Za-z0-9_][A-Za-z0-9_.-]{0,39}", fullmatch=True), min_size=1, unique=True),
    reason=st.text(st.characters(codec="utf-8")),
)
def test_any_title_reason_and_students_come_back(title: str, students: list[str], reason: str) -> None:
    problem = NextProblem("a/b", {reason: tuple(students), f"{reason}.": tuple(students[:1])})
    data = tomllib.loads(set_text(replace(head_of_small(), title=title), [problem]))
    assert data["title"] == f"Follow-up: {title}"
    assert data["problem"] == [{"template": "a/b", "for": students}]
    assert set(data) <= {"title", "course", "paper", "decimal_mark", "method", "sheet", "problem", "policy"}


def test_lines_are_short_and_say_why(head: KeyHead) -> None:
    students = tuple(f"s{number:03}" for number in range(1, 60))
    lines = set_text(head, [NextProblem("a/b", {"Density left out": students})]).splitlines()
    assert max(map(len, lines)) <= 110
    assert any(line.startswith("# Density left out: s001, s002,") for line in lines)


def test_the_roster_has_its_further_columns() -> None:
    keys = [StudentKey("s1", "Ada, L", "A", "c", (), 1, {"bench": "7"}), StudentKey("s2", "Bea", "", "d", ())]
    assert list(roster_rows(keys, ("bench",))) == [
        ("id", "name", "section", "bench"),
        ("s1", "Ada, L", "A", "7"),
        ("s2", "Bea", "", ""),
    ]
