"""What an earlier run left in a folder: told only by what that run wrote itself."""

from __future__ import annotations

from pathlib import Path

import pytest

from problemgen.pipeline.earlier import class_file, earlier_pages, earlier_sheets, page_files, sheet_file
from tests.support.small_set import small_set, write_answers

HEADER = "id,name,section,attempt,part\n"


def test_files_are_named_by_student_and_attempt() -> None:
    assert (sheet_file("s1", 1), sheet_file("s1", 2)) == ("sheets/s1.pdf", "sheets/s1-2.pdf")
    assert (class_file(1), class_file(3)) == ("class.pdf", "class-3.pdf")
    assert page_files("s1", 2) == ("feedback/s1-2.html", "feedback/s1-2.pdf")


def test_a_build_tells_its_sheets(tmp_path: Path) -> None:
    write_answers(tmp_path, small_set(tmp_path))
    assert earlier_sheets(tmp_path) == ["sheets/s1.pdf", "sheets/s2.pdf", "class.pdf"]


@pytest.mark.parametrize("content", [None, b"", b"{}", b'{"format":"problemgen answers","version":1}'])
def test_a_folder_without_a_whole_build_tells_none(tmp_path: Path, content: bytes | None) -> None:
    if content is not None:
        (tmp_path / "answers.json").write_bytes(content)
    assert earlier_sheets(tmp_path) == []


@pytest.mark.parametrize(
    ("rows", "pages"),
    [
        ("s1,Ada,A,1,1a\ns1,Ada,A,1,1b\ns1,Ada,A,3,1a\n", ["s1", "s1-3"]),
        ("../../etc,Ada,A,1,1a\ns2,Bea,A,x,1a\ns3,Cleo,A,,1a\n'=s4,Dee,A,1,1a\n", []),
        ("", []),
    ],
)
def test_a_marking_tells_its_pages(tmp_path: Path, rows: str, pages: list[str]) -> None:
    (tmp_path / "grades.csv").write_text(HEADER + rows, encoding="utf-8")
    expected = [f"feedback/{page}{ending}" for page in pages for ending in (".html", ".pdf")]
    assert earlier_pages(tmp_path, "grades.csv") == expected


def test_a_folder_without_a_marking_tells_none(tmp_path: Path) -> None:
    assert earlier_pages(tmp_path, "grades.csv") == []
