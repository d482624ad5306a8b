"""The gradebook: problems, the lowest left out, grades from percentages, the roster's columns, means of sections."""

from __future__ import annotations

import csv
from dataclasses import replace
from pathlib import Path

from problemgen.pipeline.mark import MarkingRequest, mark_set
from problemgen.render.feedback.sum import LATER
from tests.support.marking import PAGES_ONLY, write_cells
from tests.support.small_set import STUDENTS, small_set, write_answers

CELLS = {"s1": {"1a": "2.500 mmol", "2a": "4.05", "2b": "0.0459", "2c": "5.98"}, "s2": {"2a": "4.05"}}
RULES = '[gradebook]\ndrop_lowest = 1\ngrades = { "80" = "B", "90" = "A", "0" = "5.0", "83.33" = "B+" }\n'


def books(folder: Path, rules: str = "") -> tuple[list[dict[str, str]], list[dict[str, str]]]:
    """The rows of gradebook.csv and of sections.csv."""
    (folder / "built").mkdir()
    more = replace(STUDENTS[0], more=(("e-mail", "ada@example.org"), ("tutor", "Oak")))
    away = replace(STUDENTS[0], id="s3", name="Cy")
    write_answers(folder / "built", small_set(folder / "set", rules), (more, STUDENTS[1], away))
    responses = write_cells(folder / "r.csv", CELLS)
    mark_set(MarkingRequest(folder / "built", (responses,), folder / "g", feedback=PAGES_ONLY), lambda *_: None)
    return table(folder / "g" / "gradebook.csv"), table(folder / "g" / "sections.csv")


def table(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8-sig", newline="") as file:
        return list(csv.DictReader(file))


def test_points_by_problem_and_means_by_section(tmp_path: Path) -> None:
    book, sections = books(tmp_path)
    assert [(row["points"], row["of"], row["problem 1"], row["problem 2"]) for row in book] == [
        *(("5", "14", "1", "4"), ("1", "14", "0", "1"), ("", "14", "", ""))
    ]
    assert [list(row.values()) for row in sections] == [
        ["A", "1", "5", "35.71", "1", "4"],
        ["B", "1", "1", "7.14", "0", "1"],
        ["all", "2", "3", "21.43", "0.5", "2.5"],
    ]
    assert not {"grade", "left out"} & book[0].keys()


def test_the_lowest_problem_is_left_out_and_a_percentage_gives_a_grade(tmp_path: Path) -> None:
    (tmp_path / "x").mkdir()
    book, _ = books(tmp_path / "x", RULES.replace("83.33", "66.67"))
    rows = [(row["points"], row["of"], row["percent"], row["grade"], row["left out"]) for row in book]
    ada = (tmp_path / "x" / "g" / "feedback" / "s1.html").read_text(encoding="utf-8")
    assert "Left out as the lowest: problem 1 (1 of 8 points). 4 of 6 points count." in ada
    away = (tmp_path / "x" / "g" / "feedback" / "s3.html").read_text(encoding="utf-8")
    assert "Left out" not in away
    assert rows == [("4", "6", "66.67", "B+", "1"), ("1", "6", "16.67", "5", "1"), ("", "14", "", "", "")]


def test_of_several_attempts_what_is_left_out_is_announced(tmp_path: Path) -> None:
    (tmp_path / "x").mkdir()
    books(tmp_path / "x", f"{RULES}[attempts]\nnumber = 2\n")
    page = (tmp_path / "x" / "g" / "feedback" / "s1.html").read_text(encoding="utf-8")
    assert LATER in page
    assert "Left out" not in page


def test_the_roster_s_columns_stand_in_the_gradebook(tmp_path: Path) -> None:
    (tmp_path / "built").mkdir()
    more = replace(STUDENTS[0], more=(("e-mail", "ada@example.org"),))
    write_answers(tmp_path / "built", small_set(tmp_path / "set"), (more,), roster_columns=("e-mail",))
    responses = write_cells(tmp_path / "r.csv", {"s1": {"1a": "1"}})
    for anonymous in (False, True):
        out = tmp_path / f"g{anonymous}"
        request = MarkingRequest(tmp_path / "built", (responses,), out, feedback=PAGES_ONLY, anonymous=anonymous)
        mark_set(request, lambda *_: None)
        (row,) = table(out / "gradebook.csv")
        assert row.get("e-mail", "") == ("" if anonymous else "ada@example.org")
