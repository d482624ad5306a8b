"""Wrong usage is told, and help names every command."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from problemgen import cli
from problemgen.cli import main
from problemgen.commands.arguments import COMMANDS

ROOT = Path(__file__).resolve().parents[2]
Capture = pytest.CaptureFixture[str]
Say = Callable[[], str]


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        ([], "the following arguments are required: COMMAND"),
        (["make"], "argument COMMAND: invalid choice: 'make'"),
        (["build", "week"], "the following arguments are required: --out"),
        (["build", "week", "--out", "o", "--count", "0"],
         "argument --count: '0' is not a whole number from 1 to 100000"),
        (["build", "week", "--out", "o", "--count", "x"],
         "argument --count: 'x' is not a whole number from 1 to 100000"),
        (["build", "week", "--out", "o", "--count", "²"],
         "argument --count: '²' is not a whole number from 1 to 100000"),
        (["build", "week", "--out", "o", "--count", "100001"],
         "argument --count: '100001' is not a whole number from 1 to 100000"),
        (["build", "week", "--out", "o", "--count", "3", "--roster", "r"],
         "argument --roster: not allowed with argument --count"),
        (["grade", "built"], "the following arguments are required: FILE"),
        (["solve"], "the following arguments are required: FILE"),
    ],
)  # fmt: skip
def test_wrong_usage_is_told_with_code_2(capsys: Capture, arguments: list[str], message: str) -> None:
    with pytest.raises(SystemExit) as caught:
        main(arguments)
    assert caught.value.code == 2
    assert f"error: {message}" in capsys.readouterr().err


def test_help_names_every_command(capsys: Capture) -> None:
    with pytest.raises(SystemExit) as caught:
        main(["--help"])
    assert caught.value.code == 0
    out = capsys.readouterr().out
    assert all(command in out for command in COMMANDS)


HELP = """
import contextlib, io, sys
before = set(sys.modules)
from problemgen.cli import main
for name in sys.argv[1:]:
    with contextlib.redirect_stdout(io.StringIO()), contextlib.suppress(SystemExit):
        main([name, "--help"] if name != "--help" else [name])
print(*sorted(name for name in sys.modules.keys() - before if name.split(".")[0] not in sys.stdlib_module_names))
"""


def test_help_loads_nothing_that_a_command_needs() -> None:
    arguments = [sys.executable, "-c", HELP, "--help", *COMMANDS]
    ran = subprocess.run(arguments, cwd=ROOT, capture_output=True, text=True, check=True)  # noqa: S603 - our own text
    loaded = set(ran.stdout.split())
    assert loaded == {
        *("problemgen", "problemgen.cli", "problemgen.commands", "problemgen.commands.arguments"),
        *("problemgen.commands.console", "problemgen.errors", "problemgen.write", "problemgen.write.endings"),
        *("problemgen.language", "problemgen.language.languages"),
    }


def test_each_command_runs_a_module_of_its_own() -> None:
    modules = {module for module, _, _ in COMMANDS.values()}
    assert len(modules) == len(COMMANDS)
    assert all((ROOT / "problemgen" / "commands" / f"{module}.py").is_file() for module in modules)


@pytest.mark.parametrize("place", ["problemgen.commands.arguments", "problemgen.commands.listing"])
def test_an_interruption_while_the_first_modules_load_is_told(
    said: Say, monkeypatch: pytest.MonkeyPatch, place: str
) -> None:
    load = cli.import_module

    def interrupted(name: str) -> object:
        if name == place:
            raise KeyboardInterrupt
        return load(name)

    monkeypatch.setattr(cli, "import_module", interrupted)
    assert main(["list"]) == 130
    assert said() == "interrupted; nothing was written\n"


def test_an_unknown_unit_is_wrong_usage(capsys: Capture) -> None:
    with pytest.raises(SystemExit) as caught:
        main(["read", "3", "--unit", "spoons"])
    assert caught.value.code == 2
    assert "problemgen read: error: argument --unit: " in capsys.readouterr().err


def test_an_interruption_behind_the_end_tells_what_is_written(
    said: Say, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    def interrupted(*_: object) -> None:
        raise KeyboardInterrupt(15)

    monkeypatch.setattr("problemgen.commands.new.say", interrupted)
    assert main(["new", str(tmp_path / "course")]) == 143
    assert said() == "interrupted; written, and whole: course\n"


@pytest.mark.parametrize("command", [["build", "first-week"], ["practice", "gases"], ["follow-up", "built", "r.csv"]])
def test_an_empty_place_to_write_to_is_a_variable_that_is_not_set(capsys: Capture, command: list[str]) -> None:
    with pytest.raises(SystemExit) as caught:
        main([*command, "--out", ""])
    assert caught.value.code == 2
    assert "argument --out: an empty name; a file or folder is needed" in capsys.readouterr().err


def test_a_refusal_of_the_system_is_one_line(said: Say, monkeypatch: pytest.MonkeyPatch) -> None:
    def refused(_: object) -> int:
        raise PermissionError(13, "Permission denied", "banks/substances.toml")

    monkeypatch.setattr("problemgen.commands.listing.run", refused)
    assert main(["list"]) == 1
    assert said() == "banks/substances.toml: permission denied; nothing was written\n"
