"""look-into.csv: written at every marking, for the instructor alone, and never on a student's page."""

from __future__ import annotations

import csv
import io
import stat
from pathlib import Path

from problemgen.load.answers.answers import ANSWERS_FILE, Answers
from problemgen.pipeline.mark import MarkingRequest, mark_set
from problemgen.render.classes.look_into import LOOK_INTO_COLUMNS
from tests.support.many import many_answers, right_cells
from tests.support.marking import PAGES_ONLY, mark_small, write_cells


def rows(out: Path) -> list[dict[str, str]]:
    text = (out / "look-into.csv").read_text(encoding="utf-8-sig")
    return list(csv.DictReader(io.StringIO(text)))


def test_with_nothing_to_look_into_there_is_a_header(tmp_path: Path, built: Path) -> None:
    write_cells(tmp_path / "r.csv", {"s2": {"1a": "2.500 mmol"}})
    out = mark_small(built, tmp_path / "r.csv", tmp_path / "out")
    content = (out / "look-into.csv").read_bytes()
    assert content == b"\xef\xbb\xbf" + ",".join(LOOK_INTO_COLUMNS).encode() + b"\r\n"
    assert stat.S_IMODE((out / "look-into.csv").stat().st_mode) == 0o600


def test_a_sheet_that_is_another_students_is_listed_and_not_told_to_students(tmp_path: Path) -> None:
    folder = many_answers(tmp_path, 120)
    with Answers(folder / ANSWERS_FILE) as answers:
        cells = {key.student: right_cells(answers.head, key) for key in answers}
    cells["roster-0007"] = cells["roster-0101"]
    write_cells(tmp_path / "r.csv", cells)
    request = MarkingRequest(folder, (tmp_path / "r.csv",), tmp_path / "out", feedback=PAGES_ONLY)
    report = mark_set(request, lambda *_: None)
    assert report.notes == ("look-into.csv: 1 to look into, answers that are right for another student's numbers.",)
    (row,) = rows(tmp_path / "out")
    assert (row["id"], row["other_id"], row["numbers_that_fit"]) == ("roster-0007", "roster-0101", "all")
    pages = {path.stem: path.read_text(encoding="utf-8") for path in (tmp_path / "out" / "feedback").iterdir()}
    for student in ("roster-0007", "roster-0101"):
        assert "coincidence" not in pages[student]
        assert not any(other in pages[student] for other in ("roster-0101", "roster-0007") if other != student)
    grades = (tmp_path / "out" / "grades.csv").read_text(encoding="utf-8-sig")
    assert "coincidence" not in grades
