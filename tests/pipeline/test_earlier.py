"""What an earlier run left in a folder: told only by what that run wrote itself."""

from __future__ import annotations

import ntpath
from pathlib import Path, PureWindowsPath

import pytest

from problemgen.pipeline.earlier import built_entries, file_stem, marked_entries
from tests.support.small_set import small_set, write_answers

HEADER = "id,name,section,attempt,part\n"


def test_later_attempts_have_their_number_behind_the_id() -> None:
    assert [file_stem("s1", attempt) for attempt in (1, 2, 3)] == ["s1", "s1-2", "s1-3"]


@pytest.mark.parametrize("student", ["CON", "nul", "COM1", "lpt9.x", "Aux.tar.gz"])
def test_an_id_that_is_a_device_on_windows_makes_a_file_all_the_same(student: str) -> None:
    stem = file_stem(student, 1)
    assert ntpath.splitext(stem + ".pdf")[0] == stem
    assert not PureWindowsPath(stem + ".pdf").is_reserved()
    assert stem.replace("~", "") == student
    assert file_stem(student + "x", 1) in (student + "x", stem + "x")


def test_a_build_tells_its_students(tmp_path: Path) -> None:
    write_answers(tmp_path, small_set(tmp_path))
    assert built_entries(tmp_path) == [("s1", 1), ("s2", 1)]


@pytest.mark.parametrize("content", [None, b"", b"{}", b'{"format":"problemgen answers","version":1}'])
def test_a_folder_without_a_whole_build_tells_none(tmp_path: Path, content: bytes | None) -> None:
    if content is not None:
        (tmp_path / "answers.json").write_bytes(content)
    assert built_entries(tmp_path) == []


@pytest.mark.parametrize(
    ("rows", "entries"),
    [
        ("s1,Ada,A,1,1a\ns1,Ada,A,1,1b\ns1,Ada,A,3,1a\n", [("s1", 1), ("s1", 3)]),
        ("../../etc,Ada,A,1,1a\ns2,Bea,A,x,1a\ns3,Cleo,A,,1a\n'=s4,Dee,A,1,1a\n", []),
        ("", []),
    ],
)
def test_a_marking_tells_its_attempts(tmp_path: Path, rows: str, entries: list[tuple[str, int]]) -> None:
    (tmp_path / "grades.csv").write_text(HEADER + rows, encoding="utf-8")
    assert marked_entries(tmp_path / "grades.csv") == entries


def test_a_folder_without_a_marking_tells_none(tmp_path: Path) -> None:
    assert marked_entries(tmp_path / "grades.csv") == []
