"""Files appear together, or not at all."""

from __future__ import annotations

import errno
import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from problemgen.errors import OutputError
from problemgen.write import files
from problemgen.write.files import PREFIX, Staging


def listing(folder: Path) -> dict[str, bytes]:
    return {str(p.relative_to(folder)): p.read_bytes() for p in sorted(folder.rglob("*")) if p.is_file()}


def write_all(folder: Path, files: dict[str, bytes], *, replace: bool = False) -> None:
    with Staging(folder, replace=replace) as staging:
        for name, content in files.items():
            staging.write(name, content)


def test_a_new_folder_appears_with_everything_in_it(tmp_path: Path) -> None:
    out = tmp_path / "deep" / "out"
    with Staging(out) as staging:
        staging.write("sheets/anna.pdf", b"1")
        staging.write("answers.json", b"2", private=True)
        assert not out.exists()
    assert listing(tmp_path / "deep") == {"out/answers.json": b"2", "out/sheets/anna.pdf": b"1"}


def test_an_existing_folder_keeps_its_other_files(tmp_path: Path) -> None:
    (tmp_path / "notes.txt").write_bytes(b"mine")
    write_all(tmp_path, {"a.pdf": b"a", "sub/b.pdf": b"b"})
    assert listing(tmp_path) == {"a.pdf": b"a", "notes.txt": b"mine", "sub/b.pdf": b"b"}
    assert not list(tmp_path.glob(PREFIX + "*"))


def test_private_files_are_for_their_owner_only(tmp_path: Path) -> None:
    (tmp_path / "answers.json").write_bytes(b"old")
    (tmp_path / "answers.json").chmod(0o644)
    for folder in (tmp_path, tmp_path / "new"):
        with Staging(folder, replace=True) as staging:
            staging.write("answers.json", b"new", private=True)
            staging.write("sheet.pdf", b"new")
        assert (folder / "answers.json").stat().st_mode & 0o777 == 0o600
        umask = os.umask(0)
        os.umask(umask)
        assert (folder / "sheet.pdf").stat().st_mode & 0o777 == 0o666 & ~umask
    assert (tmp_path / "new").stat().st_mode & 0o777 == 0o777 & ~umask


@pytest.mark.parametrize(
    ("count", "named"),
    [
        (1, "f0"),
        (5, "f0, f1, f2, f3, f4"),
        (6, "f0, f1, f2, f3, f4 and 1 more"),
        (9, "f0, f1, f2, f3, f4 and 4 more"),
    ],
)
def test_existing_files_are_not_replaced_unasked(tmp_path: Path, count: int, named: str) -> None:
    old = {f"f{i}": b"old" for i in range(count)}
    new = {**dict.fromkeys(old, b"new"), "g": b"new"}
    write_all(tmp_path, old)
    with pytest.raises(OutputError) as error:
        write_all(tmp_path, new)
    assert str(error.value) == f"{tmp_path} already holds {named}; nothing was written. --replace replaces them"
    assert listing(tmp_path) == old
    write_all(tmp_path, new, replace=True)
    assert listing(tmp_path) == new


def test_expect_tells_before_the_work_is_done(tmp_path: Path) -> None:
    write_all(tmp_path, {"a": b"old"})
    with (
        pytest.raises(OutputError, match="already holds a; nothing was written"),
        Staging(tmp_path) as staging,
    ):
        staging.expect(["b", "a"])
    with Staging(tmp_path, replace=True) as staging:
        staging.expect(["b", "a"])
    assert listing(tmp_path) == {"a": b"old"}


def interrupted(out: Path, error: type[BaseException]) -> None:
    with Staging(out, replace=True) as staging:
        staging.write("old", b"new")
        staging.write("a.pdf", b"half")
        raise error


@pytest.mark.parametrize("error", [KeyboardInterrupt, ValueError, OutputError, SystemExit])
@pytest.mark.parametrize("exists", [True, False])
def test_an_interruption_leaves_nothing(tmp_path: Path, error: type[BaseException], *, exists: bool) -> None:
    out = tmp_path / "out"
    if exists:
        write_all(out, {"old": b"old"})
    with pytest.raises(error):
        interrupted(out, error)
    assert listing(tmp_path) == ({"out/old": b"old"} if exists else {})
    assert out.exists() is exists


KILLED = """
import sys, time
from problemgen.write.files import Staging
with Staging(sys.argv[1]) as staging:
    staging.write("answers.json", b"half", private=True)
    print("written", flush=True)
    time.sleep(60)
"""


@pytest.mark.parametrize("exists", [True, False])
def test_a_run_that_is_killed_outright_leaves_nothing_that_looks_whole(tmp_path: Path, *, exists: bool) -> None:
    out = tmp_path / "out"
    if exists:
        out.mkdir()
    root = Path(__file__).parents[2]
    command = [sys.executable, "-c", KILLED, str(out)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, cwd=root) as run:  # noqa: S603 - our own text
        assert run.stdout is not None
        assert run.stdout.readline() == b"written\n"
        run.send_signal(signal.SIGKILL)
        run.wait()
    assert not (out / "answers.json").exists()
    (aside,) = (out if exists else tmp_path).glob(f"{PREFIX}*")
    assert aside.stat().st_mode & 0o777 == 0o700
    write_all(out, {"answers.json": b"whole"})
    assert listing(tmp_path) == {"out/answers.json": b"whole"}
    assert list(tmp_path.rglob(f"{PREFIX}*")) == []


@pytest.mark.parametrize("name", ["../x", "/etc/x", "a/../../x", "", ".", "a\\b", "a\0b"])
def test_names_that_leave_the_folder_are_refused(tmp_path: Path, name: str) -> None:
    with pytest.raises(OutputError) as error:
        write_all(tmp_path / "out", {name: b"x"})
    assert str(error.value) == f"{name!r} is not a file name inside the output folder"
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("second", "message"),
    [
        ("anna.pdf", "'anna.pdf' would be written twice in one run"),
        ("Anna.pdf", "'Anna.pdf' and 'anna.pdf' are one file on some computers; choose another name"),
    ],
)
def test_two_files_of_one_name_are_refused(tmp_path: Path, second: str, message: str) -> None:
    with Staging(tmp_path / "out") as staging:
        staging.write("anna.pdf", b"1")
        with pytest.raises(OutputError) as error:
            staging.write(second, b"2")
    assert str(error.value) == message


def test_a_file_where_the_folder_should_be(tmp_path: Path) -> None:
    (tmp_path / "out").write_bytes(b"")
    with pytest.raises(OutputError) as error:
        write_all(tmp_path / "out", {"a": b"a"})
    assert str(error.value) == f"{tmp_path / 'out'} is a file; a folder is needed"


def test_a_folder_that_cannot_be_made(tmp_path: Path) -> None:
    (tmp_path / "file").write_bytes(b"")
    with pytest.raises(OutputError) as error:
        write_all(tmp_path / "file" / "out", {"a": b"a"})
    assert str(error.value) == f"cannot write into {tmp_path / 'file' / 'out'}: File exists"


@pytest.mark.parametrize(
    ("number", "reason"), [(errno.EACCES, "Permission denied"), (errno.ENOSPC, "No space left on device")]
)
def test_refusals_of_the_system_are_said_plainly(
    tmp_path: Path, number: int, reason: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_: object) -> int:
        raise OSError(number, os.strerror(number))

    with Staging(tmp_path / "out") as staging, monkeypatch.context() as patched:
        patched.setattr("problemgen.write.files.os.open", refuse)
        with pytest.raises(OutputError) as error:
            staging.write("a", b"a")
    assert str(error.value) == f"cannot write into {tmp_path / 'out'}: {reason}"


def test_files_move_in_the_order_of_writing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    moved: list[str] = []
    move = Path.replace

    def watch(path: Path, target: Path) -> Path:
        moved.append(target.name)
        return move(path, target)

    monkeypatch.setattr(Path, "replace", watch)
    names = [f"f{number}" for number in (3, 1, 2)]
    write_all(tmp_path, dict.fromkeys(names, b""))
    assert [name for name in moved if name in names] == names


@pytest.mark.parametrize("replace", [True, False])
def test_what_is_superseded_is_removed_only_by_a_run_that_replaces(tmp_path: Path, *, replace: bool) -> None:
    write_all(tmp_path, {"sheets/a.pdf": b"1", "sheets/B.pdf": b"1", "sheets/c.pdf": b"1"})
    with Staging(tmp_path, replace=replace) as staging:
        staging.supersede(["sheets/a.pdf", "sheets/B.pdf", "sheets/never.pdf", "b.txt"])
        staging.write("b.txt", b"2")
    left = {"sheets/c.pdf": b"1", "b.txt": b"2"}
    kept = {} if replace else {"sheets/a.pdf": b"1", "sheets/B.pdf": b"1"}
    assert listing(tmp_path) == left | kept


def test_what_is_written_again_is_not_removed_in_whatever_letters(tmp_path: Path) -> None:
    write_all(tmp_path, {"sheets/a.pdf": b"1"})
    with Staging(tmp_path, replace=True) as staging:
        staging.write("sheets/a.pdf", b"2")
        staging.supersede(["sheets/A.pdf"])
    assert listing(tmp_path) == {"sheets/a.pdf": b"2"}


def test_an_interrupted_run_removes_nothing(tmp_path: Path) -> None:
    write_all(tmp_path, {"a": b"1"})

    def run() -> None:
        with Staging(tmp_path, replace=True) as staging:
            staging.supersede(["a"])
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        run()
    assert listing(tmp_path) == {"a": b"1"}


@pytest.mark.parametrize("name", ["../a", "/a", "", "a/../../b"])
def test_nothing_outside_the_folder_is_superseded(tmp_path: Path, name: str) -> None:
    with pytest.raises(OutputError, match="is not a file name inside the output folder"), Staging(tmp_path) as staging:
        staging.supersede([name])


def test_an_interruption_that_got_lost_is_heard_before_files_move(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Python drops an exception that is raised while it collects garbage."""
    monkeypatch.setattr(files, "HEARD", [signal.SIGTERM])
    with pytest.raises(KeyboardInterrupt) as error:
        write_all(tmp_path / "out", {"a": b"1"})
    assert error.value.args == (signal.SIGTERM,)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM])
def test_a_signal_while_files_move_is_heard_behind_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: signal.Signals
) -> None:
    write_all(tmp_path, {"a": b"1", "b": b"1"})
    before = signal.signal(number, signal.default_int_handler)
    move = Path.replace

    def interrupting(path: Path, target: Path) -> Path:
        signal.raise_signal(number)
        return move(path, target)

    monkeypatch.setattr(Path, "replace", interrupting)
    try:
        with pytest.raises(KeyboardInterrupt):
            write_all(tmp_path, {"a": b"2", "b": b"2"}, replace=True)
    finally:
        signal.signal(number, before)
    assert listing(tmp_path) == {"a": b"2", "b": b"2"}


def test_a_folder_that_cannot_be_is_refused(tmp_path: Path) -> None:
    (tmp_path / "circle").symlink_to("circle")
    for folder, reason in (("circle", "is no place for files"), (PREFIX, "has the name of what an unfinished run")):
        with pytest.raises(OutputError, match=reason):
            Staging(tmp_path / folder / "out")


def test_what_somebody_else_has_left_aside_is_left_alone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / f"{PREFIX}-theirs").mkdir()
    monkeypatch.setattr(os, "access", lambda *_: False)
    files.settle(tmp_path)
    assert (tmp_path / f"{PREFIX}-theirs").is_dir()


def test_a_run_that_ends_while_another_settles_is_no_fault(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / f"{files.PREFIX}-only").mkdir()

    def gone(aside: Path) -> None:
        aside.rmdir()
        raise FileNotFoundError(aside / "lock")

    monkeypatch.setattr(files, "_locked", gone)
    files.settle(tmp_path)
    assert list(tmp_path.iterdir()) == []
