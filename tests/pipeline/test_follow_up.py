"""The week after: who gets which problem, what is written, and what stays out of it."""

from __future__ import annotations

import csv
import html
import re
import stat
import tomllib
from pathlib import Path

import pypdf
import pytest

from problemgen.errors import FaultsError, OutputError
from problemgen.exact.rounding import figures_text
from problemgen.load.answers.answers import ANSWERS_FILE, Answers
from problemgen.load.people.roster import load_roster
from problemgen.load.sets.courses import course_of
from problemgen.load.sets.problem_set import load_set
from problemgen.model.problem_set import ProblemSet
from problemgen.pipeline.build import build_set
from problemgen.pipeline.build_inputs import BuildRequest
from problemgen.pipeline.follow_up import FollowUpReport, follow_up
from problemgen.pipeline.progress import silent
from tests.support.marking import write_cells
from tests.support.small_class import SET, files_of, write_class

NAMES = {"s1": "Adroth", "s2": "=Bevin", "s3": "Cleomar", "s4": "Dovrek", "s5": "Estrin"}
POLICY = '[policy]\nunit_slip = 0.25\nfigures = "deduct"\nnamed_mistakes = { "density-divided" = 0.5 }\n'
ONCE = f'demonstration_secret = "a jar of chalk"\n{SET}{POLICY}'


def right_for(answers: Answers, student: str) -> dict[str, str]:
    cells = {}
    for problem in answers.student(student).problems:
        for part in answers.head.templates[problem.template].parts:
            truth = problem.truths[part.id]
            cells[problem.label(part)] = getattr(truth, "printed", "") or getattr(truth, "choice", "")
    return cells


def density_divided(answers: Answers, student: str) -> str:
    given = answers.student(student).problems[1].given
    volume, density = (given[f"{kind}(isopentyl-alcohol)"].written.value for kind in ("volume", "density"))
    return f"{figures_text(volume / density, 3)} g"


@pytest.fixture(scope="module")
def week(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A built set, with what the class wrote: s1 all right, s2 and s3 a density upside down, s4 nothing, s5 guesses."""
    folder = tmp_path_factory.mktemp("week")
    build_set(BuildRequest(write_class(folder, ONCE, NAMES), folder / "out"), silent)
    with Answers(folder / "out" / ANSWERS_FILE) as answers:
        cells = {one: right_for(answers, one) for one in NAMES if one != "s4"}
        for one in ("s2", "s3"):
            cells[one]["2a"] = density_divided(answers, one)
    cells["s5"] |= {"2d": "17.3 %", "1f": ""}
    write_cells(folder / "typed.csv", cells)
    return folder


@pytest.fixture(scope="module")
def told(week: Path) -> FollowUpReport:
    return follow_up(week / "out", week / "next", week / "typed.csv")


def loaded(folder: Path) -> ProblemSet:
    course = course_of(folder)
    return load_set(folder, course.templates, course.banks(), course=course.document)


def test_who_got_something_wrong_gets_problems_and_nobody_else(week: Path, told: FollowUpReport) -> None:
    found = loaded(week / "next")
    mine = {one: [p.templates[0].id for p in found.problems if p.is_for(one)] for one in NAMES}
    assert {one: len(problems) for one, problems in mine.items()} == {"s1": 0, "s2": 1, "s3": 1, "s4": 0, "s5": 2}
    assert mine["s2"] == mine["s3"]
    with (week / "next" / "roster.csv").open(encoding="utf-8-sig", newline="") as stream:
        rows = [(row["id"], row["name"], row["section"]) for row in csv.DictReader(stream)]
    # In the file no spreadsheet runs a name as a formula, and on the sheet it is as it was.
    assert rows == [("s2", "'=Bevin", "A"), ("s3", "Cleomar", "A"), ("s5", "Estrin", "A")]
    assert [one.name for one in load_roster(week / "next" / "roster.csv").students] == ["=Bevin", "Cleomar", "Estrin"]
    assert (told.students, told.problems) == (3, len(found.problems))
    assert told.notes[-2:] == (
        "Handed nothing in, and get no problem: s4.",
        "Had all right, and get no problem: 1.",
    )


def test_the_problem_is_on_the_law_with_other_substances(week: Path) -> None:
    found = loaded(week / "next")
    (template,) = [p.templates[0] for p in found.problems if p.is_for("s2")]
    assert "density" in {step.law for step in template.plan.steps}
    assert any(one.id.startswith("density-divided:") for one in template.plan.mistakes)
    assert "isopentyl-alcohol" not in template.substances
    assert len(template.parts) <= 6


def test_the_set_is_marked_as_the_one_before(week: Path) -> None:
    with Answers(week / "out" / ANSWERS_FILE) as answers:
        assert loaded(week / "next").policy == answers.head.policy
    data = tomllib.loads((week / "next" / "set.toml").read_text(encoding="utf-8"))
    assert data["title"] == "Follow-up: Small week"
    assert data["policy"] == {
        "figures": "deduct",
        "unit_slip": 0.25,
        "named_mistakes": {"density-divided": 0.5},
    }


def test_comments_say_why_and_name_nobody(week: Path) -> None:
    text = (week / "next" / "set.toml").read_text(encoding="utf-8")
    assert "# Density used upside down: s2, s3\n" in text
    assert re.search(r"^# Percent yield, not right: s5$", text, re.MULTILINE)
    assert not any(name.strip("=") in text for name in NAMES.values())


def test_the_page_shows_the_error_of_several_and_nothing_of_anybody(week: Path) -> None:
    page = html.unescape((week / "next" / "for-the-class.html").read_text(encoding="utf-8"))
    printed = "\n".join(one.extract_text() for one in pypdf.PdfReader(week / "next" / "for-the-class.pdf").pages)
    assert "1. Density used upside down" in page
    assert "2. " not in page
    assert "2 of 4 students." in page
    assert "An invented student writes:" in page
    assert "Look at the units of the density: which operation makes the unwanted unit cancel?" in page
    assert "calculations, not procedures" in page
    with Answers(week / "out" / ANSWERS_FILE) as answers:
        wrote = [density_divided(answers, one).removesuffix(" g") for one in ("s2", "s3")]
    for text in (page, printed):
        assert not any(name.strip("=") in text for name in NAMES.values())
        assert not any(number in text for number in wrote)


def test_it_is_an_ordinary_set_that_builds(week: Path, told: FollowUpReport) -> None:
    report = build_set(BuildRequest(told.out, week / "built-next"), silent)
    assert report.students == 3
    assert sorted(path.stem for path in (week / "built-next" / "sheets").iterdir()) == ["s2", "s3", "s5"]


def test_only_the_roster_has_names_and_is_for_the_owner(week: Path) -> None:
    files = files_of(week / "next")
    assert sorted(files) == ["for-the-class.html", "for-the-class.pdf", "roster.csv", "set.toml"]
    assert stat.S_IMODE((week / "next" / "roster.csv").stat().st_mode) == 0o600


def test_the_same_class_makes_the_same_files(week: Path, told: FollowUpReport, tmp_path: Path) -> None:
    follow_up(week / "out", tmp_path / "again", week / "typed.csv")
    assert files_of(tmp_path / "again") == files_of(told.out)


def test_a_harder_one_for_who_had_all_right(week: Path, tmp_path: Path) -> None:
    report = follow_up(week / "out", tmp_path / "next", week / "typed.csv", for_all=True)
    found = loaded(tmp_path / "next")
    (mine,) = [p.templates[0] for p in found.problems if p.is_for("s1")]
    assert mine.difficulty >= 2
    assert report.students == 4
    assert "# All right so far, a harder one: s1\n" in (tmp_path / "next" / "set.toml").read_text(encoding="utf-8")


def test_an_earlier_run_stays_unless_it_is_to_be_replaced(week: Path, told: FollowUpReport) -> None:
    before = files_of(told.out)
    with pytest.raises(OutputError) as caught:
        follow_up(week / "out", told.out, week / "typed.csv")
    assert str(caught.value) == (
        f"{told.out} is there already; --replace writes the follow-up set anew, with what you changed"
    )
    follow_up(week / "out", told.out, week / "typed.csv", replace=True)
    assert files_of(told.out) == before


def test_no_other_folder_is_ever_written_into(week: Path) -> None:
    before = files_of(week / "week")
    with pytest.raises(OutputError) as caught:
        follow_up(week / "out", week / "week", week / "typed.csv", replace=True)
    assert str(caught.value) == f"{week / 'week'} is there already, and no follow-up set; choose another folder"
    assert files_of(week / "week") == before


def test_without_answers_it_says_which_file_to_name(week: Path, tmp_path: Path) -> None:
    with pytest.raises(FaultsError) as caught:
        follow_up(week / "out", tmp_path / "next")
    assert [str(fault).replace(f"{week}/", "") for fault in caught.value.faults] == [
        (
            "out/responses.csv: found no answers; expected the answers of the class. "
            "Name the file in which the answers are, as for grade."
        )
    ]
    assert not (tmp_path / "next").exists()


def test_where_all_is_right_nothing_is_written(week: Path, tmp_path: Path) -> None:
    with Answers(week / "out" / ANSWERS_FILE) as answers:
        file = write_cells(tmp_path / "right.csv", {"s1": right_for(answers, "s1")})
    with pytest.raises(FaultsError) as caught:
        follow_up(week / "out", tmp_path / "next", file)
    assert [str(fault).replace(f"{week}/", "") for fault in caught.value.faults] == [
        (
            "out/answers.json: found nothing that anybody got wrong; expected something to follow up. "
            "--for-all gives a harder problem to who had all right."
        )
    ]
    assert not (tmp_path / "next").exists()
