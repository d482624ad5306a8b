"""Every screen under axe-core, wide and narrow, light and dark; nothing runs over the edge at 320 pixels."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Literal

import pytest
from playwright.sync_api import Browser, Page, expect

from problemgen.cli import main
from problemgen.language.languages import ACCENTED, REVERSED
from problemgen.pipeline.new_course import new_course
from tests.desk.conftest import Served, served
from tests.support.browser import axe_findings

SCREENS = ("/", "/sets", "/new-set", "/sets/week-1", "/sets/broken", "/print", "/print/week-1", "/practice", "/mark",
           "/mark/week-1", "/nothing")  # fmt: skip


@pytest.fixture(scope="module")
def worked(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """A desk over a course with a set that is built, and one that cannot be read."""
    folder = tmp_path_factory.mktemp("worked") / "course"
    new_course(folder)
    (folder / "sets/broken").mkdir()
    (folder / "sets/broken/set.toml").write_text("titel = 3\n", encoding="utf-8")
    assert main(["build", str(folder / "sets/week-1"), "--out", str(folder / "output/week-1"), "--quiet"]) == 0
    with served(folder, folder.parent / "proposed") as desk:
        yield desk


@pytest.fixture(scope="module")
def known(browser: Browser, worked: Served) -> Iterator[Page]:
    page = browser.new_page()
    page.goto(worked.link)
    yield page
    page.close()


def show(page: Page, worked: Served, place: str) -> None:
    page.goto(worked.address + place)
    page.evaluate("() => { for (const one of document.querySelectorAll('details')) one.open = true; }")


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [360, 1366])
@pytest.mark.parametrize("place", SCREENS)
def test_axe_finds_nothing(
    place: str, width: int, scheme: Literal["light", "dark"], known: Page, worked: Served
) -> None:
    known.set_viewport_size({"width": width, "height": 800})
    known.emulate_media(color_scheme=scheme)
    show(known, worked, place)
    assert axe_findings(known) == []


@pytest.mark.parametrize("place", SCREENS)
def test_nothing_runs_over_the_edge(place: str, known: Page, worked: Served) -> None:
    known.set_viewport_size({"width": 320, "height": 640})
    show(known, worked, place)
    assert known.evaluate("() => document.documentElement.scrollWidth") <= 320


def test_what_is_dropped_and_refused_is_well_built_too(known: Page, worked: Served, tmp_path: Path) -> None:
    known.set_viewport_size({"width": 360, "height": 800})
    export = tmp_path / "list.csv"
    export.write_text("id,name\nb1,Ada\nb1,Eve\n", encoding="utf-8")
    show(known, worked, "/sets/week-1")
    known.locator("input[type=file]").set_input_files(export)
    expect(known.get_by_role("heading", name="Is this right?")).to_be_visible()
    assert axe_findings(known) == []
    known.get_by_role("button", name="Take over").click()
    expect(known.locator(".refusal")).to_be_visible()
    assert axe_findings(known) == []


def test_a_desk_without_a_course(browser: Browser, tmp_path: Path) -> None:
    with served(None, tmp_path / "proposed") as desk:
        page = browser.new_page(viewport={"width": 320, "height": 640})
        page.goto(desk.link)
        assert axe_findings(page) == []
        assert page.evaluate("() => document.documentElement.scrollWidth") <= 320
        page.close()


@pytest.mark.parametrize("language", [ACCENTED, REVERSED])
@pytest.mark.parametrize("place", ["/", "/sets/week-1", "/print/week-1", "/practice", "/mark/week-1"])
def test_long_words_and_the_other_direction_fit_too(place: str, language: str, known: Page, worked: Served) -> None:
    known.set_viewport_size({"width": 360, "height": 640})
    known.set_extra_http_headers({"accept-language": language})
    show(known, worked, place)
    assert known.evaluate("() => document.documentElement.lang") == language
    assert known.evaluate("() => document.documentElement.scrollWidth") <= 360
    assert axe_findings(known) == []
    known.set_extra_http_headers({})
