"""The grade command: other tables, decisions, markings without names, and what is said about them."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from openpyxl import Workbook

from problemgen.cli import main
from problemgen.load.answers.answers import ANSWERS_FILE, Answers
from tests.support.many import many_answers, right_cells
from tests.support.marking import write_cells
from tests.support.small_class import files_of

Say = Callable[[], str]
WRITTEN = (
    "grades.csv, gradebook.csv, gradebook.xlsx, sections.csv, unread.csv, look-into.csv, class-report.html, feedback/"
)
BLANK = "line 1: no column for 1b, 1c, 1d, 1e, 1f, 1g, 2a, 2b, 2c, 2d; these parts count as blank"


def grade(key: Path, responses: Path, *more: str) -> int:
    return main(["grade", str(key), str(responses), "--no-pdf", "--without-solutions", *more])


def test_a_workbook_is_marked_as_a_table_is(key: Path, tmp_path: Path, said: Say) -> None:
    book = Workbook()
    book.worksheets[0].append(["id", "1a"])
    book.worksheets[0].append(["s1", 2.5])
    book.worksheets[0]["B2"].number_format = "0.000"
    book.save(tmp_path / "r.xlsx")
    (tmp_path / "r.csv").write_text("id,1a\ns1,2.500\n", encoding="utf-8")
    for name in ("r.csv", "r.xlsx"):
        assert grade(key, tmp_path / name, "--out", str(tmp_path / name[2:])) == 3
    assert files_of(tmp_path / "csv") == files_of(tmp_path / "xlsx")
    assert said().count(BLANK) == 2


def test_an_export_is_marked_by_a_mapping(key: Path, tmp_path: Path, said: Say) -> None:
    (tmp_path / "e.csv").write_text("Zeit;Nummer;Frage 1\nx;s1;2,500 mmol\n", encoding="utf-8")
    (tmp_path / "m.csv").write_text("ours,theirs\nid,Nummer\n1a,Frage 1\n", encoding="utf-8")
    assert grade(key, tmp_path / "e.csv", "--columns", str(tmp_path / "m.csv")) == 3
    assert said() == (
        f"e.csv:\n  {BLANK}\n"
        f"Marked 1 student; 1 handed nothing in. Written to built/grades: {WRITTEN}.\n"
        "e.csv, line 1: the columns 'zeit' are not marked\n"
    )
    grades = (key / "grades" / "grades.csv").read_text(encoding="utf-8-sig")
    assert 's1,Ada,A,1,1a,right,in-window,1,1,"2,500 mmol"' in grades


def test_a_table_is_marked_by_its_headings(key: Path, tmp_path: Path, said: Say) -> None:
    (tmp_path / "e.csv").write_text("Matrikelnr;Name;Aufgabe 1a\nS1;x;2,500 mmol\n", encoding="utf-8")
    assert grade(key, tmp_path / "e.csv") == 3
    assert "e.csv, line 1: read by their headings: 'matrikelnr' as id, 'aufgabe 1a' as 1a\n" in said()
    grades = (key / "grades" / "grades.csv").read_text(encoding="utf-8-sig")
    assert 's1,Ada,A,1,1a,right,in-window,1,1,"2,500 mmol"' in grades


def test_a_mapping_beside_the_answers_is_taken_where_no_other_is_given(
    key: Path, tmp_path: Path, said: Say, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "e.csv").write_text("Nummer;Login;Frage 1;1b\ns1;s2;2,500 mmol;7\n", encoding="utf-8")
    told = "ours,theirs,file\nid,Nummer,e.csv\n1a,Frage 1,e.csv\nleave out,1b,e.csv\n1c,Other,f.csv\n"
    (key / "columns.csv").write_text(told, encoding="utf-8")
    assert grade(key, tmp_path / "e.csv") == 3
    assert said().startswith(f"e.csv:\n  {BLANK}\n")
    grades = (key / "grades" / "grades.csv").read_text(encoding="utf-8-sig")
    assert 's1,Ada,A,1,1a,right,in-window,1,1,"2,500 mmol"' in grades
    assert main(["explain", str(key), "s1", "1a", "--responses", str(tmp_path / "e.csv")]) == 0
    assert "Wrote: 2,500 mmol" in capsys.readouterr().out


def test_a_mapping_that_does_not_fit_is_refused(key: Path, tmp_path: Path, said: Say) -> None:
    (tmp_path / "e.csv").write_text("Nummer;Frage 1\ns1;2\n", encoding="utf-8")
    (tmp_path / "m.csv").write_text("ours,theirs\nid,Nummern\n1a,Frage 1\n", encoding="utf-8")
    assert grade(key, tmp_path / "e.csv", "--columns", str(tmp_path / "m.csv")) == 1
    assert said() == (
        "1 fault; nothing was written:\n  e.csv: line 1: found no column 'nummern'; expected the column that is mapped "
        "to 'id'. Did you mean 'nummer'?\n"
    )
    assert not (key / "grades").exists()


def test_several_files_are_marked_as_one_class(key: Path, tmp_path: Path, said: Say) -> None:
    (tmp_path / "b.csv").write_text("id,1a\ns2,2.500 mmol\n", encoding="utf-8")
    assert main(["grade", str(key), str(tmp_path / "r.csv"), str(tmp_path / "b.csv"), "--no-pdf"]) == 3
    told = said()
    assert [line for line in told.splitlines() if line.startswith("Marked")] == [
        f"Marked 2 students. Written to built/grades: {WRITTEN}."
    ]
    assert told.startswith(f"Responses:\n  {BLANK.removeprefix('line 1: ')}\n")
    grades = (key / "grades" / "grades.csv").read_text(encoding="utf-8-sig")
    assert "s1,Ada,A,1,1a,right" in grades
    assert "s2,Bea,B,1,1a," in grades


def test_a_set_s_folder_that_is_not_there_is_refused(key: Path, tmp_path: Path, said: Say) -> None:
    assert grade(key, tmp_path / "r.csv", "--set", str(tmp_path / "none")) == 1
    assert "none" in said()
    assert not (key / "grades").exists()


def test_decisions_are_applied_and_counted(key: Path, tmp_path: Path, said: Say) -> None:
    (tmp_path / "o.csv").write_text("student,part,points,reason\ns1,1f,1/2,Shown on paper\n", encoding="utf-8")
    assert grade(key, tmp_path / "r.csv", "--overrides", str(tmp_path / "o.csv")) == 3
    assert said().splitlines()[-1] == "Your own decisions: 1, marked in grades.csv."
    assert "Shown on paper" in (key / "grades" / "feedback" / "s1.html").read_text(encoding="utf-8")


@pytest.mark.parametrize("named", [True, False])
def test_faulty_decisions_are_refused(key: Path, tmp_path: Path, said: Say, *, named: bool) -> None:
    path = tmp_path / "o.csv" if named else key / "overrides.csv"
    path.write_text("student,part,points,reason\ns1,1f,5,\n", encoding="utf-8")
    assert grade(key, tmp_path / "r.csv", *(["--overrides", str(path)] if named else [])) == 1
    file = "o.csv" if named else "built/overrides.csv"
    assert said() == (
        "2 faults; nothing was written:\n"
        f"  {file}: line 2: found 5 points; expected from 0 to 2, the part's. More is a bonus: 'bonus 1'.\n"
        f"  {file}: line 2: found no reason; expected a reason, which the student is told\n"
    )


def test_a_missing_file_of_decisions_is_a_fault(key: Path, tmp_path: Path, said: Say) -> None:
    assert grade(key, tmp_path / "r.csv", "--overrides", str(tmp_path / "none.csv")) == 1
    assert "none.csv: found no such file or directory; expected a readable CSV file" in said()


def test_a_marking_without_names_has_a_folder_of_its_own(key: Path, tmp_path: Path, said: Say) -> None:
    assert grade(key, tmp_path / "r.csv") == 3
    said()
    assert grade(key, tmp_path / "r.csv", "--anonymous") == 3
    assert said().splitlines()[-1] == (
        f"Marked 1 student; 1 handed nothing in. Written to built/grades-anonymous: {WRITTEN}; "
        "codes.csv tells the names, do not share it."
    )
    assert grade(key, tmp_path / "r.csv", "--anonymous", "--replace", "--out", str(key / "grades")) == 1
    assert said() == (
        "built/grades/feedback holds s1.html, which tells an id; choose another folder. Nothing was written\n"
    )


def test_what_there_is_to_look_into_is_counted_and_names_nobody(tmp_path: Path, said: Say) -> None:
    folder = many_answers(tmp_path, 120)
    with Answers(folder / ANSWERS_FILE) as answers:
        cells = {one.student: right_cells(answers.head, one) for one in answers}
    cells["roster-0007"] = cells["roster-0101"]
    write_cells(tmp_path / "r.csv", cells)
    assert grade(folder, tmp_path / "r.csv") == 0
    told = said()
    assert told.splitlines()[-1] == (
        "look-into.csv: 1 to look into, answers that are right for another student's numbers."
    )
    assert "roster" not in told
    assert grade(folder, tmp_path / "r.csv", "--quiet", "--replace") == 0
    assert said() == ""
