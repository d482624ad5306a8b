"""The text of a set as one would have written it: comments stay, and what is not touched stays as it is written."""

from __future__ import annotations

import tomllib

import pytest

from problemgen.desk.set_files.settings import KEYS
from problemgen.desk.set_files.text import new_text
from problemgen.desk.set_files.wanted import WantedProblem, WantedSet, WantedSheet
from problemgen.load.resources import templates_folder

SHIPPED = sorted((templates_folder() / "sets").glob("*/set.toml"))

TEXT = """title = "A"   # mine
language = "de" # german

# for the first session
[[sheet]]
session = 1
title = "Before"

# the easy one
[[problem]]
template = "a/b" # good
# inner

[problem.part.b]
points = 3 # more
figures = "deduct"

# the other
[[problem]]
choose = [
  "a/c",  # c
  "a/d",
]
part = { a = { points = 2 } }

# how it is marked
[policy]
figures = "remark" # kind
# end
"""

FIRST = WantedProblem(was=0, templates=("a/b",), points={"b": "3"})
SECOND = WantedProblem(was=1, templates=("a/c", "a/d"), points={"a": "2"})
SAID = {"language": '"de"', "policy.figures": '"remark"'}


def wanted(**changes: object) -> WantedSet:
    same = WantedSet(
        seen="",
        title="A",
        settings=SAID,
        sheets=(WantedSheet(session=1, title="Before"),),
        problems=(FIRST, SECOND),
    )
    return same.model_copy(update=changes)


def lines_of(text: str) -> list[str]:
    return [line for line in text.splitlines() if line]


def test_what_is_not_changed_stays_to_the_letter() -> None:
    assert new_text(TEXT, wanted(), KEYS) == TEXT


def test_problems_change_places_with_their_comments() -> None:
    text = new_text(TEXT, wanted(problems=(SECOND, FIRST)), KEYS)
    assert sorted(lines_of(text)) == sorted(lines_of(TEXT))
    assert text.index("# the other\n[[problem]]\nchoose") < text.index("# the easy one\n[[problem]]\ntemplate")
    assert text.index('figures = "deduct"') < text.index("# how it is marked\n[policy]")


def test_points_are_written_where_the_part_is_told_already() -> None:
    first = FIRST.model_copy(update={"points": {"b": "2.5", "a": "4"}})
    second = SECOND.model_copy(update={"points": {"a": "1", "b": "6"}})
    text = new_text(TEXT, wanted(problems=(first, second)), KEYS)
    assert "points = 2.5 # more\n" in text
    found = tomllib.loads(text)["problem"]
    assert found[0]["part"] == {"b": {"points": 2.5, "figures": "deduct"}, "a": {"points": 4}}
    assert found[1]["part"] == {"a": {"points": 1}, "b": {"points": 6}}


def test_points_that_are_taken_back_leave_the_rest_of_the_part() -> None:
    text = new_text(TEXT, wanted(problems=(FIRST.model_copy(update={"points": {}}),)), KEYS)
    assert tomllib.loads(text)["problem"] == [{"template": "a/b", "part": {"b": {"figures": "deduct"}}}]


def test_settings_go_where_they_belong() -> None:
    settings = {
        "layout": '"compact"',
        "policy.figures": '"deduct"',
        "policy.follow_through": "0.9",
        "attempts.number": "2",
    }
    text = new_text(TEXT, wanted(settings=settings, title='A "B"'), KEYS)
    found = tomllib.loads(text)
    assert found["title"] == 'A "B"'
    assert "# mine" in text
    assert "language" not in found
    assert found["layout"] == "compact"
    assert found["policy"] == {"figures": "deduct", "follow_through": 0.9}
    assert 'figures = "deduct" # kind\n' in text
    assert found["attempts"] == {"number": 2}


def test_what_the_page_does_not_show_stays() -> None:
    more = '\n[policy.named_mistakes]\n"moles-not-scaled" = 0.25\n'
    text = new_text(TEXT + more, wanted(), KEYS)
    assert tomllib.loads(text)["policy"]["named_mistakes"] == {"moles-not-scaled": 0.25}


def test_a_new_set_reads_as_one_would_write_it() -> None:
    made = wanted(problems=(WantedProblem(templates=("a/b",), points={"b": "2"}), WantedProblem(templates=("a/c",))))
    assert new_text("", made, KEYS) == (
        'title = "A"\nlanguage = "de"\n\n[[sheet]]\nsession = 1\ntitle = "Before"\n\n[[problem]]\ntemplate = "a/b"\n\n'
        '[problem.part.b]\npoints = 2\n\n[[problem]]\ntemplate = "a/c"\n\n[policy]\nfigures = "remark"\n'
    )


@pytest.mark.parametrize("text", ['title = "A"\nproblem = [{ template = "a/b" }]\n', 'title = "A\n', "[[problem]\n"])
def test_another_way_of_writing_is_left_alone(text: str) -> None:
    with pytest.raises(ValueError, match=r"\w"):
        new_text(text, wanted(problems=(FIRST,)), KEYS)
