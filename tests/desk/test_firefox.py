"""The desk in Firefox: its first link, a problem with its sheet, a set that is saved, a build that is watched."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.desk.conftest import Served
from tests.support.firefox import FIREFOX, firefox


@pytest.mark.skipif(FIREFOX is None, reason="no Firefox on this machine")
def test_the_job_is_done_in_firefox(desk: Served, course: Path, tmp_path: Path) -> None:
    with firefox(tmp_path / "profile") as browser:
        browser.open(desk.link)
        assert browser.run("location.pathname") == "/"
        browser.open(f"{desk.address}/problems/limiting-reagent/silver-chromate")
        browser.wait("document.querySelector('#preview .pages img')?.naturalWidth > 0")
        browser.open(f"{desk.address}/sets/week-1")
        browser.run("(document.getElementById('title').value = 'In Firefox', 1)")
        browser.run("document.querySelector('#set [type=submit]').click()")
        assert browser.wait("document.getElementById('kept')?.textContent === 'Saved'")
        assert 'title = "In Firefox"' in (course / "sets/week-1/set.toml").read_text(encoding="utf-8")
        browser.open(f"{desk.address}/print/week-1")
        browser.run("document.querySelector('form[data-send] button.main').click()")
        browser.wait("document.querySelector(\"a[href$='.pdf']\") !== null")
    assert (course / "output/week-1/answers.json").is_file()
