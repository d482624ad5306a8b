"""A file with broken rows: each row is marked or listed, whatever is wrong with it, and twice gives the same bytes.

Feedback pages are left out here: they take most of the time, and see nothing of a row but its cells.
"""

from __future__ import annotations

import csv
import io
import re
from dataclasses import replace
from pathlib import Path

import pytest

from problemgen.pipeline.mark import MarkingReport, MarkingRequest, mark_set
from problemgen.pipeline.outlets import marking as marking_module
from problemgen.pipeline.outlets.marking.outlet import MarkingOutlet
from tests.support.broken_rows import Written, write_broken
from tests.support.many import many_answers, many_students
from tests.support.small_class import files_of

COUNT, AGAIN = 2000, 20


def without_pages(request: MarkingRequest) -> MarkingReport:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(marking_module, "FeedbackPages", lambda *_: MarkingOutlet())
        return mark_set(request, lambda *_: None)


@pytest.fixture(scope="module")
def marking(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Written, MarkingReport]:
    """A marking of 2,000 students with 40 broken rows and 20 rows handed in again."""
    folder = tmp_path_factory.mktemp("many")
    built = many_answers(folder, COUNT)
    written = write_broken(folder / "r.csv", [student.id for student in many_students(COUNT)], AGAIN)
    return folder, written, without_pages(MarkingRequest(built, (folder / "r.csv",), folder / "one"))


def wrote(folder: Path) -> set[str]:
    """What was marked as the answer to the first part."""
    csv.field_size_limit(1 << 27)
    text = (folder / "one" / "grades.csv").read_text(encoding="utf-8-sig")
    return {row["wrote"] for row in csv.DictReader(io.StringIO(text, newline="")) if row["part"] == "1a"}


def listed_lines(report: MarkingReport) -> set[int]:
    """The lines that the remarks name."""
    return {int(number) for remark in report.remarks for number in re.findall(r"\bline (\d+)", remark)}


def test_every_row_is_marked_or_listed(marking: tuple[Path, Written, MarkingReport]) -> None:
    folder, written, report = marking
    marked, listed = wrote(folder), listed_lines(report)
    rows = zip(written.lines, written.marks, strict=True)
    lost = [line for line, mark in rows if mark not in marked and line not in listed]
    assert lost == []
    assert listed <= {1, *written.lines}
    assert len(written.lines) == COUNT + AGAIN
    assert written.broken == COUNT // 50


def test_rows_add_up(marking: tuple[Path, Written, MarkingReport]) -> None:
    _, written, report = marking
    not_marked = sum("the row is not marked" in remark for remark in report.remarks)
    replaced = sum("does not" in remark for remark in report.remarks)
    assert report.marked + not_marked + replaced == len(written.lines)
    assert report.marked + report.absent == COUNT


def test_no_row_beside_a_broken_one_is_changed(marking: tuple[Path, Written, MarkingReport]) -> None:
    folder, written, _ = marking
    marked = wrote(folder)
    sound = [mark for index, mark in enumerate(written.marks[:COUNT]) if index % 50 and index >= AGAIN]
    assert set(sound) <= marked
    assert "row µ900000" in marked


def test_each_student_has_a_row_in_every_table(marking: tuple[Path, Written, MarkingReport]) -> None:
    folder, _, _ = marking
    text = (folder / "one" / "gradebook.csv").read_text(encoding="utf-8-sig")
    assert sorted(row["id"] for row in csv.DictReader(io.StringIO(text))) == [one.id for one in many_students(COUNT)]


def test_marking_again_gives_the_same_bytes_in_every_file(marking: tuple[Path, Written, MarkingReport]) -> None:
    folder, _, report = marking
    again = without_pages(MarkingRequest(folder / "built", (folder / "r.csv",), folder / "two"))
    assert replace(again, out=report.out) == report
    one, two = files_of(folder / "one"), files_of(folder / "two")
    assert one.keys() == two.keys()
    assert [name for name in one if one[name] != two[name]] == []
