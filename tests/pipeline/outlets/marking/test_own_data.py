"""own-data.csv: written for sets with own data alone, for the instructor's eyes."""

from __future__ import annotations

import csv
import io
import stat
from dataclasses import replace
from pathlib import Path

from problemgen.grade.judging.judge import judge_student
from problemgen.pipeline.outlets.marking.own_data import OWN_DATA_FILE, OwnDataTable
from problemgen.write.files import Staging
from tests.support.own_set import ALCOHOL, ALCOHOL_OWN, own_key, worked

CELLS = {"1.magnesium.mass": "=6.120 g", "1.triphenylmethanol.obtained": "1.74 g"}


def written(folder: Path, *, handed_in: bool = True) -> tuple[OwnDataTable, list[dict[str, str]]]:
    head, _ = own_key(ALCOHOL, ALCOHOL_OWN)
    key = worked(ALCOHOL, ALCOHOL_OWN, CELLS)
    result = replace(judge_student(head, key, CELLS), handed_in=handed_in)
    with Staging(folder) as staging:
        table = OwnDataTable(staging)
        table.take(key, result)
        table.close()
    path = folder / OWN_DATA_FILE
    text = path.read_text(encoding="utf-8-sig")
    return table, list(csv.DictReader(io.StringIO(text)))


def test_a_row_for_each_value(tmp_path: Path) -> None:
    table, rows = written(tmp_path / "out")
    assert [row["about"] for row in rows] == [f"1.{name}" for name in ALCOHOL_OWN]
    assert [row["flag"] for row in rows] == ["range", "missing", "missing", "missing", ""]
    assert list(table.notes()) == ["own-data.csv: 4 to look at, unusual or missing values of the students' own."]


def test_what_was_written_runs_no_formula_in_a_spreadsheet(tmp_path: Path) -> None:
    _, rows = written(tmp_path / "out")
    assert rows[0]["wrote"] == "'=6.120 g"


def test_it_is_for_the_owner_only(tmp_path: Path) -> None:
    written(tmp_path / "out")
    assert stat.S_IMODE((tmp_path / "out" / OWN_DATA_FILE).stat().st_mode) == 0o600


def test_who_handed_nothing_in_has_no_rows(tmp_path: Path) -> None:
    table, rows = written(tmp_path / "out", handed_in=False)
    assert (list(table.notes()), rows) == ([], [])
