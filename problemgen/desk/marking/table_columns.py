"""What the columns of tables of answers are: looked at when a table is dropped, asked where it cannot be told, kept.

What an instructor has said goes into columns.csv beside answers.json, by the table's name: the command line reads it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from problemgen.desk.calls import Dropped
from problemgen.desk.columns_shown import ColumnShown, columns_shown
from problemgen.desk.marking.place import MarkingPlace
from problemgen.errors import FaultsError
from problemgen.language.messages import N_, _
from problemgen.load.answers.answers import ANSWERS_FILE, Answers
from problemgen.load.people.known_columns import KnownColumns, known_columns
from problemgen.load.people.responses import Responses, check_columns
from problemgen.load.people.whose_rows import ATTEMPT
from problemgen.load.tables.columns import COLUMNS_FILE, ColumnNames, load_columns
from problemgen.load.tables.table import LEFT_OUT
from problemgen.pipeline.came_back import column_names, columns_for
from problemgen.pipeline.deciding import with_columns
from problemgen.write.spreadsheet import CsvLines

__all__ = [
    "ABOUT",
    "TableAsked",
    "asked_about",
    "beside",
    "changed_columns",
    "responses_in",
    "told_columns",
    "told_text",
]

ABOUT: Mapping[str, str] = {
    "id": N_("Student's id"),
    "name": N_("Name"),
    "section": N_("Section"),
    "code": N_("Code on the sheet"),
    ATTEMPT: N_("Attempt"),
}
"""Our columns about a student, as a page calls them."""


@dataclass(frozen=True)
class TableAsked:
    """A table of which it cannot be told what its columns are: its name, rows and columns, and why it is asked."""

    file: str
    rows: int
    columns: Sequence[ColumnShown]
    why: Sequence[str]


def beside(path: Path) -> Path:
    """Where it stands what was said of a table that lies aside."""
    return path.with_name(f"{path.name}.columns.csv")


def told_text(told: Sequence[tuple[str, str]]) -> bytes:
    """What is put there: of each column theirs and ours, "" for one that is left out."""
    lines = CsvLines()
    return b"".join(lines.line(row) for row in (("ours", "theirs"), *((ours or LEFT_OUT, one) for one, ours in told)))


def told_columns(built: Path, path: Path, kept: str) -> Mapping[str, str]:
    """What was said of the columns of a table that lies at a path and is kept under a name: when it was dropped.

    Else what is known of a table of that name, where it has all these columns. Raises FaultsError as reading does.
    """
    with Answers(built / ANSWERS_FILE) as answers:
        return _told(built, answers, path, kept)


def _told(built: Path, answers: Answers, path: Path, kept: str) -> Mapping[str, str]:
    if beside(path).is_file():
        return load_columns(beside(path), column_names(answers.head)).anywhere
    mine = columns_for(built, None, answers).by_file.get(kept, {})
    return mine if set(mine) <= set(_known(answers, path, mine).table.found) else {}


def _known(answers: Answers, path: Path, names: Mapping[str, str]) -> KnownColumns:
    return known_columns(path, names, answers.head.response_columns, answers.students, needs_all=False)


def _names(built: Path, answers: Answers, path: Path, kept: str) -> Mapping[str, str]:
    """What is said of the columns that a table has: of it, and of all tables."""
    anywhere = columns_for(built, None, answers).anywhere
    names = {**anywhere, **_told(built, answers, path, kept)}
    found = _known(answers, path, names).table.found
    return {theirs: ours for theirs, ours in names.items() if theirs in found}


def responses_in(built: Path, path: Path, kept: str) -> Responses:
    """The responses in one table, which lies at a path and is kept under a name. Raises what `Responses` does."""
    with Answers(built / ANSWERS_FILE) as answers:
        names = ColumnNames({}, {path.name: _names(built, answers, path, kept)})
        return Responses([path], answers.sheets, answers.head.response_columns, names, answers.not_asked)


def asked_about(built: Path, one: Dropped, path: Path, kept: str, *, always: bool = False) -> TableAsked | None:
    """What is asked about a table; None where its columns are known, unless it is asked `always`.

    Raises FaultsError for what is no table. One of a single column is none: it cannot hold ids and answers.
    """
    with Answers(built / ANSWERS_FILE) as answers:
        names = _names(built, answers, path, kept)
        known, parts = _known(answers, path, names), answers.head.response_columns
        try:
            check_columns(known, parts)
        except FaultsError:
            if len(known.table.by_heading) < 2:
                raise
        else:
            if not always:
                return None
        if not known.has_ids and len(known.holding) == 1:
            known.table.call({known.holding[0]: "id"})  # what is asked is whether it is right
        columns = columns_shown(known.table, column_names(answers.head))
        return TableAsked(one.name, sum(1 for _row in known.table), columns, [*_why(known, parts)])


def _why(known: KnownColumns, parts: Sequence[str]) -> Iterator[str]:
    """Why it is asked, in sentences."""
    for ours, theirs in known.doubts.items():
        if ours == "id" or ours in parts:
            both = ", ".join(f"“{one}”" for one in theirs)
            what = _("the student's id") if ours == "id" else ours
            yield _("Which column is {what}? It may be {columns}.").format(what=what, columns=both)
    if not known.has_ids and "id" not in known.doubts:
        yield _("No column is headed as the student's id.")
    if not set(parts) & set(known.table.columns):
        yield _("No column is headed as a part of the set.")


def changed_columns(place: MarkingPlace, told: Mapping[str, Mapping[str, str]]) -> Mapping[str, bytes | None]:
    """The change of columns.csv where the columns of tables, by their names, are what is told now; none for none.

    Raises FaultsError for a file that cannot be changed.
    """
    with Answers(place.built / ANSWERS_FILE) as answers:
        before = columns_for(place.built, None, answers).by_file
        changed = {file: names for file, names in told.items() if dict(before.get(file, {})) != dict(names)}
        if not changed:
            return {}
        return {place.told(place.built / COLUMNS_FILE): with_columns(place.built, answers, changed)}
