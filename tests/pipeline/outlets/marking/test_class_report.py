"""The report on a class as a file: for the instructor alone, the same bytes again, without names where wanted."""

from __future__ import annotations

import stat
from collections.abc import Mapping
from pathlib import Path

from problemgen.load.answers.answers import ANSWERS_FILE, Answers
from problemgen.pipeline.mark import MarkingRequest, mark_set
from problemgen.pipeline.outlets.marking.class_report import REPORT_FILE
from problemgen.pipeline.outlets.marking.outlet import FeedbackChoices
from tests.support.small_class import NAMES

WROTE = {"s1": {"1a": "2.5 mmol", "1b": "?? <i>"}, "s2": {"1a": "", "1b": "4"}, "s3": {"1a": "ask s1"}}


def report(built: Path, out: Path, cells: Mapping[str, Mapping[str, str]], *, anonymous: bool = False) -> str:
    """The report on those who wrote these cells; the file is the owner's alone."""
    out.mkdir()
    rows = [f"{student},{row.get('1a', '')},{row.get('1b', '')}" for student, row in cells.items()]
    responses = out / "responses.csv"
    responses.write_text("\n".join(["id,1a,1b", *rows]) + "\n", encoding="utf-8")
    request = MarkingRequest(built, (responses,), out / "g", feedback=FeedbackChoices(pdf=False), anonymous=anonymous)
    mark_set(request, lambda *_: None)
    path = out / "g" / REPORT_FILE
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    return path.read_text(encoding="utf-8")


def test_who_handed_in_and_who_did_not(built: Path, tmp_path: Path) -> None:
    found = report(built, tmp_path / "one", WROTE)
    assert "3 of 6 students handed in; the figures are theirs alone." in found
    away = found[found.index('id="absent"') :]
    assert [student for student in NAMES if f"{student} " in away] == ["s4", "s5", "s6"]
    assert "?? &lt;i&gt;" in found
    assert "s3 D’Ervaux *Font* _x_ $y$ [z] \\#q &lt;b&gt;" in found


def test_the_same_marking_gives_the_same_bytes(built: Path, tmp_path: Path) -> None:
    turned = dict(reversed(WROTE.items()))
    one, two = (report(built, tmp_path / name, cells) for name, cells in (("one", WROTE), ("two", turned)))
    assert one == two


def test_a_report_without_names_has_codes(built: Path, tmp_path: Path) -> None:
    found = report(built, tmp_path / "one", WROTE, anonymous=True)
    with Answers(built / ANSWERS_FILE) as answers:
        keys = list(answers)
    assert not [key.name for key in keys if key.name in found]
    assert {key.student for key in keys if f"<bdi>{key.student} " in found or f">{key.student}<" in found} == set()
    away = [key.code for key in keys if key.student in ("s4", "s5", "s6")]
    assert all(f"<bdi>{code}</bdi>" in found for code in away)


def test_where_nobody_handed_in_all_are_listed(built: Path, tmp_path: Path) -> None:
    found = report(built, tmp_path / "one", {})
    assert "Nobody has handed anything in yet." in found
    assert all(f"<bdi>{student} " in found for student in NAMES)
    assert "<svg" not in found
