"""300 hostile or damaged returns among those of a class: none ends the run, and none goes to another student."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from problemgen.load.answers.answers import ANSWERS_FILE, Answers
from problemgen.pipeline.collect import collect
from tests.support.filled_in import archive, build_to_fill, filled_book, filled_sheet, table
from tests.support.hostile_returns import hostile

HOSTILE = 300
MINE = {"1a": "2.5 mmol", "2b": "41 g"}
OTHERS = {"1a": "7.25 mmol", "1e": "A"}


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return build_to_fill(tmp_path_factory.mktemp("class"), 4)


def test_none_of_300_ends_the_run_and_none_goes_to_another(built: Path, tmp_path: Path) -> None:
    sheet = filled_sheet((built / "fill-in" / "s001.pdf").read_bytes(), MINE)
    book = filled_book((built / "workbooks" / "s001.xlsx").read_bytes(), MINE)
    other = filled_sheet((built / "fill-in" / "s002.pdf").read_bytes(), OTHERS)
    files = [*hostile(sheet, book, HOSTILE, 7), ("of another.pdf", other)]
    assert len(files) == HOSTILE + 1
    (tmp_path / "in" / "deep").mkdir(parents=True)
    packed = tmp_path / "in" / "deep" / "back.zip"
    packed.write_bytes(archive(files))
    report = collect(built, packed, tmp_path / "answers.csv")
    rows = table(tmp_path / "answers.csv")
    with Answers(built / ANSWERS_FILE) as answers:
        columns = answers.head.response_columns
    assert {name: rows["s002"][name] for name in columns} == dict.fromkeys(columns, "") | OTHERS
    assert not any(rows[student][name] for student in ("s003", "s004") for name in columns)
    assert sorted(path.name for path in tmp_path.rglob("*")) == [
        "answers-unread.csv",
        "answers.csv",
        "back.zip",
        "deep",
        "in",
    ]
    with (tmp_path / "answers-unread.csv").open(encoding="utf-8-sig", newline="") as file:
        listed = [row["file"] for row in csv.DictReader(file)]
    assert len(listed) == len(set(listed)) == len(report.messages)
    assert all("\n" not in message for message in report.messages)
