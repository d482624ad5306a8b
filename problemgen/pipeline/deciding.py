"""Adding and removing lines of the files that an instructor decides in: overrides.csv, means.csv, columns.csv.

All other lines stay as they are, byte for byte, those too that the program reads past. A new text is checked by the
reader that marking has, before anybody writes it; who writes it is the caller's.
"""

from __future__ import annotations

import csv
import hashlib
import io
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from problemgen.errors import Fault, FaultsError
from problemgen.language.messages import _
from problemgen.load.answers.answers import Answers
from problemgen.load.people.means import MEANS_FILE, load_means
from problemgen.load.people.overrides import OVERRIDES_FILE
from problemgen.load.tables.columns import COLUMNS_FILE, load_columns
from problemgen.load.tables.csv_text import encoding_of
from problemgen.load.tables.record import named_like
from problemgen.load.tables.table import Table
from problemgen.load.tables.workbook_sheet import is_workbook
from problemgen.model.cells import guarded, unguarded
from problemgen.model.means import cell_key
from problemgen.pipeline.came_back import column_names
from problemgen.pipeline.decisions import load_decisions
from problemgen.scratch import scratch

__all__ = [
    "DecisionLine",
    "Meaning",
    "MeaningLine",
    "decision_lines",
    "meaning_lines",
    "with_columns",
    "with_decision",
    "with_meanings",
    "without",
]

_DECISION = ("student", "part", "points", "reason", "attempt")
_MEANING = ("written", "means", "part")
_COLUMN = ("ours", "theirs", "file")
_SEPARATORS = (",", ";", "\t")


@dataclass(frozen=True)
class DecisionLine:
    """A line of overrides.csv as it stands there; `id` tells it from every other."""

    id: str
    student: str
    part: str
    points: str
    reason: str
    attempt: str


@dataclass(frozen=True)
class MeaningLine:
    """A line of means.csv as it stands there; `id` tells it from every other. `part` is "" for all."""

    id: str
    written: str
    means: str
    part: str


@dataclass(frozen=True)
class Meaning:
    """What a text means in some columns; () for all in which it cannot be read."""

    written: str
    means: str
    parts: Sequence[str] = ()


def decision_lines(folder: Path) -> tuple[DecisionLine, ...]:
    """The decisions in the folder of a built set. Raises FaultsError for a file that is no table."""
    return tuple(
        DecisionLine(one, *(cells.get(column, "").strip() for column in _DECISION))
        for one, _number, cells in _lines(folder / OVERRIDES_FILE, "student")
    )


def meaning_lines(folder: Path) -> tuple[MeaningLine, ...]:
    """What cells mean, by the folder of a built set. Raises FaultsError for a file that is no table."""
    return tuple(
        MeaningLine(one, *(cells.get(column, "").strip() for column in _MEANING))
        for one, _number, cells in _lines(folder / MEANS_FILE, "written")
        if cells.get("means", "").strip()
    )


def with_decision(folder: Path, answers: Answers, decision: Mapping[str, str]) -> bytes:
    """overrides.csv with a decision more, by its columns, in the place of one about the same.

    Raises FaultsError for what marking would refuse in it, with the file's own name.
    """

    def is_same(cells: Mapping[str, str]) -> bool:
        return all(_told(cells, one) == _told(decision, one) for one in ("student", "part", "attempt")) and (
            _is_bonus(cells) == _is_bonus(decision)
        )

    path = folder / OVERRIDES_FILE
    columns = _DECISION if answers.head.attempts.several else _DECISION[:-1]
    content = _changed(path, "student", columns, [decision], is_same)
    _checked(path, content, lambda new: load_decisions(new, answers))
    return content


def with_meanings(folder: Path, answers: Answers, meanings: Sequence[Meaning]) -> bytes:
    """means.csv with what some texts mean, in the place of other meanings that they had in these columns.

    Raises FaultsError for what marking would refuse in it, with the file's own name.
    """
    wanted = [
        {"written": one.written, "means": one.means, "part": part} for one in meanings for part in one.parts or ("",)
    ]
    about = {(cell_key(one["written"]), one["part"].casefold()) for one in wanted}

    def is_same(cells: Mapping[str, str]) -> bool:
        return (cell_key(cells.get("written", "")), _told(cells, "part")) in about

    path = folder / MEANS_FILE
    content = _changed(path, "written", _MEANING, wanted, is_same)
    _checked(path, content, lambda new: load_means(new, answers.head.response_columns))
    return content


def with_columns(folder: Path, answers: Answers, told: Mapping[str, Mapping[str, str]]) -> bytes | None:
    """columns.csv with what the columns of some tables are, by the tables' names, in the place of what it said of them.

    None where no line is left. Raises FaultsError for what marking would refuse in it, with the file's own name.
    """
    path = folder / COLUMNS_FILE
    wanted = [
        {"ours": ours, "theirs": theirs, "file": file} for file, names in told.items() for theirs, ours in names.items()
    ]

    def is_same(cells: Mapping[str, str]) -> bool:
        return unguarded(cells.get("file", "").strip()) in told

    if not wanted and all(is_same(cells) for _one, _number, cells in _lines(path, "ours")):
        return None
    content = _changed(path, "ours", _COLUMN, wanted, is_same)
    _checked(path, content, lambda new: load_columns(new, column_names(answers.head)))
    return content


def without(folder: Path, name: str, line: str) -> bytes:
    """overrides.csv or means.csv without a line, by its id. Raises FaultsError where it is not there any more."""
    path = folder / name
    numbers = [number for one, number, _cells in _lines(path, _key(name)) if one == line]
    if not numbers:
        hint = _("It was changed or removed meanwhile: look at the page again.")
        raise FaultsError([Fault(str(path), "", _("no such line any more"), _("the line as it was shown"), hint)])
    text, encoding = _text(path)
    return _encoded("".join(_kept(text, path, _key(name), numbers)), encoding)


def _key(name: str) -> str:
    return "student" if name == OVERRIDES_FILE else "written"


def _told(cells: Mapping[str, str], column: str) -> str:
    return cells.get(column, "").strip().casefold()


def _is_bonus(cells: Mapping[str, str]) -> bool:
    return _told(cells, "points").startswith("bonus")


def _lines(path: Path, key: str) -> Iterator[tuple[str, int, Mapping[str, str]]]:
    """Each row with its id, its line and its cells. Rows of the same text have ids of their own."""
    if not path.exists():
        return
    seen: dict[str, int] = {}
    for row in Table(path, key):
        text = "\0".join(f"{name}\1{cell}" for name, cell in row.cells.items())
        digest = hashlib.sha256(text.encode("utf-8", "surrogateescape")).hexdigest()[:20]
        seen[digest] = seen.get(digest, 0) + 1
        yield f"{digest}-{seen[digest]}", row.line, row.cells


def _changed(
    path: Path,
    key: str,
    columns: Sequence[str],
    more: Sequence[Mapping[str, str]],
    is_same: Callable[[Mapping[str, str]], bool],
) -> bytes:
    """A file without the rows about the same, and with some more at its end."""
    if not path.exists():
        rows = [columns, *([row.get(column, "") for column in columns] for row in more)]
        return "".join(_row(cells, ",", "\r\n") for cells in rows).encode("utf-8-sig")
    table = Table(path, key)
    if key not in table.columns:  # another table: with columns added it would be read, and what it says passed over
        found, hint = (
            _("another table"),
            _("Put it right, or move it away; nothing was written over it."),
        )
        raise FaultsError([Fault(str(path), "", found, _("a table with the column {name}").format(name=key), hint)])
    text, encoding = _text(path)
    header = _file_lines(text)[table.header_line - 1]
    separator, ending = _separator(header, table), "\r\n" if header.endswith("\r\n") else "\n"
    lines = list(_kept(text, path, key, [number for _one, number, cells in _lines(path, key) if is_same(cells)]))
    missing = [one for one in columns if one not in table.columns and any(row.get(one) for row in more)]
    lines[table.header_line - 1] = separator.join([header.rstrip("\r\n"), *missing]) + ending
    if not lines[-1].endswith(("\r", "\n")):
        lines[-1] += ending
    names = (*table.found, *missing)
    lines += (_row([row.get(name, "") for name in names], separator, ending) for row in more)
    return _encoded("".join(lines), encoding)


def _row(cells: Sequence[str], separator: str, ending: str) -> str:
    buffer = io.StringIO()
    csv.writer(buffer, delimiter=separator, lineterminator=ending).writerow([guarded(one) for one in cells])
    return buffer.getvalue()


def _kept(text: str, path: Path, key: str, numbers: Sequence[int]) -> Iterator[str]:
    """The lines of a text without the rows that begin on some of them."""
    lines = _file_lines(text)
    table = Table(path, key)
    separator = _separator(lines[table.header_line - 1], table)
    gone: set[int] = set()
    for number in numbers:
        reader = csv.reader(lines[number - 1 :], delimiter=separator)
        next(reader)
        gone.update(range(number, number + reader.line_num))
    return (line for number, line in enumerate(lines, start=1) if number not in gone)


def _file_lines(text: str) -> list[str]:
    """The lines of a text as the reader of tables counts them."""
    return list(io.StringIO(text, newline=""))


def _separator(header: str, table: Table) -> str:
    """What stands between the cells of a table, by its header."""
    for one in _SEPARATORS:
        cells = next(csv.reader([header.lstrip("\ufeff")], delimiter=one), [])
        if tuple(map(named_like, cells)) == tuple(table.found):
            return one
    hint = _("Save it once more, with commas between its cells.")
    raise FaultsError([Fault(table.file, "", _("an unusual separator"), _("commas, semicolons or tabs"), hint)])


def _text(path: Path) -> tuple[str, str]:
    """A file's text, with its encoding. Raises FaultsError for a workbook, and for damaged text."""
    if is_workbook(path):
        hint = _("Save it as CSV under this name.")
        raise FaultsError([Fault(str(path), "", _("a workbook"), _("text, to which a line can be added"), hint)])
    encoding = encoding_of(path)
    try:
        text = path.read_bytes().decode(encoding, "surrogateescape" if encoding.startswith("utf-8") else "strict")
    except UnicodeDecodeError as error:
        hint = _("Save it once more as CSV in UTF-8; nothing was written over it.")
        found = _("bytes that are no text in {encoding}").format(encoding=error.encoding)
        raise FaultsError([Fault(str(path), "", found, _("text, to which a line can be added"), hint)]) from None
    return text, encoding


def _encoded(text: str, encoding: str) -> bytes:
    """A text in the encoding that it had; in UTF-8 where that has not all of its letters."""
    try:
        return text.encode(encoding, "surrogateescape" if encoding.startswith("utf-8") else "strict")
    except UnicodeEncodeError:
        return text.encode("utf-8-sig")


def _checked(path: Path, content: bytes, read: Callable[[Path], object]) -> None:
    """Have a new text read by the reader of marking, aside. Raises its FaultsError, under the file's own name."""
    with scratch() as place:
        aside = place / path.name
        aside.write_bytes(content)
        try:
            read(aside)
        except FaultsError as error:
            raise error.of_file(str(aside), path.name) from None
