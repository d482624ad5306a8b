"""Rosters: who is in the class, and every row that cannot name a student."""

from __future__ import annotations

from pathlib import Path

import pytest

from problemgen.errors import FaultsError
from problemgen.load.people.roster import anonymous_students, load_roster
from problemgen.model.problem_set import Student
from tests.support.invented_names import names_of

ROOT = Path(__file__).parents[3]
ALLOWED = "letters, digits, '-', '_' or '.', at most 40, not beginning with '-' or '.'. It names the student's files."


def roster(folder: Path, text: str) -> Path:
    path = folder / "r.csv"
    path.write_text(text, encoding="utf-8")
    return path


def faults(path: Path) -> list[str]:
    with pytest.raises(FaultsError) as caught:
        load_roster(path)
    return [str(fault).removeprefix(f"{path.parent}/") for fault in caught.value.faults]


def test_students_come_in_the_order_of_the_file(tmp_path: Path) -> None:
    text = "name,ID,section,mail\n=Ada,s2,B,a@x\nBea , s1 ,,b@x\n,S-3.x_,A,\n"
    assert load_roster(roster(tmp_path, text)).students == (
        Student("s2", "=Ada", "B", more=(("mail", "a@x"),)),
        Student("s1", "Bea", "", more=(("mail", "b@x"),)),
        Student("S-3.x_", "S-3.x_", "A"),
    )


@pytest.mark.parametrize(
    ("header", "cells", "name"),
    [
        ("name", '"Tagmoor, Rovik"', "Rovik Tagmoor"),
        ("name", '"van Ess , Ada M."', "Ada M. van Ess"),
        ("name", '"Adrel Sommer, Jr."', "Adrel Sommer, Jr."),
        ("name", '"Sommer,"', "Sommer,"),
        ("name", "Ada Lovel", "Ada Lovel"),
        ("last name,first name", "Lovel,Ada", "Ada Lovel"),
        ("First Name,Surname", "Ada,Lovel", "Ada Lovel"),
        ("given name,family name", "Ada,", "Ada"),
    ],
)
def test_names_come_in_one_column_or_two(tmp_path: Path, header: str, cells: str, name: str) -> None:
    (student,) = load_roster(roster(tmp_path, f"id,{header}\ns1,{cells}\n")).students
    assert (student.name, student.more) == (name, ())


def test_a_title_above_the_header_is_told(tmp_path: Path) -> None:
    found = load_roster(roster(tmp_path, "Course 101\n\nid,name\ns1,Ada\n"))
    assert found.students == (Student("s1", "Ada", ""),)
    assert found.notes == ("r.csv: 1 row above the header, which is on line 3: not read",)


def test_columns_go_by_a_mapping(tmp_path: Path) -> None:
    path = roster(tmp_path, "Export\nStudent ID,Last,First,Group,Mail\ns1,Lovel,Ada,B,a@x\n")
    names = {"student id": "id", "last": "last name", "first": "first name", "group": "section"}
    assert load_roster(path, names).students == (Student("s1", "Ada Lovel", "B", more=(("mail", "a@x"),)),)


def test_columns_are_known_by_their_headings(tmp_path: Path) -> None:
    path = roster(tmp_path, "Matrikel-Nr.;Nachname;Vorname;Gruppe;Mail\ns1;Lovel;Ada;B;a@x\n")
    found = load_roster(path)
    assert found.students == (Student("s1", "Ada Lovel", "B", more=(("mail", "a@x"),)),)
    assert found.notes == (
        (
            "r.csv: line 1: read by their headings: 'matrikel-nr.' as id, 'nachname' as last name, 'vorname' as first "
            "name, 'gruppe' as section"
        ),
    )


def test_where_two_columns_may_be_the_section_both_are_kept_and_told(tmp_path: Path) -> None:
    found = load_roster(roster(tmp_path, "id,group,class\ns1,A,B\n"))
    assert found.students == (Student("s1", "s1", "", more=(("group", "A"), ("class", "B"))),)
    assert found.notes == ("r.csv: line 1: 'group' and 'class' may both be the section; none is read as it",)


def test_a_column_that_may_hold_the_ids_is_offered(tmp_path: Path) -> None:
    found = faults(roster(tmp_path, "number,name\ns1,Ada\n")) + faults(roster(tmp_path, "login,matrikelnr\ns1,Ada\n"))
    assert found == [
        (
            "r.csv: line 1: found the columns 'number', 'name'; expected a column 'id'. If 'number' has the ids, name "
            'it in --columns: a CSV file with the lines "ours,theirs" and "id,number".'
        ),
        (
            "r.csv: line 1: found the columns 'login', 'matrikelnr', of which 'login' and 'matrikelnr' may be the ids; "
            "expected one column 'id'. Name it in --columns: a CSV file with the lines "
            '"ours,theirs" and "id,login".'
        ),
    ]


def test_an_id_column_is_enough(tmp_path: Path) -> None:
    assert load_roster(roster(tmp_path, "id\n007\n")).students == (Student("007", "007", ""),)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (
            "student,name\ns1,Ada\n",
            ("r.csv: line 1: found the columns 'student', 'name'; expected a column 'id'. Name the column with the "
            "students' ids: id."),
        ),
        ("ids\ns1\n", "r.csv: line 1: found the columns 'ids'; expected a column 'id'. Did you mean 'ids'?"),
        ("id,name\n", "r.csv: found no students; expected a row for each student"),
        ("id,name\n,\n", "r.csv: found no students; expected a row for each student"),
        ("", "r.csv: found an empty file; expected a table with a header row"),
        ("id,name\n,Ada\n", "r.csv: line 2: found no id; expected an id for each student"),
        ("id,id\ns1,s2\n", "r.csv: id: found a column twice; expected each column name once"),
        (
            "id\ns1\ns2\nS1\n",
            "r.csv: line 4: found the id 'S1' again, first on line 2; expected each id once",
        ),
    ],
)  # fmt: skip
def test_a_fault_of_a_roster(tmp_path: Path, text: str, expected: str) -> None:
    assert faults(roster(tmp_path, text)) == [expected]


@pytest.mark.parametrize(
    "name", ["a/b", "../x", ".hidden", "-x", "a b", "a*", "é", "１", "x" * 41, "a\\b", "=1", "a:b", "_-.", "#1"]
)
def test_an_id_that_cannot_name_a_file_is_refused(tmp_path: Path, name: str) -> None:
    assert faults(roster(tmp_path, f"id,name\n{name},Ada\n")) == [
        f"r.csv: line 2: found the id {name!r}; expected {ALLOWED}"
    ]


@pytest.mark.parametrize("name", ["1", "s001", "A.B-c_d", "x" * 40, "_x", "12-34"])
def test_an_id_that_can_name_a_file_is_taken(tmp_path: Path, name: str) -> None:
    assert load_roster(roster(tmp_path, f"id\n{name}\n")).students[0].id == name


def test_all_faults_come_at_once_with_their_lines(tmp_path: Path) -> None:
    found = faults(roster(tmp_path, 'id,name\ns1,"two\nlines"\n,x\na/b,y\ns1,z\n'))
    assert [line.split(":")[1] for line in found] == [" line 4", " line 5", " line 6"]
    assert "first on line 2" in found[2]


@pytest.mark.parametrize(
    ("count", "first", "last"), [(1, "v001", "v001"), (12, "v001", "v012"), (1500, "v0001", "v1500")]
)
def test_anonymous_students_sort_as_they_count(count: int, first: str, last: str) -> None:
    students = anonymous_students(count)
    assert (students[0].id, students[-1].id, len(students)) == (first, last, count)
    assert [one.id for one in students] == sorted(one.id for one in students)
    assert students[0].name == "Variant 1"
    assert all(one.anonymous for one in students)


def test_the_shipped_roster_keeps_every_name() -> None:
    students = load_roster(ROOT / "templates" / "sets" / "first-week" / "roster.csv").students
    assert len(students) == 120
    names = names_of("first-week", [student.id for student in students])
    assert {student.id: student.name for student in students} == names


def test_what_stood_behind_an_apostrophe_for_a_spreadsheets_sake_is_read_without_it(tmp_path: Path) -> None:
    path = tmp_path / "roster.csv"
    path.write_text("id,name,mail\ns1,'=Adrel,'@home\ns2,'t Hooft,'s\n", encoding="utf-8")
    adrel, hooft = load_roster(path).students
    assert (adrel.name, adrel.more) == ("=Adrel", (("mail", "@home"),))
    assert (hooft.name, hooft.more) == ("'t Hooft", (("mail", "'s"),))


def test_what_of_a_roster_is_read_with_a_doubt_is_told(tmp_path: Path) -> None:
    path = tmp_path / "roster.csv"
    path.write_bytes("id,name\ns1,Zoë\n".encode() + b"s2,No\xebl\ns3,L\x00i\n")
    found = load_roster(path)
    assert [student.name for student in found.students] == ["Zoë", "Noël", "Li"]
    assert found.notes == (
        "roster.csv: line 3: other bytes than UTF-8, read as Windows-1252; look at this row",
        "roster.csv: line 4: zero bytes or marks of the encoding, left out; look at this row",
    )


def test_of_very_many_faults_the_first_are_told(tmp_path: Path) -> None:
    path = tmp_path / "roster.csv"
    path.write_text("id\n" + "s1\n" * 20_001, encoding="utf-8")
    with pytest.raises(FaultsError) as caught:
        load_roster(path)
    faults = caught.value.faults
    assert (len(faults), faults[0].key) == (101, "line 3")
    assert str(faults[-1]) == f"{path}: found 19,900 more faults; expected none. Mend the first ones, and try again."
