"""The solve command: table, JSON, kinds, exit codes."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Callable
from pathlib import Path

import pytest

from problemgen.cli import main

ROOT = Path(__file__).resolve().parents[2]
Capture = pytest.CaptureFixture[str]
Say = Callable[[], str]


PROBLEMS = [
    {
        "id": "a1",
        "kind": "amount_from_mass",
        "given": [{"of": "NaCl", "formula": "NaCl", "quantity": "mass", "value": "5.844", "unit": "g"}],
        "asked": [{"of": "NaCl", "formula": "NaCl", "quantity": "amount", "answer": "0.1000", "unit": "mol"}],
    },
    {
        "id": "b2",
        "kind": "balance_equation",
        "given": [{"quantity": "unbalanced_equation", "value": "N2 + H2 -> NH3"}],
        "asked": [{"quantity": "balanced_equation", "answer": "N2 + 3 H2 -> 2 NH3"}],
    },
    {
        "id": "c3",
        "kind": "amount_from_mass",
        "given": [{"of": "NaCl", "formula": "NaCl", "quantity": "mass", "value": "5.844", "unit": "g"}],
        "asked": [{"of": "NaCl", "formula": "NaCl", "quantity": "volume", "unit": "mL"}],
    },
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
    assert list(one) == ["id", "error", "asked"]
    assert one["id"] == "a1"
    assert one["error"] is None
    (answer,) = one["asked"]
    assert list(answer) == ["quantity", "of", "unit", "value", "low", "high", "text", "accepted"]
    assert (answer["quantity"], answer["of"], answer["unit"], answer["text"]) == ("amount", "NaCl", "mol", None)
    assert float(answer["low"]) < float(answer["value"]) < float(answer["high"])
    assert answer["accepted"] is True
    assert two["asked"] == [
        {
            "quantity": "balanced_equation",
            "of": None,
            "unit": None,
            "value": None,
            "low": None,
            "high": None,
            "text": "N2 + 3 H2 -> 2 NH3",
            "accepted": True,
        }
    ]
    assert three["error"].startswith("the volume of NaCl cannot be derived from what is given; missing: ")
    assert three["asked"][0]["accepted"] is None
    assert three["asked"][0]["value"] is None


def test_the_table_shows_every_problem_with_its_id_in_full(problems: Callable[[int], str], capsys: Capture) -> None:
    assert main(["solve", problems(2)]) == 0
    out = capsys.readouterr().out
    assert "a1" in out
    assert "b2" in out
    assert out.endswith("2 of 2 given answers accepted.\n")
    assert "…" not in out


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


def test_kinds_can_be_picked(problems: Callable[[int], str], capsys: Capture, tmp_path: Path) -> None:
    path = problems(3)
    assert main(["solve", path, "--json", "--kind", "balance_equation"]) == 0
    assert [one["id"] for one in json.loads(capsys.readouterr().out)] == ["b2"]
    assert main(["solve", path, "--kind", "balanced_equation"]) == 1
    err = capsys.readouterr().err.replace(f"{tmp_path}/", "")
    assert err == (
        "1 fault; nothing was written:\n"
        "  p.json: kind: found 'balanced_equation'; expected one of amount_from_mass, balance_equation. "
        "Did you mean 'balance_equation'?\n"
    )


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("[{]", ("found a slip in the notation: Expecting property name enclosed in double quotes: line 1 column 3 "
         "(char 2); expected valid JSON")),
        ('{"id": 1}', "found {'id': 1}; expected Input should be a valid tuple"),
    ],
)  # fmt: skip
def test_a_file_that_holds_no_problems(tmp_path: Path, said: Say, text: str, fault: str) -> None:
    (tmp_path / "p.json").write_text(text, encoding="utf-8")
    assert main(["solve", str(tmp_path / "p.json")]) == 1
    assert said() == f"1 fault; nothing was written:\n  p.json: {fault}\n"


def test_the_command_is_installed_under_its_name() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    assert project["scripts"] == {"problemgen": "problemgen.cli:main"}
