"""A course with a set that is built, and a class of three."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from problemgen.cli import main
from problemgen.pipeline.new_course import new_course


@pytest.fixture(scope="session")
def built_course(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The course as it is after a build. Not to be written into."""
    folder = tmp_path_factory.mktemp("built-course") / "course"
    new_course(folder)
    assert main(["build", str(folder / "sets/week-1"), "--out", str(folder / "output/week-1"), "--quiet"]) == 0
    return folder


@pytest.fixture
def marked_course(course: Path, built_course: Path) -> Path:
    """The course of `client` and `desk`, built."""
    shutil.copytree(built_course, course, dirs_exist_ok=True)
    return course
