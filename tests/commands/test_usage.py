"""Wrong usage is told, and help names every command."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from problemgen.cli import main

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
        (["grade", "built"], "the following arguments are required: RESPONSES"),
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
    assert all(command in out for command in ("build", "grade", "solve", "check"))
