"""A class looked over: the tables that it tells are those that a marking writes."""

from __future__ import annotations

from pathlib import Path

from problemgen.pipeline.mark import MarkingRequest
from problemgen.pipeline.overview import overview
from tests.support.came_back import right_answers, table
from tests.support.marking import mark_small

MESS = {"s1": {"1a": "see b", "2a": "1,234"}, "s3": {"1a": "=cmd", "1b": ""}}


def test_what_is_told_is_what_is_written(built: Path, tmp_path: Path) -> None:
    responses, out = tmp_path / "r.csv", tmp_path / "grades"
    answers = right_answers(built)
    responses.write_bytes(table({name: answers[name] for name in list(answers)[:4]}, MESS))
    seen = overview(MarkingRequest(built, (responses,), out))
    assert (seen.came, seen.students) == (4, 6)
    assert not seen.is_written(out)
    mark_small(built, responses, out)
    assert seen.is_written(out)
    for name in ("grades.csv", "gradebook.csv"):
        assert (out / name).read_bytes() == seen.tables[name]
    (out / "gradebook.csv").write_bytes(seen.tables["gradebook.csv"] + b"x")
    assert not seen.is_written(out)
    assert {one.written for one in seen.cells.unread} == {"see b", "=cmd"}
    assert [one.written for one in seen.cells.doubted] == ["1,234"]
    assert [one.name for one in seen.strips] == list(seen.marked.head.columns)
    assert seen.by_entry["s3", 1].parts[1].verdict == "blank"
