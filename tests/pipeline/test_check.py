"""What `check` finds beside the faults that reading finds."""

from __future__ import annotations

import dataclasses
import re
import shutil
from pathlib import Path

import pytest

from problemgen.load.resources import banks_folder
from problemgen.load.sets import courses
from problemgen.pipeline import check as module
from problemgen.plan.laws import LAWS_BY_ID
from tests.support.small_class import SET, write_class


def quiet(_what: str, _done: int, _total: int) -> None:
    """No progress."""


@pytest.fixture
def copied(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A copy of the banks, which the check reads."""
    folder = tmp_path / "banks"
    shutil.copytree(banks_folder(), folder)
    monkeypatch.setattr(courses, "banks_folder", lambda: folder)
    return folder


def test_a_structure_of_another_formula_is_a_fault(copied: Path, tmp_path: Path) -> None:
    path = copied / "substances.toml"
    text = path.read_text(encoding="utf-8")
    acetone = text.index('id = "acetone"')
    at = text.index('smiles = "', acetone) + len('smiles = "')
    path.write_text(text[:at] + "CCO" + text[text.index('"', at) :], encoding="utf-8")
    (tmp_path / "none").mkdir()
    report = module.check([tmp_path / "none"], quiet)
    assert [str(fault) for fault in report.faults] == [
        f"{copied}/substances.toml: acetone.smiles: found 'CCO'; expected a structure of the formula C3H6O"
    ]


@pytest.mark.parametrize(
    ("source", "fault"),
    [
        ("common sense", "found 'common'; expected a key of banks/sources.toml"),
        (
            "green-book-2007: c = n/V",
            "found 'green-book-2007'; expected the section behind green-book-2007 and a space",
        ),
        ("Green Book", "found 'Green Book' is not a citation: key place: words; another key; expected citations"),
    ],
)
def test_a_law_cites_a_source(monkeypatch: pytest.MonkeyPatch, tmp_path: Path, source: str, fault: str) -> None:
    monkeypatch.setattr(module, "LAWS", (dataclasses.replace(LAWS_BY_ID["solvent"], source=source),))
    (tmp_path / "none").mkdir()
    assert [str(one) for one in module.check([tmp_path / "none"], quiet).faults] == [f"laws: solvent.source: {fault}"]


def test_only_a_check_of_everything_tells_what_nothing_uses(tmp_path: Path) -> None:
    (tmp_path / "none").mkdir()
    assert module.check([tmp_path / "none"], quiet).unused == ()
    unused = module.check([], quiet).unused
    assert "acetonitrile" in unused
    assert not {"sodium-hydroxide", "diethyl-ether"} & set(unused)


@pytest.mark.parametrize(
    ("policy", "found"),
    [
        ("", 0),
        ("[policy]\nwiden_percent = 1\n", 1),
        ("[problem.part.a]\nreplace_percent = 25\n", 1),
    ],
)
def test_windows_that_a_set_changes_are_tried(tmp_path: Path, policy: str, found: int) -> None:
    week = write_class(tmp_path, SET + policy)
    report = module.check([week], quiet)
    assert (report.faults, report.sets, len(report.notes)) == ((), 1, found)
    assert all(note.startswith("week: Part") for note in report.notes)
    if "25" in policy:
        (note,) = report.notes
        admitted = re.search(r"in (\d+) of (\d+) variants", note)
        assert admitted is not None
        assert int(admitted[1]) == int(admitted[2]) > 50  # the density forgotten is always within a quarter


@pytest.mark.parametrize(("language", "remarks"), [("en", []), ("de", ["chromate", "ester"])])
def test_texts_that_nobody_has_translated_are_remarked(tmp_path: Path, language: str, remarks: list[str]) -> None:
    report = module.check([write_class(tmp_path, f'language = "{language}"\n{SET}')], quiet)
    told = [one for one in report.remarks if one.hint == "They print as they are written."]
    assert (report.faults, [one.key for one in told]) == ((), remarks)
    assert all(one.found.startswith(f"no {language} text for title, ") for one in told)
