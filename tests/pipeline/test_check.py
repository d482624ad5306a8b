"""What `check` finds beside the faults that reading finds."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from problemgen.load.resources import banks_folder
from problemgen.pipeline import check as module


def quiet(_what: str, _done: int, _total: int) -> None:
    """No progress."""


@pytest.fixture
def copied(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A copy of the banks, which the check reads."""
    folder = tmp_path / "banks"
    shutil.copytree(banks_folder(), folder)
    monkeypatch.setattr(module, "banks_folder", lambda: folder)
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
        "banks/substances.toml: acetone.smiles: found 'CCO'; expected a structure of the formula C3H6O"
    ]


def test_only_a_check_of_everything_tells_what_nothing_uses(tmp_path: Path) -> None:
    (tmp_path / "none").mkdir()
    assert module.check([tmp_path / "none"], quiet).unused == ()
    unused = module.check([], quiet).unused
    assert "diethyl-ether" in unused
    assert "sodium-hydroxide" not in unused
