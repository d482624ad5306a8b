"""Sheets and workbooks that a class has filled in, by other tools than those that made them."""

from __future__ import annotations

import csv
import io
import warnings
import zipfile
from collections.abc import Iterable, Iterator, Mapping
from decimal import Decimal
from pathlib import Path

import pypdf
from openpyxl import load_workbook

from problemgen.cli import main
from problemgen.load.answers.answers import ANSWERS_FILE, Answers
from problemgen.model.answers import KeyHead, StudentKey
from problemgen.model.truths import NumberTruth
from tests.support.small_class import SET, write_class

__all__ = ["archive", "build_to_fill", "filled_book", "filled_sheet", "table", "typed_class", "verdicts"]


def build_to_fill(folder: Path, students: int, set_text: str = SET) -> Path:
    """A class of so many built with sheets for the screen and workbooks; gives the built folder."""
    names = {f"s{number:03}": f"Adrel{number} Sommer{number}" for number in range(1, students + 1)}
    week = write_class(folder, set_text, names)
    assert main(["build", str(week), "--out", str(folder / "out"), "--fill-in", "--workbook", "--quiet"]) == 0
    return folder / "out"


def filled_sheet(sheet: bytes, cells: Mapping[str, str]) -> bytes:
    """A sheet with these cells typed into its fields by pypdf; a letter is ticked."""
    writer = pypdf.PdfWriter(clone_from=io.BytesIO(sheet))
    fields = writer.get_fields() or {}
    values = {name.replace(".", ":"): text for name, text in cells.items() if text}
    kinds = {name: field.get("/FT") for name, field in fields.items()}
    told = {name: f"/{text}" if kinds[name] == "/Btn" else text for name, text in values.items()}
    for page in writer.pages:
        if "/Annots" in page:
            writer.update_page_form_field_values(page, told, auto_regenerate=False)
    out = io.BytesIO()
    writer.write(out)
    return out.getvalue()


def filled_book(book: bytes, cells: Mapping[str, str]) -> bytes:
    """A workbook with these cells typed into it, as text."""
    opened = load_workbook(io.BytesIO(book))
    for row in opened.worksheets[0].iter_rows():
        name = row[0].value
        if name is not None and cells.get(str(name)):
            row[2].value = cells[str(name)]
            row[2].data_type = "s"
    out = io.BytesIO()
    opened.save(out)
    return out.getvalue()


def table(path: Path) -> dict[str, dict[str, str]]:
    """The rows of a table by the id of the student."""
    with path.open(encoding="utf-8-sig", newline="") as file:
        return {row["id"]: row for row in csv.DictReader(file)}


def typed_class(built: Path, typed: Path) -> dict[str, dict[str, str]]:
    """A class's answers, right and wrong and in all spellings, typed into a table; every fifteenth hands nothing in."""
    with Answers(built / ANSWERS_FILE) as answers:
        columns = answers.head.response_columns
        rows = {
            key.student: {"id": key.student, **dict.fromkeys(columns, ""), **dict(_cells(answers.head, key, place))}
            for place, key in enumerate(answers)
            if place % 15
        }
    with typed.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, ["id", *columns])
        writer.writeheader()
        writer.writerows(rows.values())
    return rows


_SPELLINGS = (
    *("{number}", "{number} {unit}", "{comma}", "= {number}{unit}", "{tenfold}", "{third} {unit}", "-3,5 x 10^2", ""),
    *("ca. {number}, see notebook; ≈ ν ₂ ½", '=HYPERLINK("x")'),
)
"""How a number is typed: right and wrong, with what a spreadsheet would run, and letters of other scripts."""


def _typed(spelling: str, number: str, unit: str) -> str:
    value = Decimal(number)
    told = {"comma": number.replace(".", ","), "tenfold": f"{value * 10:f}", "third": f"{value / 3:.4g}"}
    return spelling.format(number=number, unit=unit, **told)


def _cells(head: KeyHead, key: StudentKey, place: int) -> Iterator[tuple[str, str]]:
    for problem in key.problems:
        for number, part in enumerate(head.templates[problem.template].parts):
            truth, draw = problem.truths[part.id], place * 7 + number * 3 + place // 10
            if isinstance(truth, NumberTruth):
                yield problem.label(part), _typed(_SPELLINGS[draw % len(_SPELLINGS)], truth.printed, part.asked.unit)
            else:
                yield problem.label(part), "AB"[draw % 2]


def archive(
    files: Iterable[tuple[str, bytes]], when: tuple[int, int, int, int, int, int] = (2026, 10, 12, 8, 0, 0)
) -> bytes:
    """Files in an archive, under whatever names, all of one time."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as packed, warnings.catch_warnings(action="ignore"):
        for name, content in files:
            packed.writestr(zipfile.ZipInfo(name, when), content)
    return out.getvalue()


def verdicts(built: Path, responses: Path, out: Path) -> dict[tuple[str, str], tuple[str, ...]]:
    """What marking says of each student's parts: verdict, reason, points, sentence."""
    assert main(["grade", str(built), str(responses), "--out", str(out), "--no-pdf", "--quiet"]) in (0, 3)
    with (out / "grades.csv").open(encoding="utf-8-sig", newline="") as file:
        told = ("verdict", "reason", "points", "read", "sentence")
        return {(row["id"], row["part"]): tuple(row[name] for name in told) for row in csv.DictReader(file)}
