"""Judging in several processes: the same files, whoever judges."""

from __future__ import annotations

from pathlib import Path

import pytest

from problemgen.pipeline import judging
from problemgen.pipeline.mark import mark
from tests.pipeline.test_mark import right_cells, write_responses
from tests.support.small_class import files_of


def test_how_many_processes_judge_makes_no_difference(
    built: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    cells = right_cells(built)
    for place, row in enumerate(cells.values()):
        row.update(zip(row, ("12.3", "", "no idea", "1e400")[place % 4 :], strict=False))
    responses = write_responses(tmp_path / "responses.csv", cells)
    monkeypatch.setattr(judging, "_POOL_FROM", 2)
    monkeypatch.setattr(judging, "_PIECE", 2)
    made = {}
    for workers in (1, 2, 3):
        out = tmp_path / f"by {workers}"
        report = mark(built, responses, out, pdf=False, workers=workers)
        made[workers] = files_of(out), report.remarks, report.to_look_at
    assert made[1] == made[2] == made[3]
