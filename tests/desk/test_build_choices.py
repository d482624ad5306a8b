"""What the last build was asked for, as its files tell, and the layout as the desk has kept it."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from problemgen.desk.build_choices import BuildChoices, keep_layout, last_choices


@pytest.fixture
def built(tmp_path: Path) -> Path:
    folder = tmp_path / "output/week-1"
    folder.mkdir(parents=True)
    (folder / "answers.json").write_text("{}", encoding="utf-8")
    return folder


def test_files_tell_what_was_asked_for_and_would_go(built: Path) -> None:
    for name in ("class.pdf", "key.pdf", "worked-key.pdf", "worked-key-session-1.pdf", "slips.pdf", "slips/a.pdf",
                 "slips/b.pdf", "workbooks/a.xlsx", "fill-in-session-2/a.pdf", "sheets/a.pdf"):  # fmt: skip
        (built / name).parent.mkdir(exist_ok=True)
        (built / name).touch()
    assert last_choices(built).going == {
        "workbook": ["workbooks/"],
        "slip": ["slips.pdf", "slips/"],
        "worked_key": ["worked-key-session-1.pdf", "worked-key.pdf"],
    }
    assert last_choices(built).wanted == {"workbook", "slip", "worked_key"}


def test_nothing_was_asked_for_where_nothing_is_built(tmp_path: Path) -> None:
    assert last_choices(tmp_path / "none") == BuildChoices()


def test_the_layout_is_kept_until_somebody_else_builds(built: Path) -> None:
    keep_layout(built, "compact")
    assert last_choices(built).layout == "compact"
    os.utime(built / "answers.json", ns=(1, 1))
    assert last_choices(built).layout == ""
    keep_layout(built, "")
    assert last_choices(built).layout == ""


@pytest.mark.parametrize("text", ["", "[]", "{}", '{"layout": "<b>", "of": []}', '{"layout": [], "of": 1}', "\0"])
def test_what_is_damaged_tells_nothing(built: Path, text: str) -> None:
    keep_layout(built, "compact")
    (built.parent / ".choices/week-1.json").write_text(text, encoding="utf-8")
    assert last_choices(built).layout == ""
