"""What a marking writes: what its outlets say they write is what lies there."""

from __future__ import annotations

import html
from pathlib import Path
from typing import Any

import pytest

from problemgen.model.answers import KeyHead, StudentKey
from problemgen.model.blocks import Document
from problemgen.pipeline.mark import MarkingReport, MarkingRequest, mark_set
from problemgen.pipeline.outlets.marking import feedback
from tests.support.marking import PAGES_ONLY, write_cells
from tests.support.own_set import ALCOHOL, ALCOHOL_OWN, own_set
from tests.support.small_class import files_of
from tests.support.small_set import write_answers

FILES = (
    "grades.csv",
    "gradebook.csv",
    "gradebook.xlsx",
    "sections.csv",
    "unread.csv",
    "look-into.csv",
    "class-report.html",
    "feedback/",
)


def marked(folder: Path, responses: Path, out: Path, *, anonymous: bool = False) -> MarkingReport:
    return mark_set(
        MarkingRequest(folder, (responses,), out, feedback=PAGES_ONLY, anonymous=anonymous), lambda *_: None
    )


def listed(folder: Path) -> set[str]:
    """The files of a folder as a finishing message lists them."""
    return {f"{name.split('/')[0]}/" if "/" in name else name for name in files_of(folder)}


@pytest.mark.parametrize(("anonymous", "more"), [(False, ()), (True, ("codes.csv",))])
def test_what_is_listed_is_what_was_written(
    built: Path, tmp_path: Path, anonymous: bool, more: tuple[str, ...]
) -> None:
    write_cells(tmp_path / "r.csv", {"s1": {"1a": "1"}})
    report = marked(built, tmp_path / "r.csv", tmp_path / "out", anonymous=anonymous)
    assert report.files == (*FILES, *more)
    assert set(report.files) == listed(tmp_path / "out")
    assert tuple(report.cautions) == more


def test_own_data_are_listed_where_the_set_has_some(tmp_path: Path) -> None:
    write_answers(tmp_path, own_set(ALCOHOL, ALCOHOL_OWN))
    write_cells(tmp_path / "r.csv", {"s1": {"1a": "1"}})
    report = marked(tmp_path, tmp_path / "r.csv", tmp_path / "out")
    assert report.files == (*FILES[:4], "own-data.csv", *FILES[4:])
    assert set(report.files) == listed(tmp_path / "out")


def test_a_page_that_cannot_be_worked_out_tells_the_points(
    built: Path, tmp_path: Path, failures_stand: pytest.MonkeyPatch
) -> None:
    whole = feedback.feedback_document

    def fails_for_one(head: KeyHead, key: StudentKey, *more: Any, **how: Any) -> Document:
        assert key.student != "s1"
        return whole(head, key, *more, **how)

    failures_stand.setattr(feedback, "feedback_document", fails_for_one)
    write_cells(tmp_path / "r.csv", {"s1": {"1a": "2.500 mmol"}, "s2": {"1a": "1"}})
    report = marked(built, tmp_path / "r.csv", tmp_path / "out")
    assert report.to_look_at == ("s1: the feedback tells the points alone: look at it",)
    page = html.unescape((tmp_path / "out" / "feedback" / "s1.html").read_text(encoding="utf-8"))
    assert "of 14 points" in page
    assert "More could not be told here: ask your instructor." in page
    assert "More could not be told" not in (tmp_path / "out" / "feedback" / "s2.html").read_text(encoding="utf-8")
