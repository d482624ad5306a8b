"""The check command: all faults of all paths."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from problemgen.cli import main
from tests.support.small_class import DRAWN, SET, write_class

ROOT = Path(__file__).resolve().parents[2]
Capture = pytest.CaptureFixture[str]
Say = Callable[[], str]


def test_check_finds_no_fault_in_what_is_shipped(capsys: Capture) -> None:
    topic = ROOT / "templates" / "amounts"
    assert main(["check", str(topic)]) == 0
    count = len(list(topic.glob("*.toml")))
    assert capsys.readouterr().out == f"No faults in the banks, {count} templates and 0 sets.\n"
    assert main(["check", "--quiet", str(topic)]) == 0
    assert capsys.readouterr() == ("", "")


def test_check_lists_the_faults_of_all_paths(tmp_path: Path, said: Say) -> None:
    write_class(tmp_path)
    one, other = tmp_path / "templates" / "chromate.toml", tmp_path / "templates" / "ester.toml"
    one.write_text(DRAWN["chromate"].replace("from = 24.00", "from = 24.03"), encoding="utf-8")
    other.write_text(DRAWN["ester"].replace('quantity = "mass"\n', 'quantity = "mas"\n', 1), encoding="utf-8")
    assert main(["check", str(tmp_path / "templates"), str(tmp_path / "none")]) == 1
    lines = said().splitlines()
    assert lines[0] == "3 faults:"
    assert lines[1] == "  none: found no such file or folder; expected a template, a set's folder, or a folder of them"
    assert lines[2] == (
        "  templates/chromate.toml: given.silver-nitrate.volume: found from 24.03 to 30.00; expected ends that stand "
        "on the scale: multiples of 0.05 mL"
    )
    assert lines[3].startswith("  templates/ester.toml: part.1.quantity: found 'mas'; expected one of mass, volume, ")
    assert lines[3].endswith(". Did you mean 'mass'?")


def test_check_of_a_set_finds_faults_of_set_and_roster(tmp_path: Path, said: Say) -> None:
    week = write_class(tmp_path, SET.replace("chromate", "amounts/four-ways").replace("ester", "amounts/five-ways"))
    (week / "roster.csv").write_text("id\n\n", encoding="utf-8")
    assert main(["check", str(week)]) == 1
    assert said() == (
        "2 faults:\n"
        "  week/roster.csv: found no students; expected a row for each student\n"
        "  week/set.toml: problem.2.template: found 'amounts/five-ways'; expected a template that `list` shows, "
        "or the name of a file beside set.toml. Did you mean 'amounts/four-ways'?\n"
    )


def test_check_remarks_what_is_weak_and_is_content_all_the_same(tmp_path: Path, capsys: Capture) -> None:
    write_class(tmp_path)
    path = tmp_path / "templates" / "ester.toml"
    assert main(["check", str(path)]) == 0
    out, err = capsys.readouterr()
    assert out == "No faults in the banks, 1 templates and 0 sets.\n"
    first, *remarks = err.splitlines()
    assert first == f"{len(remarks)} remarks:"
    assert (
        f"  {path}: trains: found nothing; expected what the template trains: `problemgen list` finds it by that"
        in (remarks)
    )
    assert main(["check", "--quiet", str(path)]) == 0
    assert capsys.readouterr() == ("", "")


def test_check_refuses_a_template_without_draws(tmp_path: Path, said: Say) -> None:
    path = tmp_path / "t.toml"
    text = 'title = "T"\ntopic = "t"\ndifficulty = 1\n[given.glucose]\nmass = { value = 9.00, unit = "g" }\n'
    path.write_text(f'{text}[[part]]\nquantity = "amount"\n', encoding="utf-8")
    assert main(["check", str(path)]) == 1
    assert said() == (
        "1 fault:\n  t.toml: given: found no value that is drawn; expected a value with a range or a choice, so that "
        "every student gets numbers of their own\n"
    )
