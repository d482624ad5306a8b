"""Running the command line and catching what it says."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from tests.support.small_set import small_set, write_answers

ROOT = Path(__file__).resolve().parents[2]
Capture = pytest.CaptureFixture[str]
Say = Callable[[], str]


@pytest.fixture
def said(capsys: Capture, tmp_path: Path) -> Say:
    """What was printed to standard error, the test's folder left out; nothing may stand on standard output."""

    def read() -> str:
        out, err = capsys.readouterr()
        assert out == ""
        return err.replace(f"{tmp_path}/", "").replace(str(tmp_path), ".")

    return read


@pytest.fixture
def key(tmp_path: Path) -> Path:
    """A folder with an answers.json of two students, and responses of one."""
    folder = tmp_path / "built"
    folder.mkdir()
    write_answers(folder, small_set(tmp_path))
    (tmp_path / "r.csv").write_text("id,1a\ns1,2.500 mmol\n", encoding="utf-8")
    return folder
