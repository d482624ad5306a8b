"""Banks that an earlier run has read are those that would be read now."""

from __future__ import annotations

import pickle
import shutil
from collections.abc import Iterator
from dataclasses import fields
from pathlib import Path

import pytest

from problemgen.errors import FaultsError
from problemgen.load.banks import remembered as module
from problemgen.load.banks.banks import load_banks
from problemgen.load.banks.remembered import remembered_banks
from problemgen.load.resources import banks_folder
from problemgen.model.banks import Banks
from problemgen.remembered import Lines, begin, end, news


@pytest.fixture
def folder(tmp_path: Path) -> Iterator[Path]:
    """A copy of the banks, and nothing remembered."""
    shutil.copytree(banks_folder(), tmp_path / "banks")
    begin(lambda _: {})
    yield tmp_path / "banks"
    end()


def as_if_later(monkeypatch: pytest.MonkeyPatch) -> None:
    """Go on as a run that finds what was remembered, and cannot read banks."""
    lines: Lines = news()["banks"]
    begin(lambda name: lines if name == "banks" else {})
    monkeypatch.setattr(module, "load_banks", lambda *_: pytest.fail("the banks were read again"))


def values(banks: Banks) -> dict[str, object]:
    found = {one.name: getattr(banks, one.name) for one in fields(banks)}
    return {name: list(one.items()) if hasattr(one, "items") else one for name, one in found.items()}


def test_they_are_the_same_record_by_record(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    read = remembered_banks(folder)
    as_if_later(monkeypatch)
    again = remembered_banks(folder)
    assert values(again) == values(read) == values(load_banks(folder))
    assert again.substances["acetone"].model_fields_set == read.substances["acetone"].model_fields_set
    assert again.substances["acetone"].formula == read.substances["acetone"].formula
    assert values(pickle.loads(pickle.dumps(again))) == values(read)  # noqa: S301 - as helpers get them
    assert "none" not in again.substances


def test_with_those_of_a_course_too(folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    own = tmp_path / "own"
    own.mkdir()
    (own / "bottles.toml").write_text(
        '[[bottle]]\nid = "weak-acid"\nname = "weak acid"\nof = "acetic-acid"\n'
        'concentration = { value = 0.10, unit = "mol/L" }\n',
        encoding="utf-8",
    )
    read = remembered_banks(folder, own)
    as_if_later(monkeypatch)
    assert values(remembered_banks(folder, own)) == values(read)
    assert "weak-acid" in read.bottles


def test_a_change_of_a_file_is_seen(folder: Path) -> None:
    path = folder / "names" / "de.toml"
    before = remembered_banks(folder).names["de"].substances["acetone"]
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace(f'acetone = "{before}"', 'acetone = "Propanon!"'), encoding="utf-8")
    assert remembered_banks(folder).names["de"].substances["acetone"] == "Propanon!"
    path.write_text(text, encoding="utf-8")
    assert remembered_banks(folder).names["de"].substances["acetone"] == before


def test_banks_that_are_written_while_they_are_read_are_not_remembered(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def written_meanwhile(*folders: Path | None) -> Banks:
        banks = load_banks(*folders)
        path = folder / "bottles.toml"
        path.write_text(path.read_text(encoding="utf-8") + "# one word more\n", encoding="utf-8")
        return banks

    monkeypatch.setattr(module, "load_banks", written_meanwhile)
    remembered_banks(folder)
    assert "banks" not in news()


def test_banks_with_faults_are_read_each_time(folder: Path) -> None:
    (folder / "bottles.toml").write_text("[[bottle]]\n", encoding="utf-8")
    for _ in range(2):
        with pytest.raises(FaultsError):
            remembered_banks(folder)
    assert "banks" not in news()


@pytest.mark.parametrize("line", ['["Banks"]', '["Path","/"]', '["tuple",1]', "{}", "7"])
def test_data_of_another_shape_are_not_taken(folder: Path, line: str) -> None:
    remembered_banks(folder)
    keys = list(news()["banks"])
    begin(lambda _: dict.fromkeys(keys, line))
    assert values(remembered_banks(folder)) == values(load_banks(folder))
