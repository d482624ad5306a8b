"""The room for papers, as its page asks it: what is typed is kept and judged, and nothing is told of anybody's key."""

from __future__ import annotations

import csv
import io
import re
import shutil
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from problemgen.cli import main
from problemgen.pipeline.answer_book import open_answers

WHO = {"student": "a01", "attempt": "1"}


pytestmark = pytest.mark.usefixtures("marked_course")


def table(course: Path) -> list[dict[str, str]]:
    path = course / "returned/week-1/typed-papers.csv"
    return list(csv.DictReader(io.StringIO(path.read_text(encoding="utf-8-sig")))) if path.is_file() else []


def right(course: Path, student: str = "a01") -> dict[str, str]:
    with open_answers(course / "output/week-1") as book:
        problems = book.problems(student)
    return {f"{one.label}{part.label}": part.answer or "" for one in problems for part in one.parts}


def printed(client: TestClient) -> str:
    """What the page of the paper sends, so that nothing is typed on other sheets."""
    found = re.search('data-printed="([0-9a-f]+)"', client.get("/papers/week-1", params={"paper": "a01"}).text)
    return found[1] if found else ""


def keep(client: TestClient, column: str, cell: str, before: str = "", **more: str) -> tuple[int, str]:
    data = {**WHO, "printed": printed(client), "column": column, "cell": cell, "before": before, **more}
    answer = client.post("/keep-answer/week-1", data=data)
    return answer.status_code, answer.text


def test_the_sets_that_are_built_are_offered(client: TestClient) -> None:
    assert 'href="/papers/week-1"' in client.get("/papers").text


def test_a_set_that_is_not_built_says_so(client: TestClient, course: Path) -> None:
    shutil.rmtree(course / "output/week-1")
    assert "The set has not been built yet" in client.get("/papers/week-1").text
    assert client.post("/find-paper/week-1", data={"code": "a01"}).status_code == 422


def test_a_code_opens_the_paper_and_a_typing_error_offers_it(client: TestClient) -> None:
    assert client.post("/find-paper/week-1", data={"code": "A01"}).json() == {"go": "/papers/week-1?paper=a01"}
    told = client.post("/find-paper/week-1", data={"code": "a011"}).text
    assert "Nobody in this set has the code, the id or the name “a011”." in told
    assert 'href="/papers/week-1?paper=a01"' in told
    assert "“&lt;q&gt;”" in client.post("/find-paper/week-1", data={"code": "<q>"}).text


def test_an_answer_is_kept_and_judged_with_those_behind_it(client: TestClient, course: Path) -> None:
    cells = right(course)
    status, told = keep(client, "2a", cells["2a"])
    assert status == 200
    assert 'data-of="2a" data-words="Right"' in told
    assert 'data-earned="1 of 13 points"' in told
    assert 'data-of="2b" data-words=""' in told
    assert [row["2a"] for row in table(course)] == [cells["2a"]]
    keep(client, "2b", str(2 * float(cells["2b"].split()[0])))
    assert "by their own earlier answers" in keep(client, "2d", cells["2d"])[1]


def test_who_types_is_told_what_the_student_is_told(client: TestClient, course: Path) -> None:
    cells = right(course)
    keep(client, "2a", f"{2 * float(cells['2a']):.3f} mmol")
    _, told = keep(client, "2c", f"{float(cells['2a']):.3f} mmol")  # half of that, as in the key
    assert "<b>Follows from an earlier answer</b>" in told
    sentences = re.findall(r"[^<>]*\byour\b[^<>]*", told, re.IGNORECASE)
    assert sentences
    for sentence in sentences:
        assert f'<b>The student is told:</b> <span lang="en">{sentence}<' in told
    shown = client.get("/papers/week-1?paper=a01").text
    assert "On the sheet" in shown
    assert "Your numbers" not in shown


def test_only_what_was_typed_shows_its_key(client: TestClient, course: Path) -> None:
    assert "<dt>right</dt>" not in client.get("/papers/week-1?paper=a01").text
    told = keep(client, "1a", right(course)["1a"])[1]
    assert told.count("<dt>right</dt>") == 1


def test_two_tabs_on_one_paper_overwrite_nothing_unseen(client: TestClient, course: Path) -> None:
    assert keep(client, "1a", "1.5")[0] == 200
    status, told = keep(client, "1a", "1.6")
    assert status == 422
    assert "It was changed meanwhile" in told
    assert 'data-found="1.5"' in told
    assert [row["1a"] for row in table(course)] == ["1.5"]
    assert keep(client, "1a", "1.6", "1.5")[0] == 200


def test_a_reload_shows_what_was_typed(client: TestClient) -> None:
    keep(client, "1b", '<b>"2"</b>')
    shown = client.get("/papers/week-1?paper=a01").text
    assert 'data-before="&lt;b&gt;&#34;2&#34;&lt;/b&gt;"' in shown
    assert "Not readable" in shown
    assert "1 begun" in shown


def test_a_paper_is_typed_to_its_end_cleared_and_put_back(client: TestClient, course: Path) -> None:
    keep(client, "1a", "1.5")
    assert client.post("/end-paper/week-1", data={**WHO, "session": "1"}).json() == {"go": ""}
    assert "1 typed" in client.get("/papers/week-1").text
    before = table(course)
    place = {"go": "/papers/week-1?paper=a01"}
    assert client.post("/clear-paper/week-1", data=WHO).json() == place
    assert table(course) == []
    assert "This paper was cleared." in client.get("/papers/week-1?paper=a01").text
    assert "3 missing" in client.get("/papers/week-1").text
    assert client.post("/restore-paper/week-1", data=WHO).json() == place
    assert table(course) == before
    assert "This paper was cleared." not in client.get("/papers/week-1?paper=a01").text
    assert client.post("/restore-paper/week-1", data=WHO).json() == place


@pytest.mark.parametrize(
    ("place", "data"),
    [
        ("/keep-answer/../../x", {**WHO, "column": "1a", "cell": "1", "before": ""}),
        ("/keep-answer/week-9", {**WHO, "column": "1a", "cell": "1", "before": ""}),
        ("/clear-paper/week-1", {"student": "", "attempt": ""}),
        ("/end-paper/week-1", {"student": "a01", "attempt": "9999999999"} | {"student": "b"}),
    ],
)
def test_what_no_page_sends_is_nowhere(client: TestClient, course: Path, place: str, data: dict[str, str]) -> None:
    assert client.post(place, data=data).status_code == 404
    assert table(course) == []


@pytest.mark.parametrize("column", ["name", "typed", "9z", ""])
def test_no_other_column_is_typed_into(client: TestClient, course: Path, column: str) -> None:
    assert keep(client, column, "1")[0] == 404
    assert table(course) == []


DRAWN_ANEW = "a paper whose sheets were drawn anew, or are no longer in the set"


@pytest.mark.parametrize("more", [{"student": "nobody"}, {"student": ""}, {"attempt": "2"}, {"printed": ""}])
def test_a_paper_that_is_another_one_is_told(client: TestClient, course: Path, more: dict[str, str]) -> None:
    status, told = keep(client, "1a", "1", **more)
    assert (status, DRAWN_ANEW in told) == (422, True)
    assert table(course) == []


def test_what_is_typed_on_a_page_of_old_sheets_is_not_marked_by_new_ones(client: TestClient, course: Path) -> None:
    cells, before = right(course), printed(client)
    assert keep(client, "1a", cells["1a"])[0] == 200
    built = course / "output/week-1"
    redrawn = ["build", str(course / "sets/week-1"), "--out", str(built), "--replace", "--redraw", "1", "--quiet"]
    assert main(redrawn) == 0
    status, told = keep(client, "1b", cells["1b"], printed=before)
    assert (status, DRAWN_ANEW in told, "Not right" in told) == (422, True, False)
    assert [(row["1a"], row["1b"]) for row in table(course)] == [(cells["1a"], "")]
    assert "is on no sheet of the set" in client.get("/papers/week-1?paper=a01").text
    assert keep(client, "1b", right(course)["1b"])[0] == 200


@pytest.mark.parametrize(
    "place", ["/papers/week-9", "/papers/week-1?paper=nobody", "/papers/week-1?paper=a01&attempt=7"]
)
def test_what_is_not_there_is_not_shown(client: TestClient, place: str) -> None:
    assert client.get(place).status_code == 404


def test_a_file_in_doubt_is_told_on_the_page(client: TestClient, course: Path) -> None:
    path = course / "returned/week-1/typed-papers.csv"
    path.parent.mkdir(parents=True)
    mine = printed(client)
    path.write_text('id,1a\na01,"2\n', encoding="utf-8")
    assert "a quotation mark is not closed" in client.get("/papers/week-1").text
    status, told = keep(client, "1a", "1", printed=mine)
    assert (status, "a quotation mark is not closed" in told) == (422, True)


def test_rows_of_nobody_are_told(client: TestClient, course: Path) -> None:
    path = course / "returned/week-1/typed-papers.csv"
    path.parent.mkdir(parents=True)
    path.write_text("id,1a\nzz9,2\n", encoding="utf-8")
    assert "the id &#39;zz9&#39; is not in the set; the row is not marked" in client.get("/papers/week-1").text


def test_missing_is_who_has_handed_in_nothing_in_any_way(client: TestClient, course: Path) -> None:
    folder = course / "returned/week-1"
    folder.mkdir(parents=True)
    (folder / "monday.csv").write_text("Matrikelnr;1a\na01;2\na02;3\n", encoding="utf-8")
    (folder / "broken.csv").write_text("x\n1\n", encoding="utf-8")
    text = client.get("/papers/week-1").text
    assert "0 typed · 0 begun · 2 in a table alone · 1 missing" in text
    assert text.count("answers in monday.csv, no paper typed") == 2
    assert keep(client, "2a", "3")[0] == 200
    assert "0 typed · 1 begun · 1 in a table alone · 1 missing" in client.get("/papers/week-1").text
    (folder / "monday.csv").unlink()
    assert "0 typed · 1 begun · 2 missing" in client.get("/papers/week-1").text


def test_the_first_page_tells_of_answers_behind_the_last_marking(client: TestClient, course: Path) -> None:
    assert "answers came back since" not in client.get("/").text
    typed = ["grade", str(course / "output/week-1"), str(course / "returned/week-1/typed-papers.csv"), "--quiet"]
    keep(client, "1a", right(course)["1a"])
    assert main([*typed, "--no-pdf"]) == 0
    assert "answers came back since" not in client.get("/").text
    keep(client, "1b", "2")
    assert "answers came back since" in client.get("/").text
