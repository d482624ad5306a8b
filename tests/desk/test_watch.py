"""The state number grows when something has changed, and at no other time."""

from __future__ import annotations

import re
import time
from collections.abc import Sequence
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from problemgen.desk import front, watch
from problemgen.desk.desk import Desk
from problemgen.desk.standing import Standing, standings
from problemgen.desk.watch import Watch


@pytest.fixture
def watched(monkeypatch: pytest.MonkeyPatch) -> Watch:
    monkeypatch.setattr(watch, "_OFTEN", 0.0)
    return Watch()


def test_what_stays_is_told_by_the_same_number(watched: Watch, course: Path) -> None:
    assert {watched.number(course, 0) for _ in range(3)} == {1}


def test_every_change_is_another_number(watched: Watch, course: Path) -> None:
    seen = [watched.number(course, 0)]
    path = course / "sets/week-1/set.toml"
    path.write_text(path.read_text(encoding="utf-8") + "\n", encoding="utf-8")
    seen.append(watched.number(course, 0))
    (course / "output/week-1/grades").mkdir(parents=True)
    seen.append(watched.number(course, 0))
    (course / "output/week-1/grades/gradebook.csv").write_text("id", encoding="utf-8")
    seen.append(watched.number(course, 0))
    path.unlink()
    seen.append(watched.number(course, 0))
    seen.append(watched.number(course, 1))
    seen.append(watched.number(None, 1))
    assert seen == [1, 2, 3, 4, 5, 6, 7]


def test_what_is_aside_is_no_change(watched: Watch, course: Path) -> None:
    before = watched.number(course, 0)
    (course / ".problemgen-unfinished").mkdir()
    (course / ".problemgen-unfinished/x").write_text("x", encoding="utf-8")
    assert watched.number(course, 0) == before


def test_a_link_that_leads_round_is_not_followed(watched: Watch, course: Path) -> None:
    (course / "round").symlink_to(course)
    assert watched.number(course, 0) == 1


def test_what_changes_while_a_page_is_made_is_found_out(
    client: TestClient, course: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def slowly(desk: Desk) -> Sequence[Standing]:
        found = standings(desk)
        (course / "sets/week-1/notes.toml").write_text("more = 1\n", encoding="utf-8")
        time.sleep(0.5)  # longer than what was found on the disk holds
        return found

    monkeypatch.setattr(front, "standings", slowly)
    shown = re.search(r'data-state="(\d+)"', client.get("/").text)
    assert shown is not None
    assert int(shown[1]) < client.get("/state").json()["number"]
