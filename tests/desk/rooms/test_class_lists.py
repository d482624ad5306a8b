"""Class lists that are dropped: recognised, shown, put right, written; what is none is refused."""

from __future__ import annotations

import io
import re
from pathlib import Path

import pytest
from openpyxl import Workbook
from starlette.testclient import TestClient

from problemgen.desk.rooms.class_lists import LARGEST
from problemgen.load.people.roster import load_roster

EXPORT = "Matric. No.;Surname;Given name;Group;E-mail\nb01;Ostavane;Nirel;A;n@x\nb02;<script>;Tom;B;=cmd()\n"


def drop(client: TestClient, content: bytes, name: str = "monday.csv") -> tuple[int, str]:
    answer = client.post("/class/week-1", files={"list": (name, content)})
    return answer.status_code, answer.text


def taken(text: str) -> dict[str, str]:
    """Which column is taken for which of ours."""
    names = re.findall(r'name="theirs" value="([^"]*)"', text)
    chosen = [re.search(r'<option value="([^"]*)" selected', one) for one in text.split("<select")[1:]]
    return {name: one[1] if one else "" for name, one in zip(names, chosen, strict=True)}


def test_columns_are_recognised_and_shown(client: TestClient) -> None:
    status, text = drop(client, EXPORT.encode())
    assert status == 200
    assert taken(text) == {
        "matric. no.": "id", "surname": "last name", "given name": "first name", "group": "section", "e-mail": "",
    }  # fmt: skip
    assert "<script>" not in text
    assert "&lt;script&gt;" in text


def test_a_workbook_is_read_too(client: TestClient) -> None:
    book, target = Workbook(), io.BytesIO()
    sheet = book.active
    assert sheet is not None
    for row in (["Class of Monday"], ["ID", "Name", "Lab section"], ["a1", "Ada", "C"]):
        sheet.append(row)
    book.save(target)
    status, text = drop(client, target.getvalue(), "monday.xlsx")
    assert status == 200
    assert taken(text) == {"id": "id", "name": "name", "lab section": "section"}


def confirm(client: TestClient, content: bytes, **fields: object) -> tuple[int, str]:
    _, text = drop(client, content)
    found = taken(text)
    aside = re.search(r'name="aside" value="([^"]*)"', text)
    assert aside is not None
    said = {
        "aside": aside[1],
        "dropped": "monday.csv",
        "theirs": list(found),
        "ours": list(found.values()),
        "for": "set",
    }
    answer = client.post("/class-list/week-1", data={**said, **fields})
    return answer.status_code, answer.text


def test_a_list_is_written_as_the_program_reads_it(course: Path, client: TestClient) -> None:
    status, text = confirm(client, EXPORT.encode())
    assert (status, text) == (200, '{"go":"/sets/week-1?saved=1#class"}')
    path = course / "sets/week-1/roster.csv"
    students = load_roster(path).students
    assert [(one.id, one.name, one.section) for one in students] == [
        ("b01", "Nirel Ostavane", "A"), ("b02", "Tom <script>", "B"),
    ]  # fmt: skip
    assert students[1].more == (("e-mail", "=cmd()"),)
    assert ",=cmd" not in path.read_text(encoding="utf-8-sig")


def test_a_list_of_the_course_is_a_section(course: Path, client: TestClient) -> None:
    fields = {"for": "course", "section": "Monday"}
    assert confirm(client, EXPORT.encode(), **fields)[0] == 200
    assert (course / "rosters/Monday.csv").is_file()
    for name in ("../x", "a/b", "", ".x", "x" * 300):
        assert confirm(client, EXPORT.encode(), **{**fields, "section": name})[0] == 422


def test_faults_are_told_under_the_name_that_was_dropped(course: Path, client: TestClient) -> None:
    status, text = confirm(client, b"id,name\n../x,A\nb,B\nb,C\n")
    assert status == 422
    assert text.count("monday.csv: line") == 2
    assert not (course / "sets/week-1/roster.csv").exists()


def test_one_of_ours_is_one_column(client: TestClient) -> None:
    status, text = confirm(client, EXPORT.encode(), ours=["id", "name", "name", "", ""])
    assert status == 422
    assert "several columns" in text


@pytest.mark.parametrize(
    ("name", "content"),
    [("x.exe", b"MZ"), ("x", b"id\n1"), ("x.xlsx", b"PK\x03\x04 no"), ("x.csv", b""), ("../../x.html", b"<b>")],
)
def test_what_is_no_table_is_refused(client: TestClient, name: str, content: bytes) -> None:
    assert drop(client, content, name)[0] == 422


def test_what_is_too_large_is_refused(client: TestClient) -> None:
    assert drop(client, b"x" * LARGEST)[0] == 413


def test_no_other_file_is_taken_for_one_that_was_dropped(client: TestClient) -> None:
    for aside in ("../../course.toml", "/etc/passwd", "nothing.csv", ""):
        said = {"aside": aside, "theirs": ["id"], "ours": ["id"], "for": "set"}
        assert client.post("/class-list/week-1", data=said).status_code == 404
