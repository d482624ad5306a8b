"""The grade command: messages, refusals, exit codes."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from problemgen.cli import main
from problemgen.load.answers.answers import ANSWERS_FILE

ROOT = Path(__file__).resolve().parents[2]
Capture = pytest.CaptureFixture[str]
Say = Callable[[], str]


def test_a_marking_says_how_many_and_where(key: Path, tmp_path: Path, said: Say) -> None:
    assert main(["grade", str(key), str(tmp_path / "r.csv")]) == 3
    assert said() == (
        "r.csv:\n  line 1: no column for 1b, 1c, 1d, 1e, 1f, 1g, 2a, 2b, 2c, 2d; these parts count as blank\n"
        "Marked 1 student; 1 handed nothing in. Written to built/grades: grades.csv, gradebook.csv, gradebook.xlsx, "
        "sections.csv, unread.csv, look-into.csv, class-report.html, feedback/.\n"
    )
    assert (key / "grades" / "feedback" / "s2.html").is_file()


@pytest.mark.parametrize(
    ("more", "pdf", "solution"),
    [([], True, True), (["--no-pdf"], False, True), (["--without-solutions"], True, False)],
)
def test_what_feedback_holds_is_chosen(
    key: Path, tmp_path: Path, more: list[str], *, pdf: bool, solution: bool
) -> None:
    assert main(["grade", str(key), str(tmp_path / "r.csv"), "--quiet", *more]) == 3
    feedback = key / "grades" / "feedback"
    assert {path.name for path in feedback.iterdir()} == {
        *("s1.html", "s2.html"),
        *(("s1.pdf", "s2.pdf") if pdf else ()),
    }
    assert ("Worked solution" in (feedback / "s1.html").read_text(encoding="utf-8")) is solution


def test_rows_of_strangers_are_listed_and_the_others_marked(key: Path, tmp_path: Path, said: Say) -> None:
    columns = "1a,1b,1c,1d,1e,1f,1g,2a,2b,2c,2d"
    rows = f"id,{columns}\nx7,1\n\ns2,2.500 mmol\n,3\ns1,2.500 mmol\n"
    (tmp_path / "r.csv").write_text(rows, encoding="utf-8")
    arguments = ["grade", str(key), str(tmp_path / "r.csv"), "--out", str(tmp_path / "g")]
    assert main(arguments) == 3
    assert said() == (
        "r.csv:\n"
        "  line 2: the id 'x7' is not in the set; the row is not marked\n"
        "  line 5: no id; the row is not marked\n"
        "Marked 2 students. Written to g: grades.csv, gradebook.csv, gradebook.xlsx, sections.csv, unread.csv, "
        "look-into.csv, class-report.html, feedback/.\n"
    )
    assert main([*arguments, "--quiet", "--replace"]) == 3
    assert said().splitlines()[0] == "r.csv:"
    (tmp_path / "r.csv").write_text(f"id,{columns}\ns2,2.500 mmol\n", encoding="utf-8")
    assert main([*arguments, "--quiet", "--replace"]) == 0
    assert said() == ""


@pytest.mark.parametrize(
    ("rows", "fault"),
    [
        ("name,1a\nAda,1\n", ("r.csv: line 1: found the columns 'name', '1a'; expected a column 'id'. Start from the "
         "responses.csv of the built set.")),
        ("id,name\ns1,Ada\n", ("r.csv: line 1: found the columns 'id', 'name'; expected columns named as the parts: "
         "1a, 1b, 1c, 1d, …. Start from the responses.csv of the built set.")),
        ("", "r.csv: found an empty file; expected a table with a header row"),
    ],
)  # fmt: skip
def test_responses_that_cannot_be_used(key: Path, tmp_path: Path, said: Say, rows: str, fault: str) -> None:
    (tmp_path / "r.csv").write_text(rows, encoding="utf-8")
    assert main(["grade", str(key), str(tmp_path / "r.csv"), "--out", str(tmp_path / "g")]) == 1
    assert said() == f"1 fault; nothing was written:\n  {fault}\n"
    assert not (tmp_path / "g").exists()


def test_missing_responses_and_missing_answers(key: Path, tmp_path: Path, said: Say) -> None:
    assert main(["grade", str(key), str(tmp_path / "none.csv")]) == 1
    assert said() == (
        "1 fault; nothing was written:\n  none.csv: found no such file or directory; expected a readable CSV file\n"
    )
    (key / ANSWERS_FILE).unlink()
    assert main(["grade", str(key), str(tmp_path / "r.csv")]) == 1
    assert said() == (
        "1 fault; nothing was written:\n"
        "  built/answers.json: found no such file or directory; expected the answers.json of a built set\n"
    )


@pytest.mark.parametrize(
    ("old", "new", "found", "expected"),
    [
        (b'"0.1000"', b'"0.1001"', "contents that do not fit the digest", "the file as it was built"),
        (b'"format":"problemgen answers"', b'"format":"other answers"', "another format",
         "a file of the format 'problemgen answers'"),
        (b'"version":5', b'"version":9', "version 9", "version 5"),
        (b'\n],"digest"', b"", "a file that ends too early", "the file as it was built"),
    ],
)  # fmt: skip
def test_a_damaged_key_is_refused(
    key: Path, tmp_path: Path, said: Say, old: bytes, new: bytes, found: str, expected: str
) -> None:
    content = (key / ANSWERS_FILE).read_bytes()
    assert old in content
    changed = content.partition(old)[0] + b"\n" if not new else content.replace(old, new)
    (key / ANSWERS_FILE).write_bytes(changed)
    assert main(["grade", str(key), str(tmp_path / "r.csv"), "--out", str(tmp_path / "g")]) == 1
    again = "Build the set again, or restore the file from a copy."
    assert (
        said() == f"1 fault; nothing was written:\n  built/answers.json: found {found}; expected {expected}. {again}\n"
    )
    assert not (tmp_path / "g").exists()


def test_grades_are_not_replaced_unasked(key: Path, tmp_path: Path, said: Say) -> None:
    arguments = ["grade", str(key), str(tmp_path / "r.csv"), "--quiet"]
    assert main(arguments) == 3
    said()
    assert main(arguments) == 1
    assert (
        said() == "built/grades already holds gradebook.csv, grades.csv; nothing was written. --replace replaces them\n"
    )
    assert main([*arguments, "--replace"]) == 3
    (tmp_path / "g").write_text("", encoding="utf-8")
    said()
    assert main([*arguments, "--out", str(tmp_path / "g")]) == 1
    assert said() == "g is a file; a folder is needed\n"
