"""The desk in other languages than English: all that it says goes through the catalogue."""

from __future__ import annotations

import re
from html.parser import HTMLParser
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from problemgen.cli import main
from problemgen.language.languages import ACCENTED, REVERSED
from problemgen.load.resources import banks_folder, templates_folder
from problemgen.load.sets.courses import Course

SPOKEN = ("aria-label", "placeholder", "data-so")
SHOWN = "limiting-reagent/silver-chromate"
NAMES = frozenset({"English", "Deutsch", "Español", "XLSX"})
"""Of languages, each in itself; and what has no other name."""


class Texts(HTMLParser):
    """What is read on a page, and aloud; names of files and what somebody has typed are in `code` and in fields."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []
        self._inside: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found += [value for name, value in attrs if name in SPOKEN or name.startswith("data-so") if value]
        if tag not in ("meta", "link", "input", "br"):
            self._inside.append(tag)

    def handle_endtag(self, tag: str) -> None:
        while self._inside and self._inside.pop() != tag:
            pass

    def handle_data(self, data: str) -> None:
        if not {"code", "script", "textarea"} & set(self._inside):
            self.found.append(data)


@pytest.mark.parametrize(
    "place",
    [
        "/",
        "/sets",
        "/sets/week-1",
        "/new-set",
        "/print",
        "/print/week-1",
        "/practice",
        "/no",
        "/problems",
        "/new-problem",
        f"/problems/{SHOWN}",
    ],
)
def test_nothing_goes_past_the_catalogue(place: str, course: Path, client: TestClient) -> None:
    assert main(["build", str(course / "sets/week-1"), "--out", str(course / "output/week-1"), "--quiet"]) == 0
    texts = Texts()
    texts.feed(client.get(place, headers={"accept-language": ACCENTED}).text)
    files = [*course.rglob("*.*"), *banks_folder().glob("*.toml"), templates_folder() / f"{SHOWN}.toml"]
    own = " ".join(path.read_text(encoding="utf-8") for path in files if path.suffix in (".toml", ".csv"))
    known = {*re.findall(r"[A-Za-z]+", own + " ".join(Course().sets)), *NAMES}
    words = {word for text in texts.found for word in re.findall(r"(?<![\w.*/-])[A-Za-z][a-z]{3,}(?![\w*-])", text)}
    assert words - known == set()


def test_it_is_written_from_right_to_left_where_the_language_is(client: TestClient) -> None:
    assert f'lang="{REVERSED}" dir="rtl"' in client.get("/", headers={"accept-language": REVERSED}).text


def test_a_language_that_was_chosen_stays(client: TestClient) -> None:
    assert client.post("/language", data={"language": "tlh"}).json() == {"go": ""}
    assert 'lang="en"' in client.get("/").text
    client.post("/language", data={"language": "de"})
    assert '<html lang="de"' in client.get("/", headers={"accept-language": "es"}).text


def test_entries_of_the_banks_go_by_their_names_in_the_language(client: TestClient) -> None:
    text = client.get(f"/problems/{SHOWN}", headers={"accept-language": "de"}).text
    assert "<legend>Silbernitrat</legend>" in text
    assert "Bürette" in text
    assert "burette ·" not in text
