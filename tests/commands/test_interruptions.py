"""A run that is ended from outside: one true line, nothing beside the output folder, nobody left at work."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from problemgen.write.files import PREFIX

ROOT = Path(__file__).parents[2]
BUILD = ("build", "sets/first-week", "--out", "out", "--replace")
ENDS = {"SIGINT": 130, "SIGTERM": 143, "SIGHUP": 129}


@contextmanager
def running(folder: Path, *arguments: str) -> Iterator[subprocess.Popen[bytes]]:
    """The program in a process group of its own, as a terminal starts it."""
    command = [sys.executable, "-m", "problemgen.cli", *arguments]
    paths = {**os.environ, "PYTHONPATH": str(ROOT), "TMPDIR": str(folder / "tmp"), "PYTHONUNBUFFERED": "1"}
    (folder / "tmp").mkdir(exist_ok=True)
    with subprocess.Popen(  # noqa: S603 - our own program
        command, cwd=folder, env=paths, stderr=subprocess.PIPE, start_new_session=True
    ) as run:
        yield run


def members(group: int) -> list[int]:
    """The processes of a group that are at work, by what Linux tells of each."""
    found = []
    for place in Path("/proc").glob("[0-9]*/stat"):
        try:
            state, _, its_group = place.read_text(encoding="utf-8").rpartition(")")[2].split()[:3]
        except OSError:  # it has ended meanwhile
            continue
        if int(its_group) == group and state != "Z":
            found.append(int(place.parent.name))
    return found


def gone(group: int, seconds: float) -> bool:
    """Whether all processes of a group end within so many seconds."""
    end = time.monotonic() + seconds
    while members(group) and time.monotonic() < end:
        time.sleep(0.05)
    return members(group) == []


def printing(group: int) -> None:
    """Wait until the run has started others: it is printing then."""
    end = time.monotonic() + 60
    while len(members(group)) < 3:
        assert time.monotonic() < end
        time.sleep(0.05)


def left(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir() if path.name != "tmp")


@pytest.mark.parametrize("name", ENDS)
@pytest.mark.parametrize("to_all", [False, True])
def test_a_run_that_is_asked_to_end_leaves_nothing(tmp_path: Path, name: str, *, to_all: bool) -> None:
    with running(tmp_path, *BUILD) as run:
        printing(run.pid)
        time.sleep(0.3)
        (os.killpg if to_all else os.kill)(run.pid, getattr(signal, name))  # a terminal sends it to all
        _, told = run.communicate(timeout=90)
    assert told.decode().splitlines()[-1] == "interrupted; nothing was written"
    assert "Traceback" not in told.decode()
    assert run.returncode == ENDS[name]
    assert gone(run.pid, 3)
    assert left(tmp_path) == []
    assert left(tmp_path / "tmp") == []


def test_a_run_that_is_killed_takes_its_helpers_along_and_the_next_one_clears_up(tmp_path: Path) -> None:
    with running(tmp_path, *BUILD) as run:
        printing(run.pid)
        run.kill()
        run.communicate(timeout=90)
        assert gone(run.pid, 10)
    assert left(tmp_path) == [f"{PREFIX}-out"]
    assert left(tmp_path / "tmp") == []
    with running(tmp_path, *BUILD, "--count", "1", "--quiet") as run:
        assert run.communicate(timeout=90)[1] == b""
    assert left(tmp_path) == ["out"]


def test_two_runs_do_not_write_one_folder_at_once(tmp_path: Path) -> None:
    with running(tmp_path, *BUILD) as first:
        printing(first.pid)
        with running(tmp_path, *BUILD, "--count", "1") as second:
            told = second.communicate(timeout=90)[1].decode()
        first.terminate()
        first.communicate(timeout=90)
    assert second.returncode == 1
    assert told.splitlines()[-1] == (
        f"{tmp_path / 'out'} is being written by another run; nothing was written. Wait until it is done, or choose "
        "another output folder"
    )


FIRST = """
import sys
from problemgen.cli import program
print("begun", flush=True)
program()
"""


@pytest.mark.parametrize("moment", [0.05 * step for step in range(12)])
def test_an_interruption_in_the_first_moments_is_one_line(tmp_path: Path, moment: float) -> None:
    command = [sys.executable, "-c", FIRST, *BUILD, "--count", "1", "--quiet"]
    pipe = subprocess.PIPE
    with subprocess.Popen(command, cwd=tmp_path, stdout=pipe, stderr=pipe, start_new_session=True) as run:  # noqa: S603 - our own text
        assert run.stdout is not None
        assert run.stdout.readline() == b"begun\n"
        time.sleep(0.005 + moment)
        os.killpg(run.pid, signal.SIGINT)
        _, told = run.communicate(timeout=90)
    assert (run.returncode, told) in ((130, b"interrupted; nothing was written\n"), (0, b""))
    assert left(tmp_path) == (["out"] if run.returncode == 0 else [])


TWICE = """
import signal
from problemgen import cli
from problemgen.write import files

files.give_up = lambda: signal.raise_signal(signal.SIGTERM)
cli.import_module = lambda name: files if name.endswith("files") else signal.raise_signal(signal.SIGTERM)
cli.program()
"""


@pytest.mark.skipif(sys.platform == "win32", reason="ends are told by signals")
def test_a_second_signal_while_the_run_clears_up_changes_nothing(tmp_path: Path) -> None:
    """Schedulers and impatient people send two: the code and the last line are those of the first."""
    told = subprocess.run(  # noqa: S603 - our own program
        [sys.executable, "-c", TWICE], cwd=tmp_path, env={**os.environ, "PYTHONPATH": str(ROOT)}, capture_output=True
    )
    assert (told.returncode, told.stderr.decode()) == (143, "interrupted; nothing was written\n")
