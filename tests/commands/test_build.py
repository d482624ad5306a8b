"""The build command: messages, refusals, exit codes."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from problemgen.cli import main
from problemgen.commands import build as build_command
from problemgen.commands.progress_bar import progress_bar
from problemgen.load.sets import courses
from tests.support.small_class import DRAWN, SET, build_small, files_of, write_class
from tests.support.small_set import CHROMATE

ROOT = Path(__file__).resolve().parents[2]
Capture = pytest.CaptureFixture[str]
Say = Callable[[], str]


def test_a_build_says_what_was_written_and_what_is_confidential(tmp_path: Path, said: Say) -> None:
    write_class(tmp_path, names={"s1": "Ada"})
    assert build_small(tmp_path, tmp_path / "out") == 0
    assert said() == (
        "Written to out: sheets/, class.pdf, key.pdf, answers.json, responses.csv, summary.pdf.\n"
        "key.pdf, answers.json and summary.pdf are confidential.\n"
    )


def test_a_quiet_build_says_nothing(tmp_path: Path, said: Say) -> None:
    write_class(tmp_path, names={"s1": "Ada"})
    assert build_small(tmp_path, tmp_path / "out", "--quiet", "--count", "1") == 0
    assert said() == ""
    assert (tmp_path / "out" / "sheets" / "v001.pdf").is_file()


def test_a_roster_s_columns_can_be_mapped(tmp_path: Path, said: Say) -> None:
    week = write_class(tmp_path)
    (week / "roster.csv").write_text("Matrikel;Wer\ns1;Ada\n", encoding="utf-8")
    (tmp_path / "m.csv").write_text("ours,theirs\nid,Matrikel\nname,Wer\n", encoding="utf-8")
    out = tmp_path / "out"
    assert build_small(tmp_path, out, "--quiet", "--columns", str(tmp_path / "m.csv")) == 0
    assert said() == ""
    assert (out / "sheets" / "s1.pdf").is_file()
    assert (out / "responses.csv").read_text(encoding="utf-8-sig").splitlines()[1].startswith("s1,Ada")


def test_a_mapping_of_a_roster_that_does_not_fit_is_refused(tmp_path: Path, said: Say) -> None:
    week = write_class(tmp_path)
    (week / "roster.csv").write_text("Matrikel;Wer\ns1;Ada\n", encoding="utf-8")
    (tmp_path / "m.csv").write_text("ours,theirs\nid,Matrikl\n", encoding="utf-8")
    assert build_small(tmp_path, tmp_path / "out", "--columns", str(tmp_path / "m.csv")) == 1
    assert "found no column 'matrikl'" in said()
    assert not (tmp_path / "out").exists()


def test_a_missing_set_is_a_fault(tmp_path: Path, said: Say) -> None:
    assert main(["build", str(tmp_path / "none"), "--out", str(tmp_path / "out"), "--count", "1"]) == 1
    assert said() == (
        "1 fault; nothing was written:\n"
        "  none: found no such folder; expected the folder of a problem set, with set.toml. "
        "`problemgen list sets` shows those that there are.\n"
    )


def test_faults_of_set_templates_and_roster_come_at_once(tmp_path: Path, said: Say) -> None:
    week = write_class(tmp_path, SET + '[policy]\nfigures = "remark"\n')
    (week / "roster.csv").write_text("id,name\na/b,Ada\ns2,Bea\ns2,Cay\n", encoding="utf-8")
    bad = DRAWN["chromate"].replace("given.silver-nitrate", "given.silver-nitrat")
    (tmp_path / "templates" / "chromate.toml").write_text(bad, encoding="utf-8")
    (tmp_path / "templates" / "ester.toml").unlink()
    assert build_small(tmp_path, tmp_path / "out") == 1
    assert said() == (
        "4 faults; nothing was written:\n"
        "  templates/chromate.toml: given.silver-nitrat: found 'silver-nitrat'; expected the id of a substance in "
        "banks/substances.toml. Did you mean 'silver-nitrate'?\n"
        "  week/roster.csv: line 2: found the id 'a/b'; expected letters, digits, '-', '_' or '.', at most 40, not "
        "beginning with '-' or '.'. It names the student's files.\n"
        "  week/roster.csv: line 4: found the id 's2' again, first on line 3; expected each id once\n"
        "  week/set.toml: problem.2.template: found 'ester'; expected a template that `list` shows, or the "
        "name of a file beside set.toml\n"
    )
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize(
    ("roster", "fault"),
    [
        ("name\nAda\n", ("line 1: found the columns 'name'; expected a column 'id'. Name the column with the students' "
         "ids: id.")),
        ("id\n", "found no students; expected a row for each student"),
        ("", "found an empty file; expected a table with a header row"),
        ("id\ns1\nS1\n", "line 3: found the id 'S1' again, first on line 2; expected each id once"),
    ],
)  # fmt: skip
def test_a_roster_that_cannot_be_used(tmp_path: Path, said: Say, roster: str, fault: str) -> None:
    write_class(tmp_path)
    path = tmp_path / "r.csv"
    path.write_text(roster, encoding="utf-8")
    assert build_small(tmp_path, tmp_path / "out", "--roster", str(path)) == 1
    assert said() == f"1 fault; nothing was written:\n  r.csv: {fault}\n"


@pytest.mark.parametrize(
    ("file", "old", "new", "fault"),
    [
        ("substances", 'formula = "AgNO3"', 'formula = "AqNO3"', ("ours/substances.toml: silver-nitrate.formula: "
         "found formula 'AqNO3', character 1: no element has the symbol 'Aq'; expected a chemical formula")),
        ("reactions", "2 silver-nitrate + potassium-chromate", "silver-nitrate + potassium-chromate",
         ("ours/reactions.toml: silver-chromate.equation: found AgNO3 + K2CrO4 -> Ag2CrO4 + 2 KNO3 is not balanced: "
         "Ag 1 on the left, 2 on the right; N 1, 2; O 7, 10. Balanced: 2 AgNO3 + K2CrO4 -> Ag2CrO4 + 2 KNO3; expected "
         "a balanced equation")),
    ],
)  # fmt: skip
@pytest.mark.parametrize("command", ["build", "check"])
def test_a_faulty_bank_stops_everything(
    tmp_path: Path,
    said: Say,
    monkeypatch: pytest.MonkeyPatch,
    command: str,
    file: str,
    old: str,
    new: str,
    fault: str,
) -> None:
    banks = tmp_path / "ours"
    shutil.copytree(ROOT / "banks", banks)
    text = (banks / f"{file}.toml").read_text(encoding="utf-8")
    assert old in text
    (banks / f"{file}.toml").write_text(text.replace(old, new), encoding="utf-8")
    monkeypatch.setattr(courses, "banks_folder", lambda: banks)
    write_class(tmp_path)
    if command == "build":
        assert build_small(tmp_path, tmp_path / "out") == 1
        assert said() == f"1 fault; nothing was written:\n  {fault}\n"
    else:
        assert main(["check"]) == 1
        assert said() == f"1 fault:\n  {fault}\n"


def test_a_file_in_the_way_of_the_output_folder(tmp_path: Path, said: Say) -> None:
    write_class(tmp_path, names={"s1": "Ada"})
    (tmp_path / "out").write_text("mine", encoding="utf-8")
    assert build_small(tmp_path, tmp_path / "out") == 1
    assert said() == "out is a file; a folder is needed\n"
    assert build_small(tmp_path, tmp_path / "out" / "deeper") == 1
    assert said().startswith("cannot write into out/deeper: ")
    assert (tmp_path / "out").read_text(encoding="utf-8") == "mine"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["course.toml", "out", "templates", "week"]


def test_a_second_run_lists_what_it_would_replace(tmp_path: Path, said: Say) -> None:
    write_class(tmp_path, names={"s1": "Ada", "s2": "Bea"})
    out = tmp_path / "out"
    assert build_small(tmp_path, out, "--quiet") == 0
    before = files_of(out)
    assert build_small(tmp_path, out) == 1
    assert said() == (
        "out already holds answers.json, class.pdf, key.pdf, responses.csv, sheets/s1.pdf and 2 more; "
        "nothing was written. --replace replaces them\n"
    )
    assert files_of(out) == before


def test_an_interrupted_run_says_so_with_code_130(tmp_path: Path, said: Say, monkeypatch: pytest.MonkeyPatch) -> None:
    write_class(tmp_path, names={"s1": "Ada", "s2": "Bea"})

    def interrupt(*_: object) -> None:
        raise KeyboardInterrupt

    @contextmanager
    def progress(*, quiet: bool) -> Iterator[Callable[..., None]]:
        assert not quiet
        yield interrupt

    monkeypatch.setattr(build_command, "progress_bar", progress)
    assert build_small(tmp_path, tmp_path / "out") == 130
    assert said() == "interrupted; nothing was written\n"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["course.toml", "templates", "week"]


def test_a_template_without_room_says_which_rule_and_what_to_widen(tmp_path: Path, said: Say) -> None:
    write_class(tmp_path, SET.replace('[[problem]]\ntemplate = "ester"\n', ""), {"s1": "Ada", "s2": "Bea"})
    (tmp_path / "templates" / "chromate.toml").write_text(CHROMATE, encoding="utf-8")
    assert build_small(tmp_path, tmp_path / "out") == 1
    first, *rules = said().splitlines()
    assert first.startswith("chromate: no admissible variant for ")
    assert " candidates; " in first
    assert all(rule.startswith("  rule '") for rule in rules)
    assert not (tmp_path / "out").exists()


def test_progress_is_shown_on_a_terminal_only(capsys: Capture) -> None:
    with progress_bar(quiet=False) as report:
        report("making", 1, 3)
        report("making", 3, 3)
    with progress_bar(quiet=True) as report:
        report("making", 1, 3)
    out, err = capsys.readouterr()
    assert (out, err.strip()) == ("", "")
