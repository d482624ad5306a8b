"""Who is let in: token, cookie, host, origin; what every answer says; how much may be sent."""

from __future__ import annotations

from pathlib import Path

import pytest
from starlette.testclient import TestClient

from problemgen.desk.gate import HEADERS, Keys
from tests.desk.conftest import PORT
from tests.support.every_row import for_every


def test_the_first_link_is_good_for_once(stranger: TestClient, keys: Keys) -> None:
    link = keys.link
    first = stranger.get(link)
    assert first.status_code == 303
    assert first.headers["location"] == "/"
    cookie = first.headers["set-cookie"]
    assert "HttpOnly" in cookie
    assert "samesite=strict" in cookie.casefold()
    assert stranger.get("/").status_code == 200
    stranger.cookies.clear()
    assert stranger.get(link).status_code == 403
    assert stranger.get("/").status_code == 403


@for_every(["", "x", "%00", "é", "a" * 5000])
def test_another_token_opens_nothing(token: str) -> None:
    assert Keys(PORT).exchange(token) is None


@pytest.mark.parametrize("place", ["/", "/state", "/assets/desk.css", "/sets", "/files/rosters/A.csv"])
def test_without_the_cookie_nothing_is_shown(stranger: TestClient, place: str) -> None:
    for cookie in ("", f"desk-{PORT}=", f"desk-{PORT}=guess", "desk-1=x; other", '"; \x7f'):
        answer = stranger.get(place, headers={"cookie": cookie})
        assert answer.status_code == 403
        assert "course" not in answer.text


@pytest.mark.parametrize("host", ["localhost:4321", "127.0.0.1", "evil.example:4321", "127.0.0.1:4322", ""])
def test_another_host_is_refused(client: TestClient, host: str) -> None:
    assert client.get("/", headers={"host": host}).status_code == 421


@pytest.mark.parametrize("origin", ["http://evil.example", "null", "http://127.0.0.1:4322", "https://127.0.0.1:4321"])
def test_another_origin_is_refused(client: TestClient, origin: str) -> None:
    for answer in (client.post("/stop", headers={"origin": origin}), client.get("/", headers={"origin": origin})):
        assert answer.status_code == 403


def test_a_change_without_an_origin_is_refused(client: TestClient) -> None:
    del client.headers["origin"]
    assert client.post("/language", data={"language": "de"}).status_code == 403


@pytest.mark.parametrize("site", ["cross-site", "same-site"])
def test_what_another_page_asks_for_is_refused(client: TestClient, site: str) -> None:
    assert client.get("/", headers={"sec-fetch-site": site}).status_code == 403
    assert client.post("/language", headers={"sec-fetch-site": site}).status_code == 403


def test_a_typed_address_changes_nothing(client: TestClient) -> None:
    assert client.post("/language", headers={"sec-fetch-site": "none"}).status_code == 403
    assert client.get("/", headers={"sec-fetch-site": "none"}).status_code == 200


def test_every_answer_is_guarded(client: TestClient) -> None:
    for place in ("/", "/nothing", "/state", "/assets/send.js", "/sets/week-1"):
        found = client.get(place).headers
        assert {name: found[name] for name in HEADERS} == HEADERS
    of_a_file = client.get("/files/rosters/A.csv").headers
    assert {name: of_a_file[name] for name in HEADERS if name != "content-security-policy"}
    assert "script-src" not in of_a_file["content-security-policy"]
    assert "unsafe" not in HEADERS["content-security-policy"]
    assert client.get("/", headers={"host": "x"}).headers["x-frame-options"] == "DENY"


def test_a_request_has_a_limit(client: TestClient) -> None:
    assert client.post("/course", data={"folder": "x" * 1_000_001}).status_code == 413

    def endless() -> object:
        yield b"folder="
        for _ in range(40):
            yield b"x" * 50_000

    kind = {"content-type": "application/x-www-form-urlencoded"}
    assert client.post("/course", content=endless(), headers=kind).status_code == 413  # type: ignore[arg-type]
    assert client.post("/course", headers={"content-length": "-5"}).status_code == 413


OUTSIDE = (
    *("../../etc/passwd", "..%2f..%2fetc%2fpasswd", "%2e%2e/%2e%2e/etc/passwd", "/etc/passwd", "//etc/passwd"),
    *("sets/../course.toml", "rosters\\A.csv", "C:/x.csv", "rosters/A.csv%00.pdf", "rosters/%2e/A.csv", ".hidden.csv"),
    *("rosters", "output/week-1/secret", "output/week-1/SECRET", "output/week-1/answers.json", "link.csv", "out/A.csv"),
    *("sets/week-1/set.toml", "course.toml", "x" * 5000 + ".csv", "rosters/A.csv.", "rosters/A.csv "),
)


def test_nothing_but_what_is_handed_out_is_shown(course_client: tuple[Path, TestClient]) -> None:
    _, client = course_client
    assert {place[:60]: client.get(f"/files/{place}").status_code for place in OUTSIDE} == {
        place[:60]: 404 for place in OUTSIDE
    }


@pytest.fixture
def course_client(course: Path, client: TestClient, tmp_path: Path) -> tuple[Path, TestClient]:
    """A course with a secret, and with links that lead out of it."""
    built = course / "output" / "week-1"
    built.mkdir(parents=True)
    (built / "secret").write_text("x")
    (built / "answers.json").write_text("{}")
    (course / ".hidden.csv").write_text("x")
    (tmp_path / "A.csv").write_text("outside")
    (course / "link.csv").symlink_to(tmp_path / "A.csv")
    (course / "out").symlink_to(tmp_path)
    return course, client


def test_what_is_handed_out_is_saved_or_shown(course_client: tuple[Path, TestClient]) -> None:
    course, client = course_client
    (course / "output" / "week-1" / "class.pdf").write_bytes(b"%PDF-1.7")
    shown, saved = client.get("/files/output/week-1/class.pdf"), client.get("/files/rosters/A.csv")
    assert shown.headers["content-disposition"].startswith("inline")
    assert saved.headers["content-disposition"].startswith("attachment")
    assert client.get("/files/output/week-1/class.pdf?save=1").headers["content-disposition"].startswith("attachment")


def test_a_page_of_the_course_is_shown_in_a_box_in_which_nothing_runs(course: Path, client: TestClient) -> None:
    (course / "output").mkdir(exist_ok=True)
    (course / "output/page.html").write_text("<script>fetch('/state')</script>", encoding="utf-8")
    for place, how in (("page.html", "attachment"), ("page.html?open=1", "inline"), ("page.html?open=1&save=1", "att")):
        headers = client.get(f"/files/output/{place}").headers
        assert headers["content-disposition"].startswith(how)
        assert ("; sandbox" in headers["content-security-policy"]) == ("open" in place)
    assert client.get("/files/rosters/A.csv?open=1").headers["content-disposition"].startswith("attachment")
