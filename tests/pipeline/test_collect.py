"""What comes back from a class: sheets filled in on the screen and workbooks, taken for the answers that they hold."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping
from pathlib import Path

import pypdf
import pytest

from problemgen.cli import main
from problemgen.load.answers.answers import ANSWERS_FILE, Answers
from problemgen.pipeline.collect import CollectReport, collect
from tests.support.filled_in import (
    archive,
    build_to_fill,
    filled_book,
    filled_sheet,
    table,
    typed_class,
    verdicts,
)
from tests.support.odd_returns import (
    cut_short,
    flattened,
    forged,
    forged_book,
    page_by_page,
    with_changed_number,
    with_changed_page,
    with_note,
    with_other_sheet_first,
    with_password,
    with_program,
)

CLASS = 120


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A class of 120 with sheets and workbooks to fill in. Not to be written into."""
    return build_to_fill(tmp_path_factory.mktemp("class"), CLASS)


@pytest.fixture(scope="module")
def typed(built: Path, tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Mapping[str, Mapping[str, str]]]:
    """What the class answered, typed into a table."""
    path = tmp_path_factory.mktemp("typed") / "typed.csv"
    return path, typed_class(built, path)


def sheet(built: Path, student: str, cells: Mapping[str, str]) -> bytes:
    return filled_sheet((built / "fill-in" / f"{student}.pdf").read_bytes(), cells)


def book(built: Path, student: str, cells: Mapping[str, str]) -> bytes:
    return filled_book((built / "workbooks" / f"{student}.xlsx").read_bytes(), cells)


def columns(built: Path) -> tuple[str, ...]:
    with Answers(built / ANSWERS_FILE) as answers:
        return answers.head.response_columns


def of_parts(built: Path, row: Mapping[str, str]) -> dict[str, str]:
    return {name: row[name] for name in columns(built)}


def collected(built: Path, folder: Path, files: Mapping[str, bytes]) -> tuple[CollectReport, dict[str, dict[str, str]]]:
    """The report on files in an archive, and the table by student."""
    (folder / "back.zip").write_bytes(archive(files.items()))
    report = collect(built, folder / "back.zip", folder / "answers.csv", replace=True)
    return report, table(folder / "answers.csv")


def listed(folder: Path) -> dict[str, dict[str, str]]:
    with (folder / "answers-unread.csv").open(encoding="utf-8-sig", newline="") as file:
        return {row["file"]: row for row in csv.DictReader(file)}


def test_a_filled_sheet_becomes_a_row_that_marking_reads(built: Path, tmp_path: Path) -> None:
    cells = {"1a": "2.5 mmol", "1e": "B", "2a": "3,95 x 10^1 g"}
    report, rows = collected(built, tmp_path, {"x/Unbenannt (3).pdf": sheet(built, "s007", cells)})
    assert (report.taken, report.messages, report.absent) == (1, (), CLASS - 1)
    assert of_parts(built, rows["s007"]) == dict.fromkeys(columns(built), "") | cells
    assert rows["s007"]["file"] == "x/Unbenannt (3).pdf"
    assert not any(of_parts(built, rows["s008"]).values())
    assert verdicts(built, tmp_path / "answers.csv", tmp_path / "grades")["s007", "2a"][3] == "3.95e1 g"


@pytest.mark.parametrize("hand_in", [sheet, book])
def test_a_class_of_120_gets_the_verdicts_of_what_is_typed(
    hand_in: object, built: Path, typed: tuple[Path, Mapping[str, Mapping[str, str]]], tmp_path: Path
) -> None:
    path, rows = typed
    make = {sheet: ".pdf", book: ".xlsx"}
    files = {
        f"up/{n}{make[hand_in]}": hand_in(built, who, of_parts(built, row)) for n, (who, row) in enumerate(rows.items())
    }
    report, _ = collected(built, tmp_path, files)
    assert report.messages == ()
    assert report.taken == len(rows) > 100
    assert verdicts(built, tmp_path / "answers.csv", tmp_path / "grades") == verdicts(built, path, tmp_path / "typed")


TODAY, EARLIER = (2026, 10, 12, 9, 30, 0), (2026, 10, 11, 22, 0, 0)


def codes(built: Path) -> dict[str, str]:
    with Answers(built / ANSWERS_FILE) as answers:
        return {student: code for (student, _), code in answers.sheets.items()}


def told(built: Path, folder: Path, name: str, content: bytes) -> tuple[str, dict[str, dict[str, str]]]:
    """What is said of one file handed in alone, and the table."""
    report, rows = collected(built, folder, {name: content})
    assert len(report.messages) <= 1
    return (report.messages or ("",))[0], rows


CELLS = {"1a": "2.5 mmol", "2b": "41"}

ODD_SHEETS = {
    "cut short": (cut_short, "a damaged PDF"),
    "a password": (with_password, "a PDF with a password"),
    "flattened": (flattened, "its fields are gone"),
    "a workbook's name": (lambda sheet: b"PK\x03\x04" + sheet[4:200], "workbook that cannot be read"),
    "nothing": (lambda sheet: sheet[:0], "neither a sheet with fields nor a workbook"),
    "a picture": (lambda sheet: b"\x89PNG\r\n\x1a\n" + sheet[2000:], "damaged or no picture"),
}


@pytest.mark.parametrize("odd", ODD_SHEETS)
def test_what_cannot_be_read_is_listed_with_the_reason_and_taken_for_nobody(
    odd: str, built: Path, tmp_path: Path
) -> None:
    change, reason = ODD_SHEETS[odd]
    message, rows = told(
        built, tmp_path, "up.xlsx" if "workbook" in odd else "up.pdf", change(sheet(built, "s005", CELLS))
    )
    assert reason in message
    assert not any(cell for row in rows.values() for cell in of_parts(built, row).values())
    (row,) = listed(tmp_path).values()
    assert (row["counts"], reason in row["reason"]) == ("no", True)


KEPT_SHEETS = {
    "as it is": (lambda sheet: sheet, ""),
    "put together anew": (page_by_page, ""),
    "another number": (with_changed_page, "a given value may have been changed"),
    "a note": (lambda sheet: with_note(sheet, "2c is 4.2 g"), "not read: '2c is 4.2 g'"),
    "a program": (with_program, "has a program or files inside"),
}


@pytest.mark.parametrize("kept", KEPT_SHEETS)
def test_what_is_odd_about_a_sheet_is_told_and_its_answers_are_kept(kept: str, built: Path, tmp_path: Path) -> None:
    change, reason = KEPT_SHEETS[kept]
    message, rows = told(built, tmp_path, "up.pdf", change(sheet(built, "s005", CELLS)))
    assert of_parts(built, rows["s005"]) == dict.fromkeys(columns(built), "") | CELLS
    assert reason in message if reason else not message


KEPT_BOOKS = {
    "as it is": (lambda book: book, ""),
    "a sheet in front": (with_other_sheet_first, ""),
    "another number": (with_changed_number, "a given value may have been changed"),
}


@pytest.mark.parametrize("kept", KEPT_BOOKS)
def test_what_is_odd_about_a_workbook_is_told_and_its_answers_are_kept(kept: str, built: Path, tmp_path: Path) -> None:
    change, reason = KEPT_BOOKS[kept]
    message, rows = told(built, tmp_path, "up", change(book(built, "s005", CELLS)))
    assert of_parts(built, rows["s005"]) == dict.fromkeys(columns(built), "") | CELLS
    assert reason in message if reason else not message


def test_another_students_code_takes_nothing_to_them(built: Path, tmp_path: Path) -> None:
    mine, other = codes(built)["s005"], codes(built)["s006"]
    sheets = {
        "a.pdf": forged(sheet(built, "s005", CELLS), mine, other),
        "a.xlsx": forged_book(book(built, "s005", CELLS), mine, other),
    }
    report, rows = collected(built, tmp_path, sheets)
    assert all("somebody has changed it" in message for message in report.messages)
    assert (len(report.messages), report.taken) == (2, 0)
    assert not any(of_parts(built, rows["s006"]).values())


def test_of_two_the_later_counts_and_both_are_listed(built: Path, tmp_path: Path) -> None:
    first, second = sheet(built, "s005", {"1a": "1", "1b": "2"}), sheet(built, "s005", {"1a": "3"})
    content = archive([("b/late.pdf", second)], TODAY), archive([("a/early.pdf", first)], EARLIER)
    (tmp_path / "back").mkdir()
    for name, packed in zip(("1.zip", "2.zip"), content, strict=True):
        (tmp_path / "back" / name).write_bytes(packed)
    report = collect(built, tmp_path / "back", tmp_path / "answers.csv")
    assert of_parts(built, table(tmp_path / "answers.csv")["s005"]) == dict.fromkeys(columns(built), "") | {"1a": "3"}
    rows = listed(tmp_path)
    assert {name: row["counts"] for name, row in rows.items()} == {"1.zip/b/late.pdf": "yes", "2.zip/a/early.pdf": "no"}
    assert (report.taken, len(report.messages)) == (1, 2)


def test_a_later_one_with_nothing_in_it_takes_no_answers_away(built: Path, tmp_path: Path) -> None:
    empty = (built / "fill-in" / "s005.pdf").read_bytes()
    files = {
        "a": archive([("full.pdf", sheet(built, "s005", CELLS))], EARLIER),
        "b": archive([("empty.pdf", empty)], TODAY),
    }
    _, rows = collected(built, tmp_path, {f"{name}.zip": packed for name, packed in files.items()})
    assert of_parts(built, rows["s005"])["2b"] == "41"
    assert listed(tmp_path)["b.zip/empty.pdf"]["reason"] == "nothing is filled in"


def test_a_file_under_another_students_name_displaces_nothing(built: Path, tmp_path: Path) -> None:
    files = {
        "Sommer6 Adrel6_812_file/sheet.pdf": sheet(built, "s005", {"1a": "6 wrote this"}),
        "Sommer5 Adrel5_811_file/sheet.pdf": sheet(built, "s005", {"1a": "5 wrote this"}),
    }
    _, rows = collected(built, tmp_path, files)
    assert rows["s005"]["1a"] == "5 wrote this"
    assert not rows["s006"]["1a"]
    assert "its name tells s006" in listed(tmp_path)["Sommer6 Adrel6_812_file/sheet.pdf"]["reason"]


def test_pages_of_two_sheets_in_one_file_are_nobodys(built: Path, tmp_path: Path) -> None:
    writer = pypdf.PdfWriter()
    for student in ("s005", "s006"):
        writer.append(io.BytesIO(sheet(built, student, CELLS)))
    out = io.BytesIO()
    writer.write(out)
    message, rows = told(built, tmp_path, "both.pdf", out.getvalue())
    assert "several sheets" in message
    assert not any(of_parts(built, rows["s005"]).values())
    assert not any(of_parts(built, rows["s006"]).values())


def test_what_systems_put_beside_files_is_left_out_and_links_are_not_followed(built: Path, tmp_path: Path) -> None:
    back = tmp_path / "back"
    (back / "__MACOSX").mkdir(parents=True)
    (back / "__MACOSX" / "._a.pdf").write_bytes(b"x")
    (back / ".DS_Store").write_bytes(b"x")
    (back / "link.pdf").symlink_to(built / "fill-in" / "s005.pdf")
    report = collect(built, back, tmp_path / "answers.csv")
    assert [message.partition(":")[0] for message in report.messages] == ["link.pdf"]
    assert report.notes == ("2 files that systems put beside others were left out.",)


def test_the_command_tells_each_file_and_where_it_wrote(
    built: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    back = tmp_path / "back"
    back.mkdir()
    (back / "a.pdf").write_bytes(sheet(built, "s005", CELLS))
    out = tmp_path / "answers.csv"
    assert main(["collect", str(built), str(back), "--out", str(out)]) == 0
    (back / "photo.jpg").write_bytes(b"\xff\xd8\xff\xe0")
    assert main(["collect", str(built), str(back), "--out", str(out)]) == 1
    assert main(["collect", str(built), str(back), "--out", str(out), "--replace"]) == 3
    assert "photo.jpg: found a file that is damaged or no picture" in capsys.readouterr().err
    assert main(["collect", str(built), str(tmp_path / "none"), "--out", str(tmp_path / "b.csv")]) == 1
    assert not (tmp_path / "b.csv").exists()


def test_marking_tells_which_feedback_goes_where_the_file_came_from(built: Path, tmp_path: Path) -> None:
    collected(built, tmp_path, {"=Adrel5 Sommer5/a.pdf": sheet(built, "s005", CELLS)})
    assert main(["grade", str(built), str(tmp_path / "answers.csv"), "--out", str(tmp_path / "g"), "--no-pdf"]) == 0
    mine = table(tmp_path / "g" / "mail-merge.csv")["s005"]
    assert (mine["came as"], mine["page"]) == ("'=Adrel5 Sommer5/a.pdf", "feedback/s005.html")


def test_a_class_that_hands_in_in_all_kinds_of_ways_gets_each_its_own(built: Path, tmp_path: Path) -> None:
    """One archive of 120: sheets and workbooks, as they are, odd, and such that nothing can be read of them."""
    kinds = [*KEPT_SHEETS.values(), *ODD_SHEETS.values(), (None, "")]
    files, kept, lost = {}, set(), []
    for number, student in enumerate(codes(built)):
        change, reason = kinds[number % len(kinds)]
        own = {"1a": f"{number}.5 mmol", "2b": str(number)}
        name = f"folder {number}/hand-in.{'xlsx' if change is None else 'pdf'}"
        files[name] = book(built, student, own) if change is None else change(sheet(built, student, own))
        if number % len(kinds) < len(KEPT_SHEETS) or change is None:
            kept.add((student, number))
        else:
            lost.append((name, reason))
    _report, rows = collected(built, tmp_path, files)
    for student, number in kept:
        assert (rows[student]["1a"], rows[student]["2b"]) == (f"{number}.5 mmol", str(number))
    for student in rows.keys() - {student for student, _ in kept}:
        assert not any(of_parts(built, rows[student]).values())
    told_of = listed(tmp_path)
    assert all(reason in told_of[name]["reason"] for name, reason in lost)
