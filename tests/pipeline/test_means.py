"""What cells mean: read in the place of what was written, offered for what could not be read, told to the student."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pytest

from problemgen.errors import FaultsError
from problemgen.pipeline.explain import ExplanationRequest, explain
from problemgen.pipeline.mark import MarkingReport, MarkingRequest, mark_set
from tests.support.marking import PAGES_ONLY, write_cells
from tests.support.small_set import small_set, write_answers

CELLS = {"s1": {"1a": "2.500 mmol", "1e": "silver salt", "1f": "see b"}, "s2": {"1e": "Silver  Salt", "2a": "see b"}}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A built set of two students, and responses of both."""
    built = tmp_path / "built"
    built.mkdir()
    write_answers(built, small_set(tmp_path))
    write_cells(tmp_path / "r.csv", CELLS)
    return built


def graded(folder: Path, means: Path | None = None) -> MarkingReport:
    request = MarkingRequest(
        folder, (folder.parent / "r.csv",), folder.parent / "g", replace=True, feedback=PAGES_ONLY, means=means
    )
    return mark_set(request, lambda *_: None)


def table(folder: Path, name: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO((folder.parent / "g" / name).read_text(encoding="utf-8-sig"))))


def cell(folder: Path, student: str, part: str) -> dict[str, str]:
    (found,) = (row for row in table(folder, "grades.csv") if (row["id"], row["part"]) == (student, part))
    return found


def test_what_could_not_be_read_is_offered_by_how_often_it_occurs(folder: Path) -> None:
    report = graded(folder)
    assert [list(row.values()) for row in table(folder, "unread.csv")] == [
        ["see b", "", "", "2"],
        ["silver salt", "", "1e", "2"],
    ]
    told = "unread.csv: 2 different answers that could not be read. Fill in what they mean, and mark again with it as"
    assert report.notes == (f"{told} means.csv.",)


def test_filled_in_it_is_marked_and_told(folder: Path) -> None:
    graded(folder)
    text = (folder.parent / "g" / "unread.csv").read_text(encoding="utf-8-sig")
    filled = text.replace("silver salt,,1e", "silver salt,silver nitrate,1e")
    (folder / "means.csv").write_text(filled, encoding="utf-8")
    assert "unread.csv: 1 answer that could not be read." in graded(folder).notes[0]
    for student, written in (("s1", "silver salt"), ("s2", "Silver  Salt")):
        row = cell(folder, student, "1e")
        assert (row["verdict"], row["wrote"], row["read"]) == ("right", written, "silver nitrate")
        assert row["sentence"] == 'Right. "' + written + '" is taken as silver nitrate.'
    assert [row["written"] for row in table(folder, "unread.csv")] == ["see b"]
    assert "is taken as silver nitrate" in (folder.parent / "g" / "feedback" / "s1.html").read_text(encoding="utf-8")
    lines = list(explain(ExplanationRequest(folder, (folder.parent / "r.csv",), "s1", "1e")))
    assert "- Wrote: silver salt" in lines
    assert "- Read: silver nitrate" in lines


def test_a_meaning_for_all_parts_holds_where_a_cell_cannot_be_read(folder: Path, tmp_path: Path) -> None:
    (tmp_path / "m.csv").write_text("written,means\nsee b,400 mg\n2.500 mmol,7 mmol\n", encoding="utf-8")
    graded(folder, tmp_path / "m.csv")
    assert cell(folder, "s1", "1a")["read"] == "2.500 mmol"
    assert cell(folder, "s1", "1f")["read"] == "400 mg"


def test_a_meaning_for_one_part_holds_whatever_the_cell_says(folder: Path, tmp_path: Path) -> None:
    (tmp_path / "m.csv").write_text("written,means,part\n2.500 mmol,7 mmol,1a\n", encoding="utf-8")
    graded(folder, tmp_path / "m.csv")
    assert (cell(folder, "s1", "1a")["read"], cell(folder, "s1", "1a")["wrote"]) == ("7 mmol", "2.500 mmol")
    assert table(folder, "unread.csv")[0]["written"] == "see b"


def test_nothing_can_be_meant_too(folder: Path, tmp_path: Path) -> None:
    (tmp_path / "m.csv").write_text("written,means,part\nsee b,-,\n", encoding="utf-8")
    graded(folder, tmp_path / "m.csv")
    assert cell(folder, "s1", "1f")["verdict"] == "blank"


def test_a_file_that_does_not_fit_is_refused_before_anything_is_written(folder: Path, tmp_path: Path) -> None:
    (folder / "means.csv").write_text("written,means,part\nx,y,9z\n", encoding="utf-8")
    with pytest.raises(FaultsError, match=r"line 2: found the part '9z'"):
        graded(folder)
    assert not (tmp_path / "g").exists()
