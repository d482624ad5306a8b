"""Marking responses, against reading the CSV and comparing floats within 1 %."""

from __future__ import annotations

import csv
import tempfile
import time
from collections.abc import Mapping
from pathlib import Path

from bench_class import RIGHT, WRONG, responses, write_answers, write_responses
from bench_table import best_of, note, print_table, times

from problemgen.grade.judging.judge import judge_student
from problemgen.load.answers.answers import Answers
from problemgen.load.people.responses import Responses
from problemgen.model.answers import KeyHead, StudentKey
from problemgen.model.truths import ChoiceTruth, number_in
from problemgen.pipeline.mark import MarkingRequest, mark_set
from problemgen.pipeline.outlets.marking.outlet import FeedbackChoices

__all__ = ["marking"]

STUDENTS = 200

Keys = dict[str, dict[str, float | str]]  # student -> column -> number, or the name of a substance


def marking() -> None:
    """Print the figures of marking one class."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        answers_file, responses_file = write_answers(folder, STUDENTS), folder / "responses.csv"
        write_responses(answers_file, responses_file)
        with Answers(answers_file) as answers:
            head, keys = answers.head, {key.student: key for key in answers}
            cells = {student: row for student, _, row in Responses((responses_file,), answers.sheets, head.columns)}
        count = _count(cells)
        bare_keys = _bare_keys(head, keys)
        bare, right = best_of(lambda: _bare(responses_file, bare_keys))
        judged = _judged(head, keys, cells)
        alike = {
            sort: {one: responses(head, key, lucks) for one, key in keys.items()}
            for sort, lucks in (("right", RIGHT), ("wrong", WRONG))
        }
        rates = {sort: _count(theirs) / _judged(head, keys, theirs) for sort, theirs in alike.items()}
        pages, prints = (_whole(folder, responses_file, pdf=pdf) for pdf in (False, True))
    print_table(
        "Marking",
        ("", "responses/s", "ratio"),
        [
            ("bare: CSV read, floats within 1 %", f"{count / bare:,.0f}", ""),
            ("judge_student alone", f"{count / judged:,.0f}", times(judged / bare)),
            *(
                (f"  of a class with all {sort}", f"{rate:,.0f}", times(count / bare / rate))
                for sort, rate in rates.items()
            ),
            ("mark: all tables, report, worked pages", f"{count / pages:,.0f}", times(pages / bare)),
            ("and a PDF a student", f"{count / prints:,.0f}", times(prints / bare)),
        ],
    )
    note(f"{STUDENTS} students, {count} responses; bare finds {right / count:.0%} right.")


def _count(cells: Mapping[str, Mapping[str, str]]) -> int:
    """How many responses a class has."""
    return sum(map(len, cells.values()))


def _judged(head: KeyHead, keys: Mapping[str, StudentKey], cells: Mapping[str, Mapping[str, str]]) -> float:
    """Seconds of judging a class."""
    return best_of(lambda: [judge_student(head, keys[one], row) for one, row in cells.items()], 3)[0]


def _whole(folder: Path, responses_file: Path, *, pdf: bool) -> float:
    """Seconds of a whole marking."""
    start = time.perf_counter()
    request = MarkingRequest(folder, (responses_file,), folder / f"grades {pdf}", feedback=FeedbackChoices(pdf=pdf))
    mark_set(request, lambda *_: None)
    return time.perf_counter() - start


def _bare_keys(head: KeyHead, keys: Mapping[str, StudentKey]) -> Keys:
    bare: Keys = {}
    for student, key in keys.items():
        columns = bare.setdefault(student, {})
        for problem in key.problems:
            template = head.templates[problem.template]
            for part in template.parts:
                truth = problem.truths[part.id]
                is_choice = isinstance(truth, ChoiceTruth)
                right = template.scene.species[truth.choice].name if is_choice else float(number_in(truth).value)
                columns[f"{problem.problem.removeprefix('p')}{part.label}"] = right
    return bare


def _bare(path: Path, keys: Keys) -> int:
    """How many cells are right, for a program that reads floats and knows the names."""
    right = 0
    with path.open(newline="", encoding="utf-8") as file:
        for row in csv.DictReader(file):
            for column, truth in keys[row["id"]].items():
                right += _is_right(row[column], truth)
    return right


def _is_right(cell: str, truth: float | str) -> bool:
    if isinstance(truth, str):
        return cell == truth
    try:
        return abs(float(cell.partition(" ")[0]) - truth) <= 0.01 * abs(truth)
    except ValueError:
        return False
