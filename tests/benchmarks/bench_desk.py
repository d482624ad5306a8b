"""The desk: a class of 120 on its page, after a decision and without one, and how large the page is."""

from __future__ import annotations

import re
import shutil
import tempfile
import time
from pathlib import Path

from bench_table import best_of, note, print_table, times
from starlette.testclient import TestClient

from problemgen.cli import main
from problemgen.desk.app import application
from problemgen.desk.desk import Desk
from problemgen.desk.gate import Keys
from problemgen.desk.rooms import ROOMS
from problemgen.load.resources import templates_folder
from problemgen.pipeline.mark import mark
from problemgen.pipeline.new_course import new_course

__all__ = ["desk_marking"]

_PORT = 4321
_HOST = f"http://127.0.0.1:{_PORT}"
_SET = "first-week"
_PART = "4l"


def desk_marking() -> None:
    """The page of a set of 25 parts, against marking the same class with all its files and without PDF."""
    with tempfile.TemporaryDirectory() as place:
        course = Path(place) / "course"
        new_course(course)
        folder, built = course / "sets" / _SET, course / "output" / _SET
        shutil.copytree(templates_folder() / "sets" / _SET, folder)
        assert main(["build", str(folder), "--out", str(built), "--demonstration", "--quiet"]) == 0
        returned = course / "returned" / _SET
        returned.mkdir(parents=True)
        shutil.copy(folder / "responses.csv", returned)
        whole, _ = best_of(lambda: _marked(built, returned / "responses.csv"), 3)
        _print(course, whole)


def _print(course: Path, whole: float) -> None:
    keys, desk = Keys(_PORT), Desk(course, course)
    with TestClient(application(desk, keys, ROOMS), base_url=_HOST, follow_redirects=False) as client:
        client.get(keys.link)
        client.headers |= {"origin": _HOST, "sec-fetch-site": "same-origin"}
        page, part = f"/mark/{_SET}", f"/mark/{_SET}?part={_PART}"
        first = client.get(page).text  # with what is loaded once
        build = re.findall('name="build" value="([0-9a-f]+)"', first)[0]
        again, _ = best_of(lambda: client.get(page), 3)
        decided, _ = best_of(lambda: _decided(client, page, build), 3)
        rows = [
            ("page, nothing changed", _told(again), times(again / whole)),
            ("page after a decision", _told(decided), times(decided / whole)),
            ("size of the page", f"{len(client.get(page).content) / 1e3:.0f} kB", ""),
            ("size of one part", f"{len(client.get(part).content) / 1e3:.0f} kB", ""),
        ]
    desk.close()
    print_table("Marking on the desk", ("what", "figure", "of marking with all files"), rows)
    note(f"120 students, 25 parts; marking with all files but PDF, by one process: {_told(whole)}.")


def _marked(built: Path, responses: Path) -> object:
    return mark(built, responses, built / "once", pdf=False, workers=1, replace=True)


def _decided(client: TestClient, page: str, build: str) -> None:
    """One decision more, and the page that is shown after it."""
    decision = {"student": "s001", "part": "4", "kind": "bonus", "points": "1", "reason": f"At {time.monotonic()}"}
    decision["build"] = build
    assert client.post(f"/mark-decide/{_SET}", data=decision).status_code == 200
    client.get(page)


def _told(seconds: float) -> str:
    return f"{seconds * 1000:.0f} ms"
