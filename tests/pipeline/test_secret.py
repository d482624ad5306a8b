"""A secret that everybody can read makes no key that anybody is marked by."""

from __future__ import annotations

import shutil
import tomllib
from pathlib import Path

import pytest

from problemgen.errors import FaultsError
from problemgen.load.sets.courses import Course, shipped_secrets
from problemgen.pipeline.build import build

SHIPPED = Course().sets["sets/first-week"]
LINE = next(line for line in (SHIPPED / "set.toml").read_text(encoding="utf-8").splitlines() if "_secret" in line)


@pytest.fixture
def copied(tmp_path: Path) -> Path:
    """A shipped set as somebody copies it by hand, with one problem left and nobody's roster."""
    (tmp_path / "copied").mkdir()
    head = f'title = "Week"\ncourse = "Chemistry"\n{LINE}\n\n[[sheet]]\nsession = 1\ntitle = "Before"\n'
    text = f'{head}\n[[problem]]\ntemplate = "amounts/three-weighings"\n'
    (tmp_path / "copied" / "set.toml").write_text(text, encoding="utf-8")
    return tmp_path / "copied"


def test_a_copy_of_a_set_with_its_secret_is_refused_before_anything_is_written(copied: Path, tmp_path: Path) -> None:
    with pytest.raises(FaultsError) as error:
        build(copied, tmp_path / "out", count=1)
    assert str(error.value) == (
        f"{copied / 'set.toml'}: demonstration_secret: found the secret of a set that comes with the program: "
        "everybody can work out these numbers and their key; expected none, or one of your own. Take the line out, and "
        "the set gets a secret of its own; or build with --demonstration."
    )
    assert not (tmp_path / "out").exists()


def test_for_a_demonstration_it_is_built(copied: Path, tmp_path: Path) -> None:
    report = build(copied, tmp_path / "out", count=1, demonstration=True)
    assert "The secret of this set is published: build it for demonstration only." in report.notes


def test_a_published_secret_of_ones_own_is_a_choice(copied: Path, tmp_path: Path) -> None:
    text = (copied / "set.toml").read_text(encoding="utf-8").replace(LINE, 'demonstration_secret = "shown in class"')
    (copied / "set.toml").write_text(text, encoding="utf-8")
    assert build(copied, tmp_path / "out", count=1).students == 1


def test_our_own_sets_are_for_demonstration_wherever_they_are_named_from(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "link").symlink_to(SHIPPED)
    monkeypatch.chdir(tmp_path)
    assert build("link", tmp_path / "out", count=1).students == 1
    shutil.rmtree(tmp_path / "out")


def test_the_same_set_with_the_same_class_is_ours_in_a_checkout_too(tmp_path: Path) -> None:
    place = tmp_path / "first-week"
    shutil.copytree(SHIPPED, place)
    assert build(place, tmp_path / "out", count=1).students == 1
    (place / "roster.csv").write_text("id,name\na1,Mine\n", encoding="utf-8")
    with pytest.raises(FaultsError, match="found the secret of a set that comes with the program"):
        build(place, tmp_path / "other")


def test_the_secrets_that_come_with_the_program_are_known() -> None:
    lines = [(folder / "set.toml").read_text(encoding="utf-8") for folder in Course().sets.values()]
    published = [line for text in lines for line in text.splitlines() if line.startswith("demonstration_secret")]
    assert len(published) >= 1
    assert {tomllib.loads(line)["demonstration_secret"].encode() for line in published} == shipped_secrets()
