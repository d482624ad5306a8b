"""The instructor's decisions survive every marking."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pytest

from problemgen.errors import FaultsError
from problemgen.load.answers.answers import ANSWERS_FILE, Answers
from problemgen.model.decision import Decisions
from problemgen.pipeline.decisions import decisions_for
from problemgen.pipeline.explain import ExplanationRequest, explain
from problemgen.pipeline.mark import MarkingRequest, mark_set
from tests.support.marking import PAGES_ONLY, write_cells
from tests.support.small_class import build_small, files_of, write_class
from tests.support.small_set import small_set, write_answers

HEADER = "student,part,points,reason\n"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A set of two students, and responses of one."""
    built = tmp_path / "built"
    built.mkdir()
    write_answers(built, small_set(tmp_path))
    write_cells(tmp_path / "r.csv", {"s1": {"1a": "2.500 mmol", "1f": "1 mg"}})
    return built


def graded(folder: Path, name: str = "g", overrides: Path | None = None) -> dict[tuple[str, str], dict[str, str]]:
    out = folder.parent / name
    responses = folder.parent / "r.csv"
    request = MarkingRequest(folder, (responses,), out, replace=True, feedback=PAGES_ONLY, overrides=overrides)
    mark_set(request, lambda *_: None)
    rows = csv.DictReader(io.StringIO((out / "grades.csv").read_text(encoding="utf-8-sig")))
    return {(row["id"], row["part"]): row for row in rows}


def test_without_a_file_there_are_no_decisions(folder: Path) -> None:
    with Answers(folder / ANSWERS_FILE) as answers:
        assert decisions_for(folder, None, answers) == Decisions()


def test_the_file_of_the_set_is_taken_at_every_marking_and_never_written(folder: Path) -> None:
    text = f'{HEADER}S1,1f,"1,5",Right on paper\ns2,1a,1,Was ill; handed in by mail\n'
    (folder / "overrides.csv").write_text(text, encoding="utf-8")
    for name in ("one", "two"):
        rows = graded(folder, name)
        first, second = rows["s1", "1f"], rows["s2", "1a"]
        assert (first["points"], first["of"], first["verdict"]) == ("1.5", "2", "wrong")
        assert first["decision"] == "Right on paper"
        assert first["sentence"].endswith("Your instructor's decision: Right on paper")
        assert (second["points"], second["verdict"]) == ("1", "blank")
        assert {row["decision"] for key, row in rows.items() if key not in (("s1", "1f"), ("s2", "1a"))} == {""}
        page = (folder.parent / name / "feedback" / "s1.html").read_text(encoding="utf-8")
        assert "Your instructor’s decision: Right on paper" in page.replace("'", "’").replace("&#39;", "’")
    assert files_of(folder.parent / "one") == files_of(folder.parent / "two")
    assert (folder / "overrides.csv").read_text(encoding="utf-8") == text


def test_another_file_goes_in_its_place(folder: Path) -> None:
    (folder / "overrides.csv").write_text(f"{HEADER}s1,1a,0,one\n", encoding="utf-8")
    other = folder.parent / "other.csv"
    other.write_text(f"{HEADER}s1,1f,2,two\n", encoding="utf-8")
    rows = graded(folder, overrides=other)
    assert (rows["s1", "1a"]["points"], rows["s1", "1f"]["points"]) == ("1", "2")


def test_faults_stop_the_marking_before_anything_is_written(folder: Path) -> None:
    (folder / "overrides.csv").write_text(f"{HEADER}s1,1f,3,one\ns1,9z,1,\n", encoding="utf-8")
    with pytest.raises(FaultsError) as caught:
        graded(folder)
    assert [fault.key for fault in caught.value.faults] == ["line 2", "line 3", "line 3"]
    assert not (folder.parent / "g").exists()


def test_a_build_leaves_the_decisions_alone(tmp_path: Path) -> None:
    write_class(tmp_path)
    out = tmp_path / "out"
    assert build_small(tmp_path, out, "--quiet") == 0
    assert not (out / "overrides.csv").exists()
    (out / "overrides.csv").write_text(HEADER, encoding="utf-8")
    assert build_small(tmp_path, out, "--quiet", "--replace") == 0
    assert (out / "overrides.csv").read_text(encoding="utf-8") == HEADER


def test_decisions_about_all_about_problems_and_sheets_reach_every_file(folder: Path) -> None:
    rows = f"{HEADER}*,1f,drop,A misprint\ns1,2,5,On paper\n*,,bonus 1,The alarm\ns2,,drop,Ill\n"
    (folder / "overrides.csv").write_text(rows, encoding="utf-8")
    request = MarkingRequest(folder, (folder.parent / "r.csv",), folder.parent / "g", feedback=PAGES_ONLY)
    report = mark_set(request, lambda *_: None)
    assert report.notes[:2] == (
        "Your own decisions: 4, marked in grades.csv.",
        "1f counts for nobody: nothing is earned in it, and the sheet has so many points fewer.",
    )
    with (folder.parent / "g" / "gradebook.csv").open(encoding="utf-8-sig", newline="") as file:
        first, second = csv.DictReader(file)
    assert (first["id"], first["points"], first["of"], first["1a"], first["1f"]) == ("s1", "7", "12", "1", "")
    assert (second["id"], second["points"], second["of"], second["percent"]) == ("s2", "", "0", "")
    page = (folder.parent / "g" / "feedback" / "s1.html").read_text(encoding="utf-8").replace("’", "'")
    for told in ("7 of 12 points", "+5 points. On paper", "+1 point. The alarm", "A misprint", "not counted"):
        assert told in page
    lines = list(explain(ExplanationRequest(folder, (folder.parent / "r.csv",), "s1")))
    assert "Your decision about problem 2: +5 points. On paper" in lines
    assert "Your decision about the whole sheet: +1 point. The alarm" in lines
    assert "- Points: 0 of 2; not counted, by your decision" in lines
