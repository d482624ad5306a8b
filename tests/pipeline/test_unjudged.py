"""A part whose judging fails: told with student and part, open in every file, until the instructor decides."""

from __future__ import annotations

import csv
import html
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook

from problemgen.cli import main
from problemgen.grade.judging import number_verdicts
from tests.support.judged import RIGHT
from tests.support.marking import write_cells

Capture = pytest.CaptureFixture[str]


@pytest.fixture
def wrote(failures_stand: pytest.MonkeyPatch) -> str:
    """An answer that divides by zero when it is read."""
    read, text = number_verdicts.readings_of, "an answer that nobody foresaw"

    def reading(wrote: str, *more: Any, **how: Any) -> Any:
        return 1 // 0 if wrote == text else read(wrote, *more, **how)

    failures_stand.setattr(number_verdicts, "readings_of", reading)
    return text


@pytest.fixture
def marked(built: Path, tmp_path: Path, wrote: str, capsys: Capture) -> tuple[int, str]:
    """Exit code and messages of a marking in which 1a of s2 fails; no numbers drawn make the others' 1a right."""
    blank = dict.fromkeys(RIGHT, "")
    cells = {"s1": {**blank, "1a": "7e30"}, "s2": {**blank, "1a": wrote, "2a": "x"}, "s3": {**blank, "1a": "8e30"}}
    write_cells(tmp_path / "r.csv", cells)
    return _grade(built, tmp_path, capsys)


def _grade(built: Path, tmp_path: Path, capsys: Capture, *more: str) -> tuple[int, str]:
    arguments = ("grade", str(built), str(tmp_path / "r.csv"), "--out", str(tmp_path / "g"), "--no-pdf", "--quiet")
    code = main([*arguments, *more])
    return code, capsys.readouterr().err


def _table(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8-sig", newline="") as file:
        return list(csv.DictReader(file))


def test_student_and_part_are_told_and_the_class_is_written(
    marked: tuple[int, str], tmp_path: Path, wrote: str
) -> None:
    assert marked == (
        3,
        "s2, 1a: not judged: look at it\nSuch a part earns nothing until you decide: overrides.csv gives it points.\n",
    )
    rows = {(row["id"], row["part"]): row for row in _table(tmp_path / "g" / "grades.csv")}
    row = rows["s2", "1a"]
    assert (row["verdict"], row["reason"], row["points"], row["wrote"]) == ("unjudged", "not-judged", "0", wrote)
    assert rows["s2", "2a"]["verdict"] == "unread"
    assert {row["verdict"] for (student, part), row in rows.items() if student != "s2"} <= {"blank", "wrong"}
    assert len({student for student, _ in rows}) == 6


@pytest.mark.usefixtures("marked")
def test_every_file_shows_it_as_open(tmp_path: Path) -> None:
    out = tmp_path / "g"
    book = {row["id"]: row for row in _table(out / "gradebook.csv")}
    assert (book["s2"]["1a"], book["s2"]["points"], book["s1"]["1a"]) == ("not judged", "0", "0")
    header, *rows = load_workbook(out / "gradebook.xlsx").worksheets[0].iter_rows(values_only=True)
    cells = {row[0]: dict(zip(header, row, strict=True)) for row in rows}
    assert (cells["s2"]["1a"], cells["s1"]["1a"], cells["s2"]["of"]) == ("not judged", 0, 14)
    page = html.unescape((out / "feedback" / "s2.html").read_text(encoding="utf-8"))
    assert "Not judged yet" in page
    assert "Your instructor looks at this answer." in page
    report = html.unescape((out / "class-report.html").read_text(encoding="utf-8"))
    assert "Not judged: look at it. Until you decide, it counts as without points." in report


@pytest.mark.usefixtures("marked")
def test_a_decision_gives_it_points_and_closes_it(built: Path, tmp_path: Path, capsys: Capture) -> None:
    (tmp_path / "o.csv").write_text("student,part,points,reason\ns2,1a,1,Right on paper\n", encoding="utf-8")
    code, told = _grade(built, tmp_path, capsys, "--replace", "--overrides", str(tmp_path / "o.csv"))
    assert (code, told) == (0, "")
    book = {row["id"]: row for row in _table(tmp_path / "g" / "gradebook.csv")}
    assert (book["s2"]["1a"], book["s2"]["points"]) == ("1", "1")
    (row,) = (row for row in _table(tmp_path / "g" / "grades.csv") if (row["id"], row["part"]) == ("s2", "1a"))
    assert (row["verdict"], row["points"], row["decision"]) == ("unjudged", "1", "Right on paper")
    assert "Your instructor's decision: Right on paper" in row["sentence"]
    report = html.unescape((tmp_path / "g" / "class-report.html").read_text(encoding="utf-8"))
    assert "Not judged" not in report


def test_a_developer_is_shown_where_it_failed(
    built: Path, tmp_path: Path, wrote: str, capsys: Capture, monkeypatch: pytest.MonkeyPatch,
    caplog: pytest.LogCaptureFixture,
) -> None:  # fmt: skip
    write_cells(tmp_path / "r.csv", {"s2": {"1a": wrote}})
    monkeypatch.setenv("PROBLEMGEN_DEBUG", "1")
    _grade(built, tmp_path, capsys)
    assert "failed: ZeroDivisionError" in caplog.text
    assert "number_verdicts.py" in caplog.text
    assert wrote not in caplog.text
