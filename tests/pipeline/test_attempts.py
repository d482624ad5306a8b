"""Several attempts from the build to the gradebook: numbers of their own, keys of their own, and what counts."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pypdf
import pytest

from problemgen.errors import FaultsError
from problemgen.load.answers.answers import ANSWERS_FILE, Answers
from problemgen.model.answers import KeyHead, StudentKey
from problemgen.pipeline.build import build_set
from problemgen.pipeline.build_inputs import BuildRequest
from problemgen.pipeline.mark import MarkingReport, MarkingRequest, mark_set
from problemgen.pipeline.outlets.marking.outlet import FeedbackChoices
from problemgen.plan.forms import form_of
from tests.support.small_class import SET, files_of, write_class

NAMES = {"s1": "Ada", "s2": "Bea", "s3": "Cleo"}
ONCE = 'demonstration_secret = "a jar of chalk"\n' + SET


def several(number: int, counts: str = "last") -> str:
    return f'{ONCE}[attempts]\nnumber = {number}\ncounts = "{counts}"\n'


def quiet(*_: object) -> None:
    """Nothing is told."""


def built_in(folder: Path, text: str, *, replace: bool = False, names: dict[str, str] | None = None) -> Path:
    week = write_class(folder, text, names or NAMES)
    build_set(BuildRequest(week, folder / "out", replace=replace), quiet)
    return folder / "out"


@pytest.fixture(scope="module")
def thrice(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return built_in(tmp_path_factory.mktemp("thrice"), several(3))


@pytest.fixture(scope="module")
def once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return built_in(tmp_path_factory.mktemp("once"), ONCE)


def keys_of(folder: Path) -> tuple[KeyHead, dict[tuple[str, int], StudentKey]]:
    with Answers(folder / ANSWERS_FILE) as answers:
        return answers.head, {entry: answers.student(*entry) for entry in answers.entries}


def text_of(path: Path) -> list[str]:
    return [page.extract_text() for page in pypdf.PdfReader(path).pages]


def test_each_attempt_has_its_sheets_and_its_line(thrice: Path) -> None:
    sheets = {f"{student}{end}.pdf" for student in NAMES for end in ("", "-2", "-3")}
    assert {path.name for path in (thrice / "sheets").iterdir()} == sheets
    assert {path.name for path in thrice.glob("class*")} == {"class.pdf", "class-2.pdf", "class-3.pdf"}
    _, keys = keys_of(thrice)
    assert list(keys) == [(student, attempt) for attempt in (1, 2, 3) for student in NAMES]
    assert len({key.code for key in keys.values()}) == len(keys)


def test_numbers_never_coincide_between_attempts_and_students(thrice: Path) -> None:
    _, keys = keys_of(thrice)
    for place in (0, 1):
        given = {
            tuple(sorted((n, d.written.text) for n, d in key.problems[place].given.items())) for key in keys.values()
        }
        assert len(given) == len(keys)


def test_the_first_attempt_has_the_numbers_of_a_set_without_others(thrice: Path, once: Path) -> None:
    _, mine = keys_of(once)
    _, keys = keys_of(thrice)
    assert mine == {entry: key for entry, key in keys.items() if entry[1] == 1}


def test_one_attempt_more_leaves_those_before_as_they_are(thrice: Path, tmp_path: Path) -> None:
    _, two = keys_of(built_in(tmp_path, several(2)))
    _, three = keys_of(thrice)
    assert two == {entry: key for entry, key in three.items() if entry[1] < 3}


def test_sheets_and_key_tell_the_attempt(thrice: Path, once: Path) -> None:
    _, keys = keys_of(thrice)
    for student, attempt in (("s1", 1), ("s3", 3)):
        end = "" if attempt == 1 else f"-{attempt}"
        (page, *_) = text_of(thrice / "sheets" / f"{student}{end}.pdf")
        assert f"(attempt {attempt} of 3)" in page
        assert keys[student, attempt].code in page
    assert "attempt" not in "".join(text_of(once / "sheets" / "s1.pdf")).lower()
    key = "\n".join(text_of(thrice / "key.pdf"))
    assert all(f"sheet {one.code}, attempt {attempt} of 3" in key for (_, attempt), one in keys.items())


def test_responses_are_ready_to_fill_for_every_attempt(thrice: Path, once: Path) -> None:
    header, *rows = csv.reader(io.StringIO((thrice / "responses.csv").read_text(encoding="utf-8-sig")))
    assert header[:6] == ["id", "name", "section", "code", "attempt", "1a"]
    assert len({row[3] for row in rows}) == len(rows)
    assert [(row[0], row[4]) for row in rows] == [(student, str(n)) for student in NAMES for n in (1, 2, 3)]
    assert "attempt" not in (once / "responses.csv").read_text(encoding="utf-8-sig")


def right(head: KeyHead, key: StudentKey) -> dict[str, str]:
    return {
        f"{problem.problem.removeprefix('p')}{part.label}": form_of(part.asked).text(
            template.scene, part.asked, problem.truths[part.id]
        )
        for problem in key.problems
        for template in (head.templates[problem.template],)
        for part in template.parts
    }


def responses(folder: Path, tmp_path: Path) -> Path:
    """s1: all right in the first, nothing in the second, one wrong in the third; s2: only the second; s3: nothing."""
    head, keys = keys_of(folder)
    rows = [
        ("s1", "1", right(head, keys["s1", 1])),
        ("s2", "2", right(head, keys["s2", 1])),  # the numbers of another attempt
        ("s1", "2", {}),
        ("s1", " 3 ", right(head, keys["s1", 3]) | {"2d": ""}),
        ("s2", "4", right(head, keys["s2", 2])),
        ("s2", "second", right(head, keys["s2", 2])),
        ("s3", "", {}),
    ]
    text = io.StringIO()
    writer = csv.writer(text)
    writer.writerow(["id", "attempt", *head.columns])
    writer.writerows([student, attempt, *(row.get(c, "") for c in head.columns)] for student, attempt, row in rows)
    path = tmp_path / "r.csv"
    path.write_text(text.getvalue(), encoding="utf-8")
    return path


def table(path: Path) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(path.read_text(encoding="utf-8-sig"))))


def marked(folder: Path, tmp_path: Path, **more: bool) -> MarkingReport:
    pages = FeedbackChoices(pdf=False, solutions=False)
    return mark_set(
        MarkingRequest(folder, (responses(folder, tmp_path),), tmp_path / "g", feedback=pages, **more), quiet
    )


def test_each_attempt_is_marked_by_its_own_key_and_the_last_handed_in_counts(thrice: Path, tmp_path: Path) -> None:
    report = marked(thrice, tmp_path)
    assert (report.marked, report.absent, report.attempts) == (2, 1, 3)
    assert report.remarks == (
        "line 6: s2: the attempt '4', not a number from 1 to 3; the row is not marked",
        "line 7: s2: the attempt 'second', not a number from 1 to 3; the row is not marked",
    )
    grades = table(tmp_path / "g" / "grades.csv")
    assert list(dict.fromkeys((row["id"], row["attempt"]) for row in grades)) == [
        *(("s1", "1"), ("s2", "2"), ("s1", "3"), ("s3", "1"))
    ]
    assert {row["verdict"] for row in grades if (row["id"], row["attempt"]) == ("s1", "1")} == {"right"}
    assert "right" not in {row["verdict"] for row in grades if row["id"] == "s2" and row["part"] in ("1a", "1f", "2a")}
    book = {row["id"]: row for row in table(tmp_path / "g" / "gradebook.csv")}
    assert [(row["attempt"], row["points"], row["of"], row["2d"]) for row in (book["s1"], book["s3"])] == [
        *(("3", "12", "14", "0"), ("", "", "14", ""))
    ]
    assert book["s2"]["attempt"] == "2"
    pages = {path.name for path in (tmp_path / "g" / "feedback").iterdir()}
    assert pages == {"s1.html", "s1-3.html", "s2-2.html", "s3.html"}
    page = (tmp_path / "g" / "feedback" / "s1-3.html").read_text(encoding="utf-8")
    assert "This is attempt 3 of 3. The last attempt that you hand in counts." in page


@pytest.mark.parametrize(
    ("counts", "attempt", "points", "percent", "last"),
    [("best", "1", "14", "100", "2"), ("mean", "mean of 1, 3", "13", "92.86", "1")],
)
def test_the_best_or_the_mean_counts(
    tmp_path: Path, counts: str, attempt: str, points: str, percent: str, last: str
) -> None:
    folder = built_in(tmp_path, several(3, counts))
    marked(folder, tmp_path)
    row = table(tmp_path / "g" / "gradebook.csv")[0]
    told = (row["id"], row["attempt"], row["points"], row["percent"], row["2d"])
    assert told == ("s1", attempt, points, percent, last)


def test_a_marking_without_names_keeps_a_student_s_attempts_together(thrice: Path, tmp_path: Path) -> None:
    marked(thrice, tmp_path, anonymous=True)
    _, keys = keys_of(thrice)
    codes = {row["code"]: row["id"] for row in table(tmp_path / "g" / "codes.csv")}
    assert codes == {keys[student, 1].code: student for student in NAMES}
    book = {codes[row["id"]]: row["attempt"] for row in table(tmp_path / "g" / "gradebook.csv")}
    assert book == {"s1": "3", "s2": "2", "s3": ""}


def test_a_decision_is_about_one_attempt(thrice: Path, tmp_path: Path) -> None:
    decided = tmp_path / "o.csv"
    decided.write_text("student,part,points,reason,attempt\ns1,2d,1,talked it over,3\n", encoding="utf-8")
    request = MarkingRequest(
        thrice, (responses(thrice, tmp_path),), tmp_path / "g", overrides=decided, feedback=FeedbackChoices(pdf=False)
    )
    mark_set(request, quiet)
    points = {
        row["attempt"]: row["points"]
        for row in table(tmp_path / "g" / "grades.csv")
        if (row["id"], row["part"]) == ("s1", "2d")
    }
    assert points == {"1": "2", "3": "1"}
    decided.write_text("student,part,points,reason,attempt\ns1,2d,1,talked it over,4\n", encoding="utf-8")
    with pytest.raises(FaultsError) as caught:
        mark_set(request, quiet)
    expected = "line 2: found the attempt '4'; expected the number of an attempt, or nothing for all"
    assert str(caught.value) == f"{decided}: {expected}"


def test_ids_that_would_share_a_file_are_refused(tmp_path: Path) -> None:
    with pytest.raises(FaultsError) as caught:
        built_in(tmp_path, several(2), names={"s1": "Ada", "S1-2": "Bea"})
    expected = "found the id 'S1-2', by which the sheets of attempt 2 of 's1' are called"
    assert (
        str(caught.value) == f"{tmp_path / 'week' / 'roster.csv'}: {expected}; expected another id, or fewer attempts"
    )
    assert not (tmp_path / "out").exists()


def test_sheets_and_pages_of_students_who_left_do_not_stay(tmp_path: Path) -> None:
    out = built_in(tmp_path, several(2))
    foreign = [out / "sheets" / "notes.pdf", out / "notes.txt"]
    for path in foreign:
        path.write_bytes(b"mine")
    marked_before = {"s1.html", "s1-2.html", "s2.html", "s3.html"}
    pages = FeedbackChoices(pdf=False, solutions=False)
    head, keys = keys_of(out)
    text = "\n".join([f"id,attempt,{','.join(head.columns)}", "s1,1,1", "s1,2,1", ""])
    (tmp_path / "r.csv").write_text(text, encoding="utf-8")
    mark_set(MarkingRequest(out, (tmp_path / "r.csv",), out / "grades", feedback=pages), quiet)
    assert {path.name for path in (out / "grades" / "feedback").iterdir()} == marked_before
    (out / "grades" / "feedback" / "mine.html").write_bytes(b"mine")
    built_in(tmp_path, ONCE, replace=True, names={"s1": "Ada", "s4": "Dee"})
    assert {path.name for path in (out / "sheets").iterdir()} == {"s1.pdf", "s4.pdf", "notes.pdf"}
    assert not (out / "class-2.pdf").exists()
    mark_set(MarkingRequest(out, (tmp_path / "r.csv",), out / "grades", replace=True, feedback=pages), quiet)
    left = {path.name for path in (out / "grades" / "feedback").iterdir()}
    assert left == {"s1.html", "s4.html", "mine.html"}
    assert all(path.read_bytes() == b"mine" for path in foreign)
    assert keys["s1", 1] == keys_of(out)[1]["s1", 1]


def test_marking_attempts_twice_gives_the_same_bytes(thrice: Path, tmp_path: Path) -> None:
    marked(thrice, tmp_path)
    first = files_of(tmp_path / "g")
    marked(thrice, tmp_path, replace=True)
    assert files_of(tmp_path / "g") == first
