"""What a command leaves in the cache folder changes nothing of what the next one says."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path

import pytest

from problemgen.cli import main
from problemgen.load import kept
from problemgen.model.template import Template
from problemgen.pipeline import template_check
from problemgen.pipeline.template_trial import TemplateTrial, tried
from tests.support.small_class import DRAWN, write_class

ROOT = Path(__file__).resolve().parents[2]
TEMPLATE = "templates/titrations/oxalic-acid.toml"
Capture = pytest.CaptureFixture[str]


@pytest.fixture(autouse=True)
def cache(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    """The cache folder, which is not there yet."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    monkeypatch.chdir(ROOT)
    return tmp_path / "cache" / "problemgen"


def said(capsys: Capture, *arguments: str) -> tuple[int, str, str]:
    return (main(arguments), *capsys.readouterr())


def started(*arguments: str, **changed: str | None) -> subprocess.Popen[str]:
    environment: Mapping[str, str] = {k: v for k, v in {**os.environ, **changed}.items() if v is not None}
    command = [sys.executable, "-m", "problemgen.cli", *arguments]
    pipe = subprocess.PIPE
    return subprocess.Popen(command, cwd=ROOT, env=environment, stdout=pipe, stderr=pipe, text=True)  # noqa: S603


@pytest.mark.parametrize(
    "arguments",
    [
        ["list", "yield"],
        ["list", "--reactions", "grignard"],
        ["sample", "titrations/oxalic-acid", "-n", "2"],
        ["check", TEMPLATE, "templates/sets/first-week"],
    ],
)
def test_cold_warm_and_damaged_say_the_same(cache: Path, capsys: Capture, arguments: list[str]) -> None:
    cold = said(capsys, *arguments)
    files = sorted(cache.iterdir())
    assert files
    warm = {path.name: path.stat().st_mtime_ns for path in files}
    assert said(capsys, *arguments) == cold
    assert {path.name: path.stat().st_mtime_ns for path in cache.iterdir()} == warm  # nothing was new
    for path in files:
        path.write_bytes(path.read_bytes()[:-40])
    assert said(capsys, *arguments) == cold
    assert all(len(path.read_bytes()) > 100 for path in files)


def test_what_is_the_same_is_not_tried_again_and_what_has_changed_is(
    capsys: Capture, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    write_class(tmp_path)
    path = tmp_path / "templates" / "chromate.toml"
    tries: list[Path] = []

    def counted(template: Template, file: Path) -> TemplateTrial:
        tries.append(file)
        return tried(template, file)

    monkeypatch.setattr(template_check, "tried", counted)
    first = said(capsys, "check", str(path))
    assert said(capsys, "check", str(path)) == first
    assert tries == [path]
    good = path.read_text(encoding="utf-8")
    path.write_text(good.replace("from = 24.00", "from = 24.03"), encoding="utf-8")
    assert "from 24.03 to 30.00" in said(capsys, "check", str(path))[2]
    assert "from 24.03 to 30.00" in said(capsys, "check", str(path))[2]  # a fault is remembered as well
    path.write_text(good, encoding="utf-8")
    assert said(capsys, "check", str(path)) == first
    assert tries == [path]


def test_a_bank_that_has_changed_is_seen(capsys: Capture, tmp_path: Path) -> None:
    write_class(tmp_path)
    path, banks = tmp_path / "templates" / "ester.toml", tmp_path / "banks"
    first = said(capsys, "check", str(path))
    banks.mkdir()
    coarse = {"id": "balance-0.01", "name": "a balance", "kind": "balance", "unit": "g"}
    lines = ["[[glassware]]", *(f'{key} = "{value}"' for key, value in coarse.items()), "capacity = 200", "step = 0.5"]
    (banks / "glassware.toml").write_text("\n".join(lines), encoding="utf-8")
    changed = said(capsys, "check", str(path))
    assert first[0] == 0
    assert changed[0] == 1
    assert "multiples of 0.5 g" in changed[2]
    shutil.rmtree(banks)
    assert said(capsys, "check", str(path)) == first


def test_a_story_of_another_template_that_has_changed_is_seen(capsys: Capture, tmp_path: Path) -> None:
    write_class(tmp_path)
    other, path = tmp_path / "templates" / "other.toml", tmp_path / "templates" / "ester.toml"
    path.write_text(f'story_as_in = "other"\n{DRAWN["ester"]}', encoding="utf-8")
    other.write_text(f'story = "One."\n{DRAWN["ester"]}', encoding="utf-8")
    first = said(capsys, "check", str(path))
    other.write_text(f'story = "{{{{ given.nothing.mass }}}}"\n{DRAWN["ester"]}', encoding="utf-8")
    changed = said(capsys, "check", str(path))
    assert first[0] == 0
    assert changed[0] == 1
    assert "given.nothing.mass" in changed[2]


def test_another_program_begins_anew(cache: Path, capsys: Capture, monkeypatch: pytest.MonkeyPatch) -> None:
    first = said(capsys, "list", "yield")
    monkeypatch.setattr(kept, "_program", lambda: "another")
    assert said(capsys, "list", "yield") == first
    assert len([path for path in cache.iterdir() if path.name.startswith("heads-")]) == 2


def test_two_at_once_say_the_same_and_leave_whole_files(cache: Path) -> None:
    running = [started("sample", "titrations/oxalic-acid", "-n", "1") for _ in range(2)]
    said_by = {one.communicate(timeout=120) for one in running}
    assert len(said_by) == 1
    assert [one.returncode for one in running] == [0, 0]
    assert {path.name.split("-")[0] for path in cache.iterdir()} >= {"algebra", "banks", "units"}
    for path in cache.iterdir():
        assert kept.kept_lines(path.name.split("-")[0]) or "-" not in path.name


def test_without_a_home_or_a_folder_to_write_all_goes_on(tmp_path: Path) -> None:
    usual = started("list", "yield")
    file = tmp_path / "file"
    file.write_text("", encoding="utf-8")
    homeless = started("list", "yield", XDG_CACHE_HOME=None, HOME=str(file))
    blocked = started("list", "yield", XDG_CACHE_HOME=str(file))
    nowhere = started("list", "yield", XDG_CACHE_HOME="/proc/none", HOME=None)
    expected = (*usual.communicate(timeout=120), 0)
    for one in (homeless, blocked, nowhere):
        assert (*one.communicate(timeout=120), one.returncode) == expected
    assert file.read_text(encoding="utf-8") == ""


def test_a_folder_that_may_only_be_read_is_read(cache: Path, capsys: Capture, monkeypatch: pytest.MonkeyPatch) -> None:
    first = said(capsys, "list", "yield")
    names = sorted(cache.iterdir())

    def refused(*_: object, **__: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("tempfile.mkstemp", refused)  # for root nothing is read-only
    assert said(capsys, "list", "yield") == first
    assert said(capsys, "sample", "titrations/oxalic-acid", "-n", "1")[0] == 0
    assert sorted(cache.iterdir()) == names


def test_help_leaves_nothing(cache: Path) -> None:
    with pytest.raises(SystemExit):
        main(["list", "--help"])
    assert not cache.exists()
