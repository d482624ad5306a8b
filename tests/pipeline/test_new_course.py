"""A new course builds at once, and a copy counts in it."""

from __future__ import annotations

from pathlib import Path

import pytest

from problemgen.cli import main
from problemgen.errors import FaultsError, OutputError
from problemgen.load.sets.courses import course_of
from problemgen.pipeline.check import check
from problemgen.pipeline.new_course import FIRST_SET, copy_into, is_first_class, is_first_set, new_course


@pytest.fixture
def course(tmp_path: Path) -> Path:
    new_course(tmp_path / "mine")
    return tmp_path / "mine"


def test_a_new_course_has_no_fault_and_builds(course: Path, tmp_path: Path) -> None:
    report = check([course], lambda *_: None)
    assert (report.faults, report.sets, report.replaced) == ((), 1, ())
    assert main(["build", str(course / FIRST_SET), "--out", str(tmp_path / "out"), "--quiet"]) == 0
    assert {path.name for path in (tmp_path / "out" / "sheets").iterdir()} == {"a01.pdf", "a02.pdf", "a03.pdf"}


def test_the_commented_lines_are_good_too(course: Path) -> None:
    for name in ("course.toml", "banks/substances.toml"):
        path = course / name
        lines = path.read_text(encoding="utf-8").splitlines()
        keys = [line.removeprefix("# ") if " = " in line or line.startswith("# [") else line for line in lines]
        path.write_text("\n".join(line for line in keys if not line.startswith("earlier")), encoding="utf-8")
    assert check([course], lambda *_: None).faults == ()
    assert "2-methylfuran" in course_of(course).banks().substances


def test_a_folder_that_holds_something_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "x").write_text("mine", encoding="utf-8")
    with pytest.raises(OutputError, match="holds files already; a new course needs a folder of its own"):
        new_course(tmp_path)
    assert [path.name for path in tmp_path.iterdir()] == ["x"]


@pytest.mark.parametrize("name", ["titrations/borax", "templates/titrations/borax.toml"])
def test_a_copy_of_a_template_counts_in_the_place_of_ours(course: Path, name: str) -> None:
    made = copy_into(name, course / "sets")
    assert made == course / "templates" / "titrations" / "borax.toml"
    assert course_of(course).templates["titrations/borax"] == made
    assert check([course], lambda *_: None).replaced == (str(made),)
    with pytest.raises(OutputError, match=r"borax.toml is there already; nothing was written"):
        copy_into(name, course)


def test_a_copy_whose_story_stands_in_another_of_ours_is_read(course: Path) -> None:
    shared = next(
        name for name, path in course_of(course).templates.items() if "story_as_in" in path.read_text(encoding="utf-8")
    )
    copy_into(shared, course)
    assert check([course], lambda *_: None).faults == ()


def test_a_copy_of_a_set_has_no_published_secret(course: Path) -> None:
    made = copy_into("first-week", course)
    assert [path.name for path in made.iterdir()] == ["set.toml"]
    assert "demonstration_secret" not in (made / "set.toml").read_text(encoding="utf-8")
    assert "sets/first-week" in course_of(course).course_sets


@pytest.mark.parametrize(
    ("name", "fault"),
    [
        ("titrations/boraks", "`list` shows. Did you mean 'titrations/borax'?"),
        ("nothing-like-it-at-all", "found no such template or set; expected the name of a template or a set"),
    ],
)
def test_what_there_is_not_cannot_be_copied(course: Path, name: str, fault: str) -> None:
    with pytest.raises(FaultsError) as caught:
        copy_into(name, course)
    assert fault in str(caught.value)


def test_a_copy_needs_a_course(tmp_path: Path) -> None:
    with pytest.raises(FaultsError, match="found no course; expected a folder with"):
        copy_into("titrations/borax", tmp_path)


def test_what_a_course_begins_with_is_known_until_it_is_changed(tmp_path: Path) -> None:
    new_course(tmp_path / "mine")
    roster, first = tmp_path / "mine/rosters/A.csv", tmp_path / "mine" / FIRST_SET
    assert is_first_class(roster)
    assert is_first_set(first)
    for path in (roster, first / "set.toml"):
        path.write_text(path.read_text(encoding="utf-8") + "\n", encoding="utf-8")
    assert not is_first_class(roster)
    assert not is_first_set(first)
    assert not is_first_class(tmp_path / "none.csv")
