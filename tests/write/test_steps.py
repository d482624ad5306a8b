"""Changes that are taken back: the last first, over a restart, and never over somebody's later change."""

from __future__ import annotations

from pathlib import Path

import pytest

from problemgen.errors import FaultsError, OutputError
from problemgen.write.steps import Steps
from problemgen.write.switch import switch

HALF = '{"kind": "files", "about": {"names": "\\ud800"}, "at": "2026-01-01T00:00:00+00:00", "files": []}'
YEAR_1 = '{"kind": "files", "about": {}, "at": "0001-01-01T00:00:00+14:00", "files": []}'


@pytest.fixture
def root(tmp_path: Path) -> Path:
    folder = tmp_path / "course"
    (folder / "output").mkdir(parents=True)
    (folder / "output" / "a.csv").write_text("one\n", encoding="utf-8")
    return folder


@pytest.fixture
def steps(root: Path) -> Steps:
    return Steps(root / "returned" / ".steps", root)


def test_several_steps_are_taken_back_one_after_the_other(root: Path, steps: Steps) -> None:
    path = root / "output/a.csv"
    for text in (b"two\n", b"three\n"):
        steps.take("decision", {"who": text.decode().strip()}, lambda text=text: {"output/a.csv": text})
    again = Steps(root / "returned" / ".steps", root)  # as after a restart
    assert [(one.number, one.about["who"]) for one in again.last(9)] == [(2, "three"), (1, "two")]
    again.undo(2)
    assert path.read_bytes() == b"two\n"
    again.undo(1)
    assert path.read_bytes() == b"one\n"
    assert again.last(9) == ()
    assert again.take("decision", {}, lambda: {"output/a.csv": b"four\n"}).number == 3  # numbers are given once


def test_what_was_added_goes_and_what_was_removed_comes_back(root: Path, steps: Steps) -> None:
    steps.take("files", {}, lambda: {"returned/week/new.csv": b"new", "output/a.csv": None})
    assert not (root / "output/a.csv").exists()
    assert (root / "returned/week/new.csv").read_bytes() == b"new"
    steps.undo(1)
    assert (root / "output/a.csv").read_bytes() == b"one\n"
    assert not (root / "returned/week/new.csv").exists()
    assert (root / "returned/.steps/000001/behind-0").read_bytes() == b"new"  # nothing is ever lost


def test_a_file_that_was_changed_since_is_left_alone(root: Path, steps: Steps) -> None:
    steps.take("decision", {}, lambda: {"output/a.csv": b"two\n"})
    (root / "output/a.csv").write_bytes(b"by somebody else\n")
    with pytest.raises(FaultsError) as told:
        steps.undo(1)
    assert str(told.value) == (
        "output/a.csv: found a file that was changed since; expected the file as this step has left it. Nothing was "
        "undone, so that the later change is not lost. Change the file itself."
    )
    assert (root / "output/a.csv").read_bytes() == b"by somebody else\n"
    assert [one.number for one in steps.last(9)] == [1]


@pytest.mark.parametrize("number", [0, 1, 7])
def test_only_the_last_step_is_taken_back(root: Path, steps: Steps, number: int) -> None:
    for text in (b"two\n", b"three\n"):
        steps.take("decision", {}, lambda text=text: {"output/a.csv": text})
    with pytest.raises(FaultsError, match="found another step than the last one; expected the last step"):
        steps.undo(number)
    assert (root / "output/a.csv").read_bytes() == b"three\n"


class Killed(BaseException):
    """The process is ended: nothing more is done."""


def killed_before(monkeypatch: pytest.MonkeyPatch, name: str) -> None:
    """From now on, whoever writes a file of this name is ended just before."""

    def begun(folder: Path, aside: Path, write: list[str], remove: list[str]) -> None:
        if name in (*write, *remove):
            raise Killed
        switch(folder, aside, write, remove)

    monkeypatch.setattr("problemgen.write.files.switch", begun)


def files_of(root: Path) -> dict[str, bytes]:
    found = (path for path in root.rglob("*") if path.is_file() and ".steps" not in path.parts)
    return {path.relative_to(root).as_posix(): path.read_bytes() for path in found}


@pytest.mark.parametrize("name", ["a.csv", "b.csv"])
def test_a_step_that_was_ended_in_the_middle_is_taken_back(
    root: Path, steps: Steps, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    steps.take("decision", {}, lambda: {"output/a.csv": b"two\n"})
    before = files_of(root)
    killed_before(monkeypatch, name)
    with pytest.raises(Killed):
        steps.take("files", {}, lambda: {"output/a.csv": b"three\n", "output/b.csv": b"new\n"})
    monkeypatch.undo()
    steps.settle()
    assert files_of(root) == before
    assert [one.number for one in steps.last(9)] == [1]
    steps.undo(1)
    assert files_of(root) == {"output/a.csv": b"one\n"}


@pytest.mark.parametrize("name", ["a.csv", "b.csv"])
def test_undoing_that_was_ended_in_the_middle_goes_on(
    root: Path, steps: Steps, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    steps.take("decision", {}, lambda: {"output/a.csv": b"two\n"})
    steps.take("files", {}, lambda: {"output/a.csv": b"three\n", "output/b.csv": b"new\n"})
    killed_before(monkeypatch, name)
    with pytest.raises(Killed):
        steps.undo(2)
    monkeypatch.undo()
    steps.settle()
    assert files_of(root) == {"output/a.csv": b"two\n"}
    assert [one.number for one in steps.last(9)] == [1]
    assert (root / "returned/.steps/000002/behind-1").read_bytes() == b"new\n"
    steps.undo(1)
    assert files_of(root) == {"output/a.csv": b"one\n"}


def test_what_was_changed_since_a_step_was_ended_in_the_middle_is_left_alone(
    root: Path, steps: Steps, monkeypatch: pytest.MonkeyPatch
) -> None:
    killed_before(monkeypatch, "b.csv")
    with pytest.raises(Killed):
        steps.take("files", {}, lambda: {"output/a.csv": b"two\n", "output/b.csv": b"new\n"})
    monkeypatch.undo()
    (root / "output/a.csv").write_bytes(b"by somebody else\n")
    steps.settle()
    assert files_of(root) == {"output/a.csv": b"by somebody else\n"}
    assert steps.take("decision", {}, lambda: {"output/a.csv": b"four\n"}).number == 2


def test_a_step_that_was_ended_at_its_end_stands(root: Path, steps: Steps) -> None:
    steps.take("decision", {}, lambda: {"output/a.csv": b"two\n"})
    (root / "returned/.steps/000001/at-work").touch()
    steps.settle()
    assert files_of(root) == {"output/a.csv": b"two\n"}
    assert [one.number for one in steps.last(9)] == [1]


@pytest.mark.parametrize("name", ["../a.csv", "/etc/passwd", "output/../../a.csv", "a\\b", ""])
def test_no_name_leaves_the_root(steps: Steps, name: str) -> None:
    with pytest.raises(OutputError, match="not a file name inside"):
        steps.take("files", {}, lambda: {name: b"x"})


@pytest.mark.parametrize(
    "text",
    ["", "{}", "[]", '{"kind": 1, "about": 2, "at": 3, "files": 4}', "{" * 9999, "[" * 99_999, "\0", HALF, YEAR_1],
)
def test_a_damaged_journal_is_passed_over(root: Path, steps: Steps, text: str) -> None:
    steps.take("decision", {}, lambda: {"output/a.csv": b"two\n"})
    steps.take("decision", {}, lambda: {"output/a.csv": b"three\n"})
    (root / "returned/.steps/000002/step.json").write_text(text, encoding="utf-8")
    assert [one.number for one in steps.last(9)] == [1]


@pytest.mark.parametrize("kept", [b"garbage", None])
def test_what_was_kept_damaged_is_not_put_back(root: Path, steps: Steps, kept: bytes | None) -> None:
    steps.take("decision", {}, lambda: {"output/a.csv": b"two\n"})
    place = root / "returned/.steps/000001/before-0"
    place.unlink()
    if kept is not None:
        place.write_bytes(kept)
    with pytest.raises(FaultsError, match="found a damaged journal; expected what the file held before"):
        steps.undo(1)
    assert (root / "output/a.csv").read_bytes() == b"two\n"
    assert [one.number for one in steps.last(9)] == [1]


@pytest.mark.parametrize("name", ["away/b.csv", "output/link.csv"])
def test_no_link_leads_out_of_the_root(root: Path, steps: Steps, tmp_path: Path, name: str) -> None:
    outside = tmp_path / "outside"
    outside.mkdir()
    (outside / "b.csv").write_bytes(b"theirs\n")
    (root / "away").symlink_to(outside)
    (root / "output/link.csv").symlink_to(outside / "b.csv")
    with pytest.raises(OutputError, match="leads out of the folder by a link"):
        steps.take("files", {}, lambda: {name: b"mine\n"})
    assert (outside / "b.csv").read_bytes() == b"theirs\n"
    assert steps.last(9) == ()
