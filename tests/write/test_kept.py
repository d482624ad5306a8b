"""Leaving lines to later runs: whole or not at all, and never too many."""

from __future__ import annotations

import os
import threading
from pathlib import Path

from problemgen.load.kept import LARGEST, kept_file, kept_lines
from problemgen.write.kept import keep_lines

LINES = {str(n): f'"{n}"' for n in range(2000)}


def file_of(table: str) -> Path:
    path = kept_file(table)
    assert path is not None
    return path


def test_the_oldest_lines_are_left_out_where_all_are_too_many() -> None:
    path = file_of("t")
    keep_lines(path, {"a": "1", "b": "2", "c": "3"}, 64 + 1 + 2 * len("b\t2\n"))
    assert kept_lines("t") == {"b": "2", "c": "3"}


def test_where_nothing_can_be_written_nothing_happens(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("", encoding="utf-8")
    keep_lines(tmp_path / "file" / "inside" / "t-1.txt", LINES, LARGEST)
    blocked = tmp_path / "t-1.txt"
    blocked.mkdir()
    keep_lines(blocked, LINES, LARGEST)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["file", "t-1.txt"]


def test_files_of_other_programs_and_of_writers_that_were_killed_go(tmp_path: Path) -> None:
    others = [tmp_path / f"t-{n}.txt" for n in range(5)]
    foreign, killed, working = tmp_path / "u-0.txt", tmp_path / ".aside-1", tmp_path / ".aside-2"
    for age, path in enumerate((*others, foreign, killed)):
        path.write_text("", encoding="utf-8")
        os.utime(path, (1e6 - age, 1e6 - age))
    working.write_text("", encoding="utf-8")
    keep_lines(tmp_path / "t-9.txt", LINES, LARGEST)
    left = {path.name for path in tmp_path.iterdir()}
    assert left == {"t-9.txt", "t-0.txt", "t-1.txt", "u-0.txt", ".aside-2"}


def test_who_reads_while_others_write_finds_all_of_one_of_them() -> None:
    path, sizes = file_of("t"), (1, 500, 2000)
    keep_lines(path, LINES, LARGEST)

    def write(size: int) -> None:
        for _ in range(20):
            keep_lines(path, dict(list(LINES.items())[:size]), LARGEST)

    writers = [threading.Thread(target=write, args=(size,)) for size in sizes]
    for one in writers:
        one.start()
    found = set()
    while any(one.is_alive() for one in writers):
        found.add(len(kept_lines("t")))
    for one in writers:
        one.join()
    assert found <= set(sizes)
    assert [one.name for one in path.parent.iterdir()] == [path.name]
