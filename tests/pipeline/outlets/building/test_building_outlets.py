"""What a build writes: what its outlets say they write is what lies there, and an export is one more of them."""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path

import pytest

from problemgen.pipeline import build as build_module
from problemgen.pipeline.build import BuildReport, build_set
from problemgen.pipeline.build_inputs import BuildRequest
from problemgen.pipeline.earlier import Entry
from problemgen.pipeline.making import Made
from problemgen.pipeline.outlets.building import building_outlets
from problemgen.pipeline.outlets.building.outlet import BuildingOutlet, BuildingRun
from tests.support.small_class import SET, files_of, write_class

TWICE = f"{SET}[attempts]\nnumber = 2\n"


class Numbers(BuildingOutlet):
    """numbers/ID.json: an export."""

    files = ("numbers/",)

    def __init__(self, run: BuildingRun) -> None:
        self._staging = run.staging

    def names(self, entries: Sequence[Entry]) -> list[str]:
        return [f"numbers/{student}.json" for student, attempt in entries if attempt == 1]

    def take(self, made: Made) -> tuple[()]:
        if made.attempt == 1:
            given = {name: datum.written.text for one in made.variants for name, datum in one.given.items()}
            self._staging.write(f"numbers/{made.student.id}.json", json.dumps(given).encode())
        return ()


def built(folder: Path, text: str, students: str, *, replace: bool = False) -> BuildReport:
    week = write_class(folder, text, {student: student.upper() for student in students.split()})
    return build_set(BuildRequest(week, folder / "out", replace=replace), lambda *_: None)


def listed(folder: Path) -> set[str]:
    """The files of a folder as a finishing message lists them."""
    return {f"{name.split('/')[0]}/" if "/" in name else name for name in files_of(folder)}


@pytest.mark.parametrize(("text", "classes"), [(SET, {"class.pdf"}), (TWICE, {"class.pdf", "class-2.pdf"})])
def test_what_is_listed_is_what_was_written(tmp_path: Path, text: str, classes: set[str]) -> None:
    report = built(tmp_path, text, "s1 s2")
    assert set(report.files) == listed(tmp_path / "out") - {"secret"}
    assert len(set(report.files)) == len(report.files)
    assert {name for name in report.files if name.startswith("class")} == classes
    assert {"key.pdf", "answers.json", "summary.pdf"} <= set(report.private) < set(report.files)
    assert (report.out, report.students) == (tmp_path / "out", 2)


def test_who_has_left_leaves_no_sheet_and_no_class_file_behind(tmp_path: Path) -> None:
    built(tmp_path, TWICE, "s1 s2")
    assert {"sheets/s2.pdf", "sheets/s2-2.pdf", "class-2.pdf"} <= files_of(tmp_path / "out").keys()
    built(tmp_path, SET, "s1", replace=True)
    left = set(files_of(tmp_path / "out"))
    assert {name for name in left if name.startswith(("sheets/", "class"))} == {"sheets/s1.pdf", "class.pdf"}


def test_an_export_is_one_more_outlet(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(build_module, "building_outlets", lambda run: (*building_outlets(run), Numbers(run)))
    assert built(tmp_path, SET, "s1 s2").files[-1] == "numbers/"
    numbers = {name for name in files_of(tmp_path / "out") if name.startswith("numbers/")}
    assert numbers == {"numbers/s1.json", "numbers/s2.json"}
    built(tmp_path, SET, "s1", replace=True)
    assert (tmp_path / "out" / "numbers" / "s1.json").is_file()
    assert not (tmp_path / "out" / "numbers" / "s2.json").exists()


def test_how_many_processes_print_makes_no_difference(tmp_path: Path) -> None:
    students = {f"s{number}": f"Student {number}" for number in range(30)}  # more than one process prints by itself
    week = write_class(tmp_path, SET, students)
    builds = []
    for workers in (1, 2, 3):
        out = tmp_path / str(workers)
        out.mkdir()
        if builds:
            (out / "secret").write_bytes(builds[0]["secret"])
        build_set(BuildRequest(week, out, replace=True, workers=workers), lambda *_: None)
        builds.append(files_of(out))
    one, two, three = builds
    assert "class.pdf" in one
    assert one["sheets/s0.pdf"] != one["sheets/s1.pdf"]
    assert [name for name in one if one[name] != two[name]] == [name for name in one if one[name] != three[name]] == []
