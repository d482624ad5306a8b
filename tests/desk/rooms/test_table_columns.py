"""Tables of answers with headers of their own: taken where the columns are known, asked about where they may be two."""

from __future__ import annotations

import csv
import html
import io
import re
from collections.abc import Mapping
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from problemgen.cli import main
from problemgen.load.people.known_columns import known_columns
from tests.support.came_back import right_answers, table

pytestmark = pytest.mark.usefixtures("marked_course")


@pytest.fixture
def answers(marked_course: Path) -> dict[str, dict[str, str]]:
    return right_answers(marked_course / "output/week-1")


def headed(content: bytes, names: Mapping[str, str], more: Mapping[str, str] | None = None) -> bytes:
    """A table with other headings, and with columns more of one cell throughout; semicolons between its cells."""
    rows = list(csv.reader(io.StringIO(content.decode())))
    rows[0] = [names.get(name, name) for name in rows[0]]
    for name, cell in (more or {}).items():
        rows = [[name, *rows[0]], *([cell, *row] for row in rows[1:])]
    text = io.StringIO()
    csv.writer(text, delimiter=";").writerows(rows)
    return text.getvalue().encode()


def send(client: TestClient, place: str, **fields: object) -> tuple[int, str]:
    answer = client.post(f"/{place}/week-1", data=fields)
    return answer.status_code, answer.text


def drop(client: TestClient, *contents: bytes) -> tuple[int, str]:
    files = [("files", (f"t{number}.csv", content)) for number, content in enumerate(contents)]
    answer = client.post("/mark-files/week-1", files=files)
    return answer.status_code, answer.text


def asked(text: str, number: int = 0) -> dict[str, str]:
    """What each column of a table is taken for, by the page's question."""
    names = [html.unescape(one) for one in re.findall(rf'name="theirs-{number}" value="([^"]*)"', text)]
    chosen = [
        re.search(r'<option(?: value="([^"]*)")? selected>([^<]*)', one.partition("</select>")[0])
        for one in text.split(f'<select name="ours-{number}"')[1:]
    ]
    return {name: (one[1] or one[2]) if one else "" for name, one in zip(names, chosen, strict=True)}


def said(text: str, told: Mapping[str, str], number: int = 0) -> dict[str, list[str]]:
    """The fields that the question is answered with."""
    fields = {name: re.findall(rf'name="{name}" value="([^"]*)"', text) for name in ("dropped", "aside")}
    return {**fields, f"theirs-{number}": [*told], f"ours-{number}": [*told.values()]}


def grades(folder: Path) -> str:
    return (folder / "grades.csv").read_text(encoding="utf-8-sig")


@pytest.mark.parametrize(
    "names",
    [
        {"id": "Matrikelnr"},
        {"id": "Student ID", "1a": "1 a", "1b": "Aufgabe 1b", "1c": "Question 1c) mass in g"},
    ],
)
def test_a_header_that_is_known_is_taken_without_a_question(
    client: TestClient, course: Path, answers: dict[str, dict[str, str]], names: dict[str, str]
) -> None:
    assert drop(client, headed(table(answers, {}), names, {"Name": "x"})) == (200, '{"go":"/mark/week-1"}')
    assert not (course / "output/week-1/columns.csv").exists()
    text = client.get("/mark/week-1").text
    assert "3 of 3 students have handed in." in text
    assert "no column for" not in text


def test_two_columns_that_may_be_the_ids_are_asked_about(
    client: TestClient, course: Path, answers: dict[str, dict[str, str]]
) -> None:
    content = headed(table(answers, {}), {"id": "Login", "1a": "Wert", "1b": "Aufgabe 1b"}, {"Matrikelnr": "a01"})
    status, text = drop(client, content)
    assert status == 200
    assert "Is this right?" in text
    assert "Which column is the student&#39;s id? It may be “matrikelnr”, “login”." in text
    assert not [*(course / "returned").rglob("*.csv")]
    taken = asked(text)
    assert [taken[one] for one in ("matrikelnr", "login", "wert", "aufgabe 1b", "1c")] == ["", "", "", "1b", "1c"]
    status, refused = send(client, "mark-columns", **said(text, taken))
    assert status == 422
    assert "no column that is the student&#39;s id" in refused
    status, refused = send(client, "mark-columns", **said(text, {**taken, "login": "id", "wert": "1b"}))
    assert status == 422
    assert "several columns taken for 1b" in refused
    status, refused = send(client, "mark-columns", **said(text, {**dict.fromkeys(taken, ""), "login": "id"}))
    assert status == 422
    assert "no column that is a part" in refused
    told = {**taken, "login": "id", "wert": "1a"}
    assert send(client, "mark-columns", **said(text, told)) == (200, '{"go":"/mark/week-1"}')
    assert (course / "returned/week-1/t0.csv").read_bytes() == content
    kept = (course / "output/week-1/columns.csv").read_text(encoding="utf-8-sig").splitlines()
    assert kept[:4] == ["ours,theirs,file", "leave out,matrikelnr,t0.csv", "id,login,t0.csv", "1a,wert,t0.csv"]
    page = client.get("/mark/week-1").text
    assert "3 of 3 students have handed in." in page


def test_the_command_line_gives_the_same_grades(
    client: TestClient, course: Path, tmp_path: Path, answers: dict[str, dict[str, str]]
) -> None:
    plain = table(answers)
    (tmp_path / "plain.csv").write_bytes(plain)
    built = course / "output/week-1"
    grade = ["grade", str(built), "--no-pdf", "--without-solutions", "--quiet", "--out"]
    assert main([*grade, str(tmp_path / "a"), str(tmp_path / "plain.csv")]) in (0, 3)
    _, text = drop(client, headed(plain, {"id": "Wer", "1a": "Wert"}))
    taken = asked(text)
    assert taken["wer"] == "id"  # ids of the class stand there
    assert send(client, "mark-columns", **said(text, {**taken, "wert": "1a"}))[0] == 200
    assert main([*grade, str(tmp_path / "b"), str(course / "returned/week-1/t0.csv")]) in (0, 3)
    assert grades(tmp_path / "a") == grades(tmp_path / "b")


def test_undo_takes_the_table_and_what_was_said_of_it_back(
    client: TestClient, course: Path, answers: dict[str, dict[str, str]]
) -> None:
    _, text = drop(client, headed(table(answers), {"id": "Wer"}))
    assert send(client, "mark-columns", **said(text, asked(text)))[0] == 200
    step = re.search(r'name="step" value="(\d+)"', client.get("/mark/week-1").text)
    assert step is not None
    assert send(client, "mark-undo", step=step[1]) == (200, '{"go":""}')
    assert not (course / "returned/week-1/t0.csv").exists()
    assert not (course / "output/week-1/columns.csv").exists()


def test_what_the_columns_are_can_be_said_again(
    client: TestClient, course: Path, answers: dict[str, dict[str, str]]
) -> None:
    _, text = drop(client, headed(table(answers), {"id": "Wer", "1a": "Wert"}))
    assert send(client, "mark-columns", **said(text, asked(text)))[0] == 200
    assert "no column for 1a" in client.get("/mark/week-1").text
    status, text = send(client, "mark-columns-of", file="returned/week-1/t0.csv")
    assert status == 200
    taken = asked(text)
    assert (taken["wer"], taken["wert"]) == ("id", "")
    assert send(client, "mark-columns", **said(text, {**taken, "wert": "1a"}))[0] == 200
    page = client.get("/mark/week-1").text
    assert "no column for 1a" not in page
    assert "columns of t0.csv told" in page
    assert send(client, "mark-columns-of", file="returned/week-1/none.csv")[0] == 422
    # another table of this name, whose columns tell what they are: nothing of the old one holds for it
    status, text = drop(client, table(answers))
    assert "There is a file of this name already" in text
    fields = {name: re.findall(rf'name="{name}" value="([^"]*)"', text) for name in ("dropped", "aside")}
    assert send(client, "mark-replace", **fields)[0] == 200
    assert not (course / "output/week-1/columns.csv").exists()
    assert "3 of 3 students have handed in." in client.get("/mark/week-1").text


def test_of_several_files_those_in_doubt_are_asked_about_and_a_broken_one_is_refused_first(
    client: TestClient, course: Path, answers: dict[str, dict[str, str]]
) -> None:
    doubtful = headed(table({"a01": answers["a01"]}), {"id": "Wer"})
    status, text = drop(client, b"1a\n2\n", doubtful)
    assert status == 422
    assert "t1.csv" not in text
    status, text = drop(client, table({"a02": answers["a02"]}), doubtful)
    assert (status, asked(text), asked(text, 1)["wer"]) == (200, {}, "id")
    assert send(client, "mark-columns", **said(text, asked(text, 1), 1))[0] == 200
    assert sorted(path.name for path in (course / "returned/week-1").glob("*.csv")) == ["t0.csv", "t1.csv"]


def test_hostile_headings_are_text(client: TestClient, course: Path) -> None:
    content = b"<script>x</script>;=cmd();1a;'=1\na01;2;3;4\n"
    _, text = drop(client, content)
    assert "<script>" not in text
    taken = asked(text)
    assert taken == {"<script>x</script>": "id", "=cmd()": "", "1a": "1a", "'=1": ""}
    assert send(client, "mark-columns", **said(text, {**taken, "=cmd()": "1b", "'=1": "1c"}))[0] == 200
    assert "\n=" not in (course / "output/week-1/columns.csv").read_text(encoding="utf-8-sig").replace(",", "\n")
    assert "1 of 3 students have handed in." in client.get("/mark/week-1").text
    for aside in ("../x", "none.csv", ""):
        assert send(client, "mark-columns", dropped="a.csv", aside=aside)[0] in (404, 422)


def test_a_table_that_was_put_there_by_hand_is_asked_about_too(
    client: TestClient, course: Path, answers: dict[str, dict[str, str]]
) -> None:
    path = course / "returned/week-1/hand.csv"
    path.parent.mkdir(parents=True)
    path.write_bytes(headed(table(answers), {"id": "Wer"}))
    assert not known_columns(path).has_ids
    assert "cannot be marked" in client.get("/mark/week-1").text
    _, text = send(client, "mark-columns-of", file="returned/week-1/hand.csv")
    assert send(client, "mark-columns", **said(text, asked(text)))[0] == 200
    assert "3 of 3 students have handed in." in client.get("/mark/week-1").text
