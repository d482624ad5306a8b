"""The command line: every message as it is printed, and the exit code."""

from __future__ import annotations

import json
import shutil
import tomllib
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

from problemgen import cli
from problemgen.cli import main
from problemgen.load.answers import ANSWERS_FILE
from problemgen.pipeline import build as build_module
from problemgen.pipeline import check as check_module
from tests.support.small_class import DRAWN, SET, build_small, files_of, write_class
from tests.support.small_set import CHROMATE, small_set, write_answers

ROOT = Path(__file__).resolve().parents[1]
Capture = pytest.CaptureFixture[str]
Say = Callable[[], str]


@pytest.fixture
def said(capsys: Capture, tmp_path: Path) -> Say:
    """What was printed to standard error, the test's folder left out; nothing may stand on standard output."""

    def read() -> str:
        out, err = capsys.readouterr()
        assert out == ""
        return err.replace(f"{tmp_path}/", "").replace(str(tmp_path), ".")

    return read


@pytest.fixture
def key(tmp_path: Path) -> Path:
    """A folder with an answers.json of two students, and responses of one."""
    folder = tmp_path / "built"
    folder.mkdir()
    write_answers(folder, small_set(tmp_path))
    (tmp_path / "r.csv").write_text("id,1a\ns1,2.500 mmol\n", encoding="utf-8")
    return folder


# usage


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


# build


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


def test_a_missing_set_is_a_fault(tmp_path: Path, said: Say) -> None:
    assert main(["build", str(tmp_path / "none"), "--out", str(tmp_path / "out"), "--count", "1"]) == 1
    assert said() == (
        "1 fault; nothing was written:\n"
        "  none: found no such folder; expected the folder of a problem set, with set.toml\n"
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
        "  week/set.toml: problem.2.template: found 'ester'; expected the path of a template below templates/\n"
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
        ("substances", 'formula = "AgNO3"', 'formula = "AqNO3"', ("banks/substances.toml: silver-nitrate.formula: "
         "found formula 'AqNO3', character 1: no element has the symbol 'Aq'; expected a chemical formula")),
        ("reactions", "2 silver-nitrate + potassium-chromate", "silver-nitrate + potassium-chromate",
         ("banks/reactions.toml: silver-chromate.equation: found AgNO3 + K2CrO4 -> Ag2CrO4 + 2 KNO3 is not balanced: "
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
    banks = tmp_path / "banks"
    shutil.copytree(ROOT / "banks", banks)
    text = (banks / f"{file}.toml").read_text(encoding="utf-8")
    assert old in text
    (banks / f"{file}.toml").write_text(text.replace(old, new), encoding="utf-8")
    monkeypatch.setattr(build_module, "banks_folder", lambda: banks)
    monkeypatch.setattr(check_module, "banks_folder", lambda: banks)
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
    assert sorted(path.name for path in tmp_path.iterdir()) == ["out", "templates", "week"]


def test_a_second_run_lists_what_it_would_replace(tmp_path: Path, said: Say) -> None:
    write_class(tmp_path, names={"s1": "Ada", "s2": "Bea"})
    out = tmp_path / "out"
    assert build_small(tmp_path, out, "--quiet") == 0
    before = files_of(out)
    assert build_small(tmp_path, out) == 1
    assert said() == (
        "out already holds answers.json, class.pdf, key.pdf, responses.csv, sheets/s1.pdf and 2 more; "
        "nothing was written\n"
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

    monkeypatch.setattr(cli, "_progress", progress)
    assert build_small(tmp_path, tmp_path / "out") == 130
    assert said() == "interrupted; nothing was written\n"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["templates", "week"]


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
    context: Any = vars(cli)["_progress"]
    with context(quiet=False) as report:
        report("making", 1, 3)
        report("making", 3, 3)
    with context(quiet=True) as report:
        report("making", 1, 3)
    out, err = capsys.readouterr()
    assert (out, err.strip()) == ("", "")


# grade


def test_a_marking_says_how_many_and_where(key: Path, tmp_path: Path, said: Say) -> None:
    assert main(["grade", str(key), str(tmp_path / "r.csv")]) == 3
    assert said() == (
        "r.csv:\n  line 1: no column for 1b, 1c, 1d, 1e, 1f, 1g, 2a, 2b, 2c, 2d; these parts count as blank\n"
        "Marked 1 students, 1 without a row. Written to built/grades: grades.csv, gradebook.csv, feedback/.\n"
    )
    assert (key / "grades" / "feedback" / "s2.html").is_file()


def test_rows_of_strangers_are_listed_and_the_others_marked(key: Path, tmp_path: Path, said: Say) -> None:
    columns = "1a,1b,1c,1d,1e,1f,1g,2a,2b,2c,2d"
    rows = f"id,{columns}\nx7,1\n\ns2,2.500 mmol\n,3\ns1,2.500 mmol\n"
    (tmp_path / "r.csv").write_text(rows, encoding="utf-8")
    arguments = ["grade", str(key), str(tmp_path / "r.csv"), "--out", str(tmp_path / "g")]
    assert main(arguments) == 3
    assert said() == (
        "r.csv:\n"
        "  line 2: the id 'x7' is not in the set; the row is not marked\n"
        "  line 5: no id; the row is not marked\n"
        "Marked 2 students. Written to g: grades.csv, gradebook.csv, feedback/.\n"
    )
    assert main([*arguments, "--quiet", "--replace"]) == 3
    assert said().splitlines()[0] == "r.csv:"
    (tmp_path / "r.csv").write_text(f"id,{columns}\ns2,2.500 mmol\n", encoding="utf-8")
    assert main([*arguments, "--quiet", "--replace"]) == 0
    assert said() == ""


@pytest.mark.parametrize(
    ("rows", "fault"),
    [
        ("name,1a\nAda,1\n", ("r.csv: line 1: found the columns 'name', '1a'; expected a column 'id'. Start from the "
         "responses.csv of the built set.")),
        ("id,name\ns1,Ada\n", ("r.csv: line 1: found the columns 'id', 'name'; expected columns named as the parts: "
         "1a, 1b, 1c, 1d, …. Start from the responses.csv of the built set.")),
        ("", "r.csv: found an empty file; expected a table with a header row"),
    ],
)  # fmt: skip
def test_responses_that_cannot_be_used(key: Path, tmp_path: Path, said: Say, rows: str, fault: str) -> None:
    (tmp_path / "r.csv").write_text(rows, encoding="utf-8")
    assert main(["grade", str(key), str(tmp_path / "r.csv"), "--out", str(tmp_path / "g")]) == 1
    assert said() == f"1 fault; nothing was written:\n  {fault}\n"
    assert not (tmp_path / "g").exists()


def test_missing_responses_and_missing_answers(key: Path, tmp_path: Path, said: Say) -> None:
    assert main(["grade", str(key), str(tmp_path / "none.csv")]) == 1
    assert said() == (
        "1 fault; nothing was written:\n  none.csv: found no such file or directory; expected a readable CSV file\n"
    )
    (key / ANSWERS_FILE).unlink()
    assert main(["grade", str(key), str(tmp_path / "r.csv")]) == 1
    assert said() == (
        "1 fault; nothing was written:\n"
        "  built/answers.json: found no such file or directory; expected the answers.json of a built set\n"
    )


@pytest.mark.parametrize(
    ("old", "new", "found", "expected"),
    [
        (b'"0.1000"', b'"0.1001"', "contents that do not fit the digest", "the file as it was built"),
        (b'"format":"problemgen answers"', b'"format":"other answers"', "another format",
         "a file of the format 'problemgen answers'"),
        (b'"version":1', b'"version":9', "version 9", "version 1"),
        (b'\n],"digest"', b"", "a file that ends too early", "the file as it was built"),
    ],
)  # fmt: skip
def test_a_damaged_key_is_refused(
    key: Path, tmp_path: Path, said: Say, old: bytes, new: bytes, found: str, expected: str
) -> None:
    content = (key / ANSWERS_FILE).read_bytes()
    assert old in content
    changed = content.partition(old)[0] + b"\n" if not new else content.replace(old, new)
    (key / ANSWERS_FILE).write_bytes(changed)
    assert main(["grade", str(key), str(tmp_path / "r.csv"), "--out", str(tmp_path / "g")]) == 1
    again = "Build the set again, or restore the file from a copy."
    assert (
        said() == f"1 fault; nothing was written:\n  built/answers.json: found {found}; expected {expected}. {again}\n"
    )
    assert not (tmp_path / "g").exists()


def test_grades_are_not_replaced_unasked(key: Path, tmp_path: Path, said: Say) -> None:
    arguments = ["grade", str(key), str(tmp_path / "r.csv"), "--quiet"]
    assert main(arguments) == 3
    said()
    assert main(arguments) == 1
    assert said() == "built/grades already holds gradebook.csv, grades.csv; nothing was written\n"
    assert main([*arguments, "--replace"]) == 3
    (tmp_path / "g").write_text("", encoding="utf-8")
    said()
    assert main([*arguments, "--out", str(tmp_path / "g")]) == 1
    assert said() == "g is a file; a folder is needed\n"


# check


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
        "  week/set.toml: problem.2.template: found 'amounts/five-ways'; expected the path of a template below "
        "templates/. Did you mean 'amounts/four-ways'?\n"
    )


def test_check_refuses_a_template_without_draws(tmp_path: Path, said: Say) -> None:
    path = tmp_path / "t.toml"
    text = 'title = "T"\ntopic = "t"\ndifficulty = 1\n[given.glucose]\nmass = { value = 9.00, unit = "g" }\n'
    path.write_text(f'{text}[[part]]\nquantity = "amount"\n', encoding="utf-8")
    assert main(["check", str(path)]) == 1
    assert said() == (
        "1 fault:\n  t.toml: given: found no value that is drawn; expected a value with a range or a choice, so that "
        "every student gets numbers of their own\n"
    )


# solve

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
