"""What the tests of loading share: the banks, and files written for one test."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from problemgen.errors import FaultsError
from problemgen.load.banks.banks import load_banks
from problemgen.load.templates.template import load_template
from problemgen.model.banks import Banks
from problemgen.model.template import Template

ROOT = Path(__file__).parents[2]
HEAD = 'title = "T"\ntopic = "t"\ndifficulty = 1\n'


@pytest.fixture(scope="session")
def banks() -> Banks:
    return load_banks(ROOT / "banks")


@pytest.fixture
def written(tmp_path: Path) -> Callable[[str, str], Path]:
    """Writes a file below the test's folder and returns its path."""

    def write(name: str, text: str) -> Path:
        path = tmp_path / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
        return path

    return write


@pytest.fixture
def template(written: Callable[[str, str], Path], banks: Banks) -> Callable[[str], Template]:
    """Loads a template from the text below its head."""
    return lambda text: load_template(written("t.toml", HEAD + text), "t", banks)


@pytest.fixture
def faults_of(template: Callable[[str], Template], tmp_path: Path) -> Callable[[str], list[str]]:
    """The faults of a template's text, its path shortened to "t.toml"."""

    def faults(text: str) -> list[str]:
        with pytest.raises(FaultsError) as caught:
            template(text)
        return [str(fault).replace(f"{tmp_path}/", "") for fault in caught.value.faults]

    return faults
