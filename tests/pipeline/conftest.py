"""What the tests of whole runs share: one small class, built once."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.support.small_class import build_small, write_class


@pytest.fixture(scope="session")
def class_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder with the set "week", its roster and its templates."""
    folder = tmp_path_factory.mktemp("class")
    write_class(folder)
    return folder


@pytest.fixture(scope="session")
def built(class_folder: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The built set. Not to be written into."""
    out = tmp_path_factory.mktemp("built") / "out"
    assert build_small(class_folder, out, "--quiet") == 0
    return out
