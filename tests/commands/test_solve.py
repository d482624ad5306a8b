"""The solve command: table, JSON, exit codes."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from problemgen.cli import main

ROOT = Path(__file__).resolve().parents[2]
Capture = pytest.CaptureFixture[str]
Say = Callable[[], str]


SALT = {"quantity": "mass", "of": "NaCl", "value": "5.844", "unit": "g"}
PROBLEMS: list[dict[str, Any]] = [
    {
        "id": "a1",
        "given": [SALT, {"quantity": "purity", "of": "KCl", "value": "99", "unit": "%"}],
        "asked": [{"quantity": "amount", "of": "NaCl", "answer": "0.1000", "unit": "mol"}],
    },
    {
        "id": "b2",
        "equation": "N2 + H2 -> NH3",
        "asked": [{"quantity": "balanced_equation", "answer": "N2 + 3 H2 -> 2 NH3"}],
    },
    {"id": "c3", "given": [SALT], "asked": [{"quantity": "volume", "of": "NaCl", "unit": "mL"}]},
]


@pytest.fixture
def problems(tmp_path: Path) -> Callable[[int], str]:
    def write(count: int) -> str:
        path = tmp_path / "p.json"
        path.write_text(json.dumps(PROBLEMS[:count]), encoding="utf-8")
        return str(path)

    return write


def test_json_has_these_fields_and_no_others(problems: Callable[[int], str], capsys: Capture) -> None:
    assert main(["solve", problems(3), "--json"]) == 0
    one, two, three = json.loads(capsys.readouterr().out)
    assert list(one) == ["id", "error", "asked", "not_used"]
    assert (one["id"], one["error"], one["not_used"]) == ("a1", None, ["purity of KCl"])
    (answer,) = one["asked"]
    assert list(answer) == [
        *("quantity", "of", "role", "stage", "from", "unit", "which"),
        *("value", "low", "high", "text", "accepted"),
    ]
    assert (answer["quantity"], answer["of"], answer["unit"], answer["text"]) == ("amount", "NaCl", "mol", None)
    assert float(answer["low"]) < float(answer["value"]) < float(answer["high"])
    assert answer["accepted"] is True
    (equation,) = two["asked"]
    assert (equation["text"], equation["accepted"]) == ("N2 + 3 H2 -> 2 NH3", True)
    assert (equation["value"], equation["low"], equation["high"], equation["unit"]) == (None, None, None, None)
    assert three["error"].startswith("the volume of NaCl cannot be derived from what is given; missing: ")
    assert (three["asked"][0]["accepted"], three["asked"][0]["value"]) == (None, None)


def test_the_table_shows_every_problem_and_tells_below_it_what_is_lacking_or_not_used(
    problems: Callable[[int], str], capsys: Capture
) -> None:
    assert main(["solve", problems(3)]) == 0
    out = capsys.readouterr().out
    assert "…" not in out
    assert "a1: not used: purity of KCl\n" in out
    assert "c3: the volume of NaCl cannot be derived from what is given; missing: the density of NaCl or the " in out
    assert out.endswith("2 of 2 given answers accepted.\n")


def test_check_exits_with_1_where_an_answer_is_not_accepted(
    problems: Callable[[int], str], capsys: Capture, tmp_path: Path
) -> None:
    path = problems(3)
    assert main(["solve", path, "--check"]) == 0
    text = Path(path).read_text(encoding="utf-8").replace('"0.1000"', '"0.1010"').replace("2 NH3", "3 NH3")
    (tmp_path / "p.json").write_text(text, encoding="utf-8")
    capsys.readouterr()
    assert main(["solve", path, "--check"]) == 1
    assert capsys.readouterr().err == "not accepted: a1, b2\n"
    assert main(["solve", path]) == 0
    assert main(["solve", path, "--check", "--json"]) == 1


def test_a_bad_problem_is_told_and_the_others_are_solved(tmp_path: Path, capsys: Capture) -> None:
    bad = {"id": "bad", "asked": [{"quantity": "happiness", "of": "NaCl", "answer": "3"}]}
    (tmp_path / "p.json").write_text(json.dumps([bad, PROBLEMS[0]]), encoding="utf-8")
    assert main(["solve", str(tmp_path / "p.json"), "--check"]) == 1
    said = capsys.readouterr()
    assert "bad: asked.1.quantity: found 'happiness'; expected one of mass, volume, " in said.out
    assert said.out.endswith("1 of 2 given answers accepted.\n")
    assert said.err == "not accepted: bad\n"


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("[{]", ("found a slip in the notation: Expecting property name enclosed in double quotes: line 1 column 3 "
         "(char 2); expected valid JSON")),
        ("3", "found 3; expected a list of problems, or one"),
    ],
)  # fmt: skip
def test_a_file_that_holds_no_problems(tmp_path: Path, said: Say, text: str, fault: str) -> None:
    (tmp_path / "p.json").write_text(text, encoding="utf-8")
    assert main(["solve", str(tmp_path / "p.json")]) == 1
    assert said() == f"1 fault; nothing was written:\n  p.json: {fault}\n"


def test_the_command_is_installed_under_its_name() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    assert project["scripts"] == {"problemgen": "problemgen.cli:program"}
