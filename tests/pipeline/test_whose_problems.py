"""Problems that some students of a set get and others do not, from the build to the gradebook."""

from __future__ import annotations

import csv
from pathlib import Path

import pypdf
import pytest

from problemgen.errors import FaultsError
from problemgen.load.answers.answers import ANSWERS_FILE, Answers
from problemgen.pipeline.build import BuildReport, build_set
from problemgen.pipeline.build_inputs import BuildRequest
from problemgen.pipeline.mark import MarkingReport, MarkingRequest, mark_set
from problemgen.pipeline.outlets.marking.outlet import FeedbackChoices
from problemgen.pipeline.progress import silent
from tests.support.small_class import SET, write_class

NAMES = {"s1": "Ada", "s2": "Bea", "s3": "Cleo", "s4": "Dov"}
ONCE = 'demonstration_secret = "a jar of chalk"\n' + SET


def for_some(chromate: str, ester: str) -> str:
    """The small set with lines for its two problems."""
    return ONCE.replace('template = "chromate"', f'template = "chromate"\n{chromate}').replace(
        'template = "ester"', f'template = "ester"\n{ester}'
    )


SOME = for_some('for = ["s2", "s1"]', 'for = ["s2", "s3"]')


def built_in(folder: Path, text: str, *, replace: bool = False, count: int | None = None) -> BuildReport:
    week = write_class(folder, text, NAMES)
    return build_set(BuildRequest(week, folder / "out", replace=replace, count=count), silent)


def marked(out: Path, rows: list[dict[str, str]]) -> MarkingReport:
    file = out / "typed.csv"
    with file.open("w", encoding="utf-8", newline="") as stream:
        writer = csv.DictWriter(stream, ["id", *columns_of(out)])
        writer.writeheader()
        writer.writerows(rows)
    return mark_set(MarkingRequest(out, (file,), out / "grades", True, FeedbackChoices(pdf=False)), silent)


def columns_of(out: Path) -> tuple[str, ...]:
    with Answers(out / ANSWERS_FILE) as answers:
        return answers.head.columns


def right_for(out: Path, student: str) -> dict[str, str]:
    with Answers(out / ANSWERS_FILE) as answers:
        head, key = answers.head, answers.student(student)
    cells = {"id": student}
    for problem in key.problems:
        for part in head.templates[problem.template].parts:
            truth = problem.truths[part.id]
            cells[problem.label(part)] = getattr(truth, "printed", "") or getattr(truth, "choice", "")
    return cells


def rows_of(file: Path) -> dict[str, dict[str, str]]:
    with file.open(encoding="utf-8-sig", newline="") as stream:
        return {row["id"]: row for row in csv.DictReader(stream)}


@pytest.fixture(scope="module")
def some(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, BuildReport]:
    folder = tmp_path_factory.mktemp("some")
    return folder / "out", built_in(folder, SOME)


def test_each_student_has_the_problems_that_are_for_them(some: tuple[Path, BuildReport]) -> None:
    with Answers(some[0] / ANSWERS_FILE) as answers:
        assert {key.student: [one.problem for one in key.problems] for key in answers} == {
            "s1": ["p1"],
            "s2": ["p1", "p2"],
            "s3": ["p2"],
        }
        left_out = {entry: sorted(columns) for entry, columns in answers.not_asked.items()}
    first, second = [f"1{letter}" for letter in "abcdefg"], [f"2{letter}" for letter in "abcd"]
    assert left_out == {("s1", 1): second, ("s3", 1): first}


def test_sheets_show_nothing_else_and_who_has_no_problem_gets_none(some: tuple[Path, BuildReport]) -> None:
    out, report = some
    assert sorted(path.stem for path in (out / "sheets").iterdir()) == ["s1", "s2", "s3"]
    assert report.students == 3
    assert "No problem is for s4: no sheet either." in report.notes
    texts = {
        one: "".join(page.extract_text() for page in pypdf.PdfReader(out / "sheets" / f"{one}.pdf").pages)
        for one in ("s1", "s2", "s3")
    }
    shown = {one: [number for number in ("1", "2") if f"Problem {number}" in text] for one, text in texts.items()}
    assert shown == {"s1": ["1"], "s2": ["1", "2"], "s3": ["2"]}
    assert list(rows_of(out / "responses.csv")) == ["s1", "s2", "s3"]


def test_numbers_are_those_of_a_set_in_which_all_have_all(some: tuple[Path, BuildReport], tmp_path: Path) -> None:
    built_in(tmp_path, ONCE)
    with Answers(some[0] / ANSWERS_FILE) as few, Answers(tmp_path / "out" / ANSWERS_FILE) as every:
        assert few.student("s1").problems[0] == every.student("s1").problems[0]
        assert few.student("s2").problems == every.student("s2").problems


def test_only_what_a_student_has_is_marked_and_counted(some: tuple[Path, BuildReport]) -> None:
    out = some[0]
    typed = right_for(out, "s1") | {"2a": "1.00 g"}
    report = marked(out, [typed, right_for(out, "s2") | {"2d": ""}, {"id": "s3", "1a": "2.5 mmol"}])
    told = "answers to problems that are not theirs, in"
    assert [line for line in report.remarks if told in line] == [
        f"line 2: s1: {told} 2a; they are not marked",
        f"line 4: s3: {told} 1a; they are not marked",
    ]
    assert (report.marked, report.absent) == (2, 1)
    book = rows_of(out / "grades" / "gradebook.csv")
    assert {one: (row["points"], row["of"], row["percent"]) for one, row in book.items()} == {
        "s1": ("8", "8", "100"),
        "s2": ("12", "14", "85.71"),
        "s3": ("", "6", ""),
    }
    assert (book["s1"]["2a"], book["s1"]["problem 2"], book["s2"]["2a"]) == ("", "", "1")
    page = (out / "grades" / "class-report.html").read_text(encoding="utf-8")
    assert "<title" in page


def test_a_variant_of_nobody_has_all_problems(tmp_path: Path) -> None:
    built_in(tmp_path, SOME, count=2)
    with Answers(tmp_path / "out" / ANSWERS_FILE) as answers:
        assert [len(key.problems) for key in answers] == [2, 2]
        assert answers.not_asked == {}


def test_a_rebuild_keeps_numbers_and_tells_what_is_no_longer_for_whom(tmp_path: Path) -> None:
    built_in(tmp_path, SOME)
    with Answers(tmp_path / "out" / ANSWERS_FILE) as answers:
        before = answers.student("s2").problems[1]
    report = built_in(tmp_path, for_some('for = ["s1", "s4"]', 'for = ["s2", "s3"]'), replace=True)
    assert "Problem 1 (chromate) is no longer for s2." in report.notes
    with Answers(tmp_path / "out" / ANSWERS_FILE) as answers:
        assert answers.student("s2").problems == (before,)
        assert [one.problem for one in answers.student("s4").problems] == ["p1"]


@pytest.mark.parametrize(
    ("lines", "faults"),
    [
        (
            'for = ["s1", "s22", "nobody"]',
            [
                "week/set.toml: problem.1.for: found 'nobody'; expected the id of a student in the roster",
                (
                    "week/set.toml: problem.1.for: found 's22'; expected the id of a student in the roster. "
                    "Did you mean 's2'?"
                ),
            ],
        ),
        ("for = []", ["week/set.toml: problem.1.for: found an empty list; expected one entry or more"]),
        ('for = "s1"', ["week/set.toml: problem.1.for: found 's1'; expected a list"]),
    ],
)
def test_who_is_not_in_the_roster_is_told(tmp_path: Path, lines: str, faults: list[str]) -> None:
    with pytest.raises(FaultsError) as caught:
        built_in(tmp_path, for_some(lines, ""))
    assert [str(fault).replace(f"{tmp_path}/", "") for fault in caught.value.faults] == faults
    assert not (tmp_path / "out").exists()
