"""Courses: found from inside, their entries over ours, their defaults under their sets."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from pathlib import Path

import pytest

from problemgen.errors import FaultsError
from problemgen.load.people.rosters import roster_files, rosters_of
from problemgen.load.sets.courses import Course, course_of
from problemgen.load.sets.problem_set import load_set
from problemgen.model.banks import Banks

GOOD = """title = "G"
topic = "t"
difficulty = 1
[given.glucose]
mass = { from = 1.00, to = 9.00, unit = "g", read = "balance-0.01" }
[[part]]
quantity = "amount"
"""
SET = 'title = "S"\n[[sheet]]\nsession = 1\ntitle = "One"\n[[problem]]\ntemplate = "own/good"\n'
COURSE = 'title = "C"\nterm = "autumn"\ndecimal_mark = ","\n[policy]\nfigures = "ignore"\nwiden_percent = 1\n'

Write = Callable[[str, str], Path]


@pytest.fixture
def course(written: Write, tmp_path: Path) -> Path:
    written("c/course.toml", COURSE)
    written("c/templates/own/good.toml", GOOD)
    written("c/templates/amounts/four-ways.toml", GOOD)
    written("c/sets/week-1/set.toml", SET)
    written("c/rosters/monday.csv", "id,name\ns1,Ada\n")
    written("c/rosters/thursday.csv", "id,name,section\ns2,Bea,T\n")
    return tmp_path / "c"


def test_a_course_is_found_from_anything_inside(course: Path, tmp_path: Path) -> None:
    for place in (course, course / "sets" / "week-1", course / "templates" / "own" / "good.toml", course / "none"):
        assert course_of(place).folder == course
    assert course_of(tmp_path) == Course()


def test_own_templates_stand_for_ours(course: Path) -> None:
    one = course_of(course)
    assert one.templates["amounts/four-ways"] == course / "templates" / "amounts" / "four-ways.toml"
    assert one.templates["titrations/borax"] == Course().templates["titrations/borax"]
    assert one.replaced_templates == ("amounts/four-ways",)
    assert list(one.course_sets) == ["sets/week-1"]
    assert one.sets.keys() > {"sets/week-1", "sets/first-week"}


@pytest.mark.parametrize("name", ["first-week", "sets/first-week", "sets/first-week/", "templates/sets/first-week"])
def test_a_shipped_set_goes_by_the_name_that_list_shows(name: str) -> None:
    assert Course().set_folder(Path(name)).parts[-2:] == ("sets", "first-week")


@pytest.mark.parametrize(
    ("name", "hint"),
    [
        ("frist-week", "Did you mean 'sets/first-week'?"),
        ("xyzzy", "`problemgen list sets` shows those that there are."),
    ],
)
def test_a_set_that_is_not_there(name: str, hint: str) -> None:
    with pytest.raises(FaultsError) as caught:
        Course().set_folder(Path(name))
    expected = "the folder of a problem set, with set.toml"
    assert str(caught.value) == f"{name}: found no such folder; expected {expected}. {hint}"


def test_a_template_goes_by_its_file_or_its_name(course: Path) -> None:
    one, file = course_of(course), course / "templates" / "own" / "good.toml"
    assert one.template_file("own/good") == ("own/good", file)
    assert one.template_file(str(file)) == ("own/good", file)
    assert one.template_file("templates/own/good.toml") == ("own/good", file)
    with pytest.raises(FaultsError, match="found no such template; expected a file, or the name of a template"):
        one.template_file("own/bad")


def test_a_set_has_its_courses_defaults_where_it_says_nothing(course: Path, written: Write, banks: Banks) -> None:
    one, folder = course_of(course), course / "sets" / "week-1"
    loaded = load_set(folder, one.templates, banks, course=one.document)
    assert (loaded.course, loaded.term, loaded.decimal_mark, loaded.policy.figures) == ("C", "autumn", ",", "ignore")
    assert loaded.policy.widen_percent == 1
    written("c/sets/week-1/set.toml", 'decimal_mark = "."\n' + SET + "[policy]\nreplace_percent = 2\n")
    loaded = load_set(folder, one.templates, banks, course=one.document)
    assert (loaded.decimal_mark, loaded.policy.figures) == (".", "ignore")
    assert (loaded.policy.replace_percent, loaded.policy.widen_percent) == (Fraction(2), 0)


def test_a_set_without_a_course_says_its_course_itself(written: Write, banks: Banks) -> None:
    written("week/good.toml", GOOD)
    folder = written("week/set.toml", SET.replace("own/good", "good")).parent
    with pytest.raises(FaultsError, match=r"course: found nothing; expected a value for this key, or a course.toml"):
        load_set(folder, {}, banks)
    written("week/set.toml", 'course = "C"\n' + SET.replace("own/good", "good"))
    (problem,) = load_set(folder, {}, banks).problems  # a template beside set.toml
    assert (problem.id, problem.name, problem.templates[0].id) == ("p1", "good", "good")


def test_a_bank_beside_a_set_is_refused(written: Write, banks: Banks) -> None:
    written("week/substances.toml", "")
    folder = written("week/set.toml", 'course = "C"\n' + SET).parent
    with pytest.raises(
        FaultsError, match="found a bank beside a set, which nothing reads; expected banks in the folder"
    ):
        load_set(folder, {"own/good": written("good.toml", GOOD)}, banks)


def test_problems_are_named_by_their_templates_and_never_by_their_place(written: Write, banks: Banks) -> None:
    one = '[[problem]]\ntemplate = "own/good"\n'
    folder = written(
        "week/set.toml", 'course = "C"\n' + SET + one + one + '[[problem]]\nid = "last"\nchoose = ["own/good"]\n'
    ).parent
    paths = {"own/good": written("good.toml", GOOD)}
    names = [problem.name for problem in load_set(folder, paths, banks).problems]
    assert names == ["good", "good-2", "good-3", "last"]
    written("week/set.toml", 'course = "C"\n' + SET + '[[problem]]\nid = "good"\ntemplate = "own/good"\n')
    with pytest.raises(FaultsError, match=r"problem.2.id: found 'good'; expected an id of its own for each problem"):
        load_set(folder, paths, banks)


def test_the_rosters_of_a_course_are_its_sections(course: Path, written: Write) -> None:
    one, folder = course_of(course), course / "sets" / "week-1"
    assert [path.name for path in roster_files(folder, one)] == ["monday.csv", "thursday.csv"]
    assert [(s.id, s.section) for s in rosters_of(folder, one).students] == [("s1", "monday"), ("s2", "T")]
    written("c/sets/week-1/set.toml", 'rosters = ["thursday"]\n' + SET)
    assert [(s.id, s.section) for s in rosters_of(folder, one).students] == [("s2", "T")]
    written("c/sets/week-1/roster.csv", "id\ns9\n")
    assert [s.id for s in rosters_of(folder, one).students] == ["s2"]
    written("c/sets/week-1/set.toml", SET)
    assert [s.id for s in rosters_of(folder, one).students] == ["s9"]


def test_faults_of_rosters_name_the_files(course: Path, written: Write) -> None:
    one, folder = course_of(course), course / "sets" / "week-1"
    written("c/rosters/thursday.csv", "id,name\nS1,Ada\n")
    with pytest.raises(FaultsError) as caught:
        rosters_of(folder, one)
    expected = (
        f"thursday.csv: found the id 'S1' again, which {course}/rosters/monday.csv has; expected each id in one roster"
    )
    assert str(caught.value).endswith(expected)
    written("c/sets/week-1/set.toml", 'rosters = ["mondya"]\n' + SET)
    with pytest.raises(
        FaultsError, match=r"rosters.1: found 'mondya'; expected the name of a file .* Did you mean 'monday'"
    ):
        rosters_of(folder, one)


def test_a_fault_of_the_courses_file_names_it(written: Write, tmp_path: Path) -> None:
    written("c/course.toml", 'titel = "C"\n')
    with pytest.raises(FaultsError, match=r"course\.toml: titel: found an unknown key"):
        course_of(tmp_path / "c")
