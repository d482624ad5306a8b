"""What is sent to the rooms: hostile names and texts, faults, a file that has changed meanwhile."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path
from typing import Any
from urllib.parse import quote

import pytest
from starlette.testclient import TestClient

from problemgen.desk.set_files.saving import seen
from problemgen.desk.set_files.settings import GROUPS
from problemgen.model.policy import Policy

HOSTILE = "<script>alert(1)</script>"


def sent(course: Path, name: str = "week-1", **changes: Any) -> dict[str, str]:
    path = course / "sets" / name / "set.toml"
    same = {
        "seen": seen(path.read_text(encoding="utf-8")) if path.exists() else "",
        "title": "Amounts",
        "settings": {},
        "sheets": [{"session": 1, "title": "Before"}],
        "problems": [{"was": None, "templates": ["amounts/four-ways"], "points": {}}],
    }
    return {"set": json.dumps({**same, **changes})}


def test_a_set_is_saved_and_read_back(course: Path, client: TestClient) -> None:
    answer = client.post("/sets/week-1", data=sent(course, settings={"policy.unit_slip": "75", "worked_key": "true"}))
    assert answer.json() == {"go": "/sets/week-1?saved=1"}
    text = (course / "sets/week-1/set.toml").read_text(encoding="utf-8")
    assert "unit_slip = 0.75" in text
    assert "worked_key = true" in text
    assert 'value="75"' in client.get("/sets/week-1").text


def test_all_faults_are_told_at_once_and_nothing_is_written(course: Path, client: TestClient) -> None:
    path = course / "sets/week-1/set.toml"
    before = path.read_bytes()
    problems = [{"was": None, "templates": ["amounts/nine-ways"], "points": {}} for _ in range(2)]
    answer = client.post("/sets/week-1", data=sent(course, problems=problems, title="x"))
    assert answer.status_code == 422
    assert str(path) in answer.text
    assert answer.text.count("amounts/nine-ways") == 2
    assert path.read_bytes() == before


@pytest.mark.parametrize("value", ["a lot", "101", "-1", "1\n[policy]", '"', "1e5"])
def test_a_share_that_is_none_is_refused(course: Path, client: TestClient, value: str) -> None:
    answer = client.post("/sets/week-1", data=sent(course, settings={"policy.unit_slip": value}))
    assert answer.status_code == 422
    assert "policy.unit_slip" in answer.text


def test_a_file_that_was_changed_meanwhile_is_not_overwritten(course: Path, client: TestClient) -> None:
    mine = sent(course)
    path = course / "sets/week-1/set.toml"
    path.write_text(path.read_text(encoding="utf-8") + "# more\n", encoding="utf-8")
    answer = client.post("/sets/week-1", data=mine)
    assert answer.status_code == 422
    assert "changed meanwhile" in answer.text
    assert path.read_text(encoding="utf-8").endswith("# more\n")


def test_a_new_set_is_named_by_its_title(course: Path, client: TestClient) -> None:
    for name in ("bestimmung-von-saure", "bestimmung-von-saure-2"):
        answer = client.post("/new-set", data=sent(course, name="none", title="Bestimmung von Säure!"))
        assert answer.json() == {"go": f"/sets/{name}?saved=1"}
    assert (course / "sets/bestimmung-von-saure-2/set.toml").is_file()


@pytest.mark.parametrize("name", ["../x", "..", "a/../../x", ".git", "a\\b", "%2e%2e%2fx"])
def test_no_set_is_written_outside(course: Path, client: TestClient, name: str) -> None:
    answer = client.post(f"/sets/{name}", data=sent(course, name="none"))
    assert answer.status_code in (404, 405)
    assert {path.name for path in course.parent.iterdir()} <= {"course", "proposed"}


def test_a_set_behind_a_link_is_not_opened(course: Path, client: TestClient, tmp_path: Path) -> None:
    (tmp_path / "elsewhere").mkdir()
    (tmp_path / "elsewhere" / "set.toml").write_text('title = "x"\n', encoding="utf-8")
    (course / "sets" / "linked").symlink_to(tmp_path / "elsewhere")
    assert client.get("/sets/linked").status_code == 404
    assert client.post("/sets/linked", data=sent(course, name="none")).status_code == 404


def test_a_hostile_title_is_text(course: Path, client: TestClient) -> None:
    client.post("/sets/week-1", data=sent(course, title=HOSTILE, sheets=[{"session": 1, "title": HOSTILE}]))
    for place in ("/", "/sets", "/sets/week-1", "/print", "/print/week-1"):
        text = client.get(place).text
        assert HOSTILE not in text
        assert "&lt;script&gt;" in text


def test_a_published_secret_is_not_shown(course: Path, client: TestClient) -> None:
    path = course / "sets/week-1/set.toml"
    path.write_text('demonstration_secret = "seven corks"\n' + path.read_text(encoding="utf-8"), encoding="utf-8")
    for place in ("/sets/week-1", "/print/week-1", "/"):
        assert "seven corks" not in client.get(place).text
    client.post("/sets/week-1", data=sent(course))
    assert "seven corks" in path.read_text(encoding="utf-8")


@pytest.mark.parametrize("text", ["", "[]", "{", '{"seen": 1}', "null", '{"problems": [{"templates": []}]}'])
def test_what_is_no_set_is_a_fault(client: TestClient, text: str) -> None:
    assert client.post("/sets/week-1", data={"set": text}).status_code == 422


def test_a_set_that_cannot_be_read_is_told_with_its_file(course: Path, client: TestClient) -> None:
    path = course / "sets/week-1/set.toml"
    path.write_text("title = 3\nlayoutt = 1\n", encoding="utf-8")
    answer = client.get("/sets/week-1")
    assert answer.status_code == 422
    assert str(path) in answer.text
    assert "layoutt" in answer.text
    assert client.get("/").status_code == 200
    assert "cannot be read" in client.get("/sets").text


def test_every_policy_has_its_sentence() -> None:
    shown = {one.key.removeprefix("policy.") for group in GROUPS for one in group.settings}
    assert Policy.model_fields.keys() - shown == {"named_mistakes"}  # by the ids of mistakes: in the file


@pytest.mark.parametrize("name", ["week 3 (50%)", "a#b?c=d", "Übung & Ester"])
def test_a_folder_of_any_name_is_reached(course: Path, client: TestClient, name: str) -> None:
    shutil.copytree(course / "sets/week-1", course / "sets" / name)
    for room in ("sets", "print", "mark", "papers"):
        links = re.findall(rf'href="(/{room}/[^"]+)"', client.get(f"/{room}").text)
        if room in ("sets", "print"):  # the others have no link before it is built
            assert f"/{room}/{quote(name)}" in links
        assert client.get(f"/{room}/{quote(name)}").status_code == 200
    answer = client.post(f"/sets/{quote(name)}", data=sent(course, name))
    assert answer.json() == {"go": f"/sets/{quote(name)}?saved=1"}
    assert f'action="/sets/{quote(name)}"' in client.get(answer.json()["go"]).text


def test_a_new_set_has_the_problem_that_it_was_asked_for(client: TestClient) -> None:
    shown = client.get("/new-set?template=limiting-reagent/silver-chromate").text
    assert shown.count('<li class="problem"') == 1
    assert 'data-templates="[&#34;limiting-reagent/silver-chromate&#34;]"' in shown
    assert client.get("/new-set?template=no/such").status_code == 404


def test_for_whom_a_set_is_printed_is_said_before_it_is(course: Path, client: TestClient) -> None:
    invented = "That is the invented class with which the course began."
    for place in ("/sets/week-1", "/print/week-1"):
        shown = client.get(place).text
        assert "It will be printed for 3 students: <code>rosters/A.csv</code>." in shown
        assert invented in shown
    assert 'href="#class">Drop a class list</a>' in client.get("/sets/week-1").text
    (course / "sets/week-1/roster.csv").write_text("id,name\nb1,Orsine Vael\n", encoding="utf-8")
    for place in ("/sets/week-1", "/print/week-1"):
        shown = client.get(place).text
        assert "It will be printed for 1 student: <code>sets/week-1/roster.csv</code>." in shown
        assert invented not in shown
    assert 'href="#class">Drop a class list</a>' not in client.get("/sets/week-1").text
