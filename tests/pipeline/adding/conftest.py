"""A course to add to."""

from __future__ import annotations

from pathlib import Path

import pytest

from problemgen.load.sets.courses import course_of
from problemgen.pipeline.adding.drafts import Draft, draft_of
from problemgen.pipeline.new_course import new_course


@pytest.fixture
def course(tmp_path: Path) -> Path:
    new_course(tmp_path / "mine")
    return tmp_path / "mine"


@pytest.fixture
def draft(course: Path) -> Draft:
    return draft_of(course_of(course), course)
