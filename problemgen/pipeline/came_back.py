"""The tables of responses to a built set, read by what its folder says of their columns."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from problemgen.load.answers.answers import Answers
from problemgen.load.people.responses import Responses
from problemgen.load.people.whose_rows import about_columns
from problemgen.load.tables.columns import COLUMNS_FILE, ColumnNames, load_columns
from problemgen.model.answers import KeyHead

__all__ = ["column_names", "columns_for", "responses_to"]


def column_names(head: KeyHead) -> tuple[str, ...]:
    """Our names for the columns of responses to a set: those about the student, and those that are marked."""
    return (*about_columns(head.attempts.number), *head.response_columns)


def columns_for(folder: Path, file: Path | None, answers: Answers) -> ColumnNames:
    """How tables name our columns by a file; without one, by columns.csv in the set's folder, where there is one.

    Raises:
        FaultsError: all faults of the file at once, with their lines.
    """
    path = file or folder / COLUMNS_FILE
    if file is None and not path.exists():
        return ColumnNames()
    return load_columns(path, column_names(answers.head))


def responses_to(answers: Answers, folder: Path, tables: Sequence[Path], columns: Path | None = None) -> Responses:
    """The responses in some tables to the set that is built in a folder. Raises what `Responses` and `columns_for` do.

    `columns` tells how the tables name our columns, in the place of the folder's file.
    """
    names = columns_for(folder, columns, answers)
    return Responses(tables, answers.sheets, answers.head.response_columns, names, answers.not_asked)
