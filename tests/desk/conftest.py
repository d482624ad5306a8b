"""A course, a desk over it, and a browser to open it in."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page
from starlette.testclient import TestClient

from problemgen.desk.app import application
from problemgen.desk.desk import Desk
from problemgen.desk.gate import Keys
from problemgen.desk.rooms import ROOMS
from problemgen.desk.serve import serve
from problemgen.pipeline.new_course import new_course
from tests.support.browser import chromium

PORT = 4321
HOST = f"http://127.0.0.1:{PORT}"


@pytest.fixture
def course(tmp_path: Path) -> Path:
    """A new course."""
    folder = tmp_path / "course"
    new_course(folder)
    return folder


@pytest.fixture
def keys() -> Keys:
    """The keys of the desk that `stranger` and `client` ask."""
    return Keys(PORT)


@pytest.fixture
def stranger(course: Path, keys: Keys, tmp_path: Path) -> Iterator[TestClient]:
    """A client that the desk does not know."""
    desk = Desk(course, tmp_path / "proposed")
    with TestClient(application(desk, keys, ROOMS), base_url=HOST, follow_redirects=False) as client:
        yield client
    desk.close()


@pytest.fixture
def client(stranger: TestClient, keys: Keys) -> TestClient:
    """A client that came by the first link, and sends what the desk's own pages send."""
    assert stranger.get(keys.link).status_code == 303
    stranger.headers |= {"origin": HOST, "sec-fetch-site": "same-origin"}
    return stranger


@dataclass(frozen=True)
class Served:
    """A desk that is served: its first link, and the address before it."""

    link: str

    @property
    def address(self) -> str:
        return self.link.partition("/enter")[0]


@contextmanager
def served(folder: Path | None, proposed: Path) -> Iterator[Served]:
    """Serve a desk in a thread, and stop it as the page does."""
    links: list[str] = []
    ready = threading.Event()
    desks: list[Desk] = []

    def tell(link: str) -> None:
        links.append(link)
        ready.set()

    thread = threading.Thread(target=serve, args=(folder, proposed, 0, tell, desks.append), kwargs={"browser": False})
    thread.start()
    assert ready.wait(20)
    yield Served(links[0])
    desks[0].stop()
    thread.join(20)
    assert not thread.is_alive()


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """One browser for all tests of a process."""
    with chromium() as one:
        yield one


@pytest.fixture
def desk(course: Path, tmp_path: Path) -> Iterator[Served]:
    """A desk over a new course."""
    with served(course, tmp_path / "proposed") as one:
        yield one


@pytest.fixture
def page(browser: Browser, desk: Served) -> Iterator[Page]:
    """The first page. No error may be told in its console, and nothing but the desk may be asked for."""
    context = browser.new_context(viewport={"width": 1366, "height": 900})
    opened = context.new_page()
    faults: list[str] = []
    asked: list[str] = []
    # That a form was refused is told on the page; the browser tells it once more.
    opened.on("console", lambda one: faults.append(one.text) if one.type == "error" and "422" not in one.text else None)
    opened.on("pageerror", lambda error: faults.append(str(error)))
    opened.on("request", lambda request: asked.append(request.url))
    opened.goto(desk.link)
    yield opened
    context.close()
    assert faults == []
    assert [url for url in asked if not url.startswith((desk.address, "blob:", "data:"))] == []
