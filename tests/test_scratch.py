"""Nothing that was needed for a moment stays behind, however a process ends."""

from __future__ import annotations

import os
import signal
import stat
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import pytest

from problemgen.scratch import scratch

WAITS = """
import sys, time
from problemgen.scratch import scratch
with scratch() as place:
    (place / "grades.csv").write_text("id,name")
    print(place, flush=True)
    time.sleep(60)
"""


@pytest.fixture(autouse=True)
def system_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The system's temporary folder for a test, for processes that it starts too."""
    monkeypatch.setenv("TMPDIR", str(tmp_path))
    monkeypatch.setattr(tempfile, "tempdir", None)
    return tmp_path


def killed_outright() -> Path:
    """The place of a process that was killed while it had something there, long ago."""
    command = [sys.executable, "-c", WAITS]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as process:  # noqa: S603 - our own interpreter
        assert process.stdout is not None
        place = Path(process.stdout.readline().strip())
        process.send_signal(signal.SIGKILL)
    _make_old(place)
    return place


def _make_old(place: Path) -> None:
    long_ago = time.time() - 3600
    os.utime(place.parent / "lock", (long_ago, long_ago))


def test_it_is_empty_private_and_gone_at_the_end(system_folder: Path) -> None:
    with scratch() as place:
        assert place.is_relative_to(system_folder)
        assert list(place.iterdir()) == []
        assert stat.S_IMODE(place.parent.stat().st_mode) == 0o700
        (place / "inner").mkdir()
        (place / "inner" / "grades.csv").write_text("id,name")
    assert list(system_folder.iterdir()) == []


def test_it_is_gone_where_an_exception_leaves_it(system_folder: Path) -> None:
    with pytest.raises(IsADirectoryError), scratch() as place:
        place.write_text("id,name")
    assert list(system_folder.iterdir()) == []


def test_what_a_killed_process_left_is_cleared_by_the_next(system_folder: Path) -> None:
    left = killed_outright()
    assert (left / "grades.csv").is_file()
    with scratch() as place:
        assert [one.name for one in system_folder.iterdir()] == [place.parent.name]


def test_what_somebody_is_making_or_works_with_stays(system_folder: Path) -> None:
    with scratch() as held, scratch() as other:
        _make_old(held)
        just_made = system_folder / "problemgen-just-made"
        just_made.mkdir()
        (just_made / "lock").touch()
        with scratch():
            assert all(one.is_dir() for one in (held, other, just_made))


def test_what_is_not_ours_stays(system_folder: Path) -> None:
    (system_folder / "problemgen-notes").write_text("mine")
    (system_folder / "problemgen-course").mkdir()
    (system_folder / "problemgen-odd" / "lock").mkdir(parents=True)
    os.utime(system_folder / "problemgen-odd" / "lock", (0, 0))
    with scratch():
        pass
    assert sorted(one.name for one in system_folder.iterdir()) == [
        "problemgen-course",
        "problemgen-notes",
        "problemgen-odd",
    ]


def test_a_link_leads_to_nothing_that_is_cleared(system_folder: Path, tmp_path_factory: pytest.TempPathFactory) -> None:
    mine = tmp_path_factory.mktemp("mine")
    (mine / "in").mkdir()
    (mine / "in" / "thesis.txt").write_text("kept")
    (mine / "lock").write_text("kept")
    os.utime(mine / "lock", (0, 0))
    (system_folder / "problemgen-x").symlink_to(mine)
    (system_folder / "problemgen-y").mkdir()
    (system_folder / "problemgen-y" / "lock").symlink_to(mine / "lock")
    os.utime(system_folder / "problemgen-y" / "lock", (0, 0), follow_symlinks=False)
    with scratch():
        pass
    assert (mine / "in" / "thesis.txt").read_text() == (mine / "lock").read_text() == "kept"


def test_a_folder_of_somebody_else_stays(monkeypatch: pytest.MonkeyPatch) -> None:
    left = killed_outright()
    monkeypatch.setattr(os, "getuid", lambda: left.stat().st_uid + 1)
    with scratch():
        pass
    assert (left / "grades.csv").is_file()
