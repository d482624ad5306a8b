"""Marking a class by what the pages send: files, meanings, decisions, undoing, grades; two tabs; hostile cells."""

from __future__ import annotations

import csv
import io
import re
import threading
import time
import zipfile
from collections.abc import Mapping
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from problemgen.cli import main
from problemgen.desk.calls import Call
from problemgen.desk.marking.returns import collected
from problemgen.desk.rooms.marking_files import UPLOADS
from problemgen.write.steps import Steps
from tests.support.came_back import MESS, right_answers, table
from tests.support.filled_in import filled_sheet

LONG = 60.0  # seconds: a class of three on a machine that is busy

pytestmark = pytest.mark.usefixtures("marked_course")


def drop(client: TestClient, content: bytes, name: str = "monday.csv") -> tuple[int, str]:
    answer = client.post("/mark-files/week-1", files={"files": (name, content)})
    return answer.status_code, answer.text


def build_shown(client: TestClient) -> str:
    """What the page sends with a decision, so that none is about other keys."""
    found = re.search('name="build" value="([0-9a-f]+)"', shown(client))
    return found[1] if found else ""


def send(client: TestClient, place: str, **fields: object) -> tuple[int, str]:
    if place in ("mark-decide", "mark-means", "mark-marks") and "build" not in fields:
        fields["build"] = build_shown(client)
    answer = client.post(f"/{place}/week-1", data={name: value for name, value in fields.items() if value is not None})
    return answer.status_code, answer.text


def shown(client: TestClient, query: str = "") -> str:
    answer = client.get(f"/mark/week-1{query}")
    assert answer.status_code == 200
    return answer.text


def waited(client: TestClient) -> None:
    """Wait until nothing is at work."""
    end = time.monotonic() + LONG
    while client.get("/state").json()["open"]:
        assert time.monotonic() < end
        time.sleep(0.1)


@pytest.fixture
def answers(marked_course: Path) -> dict[str, dict[str, str]]:
    return right_answers(marked_course / "output/week-1")


@pytest.fixture
def messy(client: TestClient, answers: Mapping[str, Mapping[str, str]]) -> bytes:
    """The mess, dropped."""
    content = table(answers)
    assert drop(client, content) == (200, '{"go":"/mark/week-1"}')
    return content


def last_step(client: TestClient) -> str:
    found = re.search(r'name="step" value="(\d+)"', shown(client))
    return found[1] if found else ""


def test_a_set_that_is_not_built_is_told_so(client: TestClient, course: Path) -> None:
    (course / "output/week-1/answers.json").unlink()
    assert "has not been built yet" in shown(client)
    assert "/print/week-1" in client.get("/mark").text
    for place in ("/mark/none", "/mark/week-1/../../x", "/mark/.x"):
        assert client.get(place).status_code == 404


def test_what_is_dropped_is_kept_as_it_is_and_marked_at_once(client: TestClient, course: Path, messy: bytes) -> None:
    assert (course / "returned/week-1/monday.csv").read_bytes() == messy
    text = shown(client)
    assert "3 of 3 students have handed in." in text
    assert "No grades are written yet." in text
    assert "5 different texts could not be read" in text
    assert "Written" not in text


@pytest.mark.usefixtures("messy")
def test_hostile_cells_are_text(client: TestClient) -> None:
    for query in ("", "?part=2f&student=a01", "?part=2a&student=a01", "?part=2g&student=a01", "?results=1",
                  "?feedback=a01", "?cell=%3Cscript%3Ealert(1)%3C/script%3E"):  # fmt: skip
        text = shown(client, query)
        assert "<script>alert" not in text
        assert len(text) < 120_000
    assert "&lt;script&gt;alert(1)&lt;/script&gt;" in shown(client)
    assert "x" * 2000 not in shown(client)


NAMES = ("../../../evil.csv", "..\\..\\evil.csv", ".hidden.csv", "a/b.csv", "a:b|c.csv", "~.csv", "\x1b[2J.csv",
         "x" * 300 + ".csv", "化" * 90 + ".csv", "collected.csv", "-rf.csv")  # fmt: skip


@pytest.mark.parametrize("name", NAMES)
def test_names_stay_inside(client: TestClient, course: Path, answers: dict[str, dict[str, str]], name: str) -> None:
    before = {path for path in course.parent.rglob("*") if path.is_file()}
    assert drop(client, table(answers), name)[0] == 200
    new = [path for path in course.parent.rglob("*") if path.is_file() and path not in before]
    (path,) = [one for one in new if ".steps" not in one.parts]
    assert path.parent == course / "returned/week-1"
    assert re.fullmatch(r"[\w(][\w .()+-]{0,90}\.csv", path.name)
    assert path.name != "collected.csv"


@pytest.mark.parametrize(
    ("name", "content", "told"),
    [
        ("x.exe", b"MZ", "a file of the kind .exe"),
        ("x.csv", b"", "an empty file"),
        ("x.csv", b"who,1a\n1,2\n", "a column &#39;id&#39;"),
        ("x.csv", b"id,name\n1,2\n", "columns named as the parts"),
        ("x.xlsx", b"PK\x03\x04 no", "found "),
        ("x.xlsx", b"", "found "),
    ],
)
def test_what_cannot_be_marked_is_refused_at_once(
    client: TestClient, course: Path, name: str, content: bytes, told: str
) -> None:
    status, text = drop(client, content, name)
    assert status == 422
    assert told in text
    assert str(course.parent) not in text.replace(str(course), "")
    assert not [*(course / "returned").rglob("*.csv")]


def test_all_faults_of_all_files_come_at_once_and_nothing_is_kept(
    client: TestClient, course: Path, answers: dict[str, dict[str, str]]
) -> None:
    files = [("files", ("good.csv", table(answers))), ("files", ("bad.csv", b"a\n1\n")), ("files", ("no.csv", b""))]
    answer = client.post("/mark-files/week-1", files=files)
    assert answer.status_code == 422
    assert "bad.csv" in answer.text
    assert "no.csv" in answer.text
    assert not (course / "returned").exists() or not [*(course / "returned").rglob("*.csv")]


def test_what_is_too_large_is_refused(client: TestClient) -> None:
    (limit,) = UPLOADS.values()
    answer = client.post("/mark-files/week-1", headers={"content-length": str(limit + 1)}, content=b"")
    assert answer.status_code == 413


def test_a_file_of_the_same_name_is_replaced_when_that_is_said(
    client: TestClient, course: Path, messy: bytes, answers: dict[str, dict[str, str]]
) -> None:
    assert drop(client, messy)[0] == 200  # the same once more changes nothing
    assert last_step(client) == "1"
    status, text = drop(client, table(answers, {}))
    assert (status, "There is a file of this name already" in text) == (200, True)
    path = course / "returned/week-1/monday.csv"
    assert path.read_bytes() == messy
    fields = {name: re.findall(f'name="{name}" value="([^"]*)"', text) for name in ("dropped", "aside")}
    assert send(client, "mark-replace", **fields)[0] == 200
    assert path.read_bytes() == table(answers, {})
    assert send(client, "mark-undo", step=last_step(client))[0] == 200
    assert path.read_bytes() == messy
    assert send(client, "mark-replace", dropped="x.csv", aside="../../course.toml")[0] == 404


def test_the_same_contents_under_another_name_are_refused(client: TestClient, messy: bytes) -> None:
    status, text = drop(client, messy, "tuesday.csv")
    assert (status, "the same contents as monday.csv" in text) == (422, True)


def test_answers_that_were_typed_beside_the_sheets_are_offered(
    client: TestClient, course: Path, answers: dict[str, dict[str, str]]
) -> None:
    assert "were typed" not in shown(client)
    typed = table(answers, {})
    (course / "output/week-1/responses.csv").write_bytes(typed)
    assert "answers of 3 students were typed" in shown(client)
    assert send(client, "mark-take")[0] == 200
    assert (course / "returned/week-1/responses.csv").read_bytes() == typed
    assert "were typed" not in shown(client)
    (course / "output/week-1/responses.csv").write_bytes(table(answers))
    status, text = send(client, "mark-take")
    assert (status, "There is a file of this name already" in text) == (200, True)
    fields = {name: re.findall(f'name="{name}" value="([^"]*)"', text) for name in ("dropped", "aside")}
    assert send(client, "mark-replace", **fields)[0] == 200
    assert (course / "returned/week-1/responses.csv").read_bytes() == table(answers)


def test_a_removed_file_comes_back(client: TestClient, course: Path, messy: bytes) -> None:
    assert send(client, "mark-remove", file="returned/week-1/../../course.toml")[0] == 422
    assert send(client, "mark-remove", file="returned/week-1/monday.csv")[0] == 200
    assert "Built for 3 students." in shown(client)
    assert send(client, "mark-remove", file="returned/week-1/monday.csv")[0] == 422
    assert send(client, "mark-undo", step=last_step(client))[0] == 200
    assert (course / "returned/week-1/monday.csv").read_bytes() == messy


@pytest.mark.usefixtures("messy")
def test_a_file_that_was_broken_outside_is_told_beside_the_others(client: TestClient, course: Path) -> None:
    (course / "returned/week-1/odd.csv").write_bytes(b"")
    text = shown(client)
    assert "cannot be marked" in text
    assert "an empty file" in text
    assert send(client, "mark-remove", file="returned/week-1/odd.csv")[0] == 200
    assert "3 of 3 students" in shown(client)


@pytest.mark.usefixtures("messy")
def test_grades_are_those_of_the_command_line(client: TestClient, course: Path) -> None:
    assert send(client, "mark", pdf=None, solutions="1")[0] == 200
    waited(client)
    assert "The grades that are written say what this page shows." in shown(client)
    folder, again = course / "output/week-1", course / "output/again"
    files = [str(path) for path in sorted((course / "returned/week-1").glob("*"))  # as a shell does
             if not path.name.startswith(".")]  # fmt: skip
    assert main(["grade", str(folder), *files, "--out", str(again), "--quiet", "--no-pdf"]) in (0, 1)
    for name in ("grades.csv", "gradebook.csv", "sections.csv", "unread.csv", "look-into.csv", "class-report.html"):
        assert (folder / "grades" / name).read_bytes() == (again / name).read_bytes(), name
    assert (folder / "grades/feedback/a01.html").read_bytes() == (again / "feedback/a01.html").read_bytes()
    (folder / "grades/grades.csv").write_bytes(b"older")
    assert "are older than what this page shows" in shown(client)


@pytest.mark.usefixtures("messy")
def test_a_meaning_is_shown_before_it_is_kept(client: TestClient, course: Path) -> None:
    said = {"written": "see my notebook", "means": "2 mmol", "part": ""}
    status, text = send(client, "mark-means", **said)
    assert (status, "2 answers would be marked otherwise" in text, "read as 2 mmol" in text) == (200, True, True)
    path = course / "output/week-1/means.csv"
    assert not path.exists()
    assert send(client, "mark-means", **{**said, "means": "3 mmol"}, keep="1", shown="2 mmol")[0] == 200
    assert not path.exists()  # what is kept is what was shown
    assert send(client, "mark-means", **said, keep="1", shown="2 mmol") == (200, '{"go":""}')
    assert path.read_text(encoding="utf-8-sig") == "written,means,part\nsee my notebook,2 mmol,\n"
    text = shown(client)
    assert "4 different texts could not be read" in text
    line = re.search(r'mark-not-means/week-1".*?name="line" value="([^"]+)"', text, re.DOTALL)
    assert line is not None
    assert send(client, "mark-not-means", line=line[1])[0] == 200
    assert "5 different texts could not be read" in shown(client)
    assert send(client, "mark-not-means", line=line[1])[0] == 422


@pytest.mark.usefixtures("messy")
def test_a_meaning_that_is_not_read_says_so(client: TestClient) -> None:
    _status, text = send(client, "mark-means", written="see my notebook", means="heaps", part="")
    assert "No number is found" in text or "No answer would be read otherwise." in text
    assert send(client, "mark-means", written="see my notebook", means="")[0] == 422
    assert send(client, "mark-means", written="see my notebook", means="2 g", part="9z")[0] == 422


@pytest.mark.usefixtures("messy")
def test_numbers_with_one_mark_are_decided_together(client: TestClient, course: Path) -> None:
    text = shown(client)
    alike = re.search(r'name="alike" value="([^"]*)"', text)
    assert alike is not None
    reason = alike[1].replace("&#34;", '"')
    status, text = send(client, "mark-marks", alike=reason, how="thousands")
    assert status == 200
    assert "read as 1234 mmol" in text
    assert send(client, "mark-marks", alike=reason, how="thousands", keep="1", shown="thousands")[0] == 200
    rows = (course / "output/week-1/means.csv").read_text(encoding="utf-8-sig").splitlines()
    assert sorted(rows[1:]) == ['"1,234 mmol",1234 mmol,1b', '"12,345",12345,1d']
    assert send(client, "mark-marks", alike=reason, how="decimal")[0] == 422  # decided already


@pytest.mark.usefixtures("messy")
def test_points_are_decided_listed_and_taken_back(client: TestClient, course: Path) -> None:
    said = {"student": "a01", "part": "1a", "kind": "points", "points": "0.5", "reason": "Shown  on paper"}
    assert send(client, "mark-decide", **said) == (200, '{"go":""}')
    path = course / "output/week-1/overrides.csv"
    assert path.read_text(encoding="utf-8-sig") == "student,part,points,reason\na01,1a,0.5,Shown on paper\n"
    assert "your decision: Shown on paper" in shown(client, "?part=1a&student=a01")
    assert send(client, "mark-decide", **{**said, "kind": "bonus", "points": "1"})[0] == 200
    assert send(client, "mark-decide", **{**said, "points": "1"})[0] == 200  # in the place of the first
    assert path.read_text(encoding="utf-8-sig").count("a01,1a") == 2
    every = {"student": "*", "part": "2", "kind": "drop", "reason": "A misprint"}
    assert send(client, "mark-decide", **every)[0] == 200
    assert "everybody" in shown(client)
    assert send(client, "mark-decide", **{**said, "points": "many"})[0] == 422
    assert send(client, "mark-decide", **{**said, "reason": " "})[0] == 422
    lines = re.findall(r'mark-not-decide/week-1".*?name="line" value="([^"]+)"', shown(client), re.DOTALL)
    assert len(lines) == 3
    assert send(client, "mark-not-decide", line=lines[0])[0] == 200
    assert path.read_text(encoding="utf-8-sig").count("\n") == 3


@pytest.mark.usefixtures("messy")
def test_steps_are_undone_and_a_second_tab_undoes_nothing_else(client: TestClient, course: Path) -> None:
    for points in ("0.5", "1"):
        send(client, "mark-decide", student="a01", part="1a", kind="points", points=points, reason="So")
    step = last_step(client)
    assert send(client, "mark-undo", step=step)[0] == 200
    status, text = send(client, "mark-undo", step=step)  # the other tab has shown the same
    assert (status, "another step than the last one" in text) == (422, True)
    path = course / "output/week-1/overrides.csv"
    assert "a01,1a,0.5,So" in path.read_text(encoding="utf-8-sig")
    path.write_text("student,part,points,reason\na02,1a,1,By hand\n", encoding="utf-8")
    status, text = send(client, "mark-undo", step=last_step(client))
    assert (status, "a file that was changed since" in text) == (422, True)
    assert "By hand" in path.read_text(encoding="utf-8")
    for wrong in ("", "x", "-1", "9" * 30):
        assert send(client, "mark-undo", step=wrong)[0] == 422


@pytest.mark.usefixtures("messy")
def test_a_broken_file_of_decisions_is_told_and_nothing_is_lost(client: TestClient, course: Path) -> None:
    path = course / "output/week-1/overrides.csv"
    path.write_text("student,part,points,reason\na09,1a,1,Who\n", encoding="utf-8")
    text = shown(client)
    assert "found the student &#39;a09&#39;" in text
    status, _ = send(client, "mark-decide", student="a01", part="1a", kind="points", points="1", reason="So")
    assert status == 422
    line = re.search(r'mark-not-decide/week-1".*?name="line" value="([^"]+)"', text, re.DOTALL)
    assert line is not None
    assert send(client, "mark-not-decide", line=line[1])[0] == 200
    assert "3 of 3 students" in shown(client)


@pytest.mark.usefixtures("messy")
def test_an_answer_is_explained_with_what_was_answered_before(client: TestClient) -> None:
    text = shown(client, "?part=2c&student=a02")
    assert "about a spoonful" in text
    assert "The window, step by step" in text
    assert text.count('<th scope="row">2') == 3  # 2a, 2b, 2c
    for query in ("?part=9z", "?part=2c-1", "?feedback=a99", "?cell=never written"):
        assert client.get(f"/mark/week-1{query}").status_code == 404
    assert "Choose a mark" in shown(client, "?part=2c&student=a99")


@pytest.mark.usefixtures("messy")
def test_the_report_is_the_one_that_is_written(client: TestClient, course: Path) -> None:
    answer = client.get("/mark/week-1?report=1")
    assert answer.headers["content-security-policy"].endswith("; sandbox")
    assert send(client, "mark", solutions="1")[0] == 200
    waited(client)
    assert answer.content == (course / "output/week-1/grades/class-report.html").read_bytes()


def test_filled_in_sheets_and_archives_are_collected(
    client: TestClient, course: Path, tmp_path: Path, answers: dict[str, dict[str, str]]
) -> None:
    folder = course / "output/week-1"
    build = ["build", str(course / "sets/week-1"), "--out", str(folder), "--fill-in", "--replace", "--quiet"]
    assert main(build) == 0
    sheet = filled_sheet((folder / "fill-in/a01.pdf").read_bytes(), {"1a": answers["a01"]["1a"], "1b": "see b"})
    archive = io.BytesIO()
    with zipfile.ZipFile(archive, "w") as packed:
        packed.writestr("a01_late/../../../../evil.pdf", sheet)
        packed.writestr("notes.txt", b"nothing")
    status, _ = drop(client, archive.getvalue(), "platform.zip")
    assert status == 200
    waited(client)
    assert (course / "handed-in/week-1/files/platform.zip").is_file()
    text = shown(client)
    assert "Answers of 1 student were taken." in text
    assert "1 of 3 students have handed in." in text
    assert "notes.txt" in text
    assert not [*tmp_path.rglob("evil*")]
    assert "see b" in (course / "returned/week-1/collected.csv").read_text(encoding="utf-8-sig")
    assert send(client, "mark-remove", file="handed-in/week-1/files/platform.zip")[0] == 200
    waited(client)
    assert not (course / "returned/week-1/collected.csv").exists()
    assert send(client, "mark-undo", step=last_step(client))[0] == 200
    assert (course / "returned/week-1/collected.csv").exists()


def test_the_mess_is_messy() -> None:
    assert len({cell for row in MESS.values() for cell in row.values()}) == sum(map(len, MESS.values()))


@pytest.mark.usefixtures("messy")
def test_decisions_at_once_are_all_kept(client: TestClient, course: Path) -> None:
    parts = ("1a", "1b", "1c", "1d", "2a", "2b", "2c", "2d")
    said = {"student": "a01", "kind": "points", "points": "1", "reason": "So"}
    threads = [
        threading.Thread(target=send, args=(client, "mark-decide"), kwargs={**said, "part": one}) for one in parts
    ]
    for one in threads:
        one.start()
    for one in threads:
        one.join()
    rows = (course / "output/week-1/overrides.csv").read_text(encoding="utf-8-sig").splitlines()
    assert sorted(rows[1:]) == [f"a01,{part},1,So" for part in parts]


def test_two_files_of_one_name_are_refused(
    client: TestClient, course: Path, answers: dict[str, dict[str, str]]
) -> None:
    files = [("files", ("a:b.csv", table(answers))), ("files", ("a_b.csv", table(answers, {})))]
    answer = client.post("/mark-files/week-1", files=files)
    assert answer.status_code == 422
    assert "two files that would be kept as a_b.csv" in answer.text
    assert not [*course.glob("returned/week-1/*.csv")]


@pytest.mark.usefixtures("messy")
@pytest.mark.parametrize("content", [b"student,part,points,reason\na01,1a,1,caf\xe9 \x81\n", b"\xff\xfes"])
def test_decisions_in_no_encoding_are_told(client: TestClient, course: Path, content: bytes) -> None:
    path = course / "output/week-1/overrides.csv"
    path.write_bytes(content)
    status, text = send(client, "mark-decide", student="a01", part="1b", kind="points", points="1", reason="So")
    assert status == 422
    assert "found " in text
    assert path.read_bytes() == content


@pytest.mark.usefixtures("messy")
@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ({"student": ""}, "nobody; expected a student"),
        ({"reason": "x" * 501}, "501 letters; expected 500 at most"),
        ({"student": "", "reason": "y " * 300}, "599 letters; expected 500 at most"),
    ],
)
def test_a_decision_about_nobody_or_without_end_is_refused(
    client: TestClient, course: Path, changes: dict[str, str], told: str
) -> None:
    said = {"student": "a01", "part": "1b", "kind": "points", "points": "1", "reason": "So", **changes}
    status, text = send(client, "mark-decide", **said)
    assert status == 422
    plain = " ".join(re.sub("<[^>]+>", " ", text).split())
    assert re.sub(r"[;,]? expected", "; expected", plain).count(told) == 1
    assert ("nobody" in plain) == (not said["student"])  # all faults at once
    assert not (course / "output/week-1/overrides.csv").exists()


def test_answers_of_a_removed_file_do_not_count_on(
    client: TestClient, course: Path, answers: dict[str, dict[str, str]]
) -> None:
    folder = course / "output/week-1"
    build = ["build", str(course / "sets/week-1"), "--out", str(folder), "--fill-in", "--replace", "--quiet"]
    assert main(build) == 0
    full = filled_sheet((folder / "fill-in/a01.pdf").read_bytes(), {"1a": answers["a01"]["1a"]})
    empty = (folder / "fill-in/a02.pdf").read_bytes()
    files = [("files", ("a01.pdf", full)), ("files", ("a02.pdf", empty))]
    assert client.post("/mark-files/week-1", files=files).status_code == 200
    waited(client)
    assert "1 of 3 students have handed in." in shown(client)
    assert send(client, "mark-remove", file="handed-in/week-1/files/a01.pdf")[0] == 200
    waited(client)
    assert "1 of 3 students" not in shown(client)


def test_what_is_dropped_while_others_are_read_is_read_too(
    marked_course: Path, answers: dict[str, dict[str, str]]
) -> None:
    built, handed_in = marked_course / "output/week-1", marked_course / "handed-in/week-1/files"
    build = ["build", str(marked_course / "sets/week-1"), "--out", str(built), "--fill-in", "--replace", "--quiet"]
    assert main(build) == 0
    handed_in.mkdir(parents=True)

    def hand_in(student: str) -> None:
        sheet = (built / f"fill-in/{student}.pdf").read_bytes()
        (handed_in / f"{student}.pdf").write_bytes(filled_sheet(sheet, {"1a": answers[student]["1a"]}))

    def meanwhile(_what: str, _done: int, _total: int) -> None:
        if not (handed_in / "a02.pdf").exists():
            hand_in("a02")

    hand_in("a01")
    table_of = marked_course / "returned/week-1/collected.csv"
    steps = Steps(marked_course / "returned/week-1/.steps", marked_course)
    assert collected(built, handed_in, table_of, steps, marked_course, meanwhile).taken == 2
    rows = csv.DictReader(io.StringIO(table_of.read_text(encoding="utf-8-sig")))
    assert [row["id"] for row in rows if row["1a"]] == ["a01", "a02"]


@pytest.mark.usefixtures("messy")
def test_what_is_decided_on_a_page_of_another_build_is_refused(client: TestClient, course: Path) -> None:
    before, built = build_shown(client), course / "output/week-1"
    again = ["build", str(course / "sets/week-1"), "--out", str(built), "--replace", "--quiet"]
    assert main(again) == 0
    assert build_shown(client) == before  # nothing has changed
    assert main([*again, "--redraw", "1"]) == 0
    for place, said in (
        ("mark-decide", {"student": "a01", "part": "1a", "kind": "points", "points": "1", "reason": "So"}),
        ("mark-means", {"written": "see my notebook", "means": "2 mmol"}),
        ("mark-means", {"written": "see my notebook", "means": "2 mmol", "keep": "1", "shown": "2 mmol"}),
    ):
        status, text = send(client, place, **said, build=before)
        assert (status, "a set that was built anew, or has other points" in text) == (422, True)
    assert not (built / "overrides.csv").exists()
    assert not (built / "means.csv").exists()


def test_what_was_dropped_stays_nowhere_else(
    client: TestClient, answers: dict[str, dict[str, str]], monkeypatch: pytest.MonkeyPatch
) -> None:
    put_aside, aside = Call.put_aside, list[Path]()

    def put(call: Call, name: str, content: bytes) -> Path:
        aside.append(put_aside(call, name, content))
        return aside[-1]

    monkeypatch.setattr(Call, "put_aside", put)
    assert drop(client, table(answers))[0] == 200
    assert drop(client, b"a\n1\n", "bad.csv")[0] == 422
    assert [path.exists() for path in aside] == [False, False]
    text = drop(client, table(answers, {}))[1]
    assert aside[-1].exists()  # until it is said whether it comes in the place of the first
    assert f'value="{aside[-1].name}"' in text
    assert send(client, "mark-replace", aside=aside[-1].name, dropped="monday.csv")[0] == 200
    assert not aside[-1].exists()


@pytest.mark.usefixtures("messy")
@pytest.mark.parametrize("content", [b"who,what\n1,2\n", b"written|means|part\nheaps|2 g|\n"])
def test_a_meaning_is_not_added_to_another_table(client: TestClient, course: Path, content: bytes) -> None:
    path = course / "output/week-1/means.csv"
    said = {"written": "see my notebook", "means": "2 mmol", "keep": "1", "shown": "2 mmol"}
    said["build"] = build_shown(client)
    path.write_bytes(content)  # while the page is open
    status, text = send(client, "mark-means", **said)
    assert (status, "another table" in text) == (422, True)
    assert path.read_bytes() == content
