"""What comes back from a class: sheets filled in on the screen and workbooks, taken for the answers that they hold."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from pathlib import Path

import pytest

from problemgen.load.answers.answers import ANSWERS_FILE, Answers
from problemgen.pipeline.collect import CollectReport, collect
from tests.support.filled_in import (
    archive,
    build_to_fill,
    filled_book,
    filled_sheet,
    table,
    typed_class,
    verdicts,
)

CLASS = 120


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A class of 120 with sheets and workbooks to fill in. Not to be written into."""
    return build_to_fill(tmp_path_factory.mktemp("class"), CLASS)


@pytest.fixture(scope="module")
def typed(built: Path, tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Mapping[str, Mapping[str, str]]]:
    """What the class answered, typed into a table."""
    path = tmp_path_factory.mktemp("typed") / "typed.csv"
    return path, typed_class(built, path)


def sheet(built: Path, student: str, cells: Mapping[str, str]) -> bytes:
    return filled_sheet((built / "fill-in" / f"{student}.pdf").read_bytes(), cells)


def book(built: Path, student: str, cells: Mapping[str, str]) -> bytes:
    return filled_book((built / "workbooks" / f"{student}.xlsx").read_bytes(), cells)


def columns(built: Path) -> tuple[str, ...]:
    with Answers(built / ANSWERS_FILE) as answers:
        return answers.head.response_columns


def of_parts(built: Path, row: Mapping[str, str]) -> dict[str, str]:
    return {name: row[name] for name in columns(built)}


def collected(built: Path, folder: Path, files: Mapping[str, bytes]) -> tuple[CollectReport, dict[str, dict[str, str]]]:
    """The report on files in an archive, and the table by student."""
    (folder / "back.zip").write_bytes(archive(files.items()))
    report = collect(built, folder / "back.zip", folder / "answers.csv", replace=True)
    return report, table(folder / "answers.csv")


def listed(folder: Path) -> dict[str, dict[str, str]]:
    with (folder / "answers-unread.csv").open(encoding="utf-8-sig", newline="") as file:
        return {row["file"]: row for row in csv.DictReader(file)}


def test_a_filled_sheet_becomes_a_row_that_marking_reads(built: Path, tmp_path: Path) -> None:
    cells = {"1a": "2.5 mmol", "1e": "B", "2a": "3,95 x 10^1 g"}
    report, rows = collected(built, tmp_path, {"x/Unbenannt (3).pdf": sheet(built, "s007", cells)})
    assert (report.taken, report.messages, report.absent) == (1, (), CLASS - 1)
    assert of_parts(built, rows["s007"]) == dict.fromkeys(columns(built), "") | cells
    assert rows["s007"]["file"] == "x/Unbenannt (3).pdf"
    assert not any(of_parts(built, rows["s008"]).values())
    assert verdicts(built, tmp_path / "answers.csv", tmp_path / "grades")["s007", "2a"][3] == "3.95e1 g"


@pytest.mark.parametrize("hand_in", [sheet, book])
def test_a_class_of_120_gets_the_verdicts_of_what_is_typed(
    hand_in: object, built: Path, typed: tuple[Path, Mapping[str, Mapping[str, str]]], tmp_path: Path
) -> None:
    path, rows = typed
    make = {sheet: ".pdf", book: ".xlsx"}
    files = {
        f"up/{n}{make[hand_in]}": hand_in(built, who, of_parts(built, row)) for n, (who, row) in enumerate(rows.items())
    }
    report, _ = collected(built, tmp_path, files)
    assert report.messages == ()
    assert report.taken == len(rows) > 100
    assert verdicts(built, tmp_path / "answers.csv", tmp_path / "grades") == verdicts(built, path, tmp_path / "typed")
