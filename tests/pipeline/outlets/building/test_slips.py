"""Slips as files: one a student, all in one, and none left of an earlier build."""

from __future__ import annotations

from pathlib import Path

import pypdf
import pytest

from problemgen.cli import main
from problemgen.load.answers.answers import ANSWERS_FILE, Answers
from problemgen.model.page_code import SLIP, PageCode, build_mark
from tests.support.small_class import SET, build_small, files_of, write_class

TWICE = f"{SET}[attempts]\nnumber = 2\n"
NAMES = {"s1": "Ada", "s2": "Bea"}


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a build of two attempts in `out`."""
    folder = tmp_path_factory.mktemp("slips")
    write_class(folder, TWICE, NAMES)
    assert build_small(folder, folder / "out", "--slip", "--quiet") == 0
    return folder


def slips(folder: Path) -> set[str]:
    return {name for name in files_of(folder) if name.startswith("slips")}


def test_there_is_one_for_each_attempt_and_all_in_one(place: Path) -> None:
    mine = {f"slips/{student}{attempt}.pdf" for student in NAMES for attempt in ("", "-2")}
    assert slips(place / "out") == {*mine, "slips.pdf", "slips-2.pdf"}
    bound = pypdf.PdfReader(place / "out" / "slips.pdf")
    assert [bool(page.extract_text()) for page in bound.pages] == [True, False, True]


def test_each_has_its_code(place: Path) -> None:
    with Answers(place / "out" / ANSWERS_FILE) as answers:
        head, sheets = answers.head, answers.sheets
    mark = build_mark(head.issued.secret, head.issued.term, head.set_id)
    for (student, attempt), code in sheets.items():
        stem = student if attempt == 1 else f"{student}-{attempt}"
        (page,) = pypdf.PdfReader(place / "out" / "slips" / f"{stem}.pdf").pages
        assert PageCode(mark, code, SLIP, 1, 1).shown in page.extract_text()


def test_a_build_without_slips_removes_those_of_an_earlier_one(place: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    week = place / "week"
    assert main(["build", str(week), "--out", str(out), "--slip", "--quiet"]) == 0
    assert len(slips(out)) == 6
    assert main(["build", str(week), "--out", str(out), "--replace", "--section", "A", "--quiet"]) == 0
    assert len(slips(out)) == 6
    assert main(["build", str(week), "--out", str(out), "--replace", "--quiet"]) == 0
    assert not slips(out)


def test_those_of_a_section_are_called_so(place: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    told = ["--out", str(out), "--slip", "--section", "A", "--session", "1", "--quiet"]
    assert main(["build", str(place / "week"), *told]) == 0
    assert {name for name in slips(out) if "/" not in name} == {
        "slips-section-A-session-1.pdf",
        "slips-2-section-A-session-1.pdf",
    }
    assert {name.partition("/")[0] for name in slips(out) if "/" in name} == {"slips-session-1"}
