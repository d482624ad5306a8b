"""A marking: every row accounted for, the same bytes again, and nothing needed but answers.json and the responses."""

from __future__ import annotations

import csv
import io
import shutil
import stat
from pathlib import Path

import pytest

from problemgen.errors import OutputError
from problemgen.load import resources
from problemgen.load.answers.answers import ANSWERS_FILE, Answers
from problemgen.pipeline.mark import MarkingReport, MarkingRequest, mark_set
from problemgen.plan.forms import form_of
from tests.support.small_class import NAMES, files_of


def quiet(*_: object) -> None:
    """Nothing is told."""


def right_cells(folder: Path) -> dict[str, dict[str, str]]:
    """The right answers of every student, by column."""
    cells: dict[str, dict[str, str]] = {}
    with Answers(folder / ANSWERS_FILE) as answers:
        for key in answers:
            row = cells.setdefault(key.student, {})
            for problem in key.problems:
                template = answers.head.templates[problem.template]
                for part in template.parts:
                    truth = problem.truths[part.id]
                    column = f"{problem.problem.removeprefix('p')}{part.label}"
                    row[column] = form_of(part.asked).text(template.scene, part.asked, truth)
    return cells


def write_responses(path: Path, cells: dict[str, dict[str, str]]) -> Path:
    columns = list(next(iter(cells.values())))
    text = io.StringIO()
    writer = csv.writer(text)
    writer.writerow(["id", *columns])
    writer.writerows([student, *(row.get(column, "") for column in columns)] for student, row in cells.items())
    path.write_text(text.getvalue(), encoding="utf-8")
    return path


def table(path: Path) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(path.read_text(encoding="utf-8-sig"))))


def marked(built: Path, tmp_path: Path, cells: dict[str, dict[str, str]], out: str = "grades") -> MarkingReport:
    responses = write_responses(tmp_path / f"{out}.csv", cells)
    return mark_set(MarkingRequest(built, (responses,), tmp_path / out), quiet)


def test_a_class_that_is_right_earns_every_point(built: Path, tmp_path: Path) -> None:
    report = marked(built, tmp_path, right_cells(built))
    assert (report.marked, report.absent, report.attempts) == (len(NAMES), 0, len(NAMES))
    assert (report.remarks, report.to_look_at, report.notes) == ((), (), ())
    grades = table(tmp_path / "grades" / "grades.csv")
    assert {row["verdict"] for row in grades} == {"right"}
    assert {(row["points"], row["of"], row["percent"]) for row in table(tmp_path / "grades" / "gradebook.csv")} == {
        ("14", "14", "100")
    }


def test_every_student_and_part_has_a_row_whoever_handed_in(built: Path, tmp_path: Path) -> None:
    cells = right_cells(built)
    some = {"s4": cells["s4"], "zz": cells["s1"], "s2": {"1a": "??"}}
    report = marked(built, tmp_path, some)
    assert (report.marked, report.absent) == (2, 4)
    assert report.remarks == ("line 3: the id 'zz' is not in the set; the row is not marked",)
    rows = table(tmp_path / "grades" / "grades.csv")
    with Answers(built / ANSWERS_FILE) as answers:
        columns = answers.head.columns
    order = ["s4", "s2", "s1", "s3", "s5", "s6"]
    assert [(row["id"], row["part"]) for row in rows] == [(student, column) for student in order for column in columns]
    assert {row["verdict"] for row in rows if row["id"] not in ("s4", "s2")} == {"blank"}
    assert [row["id"] for row in table(tmp_path / "grades" / "gradebook.csv")] == order


def test_the_gradebook_adds_up(built: Path, tmp_path: Path) -> None:
    cells = right_cells(built)
    for row in cells.values():
        row["1f"] = ""
    marked(built, tmp_path, cells)
    for row in table(tmp_path / "grades" / "gradebook.csv"):
        parts = [row[column] for column in row if column[0].isdigit()]
        assert sum(map(int, parts)) == int(row["points"]) == 12
        assert row["percent"] == "85.71"
        assert row["1f"] == "0"


def test_names_are_safe_in_a_spreadsheet(built: Path, tmp_path: Path) -> None:
    cells = right_cells(built)
    cells["s1"]["1a"] = '=HYPERLINK("http://x")'
    cells["s1"]["1b"] = "-1.840 mmol"
    cells["s1"]["1c"] = "@x"
    marked(built, tmp_path, cells)
    text = (tmp_path / "grades" / "grades.csv").read_text(encoding="utf-8-sig")
    for row in csv.reader(io.StringIO(text)):
        for cell in row:
            assert not cell.startswith(("=", "+", "@", "\t", "\r"))
            assert not cell.startswith("-") or cell[1:].replace(".", "").isdigit()
    assert {row["name"] for row in table(tmp_path / "grades" / "grades.csv")} >= {"'=Adrel O'Sommer", "#Rovik Tagmoor"}


def test_every_student_has_a_feedback_page_of_their_own(built: Path, tmp_path: Path) -> None:
    marked(built, tmp_path, right_cells(built))
    pages = {path.stem: path.read_text(encoding="utf-8") for path in (tmp_path / "grades" / "feedback").glob("*.html")}
    assert set(pages) == set(NAMES)
    for student, page in pages.items():
        assert not any(f">{name}<" in page for one, name in NAMES.items() if one != student)
        assert "<script" not in page
    assert "D’Ervaux *Font* _x_ $y$ [z] \\#q &lt;b&gt;" in pages["s3"]


def test_grades_are_for_the_owner_only(built: Path, tmp_path: Path) -> None:
    marked(built, tmp_path, right_cells(built))
    files = [path for path in (tmp_path / "grades").rglob("*") if path.is_file()]
    assert {stat.S_IMODE(path.stat().st_mode) for path in files} == {0o600}
    assert {path.name for path in files} >= {"gradebook.csv", "grades.csv", "s1.html", "s1.pdf"}


def test_marking_twice_gives_the_same_bytes(built: Path, tmp_path: Path) -> None:
    cells = right_cells(built)
    cells["s2"].update({"1a": "3,1 mmol", "1f": "0.4 g", "2a": "nonsense", "1e": "potassium chromate"})
    marked(built, tmp_path, cells, "one")
    marked(built, tmp_path, cells, "two")
    assert files_of(tmp_path / "one") == files_of(tmp_path / "two")


def test_the_order_of_rows_and_columns_changes_no_points(built: Path, tmp_path: Path) -> None:
    cells = right_cells(built)
    cells["s2"]["1a"] = "1"
    turned = {student: dict(reversed(row.items())) for student, row in reversed(cells.items())}
    marked(built, tmp_path, cells, "one")
    marked(built, tmp_path, turned, "two")
    one, two = (
        sorted(table(tmp_path / name / "grades.csv"), key=lambda r: (r["id"], r["part"])) for name in ("one", "two")
    )
    assert one == two


def test_neither_templates_nor_banks_are_needed(built: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    alone = tmp_path / "alone"
    alone.mkdir()
    shutil.copy(built / ANSWERS_FILE, alone / ANSWERS_FILE)
    opened: list[str] = []
    read = Path.read_text

    def noted(path: Path, *arguments: object, **named: object) -> str:
        opened.append(path.name)
        return read(path, *arguments, **named)  # type: ignore[arg-type]  # passed on as they came

    def refused() -> Path:
        raise AssertionError("the banks were looked for")

    monkeypatch.setattr(Path, "read_text", noted)
    monkeypatch.setattr(resources, "banks_folder", refused)
    cells = right_cells(alone)
    assert marked(alone, tmp_path, cells).marked == len(NAMES)
    assert {name for name in opened if name.endswith(".toml")} <= {
        "set.toml",
        "course.toml",
    }  # for its policies, if it is there


def test_progress_is_told_for_every_student(built: Path, tmp_path: Path) -> None:
    told: list[tuple[str, int, int]] = []
    responses = write_responses(tmp_path / "r.csv", {"s1": {"1a": "1"}})
    mark_set(MarkingRequest(built, (responses,), tmp_path / "g"), lambda *what: told.append(what))
    assert told == [("marking", n, len(NAMES)) for n in range(1, len(NAMES) + 1)]


@pytest.mark.parametrize("at", [1, 6])
def test_an_interrupted_marking_leaves_nothing_behind(built: Path, tmp_path: Path, at: int) -> None:
    responses = write_responses(tmp_path / "r.csv", {"s1": {"1a": "1"}})

    def interrupt(_: str, done: int, __: int) -> None:
        if done == at:
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        mark_set(MarkingRequest(built, (responses,), tmp_path / "g"), interrupt)
    assert [path.name for path in tmp_path.iterdir()] == ["r.csv"]


def test_grades_are_replaced_only_when_told(built: Path, tmp_path: Path) -> None:
    responses = write_responses(tmp_path / "r.csv", {"s1": {"1a": "1"}})
    request = MarkingRequest(built, (responses,), tmp_path / "g")
    mark_set(request, quiet)
    before = files_of(tmp_path / "g")
    with pytest.raises(OutputError, match=r"already holds gradebook\.csv, grades\.csv; nothing was written"):
        mark_set(request, quiet)
    assert files_of(tmp_path / "g") == before
    mark_set(MarkingRequest(built, (responses,), tmp_path / "g", replace=True), quiet)
    assert files_of(tmp_path / "g") == before


def test_the_built_set_is_not_touched(built: Path, tmp_path: Path) -> None:
    before = files_of(built)
    marked(built, tmp_path, right_cells(built))
    assert files_of(built) == before
