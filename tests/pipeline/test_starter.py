"""The file to double-click: it names this Python, and finds its own folder, on every system."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from problemgen.pipeline.new_course import new_course
from problemgen.pipeline.starter import starter


def test_a_new_course_has_one_that_may_be_run(tmp_path: Path) -> None:
    name = new_course(tmp_path / "mine")[-1]
    assert name == starter()[0]
    assert (tmp_path / "mine" / name).stat().st_mode & 0o100


@pytest.mark.parametrize(("system", "ending"), [("linux", "desktop"), ("darwin", "command"), ("win32", "bat")])
def test_each_system_has_its_own(system: str, ending: str) -> None:
    name, text = starter(system, "/opt/py/bin/python")
    assert name == f"Open the desk.{ending}"
    assert "/opt/py/bin/python" in text


def test_a_desktop_entry_quotes_what_its_specification_reserves() -> None:
    assert 'Exec="/a b/\\\\$x/50%%" -m problemgen.cli desk %k\n' in starter("linux", "/a b/$x/50%")[1]


@pytest.mark.skipif(shutil.which("sh") is None, reason="no shell")
def test_a_command_goes_by_the_folder_it_lies_in(tmp_path: Path) -> None:
    told = tmp_path / "it's mine" / "python"
    told.parent.mkdir()
    told.write_text('#!/bin/sh\nprintf "%s\\n" "$@"\n')
    told.chmod(0o755)
    course = tmp_path / "a course $HOME"
    course.mkdir()
    path = course / "Open the desk.command"
    path.write_text(starter("darwin", str(told))[1])
    found = subprocess.run(["sh", str(path)], capture_output=True, text=True, check=True)  # noqa: S603, S607
    assert found.stdout.splitlines() == ["-m", "problemgen.cli", "desk", str(course)]


def test_this_python_is_the_one_that_runs_it() -> None:
    assert sys.executable in starter()[1]
