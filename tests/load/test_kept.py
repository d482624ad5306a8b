"""Lines that earlier runs have left: where they stand, and what is as good as none."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import pytest

from problemgen.load import kept
from problemgen.load.kept import LARGEST, kept_file, kept_lines
from problemgen.write.kept import keep_lines

LINES = {'["µ", 1]': '"a"', "b": "[1, 2]"}


def file_of(table: str) -> Path:
    path = kept_file(table)
    assert path is not None
    return path


def test_lines_come_back_as_they_were_left() -> None:
    assert kept_lines("t") == {}
    keep_lines(file_of("t"), LINES, LARGEST)
    assert list(kept_lines("t").items()) == list(LINES.items())
    assert kept_lines("other") == {}


@pytest.mark.parametrize("place", [0, 70, -1])
def test_a_file_that_is_damaged_is_as_good_as_none(place: int) -> None:
    path = file_of("t")
    keep_lines(path, LINES, LARGEST)
    content = bytearray(path.read_bytes())
    content[place] ^= 1
    path.write_bytes(content)
    assert kept_lines("t") == {}


@pytest.mark.parametrize("content", [b"", b"\n", b"\xff\xfe", b"no digest", b"0" * 64 + b"\nk\tv\n"])
def test_so_is_one_of_another_kind(content: bytes) -> None:
    path = file_of("t")
    path.parent.mkdir(parents=True)
    path.write_bytes(content)
    assert kept_lines("t") == {}


def test_so_are_one_that_was_cut_off_one_that_is_too_large_and_a_folder(monkeypatch: pytest.MonkeyPatch) -> None:
    path = file_of("t")
    keep_lines(path, LINES, LARGEST)
    whole = path.read_bytes()
    path.write_bytes(whole[:-5])
    assert kept_lines("t") == {}
    path.write_bytes(whole)
    monkeypatch.setattr(kept, "LARGEST", len(whole) - 1)
    assert kept_lines("t") == {}
    path.unlink()
    path.mkdir()
    assert kept_lines("t") == {}


def test_the_folder_is_the_users_wherever_that_is_told(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr(sys, "platform", "linux")
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("XDG_CACHE_HOME", "relative")  # by the specification such a path is ignored
    assert file_of("t").parent == tmp_path / ".cache" / "problemgen"
    monkeypatch.delenv("XDG_CACHE_HOME")
    assert file_of("t").parent == tmp_path / ".cache" / "problemgen"
    monkeypatch.setattr(sys, "platform", "darwin")
    assert file_of("t").parent == tmp_path / "Library" / "Caches" / "problemgen"


def test_without_a_home_nothing_is_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    def no_home() -> Path:
        raise RuntimeError("Could not determine home directory.")

    monkeypatch.delenv("XDG_CACHE_HOME")
    monkeypatch.setattr(Path, "home", no_home)
    assert kept_file("t") is None
    assert kept_lines("t") == {}


def test_another_program_does_not_find_them(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    package = tmp_path / "package"
    (package / "inside" / "__pycache__").mkdir(parents=True)
    source, compiled = package / "inside" / "a.py", package / "inside" / "__pycache__" / "a.pyc"
    source.write_text("a = 1\n", encoding="utf-8")
    monkeypatch.setattr(kept, "_PACKAGE", package)
    names = []

    def name_now() -> None:
        kept._program.cache_clear()  # noqa: SLF001 - as a process that starts anew
        names.append(file_of("t").name)

    name_now()
    compiled.write_bytes(b"compiled")
    name_now()
    source.write_text("a = 12\n", encoding="utf-8")
    name_now()
    os.utime(source, ns=(0, 0))  # as long as before
    name_now()
    (tmp_path / "sympy-99.dist-info").mkdir()
    monkeypatch.syspath_prepend(str(tmp_path))
    name_now()
    kept._program.cache_clear()  # noqa: SLF001
    assert names[0] == names[1]
    assert len(set(names)) == 4
