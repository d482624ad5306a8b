"""What of a class is bound into a file of its own, and what that file is called."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from problemgen.model.problem_set import Student
from problemgen.pipeline.outlets.building.choice import Choice, choices_of, file_word

A, B, NONE = Student("a", "A", "A"), Student("b", "B", "B"), Student("n", "N", "")


@pytest.mark.parametrize(
    ("choice", "name"),
    [
        (Choice(), "class"),
        (Choice(2), "class-session-2"),
        (Choice(None, "B"), "class-section-B"),
        (Choice(2, "Mon 14:00"), "class-section-Mon-14-00-session-2"),
    ],
)
def test_a_file_is_called_by_what_it_holds(choice: Choice, name: str) -> None:
    assert choice.file_name("class") == name


def test_a_choice_holds_the_students_of_its_section() -> None:
    assert [Choice(2, "A").holds(one) for one in (A, B, NONE)] == [True, False, False]
    assert all(Choice(2).holds(one) for one in (A, B, NONE))


@pytest.mark.parametrize(
    ("wanted", "sessions", "students", "names"),
    [
        (Choice(), [1], [A, NONE], ["c"]),
        (Choice(), [1, 2], [A], ["c", "c-session-1", "c-session-2"]),
        (Choice(), [1], [B, A, NONE], ["c", "c-section-A", "c-section-B"]),
        (Choice(2), [1, 2], [A, B], ["c-session-2", "c-section-A-session-2", "c-section-B-session-2"]),
        (Choice(None, "A"), [1, 2], [A, B], ["c-section-A", "c-section-A-session-1", "c-section-A-session-2"]),
        (Choice(2, "A"), [1, 2], [A, B], ["c-section-A-session-2"]),
    ],
)
def test_each_session_and_each_section_has_a_file_where_there_are_several(
    wanted: Choice, sessions: list[int], students: list[Student], names: list[str]
) -> None:
    assert [choice.file_name("c") for choice in choices_of(wanted, sessions, students)] == names


@given(st.text())
def test_no_section_leads_out_of_the_folder(section: str) -> None:
    word = file_word(section)
    assert len(word) == len(section)
    assert not set(word) & set("/\\\0: ")
