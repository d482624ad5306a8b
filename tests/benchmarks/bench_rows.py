"""A class of 20,000 whose file has two broken rows in a hundred: every row accounted for, and what that costs.

Bare: `csv.reader` over the same text.
"""

from __future__ import annotations

import csv
import resource
import tempfile
import time
from collections.abc import Iterable
from itertools import pairwise
from pathlib import Path

from bench_table import best_of, note, print_table, times

from problemgen.grade.classes.whose_numbers import WhoseNumbers
from problemgen.grade.judging.judge import judge_student
from problemgen.load.answers.answers import ANSWERS_FILE, Answers
from problemgen.load.people.responses import Responses
from problemgen.model.total import total_of
from problemgen.render.classes.grades import gradebook_columns, gradebook_text
from problemgen.write.workbook import SheetWriter
from tests.support.broken_rows import Written, write_broken
from tests.support.many import many_answers, many_students

__all__ = ["rows"]

STUDENTS = 20_000


def rows() -> None:
    """Print the figures of one class."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        built, file = many_answers(folder, STUDENTS), folder / "responses.csv"
        written = write_broken(file, [student.id for student in many_students(STUDENTS)], STUDENTS // 100)
        bare, _ = best_of(lambda: _bare(file), 3)
        with Answers(built / ANSWERS_FILE) as answers:
            read, responses = best_of(lambda: _read(file, answers), 3)
            before = _memory()
            judged, compared, packed = _marked(answers, responses)
            grown = _memory() - before
            account = _account(written, responses)
    print_table(
        "A file with broken rows",
        ("", "rows/s", "ratio"),
        [
            ("bare: csv.reader", f"{STUDENTS / bare:,.0f}", ""),
            ("rows read, matched and listed", f"{STUDENTS / read:,.0f}", times(read / bare)),
            ("and judged", f"{STUDENTS / judged:,.0f}", times(judged / bare)),
            ("whose numbers: the class compared", f"{STUDENTS / compared:,.0f}", times(compared / bare)),
            ("gradebook.xlsx", f"{STUDENTS / packed:,.0f}", times(packed / bare)),
        ],
    )
    note(account)
    note(f"memory grown while marking: {grown / 1024:.0f} MB.")


def _bare(file: Path) -> int:
    csv.field_size_limit(1 << 27)
    with file.open(encoding="utf-8", errors="replace", newline="") as lines:
        return sum(1 for _ in csv.reader(line.replace("\0", "") for line in lines))


def _read(file: Path, answers: Answers) -> Responses:
    responses = Responses((file,), answers.sheets, answers.head.columns)
    assert sum(1 for _ in responses) == len(responses.handed_in)
    return responses


def _marked(answers: Answers, responses: Responses) -> tuple[float, float, float]:
    """The seconds for judging, for comparing the class, and for the workbook."""
    numbers, sheet, judging = WhoseNumbers(answers.head.templates), SheetWriter("Gradebook", (), ()), 0.0
    columns = gradebook_columns(answers.head.columns)
    for student, _, cells in responses:
        start = time.perf_counter()
        key = answers.student(student)
        result = judge_student(answers.head, key, cells)
        judging += time.perf_counter() - start
        numbers.take(key, result)
        total = total_of(result, {})
        sheet.row([gradebook_text(column.value(total)) for column in columns])
    start = time.perf_counter()
    numbers.found()
    middle = time.perf_counter()
    assert sheet.content()
    return judging, middle - start, time.perf_counter() - middle


def _account(written: Written, responses: Responses) -> str:
    marks = {cells["1a"] for _, _, cells in responses}
    listed = {word for remark in responses.remarks for word in _lines(remark.split())}
    lost = sum(
        mark not in marks and str(line) not in listed for line, mark in zip(written.lines, written.marks, strict=True)
    )
    return (
        f"{len(written.lines)} rows, {written.broken} of them broken: {len(marks)} marked, "
        f"{len(responses.remarks)} remarks, {lost} rows unaccounted for."
    )


def _lines(words: list[str]) -> Iterable[str]:
    """The numbers behind the word "line"."""
    return (after.rstrip(":") for before, after in pairwise(words) if before == "line")


def _memory() -> int:
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
