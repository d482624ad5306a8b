"""A class that has handed in: right answers of a built set, and among them what students make of a table."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping
from pathlib import Path

from problemgen.pipeline.answer_book import open_answers

__all__ = ["MESS", "right_answers", "table"]

MESS: Mapping[str, Mapping[str, str]] = {
    "a01": {"1a": "see my notebook", "2a": "=cmd|'/c calc'!A1", "2f": "<script>alert(1)</script>", "2g": "x" * 10_000},
    "a02": {"1a": "See  my notebook", "1b": "1,234 mmol", "1c": "-", "2e": "silver nitrat", "2c": "about a spoonful"},
    "a03": {"1d": "12,345", "2a": "3 kg", "2f": ""},
}
"""What is not readable, hostile, ambiguous, misspelt, blank, of another kind."""


def right_answers(folder: Path) -> dict[str, dict[str, str]]:
    """Each student's right answers as the key prints them, by column."""
    with open_answers(folder) as book:
        return {
            student: {
                f"{problem.label}{part.label}": f"{part.answer} {part.unit}".strip()
                for problem in book.problems(student)
                for part in problem.parts
            }
            for student in book.students
        }


def table(answers: Mapping[str, Mapping[str, str]], changes: Mapping[str, Mapping[str, str]] = MESS) -> bytes:
    """A table of responses, with other cells for some."""
    columns = sorted({column for row in answers.values() for column in row})
    text = io.StringIO()
    writer = csv.writer(text)
    writer.writerow(["id", *columns])
    for student, row in answers.items():
        mine = {**row, **changes.get(student, {})}
        writer.writerow([student, *(mine[column] for column in columns)])
    return text.getvalue().encode()
