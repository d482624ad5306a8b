"""The audit command: tables, JSON, exit codes; and that the audit fails where the promise is broken."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

import problemgen.audit.run as run_module
import problemgen.audit.students as students_module
from problemgen.audit.acceptance import by_windows
from problemgen.audit.records import Credit, Marked
from problemgen.cli import main

Capture = pytest.CaptureFixture[str]
TITRATION = "titrations/oxalic-acid"


def run(capsys: Capture, *arguments: str) -> tuple[int, str, str]:
    code = main(["audit", *arguments])
    out, err = capsys.readouterr()
    return code, out, err


def test_the_audit_is_told(capsys: Capture, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(run_module, "marked_sample", lambda *_: Marked(honest=16))
    code, out, err = run(capsys, TITRATION, "--students", "200")
    assert (code, err) == (0, "")
    lines = out.splitlines()
    assert lines[0].split()[:3] == ["template", "students", "honest"]
    assert lines[1].split()[:4] == [TITRATION, "200", "0", "0"]
    assert any(line.startswith("windows, admitted numbers") for line in lines)
    assert any(line.startswith("±5%, blind numbers") for line in lines)
    assert any(line.startswith("1 template, by the windows: 0 of 200 honest workers refused, ") for line in lines)
    assert lines[-1].startswith("Credit is upside down in 0 of 0 parts.")


def test_credit_that_is_upside_down_fails_the_audit(capsys: Capture, monkeypatch: pytest.MonkeyPatch) -> None:
    upside_down = Marked(credit=Credit(compared=12, upside_down=1))
    monkeypatch.setattr(run_module, "marked_sample", lambda *_: upside_down)
    code, out, _ = run(capsys, TITRATION, "--students", "20")
    assert code == 1
    assert "Credit is upside down in 1 of 12 parts." in out


def test_the_same_words_give_the_same_audit(capsys: Capture) -> None:
    asked = (TITRATION, "--students", "100", "--json")
    first, again, other = (run(capsys, *asked, "--seed-words", words)[1] for words in ("beads", "beads", "stones"))
    assert first == again
    assert first != other
    data = json.loads(first)
    (template,) = data["templates"]
    assert (template["template"], template["students"], template["refused"]) == (TITRATION, 100, 0)
    assert [one["tolerance"] for one in template["fixed"]] == [0.01, 0.02, 0.05]
    assert template["marked"]["honest"] == 16


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


def test_a_topic_is_all_its_templates(capsys: Capture) -> None:
    _, out, _ = run(capsys, "optical-rotation", "--students", "50", "--quiet", "--json")
    names = [one["template"] for one in json.loads(out)["templates"]]
    assert names == ["optical-rotation/resolved-phenylethanol", "optical-rotation/sugar-in-syrup"]


def test_a_file_is_a_template(capsys: Capture) -> None:
    path = Path(__file__).resolve().parents[2] / "templates" / f"{TITRATION}.toml"
    _, out, _ = run(capsys, str(path), "--students", "20", "--json")
    assert json.loads(out)["templates"][0]["template"] == TITRATION


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
