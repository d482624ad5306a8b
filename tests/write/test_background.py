"""Long work in a process of its own: how far it is, what becomes of it, and how it is given up."""

from __future__ import annotations

import time
from pathlib import Path

import pytest

from problemgen.errors import Fault, FaultsError, OutputError
from problemgen.write import background
from problemgen.write.background import Background
from tests.support import long_work


def test_it_tells_how_far_it_is_and_what_came_of_it(tmp_path: Path) -> None:
    *progress, (kind, result) = Background(tmp_path, long_work.counted, 50_000).messages()
    assert (kind, result) == ("done", str(tmp_path))
    assert progress[0] == ("progress", ("counting", 0, 50_000))
    assert progress[-1] == ("progress", ("counting", 50_000, 50_000))
    assert len(progress) < 1000  # and not each of the fifty thousand


def test_faults_come_back_whole(tmp_path: Path) -> None:
    kind, error = list(Background(tmp_path, long_work.refused).messages())[-1]
    assert kind == "refused"
    assert isinstance(error, FaultsError)
    assert error.faults == (Fault("a.toml", "one", "x", "y", "z"), Fault("a.toml", "two", "x", "y", "z"))


@pytest.mark.parametrize(
    ("work", "told"), [(long_work.broken, "nowhere/at/all: no such file"), (long_work.ended, "ended from outside")]
)
def test_what_breaks_it_is_told(tmp_path: Path, work: object, told: str) -> None:
    assert callable(work)
    kind, error = list(Background(tmp_path, work).messages())[-1]
    assert kind == "refused"
    assert isinstance(error, OutputError)
    assert told in str(error)


def test_what_is_given_up_leaves_nothing(tmp_path: Path) -> None:
    running = Background(tmp_path, long_work.written, str(tmp_path / "out"))
    told = running.messages()
    assert next(told)[1][0] == "writing"
    running.cancel()
    assert list(told)[-1] == ("cancelled", None)
    assert list(tmp_path.iterdir()) == []


def test_what_does_not_listen_is_ended(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(background, "_GRACE", 0.2)
    running = Background(tmp_path, long_work.deaf)
    running.cancel()
    start = time.monotonic()
    assert list(running.messages())[-1] == ("cancelled", None)
    assert time.monotonic() - start < 60  # and not the ten minutes that it would sleep
