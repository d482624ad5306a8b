"""The shipped post-session report: built, filled in by six invented students, and marked."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterable
from pathlib import Path

import pytest
from pypdf import PdfReader

from problemgen.cli import main
from problemgen.load.answers.answers import ANSWERS_FILE, Answers
from problemgen.load.people.roster import load_roster
from problemgen.model.page_code import read_page_code

REPORT = Path(__file__).resolve().parents[2] / "templates" / "sets" / "organic-post-session"
RESPONSES = REPORT / "responses.csv"


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    out = tmp_path_factory.mktemp("report") / "built"
    assert main(["build", str(REPORT), "--out", str(out), "--quiet"]) == 0
    return out


@pytest.fixture(scope="module")
def marked(built: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    out = tmp_path_factory.mktemp("report") / "grades"
    assert main(["grade", str(built), str(RESPONSES), "--out", str(out), "--no-pdf", "--quiet"]) == 0
    return out


def table(path: Path) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(path.read_text(encoding="utf-8-sig"))))


def of(rows: Iterable[dict[str, str]], student: str) -> dict[str, dict[str, str]]:
    return {row["part"]: row for row in rows if row["id"] == student}


def test_the_shipped_responses_have_the_columns_of_the_blank_ones(built: Path) -> None:
    blank, filled = table(built / "responses.csv"), table(RESPONSES)
    assert [column for column in blank[0] if column != "code"] == list(filled[0])  # the class has typed no codes
    people = [(student.id, student.name) for student in load_roster(REPORT / "roster.csv").students]
    assert [(row["id"], row["name"]) for row in blank] == [(row["id"], row["name"]) for row in filled] == people


def is_code(line: str) -> bool:
    """Whether a line is the code of a page, which tells whose it is."""
    try:
        read_page_code(line)
    except ValueError:
        return False
    return True


def test_every_sheet_says_the_same_and_tells_no_example(built: Path) -> None:
    students = {student.id: student for student in load_roster(REPORT / "roster.csv").students}
    texts = set()
    for path in (built / "sheets").glob("*.pdf"):
        lines = "\n".join(page.extract_text() for page in PdfReader(path).pages).splitlines()
        about = (students[path.stem].name, f"{path.stem}, section ", "Sheet ")
        told = [line for line in lines if not any(words in line for words in about) and not is_code(line)]
        texts.add("\n".join(told))
    (text,) = texts
    assert "Mass of magnesium" in text
    assert "Your own value" in text
    key = "\n".join(page.extract_text() for page in PdfReader(built / "key.pdf").pages)
    example = key.partition("1.magnesium.mass")[2].partition("g\n")[0].split()[-1]
    assert example.startswith("0.")
    assert example not in text


def test_one_key_is_printed_for_all(built: Path) -> None:
    pages = PdfReader(built / "key.pdf").pages
    text = "\n".join(page.extract_text() for page in pages)
    assert text.count("The student’s own data") + text.count("The student's own data") == 2
    assert "Worked solution with the example values" in text
    assert "Key: all students" in text


def test_answers_json_holds_no_answer_that_rests_on_own_data(built: Path) -> None:
    document = json.loads((built / ANSWERS_FILE).read_bytes())
    problems = [problem for student in document["students"] for problem in student["problems"]]
    assert {len(problem["truths"]) for problem in problems} == {0}
    assert not [name for problem in problems for name in problem["given"] if name.startswith("mass(")]
    assert [len(own) for own in document["head"]["own"].values()] == [5, 3]


def test_each_student_is_marked_by_their_own_data(marked: Path) -> None:
    points = {row["id"]: row["points"] for row in table(marked / "gradebook.csv")}
    assert points == {"r01": "21", "r02": "19", "r03": "21", "r04": "21", "r05": "11", "r06": "19"}


def test_a_missing_weighing_costs_the_parts_that_need_it_alone(marked: Path) -> None:
    parts = of(table(marked / "grades.csv"), "r02")
    assert {label for label, row in parts.items() if row["verdict"] != "right"} == {"1l"}
    assert parts["1l"]["reason"] == "own-data-missing"
    assert "mass of triphenylmethanol obtained" in parts["1l"]["sentence"]


def test_a_wrong_unit_is_told_in_every_part_that_needs_the_value(marked: Path) -> None:
    parts = of(table(marked / "grades.csv"), "r05")
    unmarked = {label for label, row in parts.items() if row["reason"] == "own-data-unread"}
    assert unmarked == {"1a", "1b", "1e", "1h", "1i", "1j", "1k", "1l"}
    assert {row["verdict"] for label, row in parts.items() if label not in unmarked} == {"right"}
    assert parts["1a"]["sentence"].endswith("the volume of bromobenzene. It is written in g; mL is asked for.")


def test_a_mistake_is_named_and_followed_through(marked: Path) -> None:
    parts = of(table(marked / "grades.csv"), "r06")
    assert {label for label, row in parts.items() if row["reason"] == "ratio-left-out"} == {"1e", "1f"}
    assert {label for label, row in parts.items() if row["verdict"] == "follows"} == {"1h", "1i", "1j", "1k", "1l"}


def test_what_is_implausible_is_flagged_and_marked_all_the_same(marked: Path) -> None:
    flags = [(row["id"], row["about"], row["flag"]) for row in table(marked / "own-data.csv") if row["flag"]]
    assert flags == [
        ("r02", "1.triphenylmethanol.obtained", "missing"),
        ("r03", "1.triphenylmethanol.obtained", "over-100"),
        ("r03", "1h", "undecided-by-these-data"),
        ("r05", "1.bromobenzene.volume", "unreadable"),
        ("r06", "2.acetylsalicylic-acid.obtained", "low-share"),
    ]
    assert of(table(marked / "grades.csv"), "r03")["1l"]["verdict"] == "right"


def test_a_comma_is_no_doubt_of_who_writes_all_numbers_so(marked: Path) -> None:
    read = {row["about"]: (row["wrote"], row["read"]) for row in table(marked / "own-data.csv") if row["id"] == "r04"}
    assert read["2.salicylic-acid.mass"] == ("2,913 g", "2.913 g")
    assert read["2.acetylsalicylic-acid.obtained"] == ("2,405 g", "2.405 g")


def test_feedback_shows_a_students_own_data_and_nobody_elses(marked: Path) -> None:
    page = (marked / "feedback" / "r03.html").read_text(encoding="utf-8")
    assert "3.42" in page
    assert "more than there can be" in page
    assert "do not decide which reagent limits" not in page
    others = [row["name"] for row in table(RESPONSES) if row["id"] != "r03"]
    assert not [name for name in others if name in page]


def test_marking_twice_gives_the_same_bytes(built: Path, marked: Path, tmp_path: Path) -> None:
    assert main(["grade", str(built), str(RESPONSES), "--out", str(tmp_path / "g"), "--no-pdf", "--quiet"]) == 0
    for path in sorted(marked.rglob("*")):
        if path.is_file():
            assert (tmp_path / "g" / path.relative_to(marked)).read_bytes() == path.read_bytes()


def test_a_marking_without_names_hides_them_in_own_data(built: Path, tmp_path: Path) -> None:
    rows = table(RESPONSES)
    rows[0]["1.magnesium.mass"] = "Tavvi Sandövik weighed 0.612 g"
    responses = tmp_path / "r.csv"
    with responses.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, list(rows[0]))
        writer.writeheader()
        writer.writerows(rows)
    out = tmp_path / "anonymous"
    assert main(["grade", str(built), str(responses), "--out", str(out), "--no-pdf", "--anonymous", "--quiet"]) == 0
    with Answers(built / ANSWERS_FILE) as answers:
        code = answers.student("r01").code
    for path in (out / "own-data.csv", out / "grades.csv", out / "feedback" / f"{code}.html"):
        text = path.read_text(encoding="utf-8-sig")
        assert "Tavvi" not in text
        assert code in text


def test_a_form_may_call_the_own_columns_otherwise(built: Path, tmp_path: Path) -> None:
    rows = table(RESPONSES)[:1]
    theirs = {"1.magnesium.mass": "How much magnesium did you weigh?"}
    responses, columns = tmp_path / "r.csv", tmp_path / "columns.csv"
    renamed = [{theirs.get(name, name): cell for name, cell in row.items()} for row in rows]
    with responses.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, list(renamed[0]))
        writer.writeheader()
        writer.writerows(renamed)
    columns.write_text('ours,theirs\n1.magnesium.mass,"How much magnesium did you weigh?"\n', encoding="utf-8")
    out = tmp_path / "g"
    command = ["grade", str(built), str(responses), "--out", str(out), "--columns", str(columns), "--no-pdf", "--quiet"]
    assert main(command) == 0
    assert table(out / "gradebook.csv")[0]["points"] == "21"


def test_an_explanation_says_what_is_not_known(built: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["explain", str(built), "r05", "1a", "--responses", str(RESPONSES)]) == 0
    assert "not known without the student's own data" in capsys.readouterr().out
