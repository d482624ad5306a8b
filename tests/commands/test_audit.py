"""The audit command: tables, JSON, exit codes; and that the audit fails where the promise is broken."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest

import problemgen.audit.students as students_module
from problemgen.audit.acceptance import by_windows
from problemgen.cli import main

Capture = pytest.CaptureFixture[str]
TITRATION, CHOICE = "titrations/oxalic-acid", "limiting-reagent/silver-chromate"


def run(capsys: Capture, *arguments: str) -> tuple[int, str, str]:
    code = main(["audit", *arguments])
    out, err = capsys.readouterr()
    return code, out, err


def test_the_promise_holds_and_is_told(capsys: Capture) -> None:
    code, out, err = run(capsys, TITRATION, "--students", "200")
    assert (code, err) == (0, "")
    lines = out.splitlines()
    assert lines[0].split()[:3] == ["template", "students", "honest"]
    assert lines[1].split()[:5] == [TITRATION, "200", "0", "0", "0"]
    assert any(line.startswith("windows, admitted numbers") for line in lines)
    assert any(line.startswith("±5%, blind numbers") for line in lines)
    assert any(line.startswith("1 template: 0 of 200 honest workers refused; ") for line in lines)
    assert lines[-1].endswith("the marking differs from this audit in 0 of 144 parts.")


def test_the_same_words_give_the_same_audit(capsys: Capture) -> None:
    asked = (CHOICE, "--students", "100", "--json")
    first, again, other = (run(capsys, *asked, "--seed-words", words)[1] for words in ("beads", "beads", "stones"))
    assert first == again
    assert first != other
    data = json.loads(first)
    assert data["holds"] is True
    (template,) = data["templates"]
    assert (template["template"], template["students"], template["refused"]) == (CHOICE, 100, 0)
    assert [one["tolerance"] for one in template["fixed"]] == [0.01, 0.02, 0.05]
    assert template["fixed"][0]["lucky"] > 0


def test_a_window_that_is_too_narrow_fails_the_audit(monkeypatch: pytest.MonkeyPatch, capsys: Capture) -> None:
    def narrow(template: Any, kept: Any) -> Any:
        acceptance = by_windows(template, kept)
        middle = {name: (low + high) / 2 for name, (low, high) in acceptance.bounds.items()}
        bounds = {
            name: (middle[name] + (low - middle[name]) / 4, middle[name] + (high - middle[name]) / 4)
            for name, (low, high) in acceptance.bounds.items()
        }
        return replace(acceptance, bounds=bounds)

    monkeypatch.setattr(students_module, "by_windows", narrow)
    code, out, _ = run(capsys, TITRATION, "--students", "300", "--json")
    (template,) = json.loads(out)["templates"]
    assert code == 1
    assert template["refused"] > 0
    assert template["holds"] is False


def test_numbers_admitted_blindly_fail_the_audit(monkeypatch: pytest.MonkeyPatch, capsys: Capture) -> None:
    class Everything:
        def __init__(self, _template: Any, candidates: Any) -> None:
            self.admitted = np.ones(candidates.rows, dtype=np.bool_)

    monkeypatch.setattr(students_module, "judge", Everything)
    code, out, _ = run(capsys, CHOICE, "--students", "300")
    assert code == 1
    assert f"{CHOICE}: least-mass-taken:extent() was rewarded: " in out
    assert "rewarded in full: 0 of" not in out


def test_a_topic_is_all_its_templates(capsys: Capture) -> None:
    code, out, _ = run(capsys, "optical-rotation", "--students", "50", "--quiet", "--json")
    assert code == 0
    names = [one["template"] for one in json.loads(out)["templates"]]
    assert names == ["optical-rotation/resolved-phenylethanol", "optical-rotation/sugar-in-syrup"]


def test_a_file_is_a_template(capsys: Capture) -> None:
    path = Path(__file__).resolve().parents[2] / "templates" / f"{TITRATION}.toml"
    code, out, _ = run(capsys, str(path), "--students", "20", "--json")
    assert code == 0
    assert json.loads(out)["templates"][0]["template"] == "oxalic-acid"


@pytest.mark.parametrize("students", ["0", "-3", "many", "100001"])
def test_students_are_counted(students: str, capsys: Capture) -> None:
    with pytest.raises(SystemExit) as ended:
        main(["audit", "--students", students])
    assert ended.value.code == 2
    assert "is not a whole number from 1 to 100000" in capsys.readouterr().err


def test_a_template_that_is_not_there(capsys: Capture) -> None:
    code, out, err = run(capsys, "titrations/oxalic-acids")
    assert (code, out) == (1, "")
    assert "titrations/oxalic-acids: found no such template" in err
    assert "oxalic-acid" in err
