"""Files of a folder change together, whatever stops the run between two of them."""

from __future__ import annotations

import itertools
import json
import os
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from problemgen.errors import OutputError
from problemgen.write import switch as module
from problemgen.write.files import PREFIX, Staging, settle
from problemgen.write.switch import JOURNAL, NEW, finish_switch, switch

OLD = {"answers.json": b"old", "key.pdf": b"old", "sheets/a.pdf": b"old", "sheets/gone.pdf": b"old", "notes": b"mine"}
WRITE = ("answers.json", "key.pdf", "sheets/a.pdf", "class/A/a.pdf")
AFTER = {**dict.fromkeys(WRITE, b"new"), "notes": b"mine"}


class Killed(BaseException):
    """The end of a process: nothing of it runs behind this."""


def listing(folder: Path) -> dict[str, bytes]:
    """The files of a folder, without what is aside."""
    names = {p.relative_to(folder).as_posix(): p for p in folder.rglob("*") if p.is_file()}
    return {name: path.read_bytes() for name, path in names.items() if not name.startswith(PREFIX)}


def put(folder: Path, files: dict[str, bytes]) -> None:
    for name, content in files.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(content)


def prepared(folder: Path) -> Path:
    put(folder, OLD)
    aside = folder / PREFIX
    put(aside / NEW, dict.fromkeys(WRITE, b"new"))
    return aside


STEPS = ("replace", "link", "rename", "unlink", "mkdir", "rmdir")


def stopping(patched: pytest.MonkeyPatch, step: int, error: BaseException) -> list[int]:
    """Let the step so numbered, of all that change the file system, end the run; gives the steps done."""
    done: list[int] = []

    def counted(call: Callable[..., Any]) -> Callable[..., Any]:
        def one(*arguments: Any, **named: Any) -> Any:
            done.append(len(done))
            if done[-1] == step or (done[-1] > step and isinstance(error, Killed)):
                raise error
            return call(*arguments, **named)

        return one

    for name in STEPS:
        patched.setattr(os, name, counted(getattr(os, name)))
    return done


def steps_in_all(tmp_path: Path) -> int:
    aside = prepared(tmp_path / "count")
    with pytest.MonkeyPatch.context() as patched:
        done = stopping(patched, -1, OSError())
        patched.setattr(module, "_undo", None)
        switch(tmp_path / "count", aside, WRITE, ["sheets/gone.pdf"])
    assert listing(tmp_path / "count") == AFTER
    return len(done)


def test_a_kill_at_any_step_leaves_what_the_next_run_makes_whole(tmp_path: Path) -> None:
    seen = set()
    for step in range(steps_in_all(tmp_path)):
        folder = tmp_path / str(step)
        aside = prepared(folder)
        with pytest.MonkeyPatch.context() as patched:
            stopping(patched, step, Killed())
            with pytest.raises(Killed):
                switch(folder, aside, WRITE, ["sheets/gone.pdf"])
        settle(folder)
        assert listing(folder) in (AFTER, OLD), step
        assert not aside.exists()
        seen.add(listing(folder) == AFTER)
    assert seen == {True, False}


def test_a_step_that_the_system_refuses_leaves_all_as_it_was(tmp_path: Path) -> None:
    refused = 0
    for step in range(steps_in_all(tmp_path)):
        folder = tmp_path / str(step)
        aside = prepared(folder)
        with pytest.MonkeyPatch.context() as patched:
            stopping(patched, step, PermissionError(13, "Permission denied"))
            try:
                switch(folder, aside, WRITE, ["sheets/gone.pdf"])
            except PermissionError:
                refused += 1
        shutil.rmtree(aside)
        # where the journal alone cannot be removed, all is new already
        assert listing(folder) in (OLD, AFTER), step
        assert (listing(folder) == OLD) == ((folder / "class").exists() is False), step
    assert refused > len(WRITE)


def test_a_kill_while_all_goes_back_is_gone_on_with(tmp_path: Path) -> None:
    """The system refuses one step, and the way back is ended behind any number of its own."""
    for step, more in itertools.product((3, 6, 9), range(12)):
        folder = tmp_path / f"{step}-{more}"
        aside = prepared(folder)
        with pytest.MonkeyPatch.context() as patched:
            refusing(patched, step, step + more)
            with pytest.raises((Killed, PermissionError)):
                switch(folder, aside, WRITE, ["sheets/gone.pdf"])
        settle(folder)
        assert listing(folder) in (OLD, AFTER), (step, more)


def refusing(patched: pytest.MonkeyPatch, step: int, last: int) -> None:
    """Let the step so numbered, of all that change the file system, be refused, and all behind the last one killed."""
    steps: list[None] = []

    def counted(call: Callable[..., Any]) -> Callable[..., Any]:
        def one(*arguments: Any, **named: Any) -> Any:
            steps.append(None)
            if len(steps) > last + 1:
                raise Killed
            if len(steps) == step + 1:
                raise PermissionError(13, "Permission denied")
            return call(*arguments, **named)

        return one

    for name in STEPS:
        patched.setattr(os, name, counted(getattr(os, name)))


def test_a_link_that_leads_elsewhere_is_refused_before_anything_moves(tmp_path: Path) -> None:
    put(tmp_path / "elsewhere", {"a.pdf": b"mine"})
    put(tmp_path / "out", {"answers.json": b"old"})
    (tmp_path / "out" / "sheets").symlink_to(tmp_path / "elsewhere")

    def run() -> None:
        with Staging(tmp_path / "out", replace=True) as staging:
            staging.write("answers.json", b"new")
            staging.write("sheets/a.pdf", b"new")

    with pytest.raises(OutputError) as error:
        run()
    assert str(error.value) == (
        f"{tmp_path / 'out' / 'sheets' / 'a.pdf'} leads out of {tmp_path / 'out'} by a link; nothing was written. Put "
        "a folder in its place, or choose another output folder"
    )
    assert listing(tmp_path / "elsewhere") == {"a.pdf": b"mine"}
    assert (tmp_path / "out" / "answers.json").read_bytes() == b"old"


def test_a_file_system_without_links_will_do(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def none(*_: object, **__: object) -> None:
        raise PermissionError(1, "Operation not permitted")

    monkeypatch.setattr(os, "link", none)
    switch(tmp_path, prepared(tmp_path), WRITE, ["sheets/gone.pdf"])
    shutil.rmtree(tmp_path / PREFIX)
    assert listing(tmp_path) == AFTER


@given(st.sets(st.sampled_from(("a", "b", "c/d", "c/e"))), st.sets(st.sampled_from(("a", "b", "c/d", "c/e", "f"))))
def test_any_files_over_any_others(tmp_path_factory: pytest.TempPathFactory, old: set[str], new: set[str]) -> None:
    folder = tmp_path_factory.mktemp("out")
    put(folder, dict.fromkeys(old, b"old"))
    with Staging(folder, replace=True) as staging:
        for name in sorted(new):
            staging.write(name, b"new")
        staging.supersede(["f", "b"])
    assert listing(folder) == {**dict.fromkeys(old - {"b"}, b"old"), **dict.fromkeys(new, b"new")}


@pytest.mark.parametrize("name", ["answers.json", "sheets/gone.pdf"])
def test_a_folder_where_a_file_goes_is_told_and_kept(tmp_path: Path, name: str) -> None:
    put(tmp_path, OLD)
    (tmp_path / name).unlink()
    put(tmp_path, {f"{name}/inside": b"mine"})
    before = listing(tmp_path)

    def run() -> None:
        with Staging(tmp_path, replace=True) as staging:
            for one in WRITE:
                staging.write(one, b"new")
            staging.supersede(["sheets/gone.pdf"])

    with pytest.raises(OutputError) as error:
        run()
    assert str(error.value) == (
        f"{tmp_path / name} is a folder, and a file goes there; nothing was written. Move it away, or choose another "
        "output folder"
    )
    assert listing(tmp_path) == before


@pytest.mark.parametrize(
    ("journal", "reason"),
    [
        ("{", "cannot be read"),
        ("[]", "cannot be read"),
        ('{"write": [1], "before": [], "remove": [], "folders": [], "goes": ["on"]}', "cannot be read"),
        ("[" * 100_000, "cannot be read"),
        (
            '{"write": ["../x"], "before": [], "remove": [], "folders": [], "goes": ["on"]}',
            "is not a file name inside the output folder",
        ),
        (
            '{"write": [], "before": [], "remove": ["/etc/x"], "folders": [], "goes": ["on"]}',
            "is not a file name inside the output folder",
        ),
        ('{"write": ["out/x"], "before": [], "remove": [], "folders": [], "goes": ["on"]}', "leads out of the folder"),
    ],
)
def test_a_journal_from_elsewhere_moves_nothing(tmp_path: Path, journal: str, reason: str) -> None:
    folder = tmp_path / "built"
    aside = folder / PREFIX
    put(aside, {JOURNAL: journal.encode(), f"{NEW}/x": b"1", f"{NEW}/out/x": b"1"})
    (tmp_path / "elsewhere").mkdir()
    (folder / "out").symlink_to(tmp_path / "elsewhere")
    before = listing(tmp_path)
    with pytest.raises(OutputError, match=reason):
        settle(folder)
    assert listing(tmp_path).items() >= before.items()
    assert listing(tmp_path / "elsewhere") == {}


def test_a_place_aside_without_a_journal_is_cleared(tmp_path: Path) -> None:
    put(tmp_path, {f"{PREFIX}-week/{NEW}/answers.json": b"half", "kept": b"1"})
    finish_switch(tmp_path, tmp_path / f"{PREFIX}-week")
    settle(tmp_path)
    assert listing(tmp_path) == {"kept": b"1"}


def test_a_link_in_the_place_aside_is_not_followed(tmp_path: Path) -> None:
    put(tmp_path, {"mine/file": b"1", "out/kept": b"1"})
    (tmp_path / "out" / PREFIX).symlink_to(tmp_path / "mine")
    settle(tmp_path / "out")
    assert listing(tmp_path / "mine") == {"file": b"1"}


def test_the_journal_names_all_that_moves(tmp_path: Path) -> None:
    aside = prepared(tmp_path)
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(module, "_carry_out", lambda *_: None)
        switch(tmp_path, aside, WRITE, ["sheets/gone.pdf", "never"])
    assert json.loads((aside / JOURNAL).read_bytes()) == {
        "write": list(WRITE),
        "before": ["answers.json", "key.pdf", "sheets/a.pdf"],
        "remove": ["sheets/gone.pdf"],
        "folders": ["class", "class/A"],
        "goes": ["on"],
    }
