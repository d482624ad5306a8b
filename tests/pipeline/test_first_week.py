"""The shipped set with the shipped responses: what every simulated student meant by every cell is known."""

from __future__ import annotations

import csv
import io
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

import pytest

from problemgen.cli import main
from problemgen.load.answers.answers import ANSWERS_FILE, Answers
from problemgen.pipeline import build as build_module
from problemgen.write.binding.bindery import Bindery
from problemgen.write.pdf import Job
from tests.support.simulated_class import Intention, Simulated, write_responses

FIRST_WEEK = Path(__file__).resolve().parents[2] / "templates" / "sets" / "first-week"

REMARKS = (
    "line 64: s112 again; this row counts, that of line 57 does not",
    "line 109: the id 's999' is not in the set; the row is not marked",
    "line 120: no id; the row is not marked",
    "line 167: s109: cells beyond the last column; they are not marked",
)

ALLOWED: Mapping[str, frozenset[str]] = {
    "honest": frozenset({"right"}),
    # A mistake that only moves the decimal point is a slip; one made once more later follows from the first.
    "mistake": frozenset({"mistake", "slip"}),
    # What follows from a mistake may come out right all the same: the reagent does not limit.
    "consequence": frozenset({"follows", "mistake", "slip", "right"}),
    "own slip": frozenset({"wrong"}),
    "followed": frozenset({"follows"}),
    "wrong choice": frozenset({"mistake", "wrong"}),
    # A slip that is gone on with consistently was paid for where it was made; one that is a unit is told as such.
    "power of ten": frozenset({"slip", "follows", "mistake"}),
    "other quantity": frozenset({"unit"}),
    "blank": frozenset({"blank"}),
    "remark": frozenset({"unread"}),
    "coarse": frozenset({"right", "follows", "rounded"}),
    "bullet": frozenset({"slip"}),
}
"""The verdicts that an instructor would stand by, by what the student meant."""


ALIKE = (
    ("ratio-left-out", "reagent-ratio-left-out", "product-ratio-left-out"),
    ("excess-taken:extent()", "least-amount-taken:extent()", "least-mass-taken:extent()"),
)
"""Mistakes that lead to one number where the coefficients, or the reagents, are two: one of them is told."""


@dataclass(frozen=True)
class Marking:
    """One marking of the shipped responses."""

    simulated: Simulated
    code: int
    told: str
    rows: tuple[dict[str, str], ...]  # of grades.csv
    out: Path

    def meant(self, row: Mapping[str, str]) -> Intention:
        """What the student of a row of grades.csv meant; "blank" for one who handed nothing in."""
        return self.simulated.intentions.get((row["id"], row["part"]), Intention("blank", "", ""))


def unprinted(jobs: Iterable[Job], _texts: Mapping[str, str], _workers: int, **_: int) -> Iterator[tuple[str, bytes]]:
    """Every sheet left blank: the keys are written as the jobs are taken, and only they are needed here."""
    for job in jobs:
        yield job.name, b""


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The first-week set, made by the pipeline for its whole roster, without printing."""
    out = tmp_path_factory.mktemp("first-week") / "built"
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(build_module, "compile_all", unprinted)
        patch.setattr(Bindery, "take", lambda *_args, **_choices: [])
        assert main(["build", str(FIRST_WEEK), "--out", str(out), "--quiet"]) == 0
    return out


@pytest.fixture(scope="module")
def marking(built: Path, tmp_path_factory: pytest.TempPathFactory) -> Marking:
    """The shipped responses, marked on the command line, with pages alone: nothing here reads a printed one."""
    folder = tmp_path_factory.mktemp("marking")
    simulated = write_responses(built / ANSWERS_FILE, folder / "responses.csv")
    told = io.StringIO()
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("sys.stderr", told)
        responses, out = str(FIRST_WEEK / "responses.csv"), str(folder / "grades")
        code = main(["grade", str(built), responses, "--out", out, "--no-pdf"])
    text = (folder / "grades" / "grades.csv").read_text(encoding="utf-8-sig")
    return Marking(simulated, code, told.getvalue(), tuple(csv.DictReader(io.StringIO(text))), folder / "grades")


def test_shipped_responses_belong_to_the_shipped_set(built: Path, tmp_path: Path) -> None:
    write_responses(built / ANSWERS_FILE, tmp_path / "responses.csv")
    same = (tmp_path / "responses.csv").read_bytes() == (FIRST_WEEK / "responses.csv").read_bytes()
    assert same, "run tests/support/simulated_class.py again: the set's numbers or names have changed"


def test_responses_are_saved_as_a_spreadsheet_saves_them() -> None:
    data = (FIRST_WEEK / "responses.csv").read_bytes()
    assert data.startswith(b"\xef\xbb\xbf")
    assert data.count(b"\r\n") > 112
    assert b'"' in data


def test_every_usual_mistake_of_the_set_is_made(built: Path, marking: Marking) -> None:
    made = {intention.mistake for intention in marking.simulated.intentions.values()}
    with Answers(built / ANSWERS_FILE) as answers:
        usual = {mistake.id for template in answers.head.templates.values() for mistake in template.plan.mistakes}
    assert usual <= made


def test_remarks_name_every_row_and_column_that_is_not_marked(marking: Marking) -> None:
    assert marking.code == 3
    *remarks, done, doubt, note, unread = marking.told.splitlines()[1:]
    assert [line.strip() for line in remarks] == list(REMARKS)
    assert done.startswith("Marked 112 students; 8 handed nothing in.")
    assert doubt.endswith(
        "answers.json is as it was built: its secret comes with the program, and everybody can read it."
    )
    assert note == "responses.csv, line 1: the columns 'handed in' are not marked"
    assert unread.startswith("unread.csv: 7 different answers that could not be read. Fill in what they mean")


def test_every_student_has_a_row_for_every_part_and_a_page(marking: Marking) -> None:
    assert len({row["id"] for row in marking.rows}) == 120
    assert set(Counter((row["id"], row["part"]) for row in marking.rows).values()) == {1}
    assert len(list((marking.out / "feedback").glob("*.html"))) == 120


def test_no_honest_answer_is_refused(marking: Marking) -> None:
    honest = [row for row in marking.rows if marking.meant(row).kind == "honest"]
    assert len(honest) > 2000
    assert [row for row in honest if row["verdict"] != "right" or row["points"] != row["of"]] == []


def _is_nothing(wrote: str) -> bool:
    """Whether 0 was answered: it follows from nothing, or a student could answer it throughout."""
    return wrote.removeprefix("≈ ").split()[:1] == ["0"]


def test_verdicts_are_those_an_instructor_would_stand_by(marking: Marking) -> None:
    blamed = [
        (row["id"], row["part"], meant.kind, row["verdict"], row["wrote"])
        for row in marking.rows
        if row["verdict"] not in ALLOWED[(meant := marking.meant(row)).kind] and not _is_nothing(row["wrote"])
    ]
    assert blamed == []


def test_no_mistake_is_rewarded_with_all_points(marking: Marking) -> None:
    astray = {"mistake", "own slip", "wrong choice"}
    lost: dict[tuple[str, str], bool] = {}
    for row in marking.rows:
        if marking.meant(row).kind in astray:
            where = (row["id"], row["part"][0])
            lost[where] = lost.get(where, False) or row["points"] != row["of"]
    assert len(lost) > 80
    assert all(lost.values())


def ids(row: Mapping[str, str]) -> list[str]:
    """The mistakes that a row names, each alone."""
    return row["reason"].split("|")


def _is_one(told: str, meant: str) -> bool:
    """Whether a mistake is the one that was meant, or one that leads to the same number and is as good a name."""
    alike = next((family for family in ALIKE if meant in family), ())
    return told.startswith(meant) or any(told.startswith(one) for one in alike)


def test_mistakes_are_called_by_their_names(marking: Marking) -> None:
    named = [row for row in marking.rows if marking.meant(row).kind == "mistake" and row["verdict"] == "mistake"]
    rightly = [row for row in named if any(_is_one(one, marking.meant(row).mistake) for one in ids(row))]
    assert len(named) > 60
    assert [(row["reason"], marking.meant(row).mistake) for row in named if row not in rightly] == []
    # Several at once only where they cannot be told apart: of two reagents, the wrong one; a product whose coefficient
    # is that of the reagent.
    several = {frozenset(one.partition(":")[0] for one in ids(row)) for row in named if len(ids(row)) > 1}
    assert several <= {
        frozenset({"excess-taken", "least-amount-taken"}),
        frozenset({"excess-taken", "least-mass-taken"}),
        frozenset({"least-amount-taken", "least-mass-taken"}),
        frozenset({"excess-taken", "least-amount-taken", "least-mass-taken"}),
        frozenset({"consumed-for-left"}),  # of either reagent
        frozenset({"ratio-left-out", "product-ratio-left-out"}),
        # One student has half as much again of the one reagent as of the other: n - 2n/3 is n/3 either way.
        frozenset({"consumed-for-left", "ratio-left-out"}),
    }


def test_feedback_pages_show_names_and_numbers_as_they_were_read(marking: Marking) -> None:
    pages = "".join(page.read_text(encoding="utf-8") for page in (marking.out / "feedback").glob("*.html"))
    assert "methyl benzoate" in pages
    assert "m × 10" not in pages
    assert "silver nitrate" in pages
    assert "copp ×" not in pages


def test_feedback_gives_no_answer_away(built: Path, marking: Marking) -> None:
    wrong = [row for row in marking.rows if row["verdict"] in ("mistake", "wrong", "follows", "blank", "unread")]
    with Answers(built / ANSWERS_FILE) as answers:
        printed = {
            (key.student, f"{problem.problem.removeprefix('p')}{part.label}"): getattr(truth, "printed", "")
            for key in answers
            for problem in key.problems
            for part in answers.head.templates[problem.template].parts
            for truth in (problem.truths[part.id],)
        }
    told = [row for row in wrong if (answer := printed[row["id"], row["part"]]) and answer in row["sentence"].split()]
    assert len(wrong) > 300
    assert told == []
