"""typed-papers.csv: a table of responses with the papers that are typed, or begun.

It is read afresh each time, for somebody may have it open in a spreadsheet, and written whole, aside first: rows and
columns of others stay as they are. A cell is put in the place only of what the page has seen there.
"""

from __future__ import annotations

import re
import threading
import time
from collections.abc import Iterator, Mapping, Sequence
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass
from itertools import islice
from pathlib import Path
from typing import Literal, TypeAlias

from problemgen.errors import Fault, FaultsError, OutputError, ProblemgenError
from problemgen.language.messages import _
from problemgen.load.people.typed_responses import Typed, typed_rows
from problemgen.load.people.whose_rows import TYPED, Entry, about_columns
from problemgen.load.tables.record import Record
from problemgen.load.tables.table import Row
from problemgen.model.cells import guarded, unguarded
from problemgen.pipeline.typed_papers.book import PaperBook
from problemgen.pipeline.typed_papers.paper import sheets_of
from problemgen.write.files import Staging, settle
from problemgen.write.spreadsheet import plain_lines

__all__ = ["TYPED_FILE", "ChangedMeanwhileError", "PaperStanding", "PaperState", "Pile"]

TYPED_FILE = "typed-papers.csv"
"""What the table is called, in the folder of what was returned."""

_LONGEST = 1000
"""Characters of a cell: five times the longest answer that is read."""

_SHOWN = 5
"""Rows of nobody that are told: with more, it is another class's table."""

_TRIES, _PAUSE = 40, 0.05
"""How often another run is waited for that writes there, and for how long: two seconds, a save being milliseconds."""

_ALONE = threading.Lock()
"""One thread of this process is at a pile at a time: a save is a look at the file and its change."""

_NO_TEXT = re.compile("[\0-\x1f\x7f-\x9f\u2028\u2029\ud800-\udfff\ufeff\ufffd]+")
"""Line breaks, what a reader of tables takes for damage, and halves of characters, which no encoding has."""

PaperState: TypeAlias = Literal["typed", "begun", "missing"]


class ChangedMeanwhileError(ProblemgenError):
    """A cell that holds something else than the page has seen there: `found` is what it holds."""

    def __init__(self, found: str) -> None:
        """Say what it holds."""
        super().__init__(_("It was changed meanwhile: {found} stands there now.").format(found=found or "–"))
        self.found = found


@dataclass(frozen=True)
class PaperStanding:
    """How far a paper is: the fields that are filled in, of how many; `blank` are the others' columns.

    It is typed where nothing is blank, or where all its sheets (`ended`) were gone through to their end.
    """

    entry: Entry
    filled: int
    blank: tuple[str, ...]
    ended: frozenset[int]
    state: PaperState


class Pile:
    """The papers of a set that are typed by hand, in a folder of what was returned."""

    def __init__(self, folder: Path, book: PaperBook) -> None:
        """Take the folder, which need not be there."""
        self.folder, self._path, self._book = folder, folder / TYPED_FILE, book
        self._about = about_columns(book.rows.attempts)

    @property
    def version(self) -> str:
        """When the file was written last, so that versions in the order of letters are in that of time."""
        try:
            return f"{self._path.stat().st_mtime_ns:020d}"
        except OSError:
            return "0" * 20

    def cells(self, entry: Entry) -> Mapping[str, str]:
        """What a paper's row holds, by column, as `problemgen grade` reads it; "" throughout where there is none.

        Raises:
            FaultsError: for a file that is no such table, or cannot be read without doubt.
            OutputError: for what a killed run has begun to write there, and cannot be finished.
        """
        with _ALONE:
            return self._cells(self._rows(self._table()).get(entry))

    def standings(self) -> tuple[PaperStanding, ...]:
        """How far each paper of the set is, in the order of the class. Raises what `cells` does."""
        with _ALONE:
            rows = self._rows(self._table())
        return tuple(self._standing(entry, self._cells(row := rows.get(entry)), row) for entry in self._book.sheets)

    def strangers(self) -> tuple[str, ...]:
        """What is told of rows that are nobody's in the set, some of them: they are kept, not marked.

        Raises what `cells` does.
        """
        with _ALONE:
            table = self._table()
        found = (self._book.rows.whose(one) for _place, one in self._read(table))
        return tuple(islice((remark for one in found if one.entry is None for remark in one.remarks), _SHOWN))

    def remarks(self, entry: Entry) -> tuple[str, ...]:
        """What is odd about a paper's row: that it has the code of other sheets. Raises what `cells` does."""
        with _ALONE:
            row = self._rows(self._table()).get(entry)
        return self._book.rows.whose(Row(row[0], dict(row[1]))).remarks if row is not None else ()

    def keep(self, entry: Entry, column: str, cell: str, before: str) -> None:
        """Put an answer into its cell, where the cell holds what it was seen to hold `before`, or the same already.

        Raises:
            ChangedMeanwhileError: for a cell that holds something else.
            FaultsError: for an answer that is too long; for a file that cannot be read without doubt.
            OutputError: for a folder that cannot be written.
        """
        cell = _clean(cell)
        if len(cell) > _LONGEST:
            found = _("an answer of {count} characters").format(count=len(cell))
            raise FaultsError([Fault("", column, found, _("at most {count}").format(count=_LONGEST))])
        with self._changing() as table:
            row = self._rows(table).get(entry)
            there = unguarded(row[1].get(column, "")) if row is not None else ""
            if there.strip() == cell:
                return
            if there.strip() != _clean(before):
                raise ChangedMeanwhileError(there)
            self._put(table, entry, row, {column: guarded(cell)})

    def end(self, entry: Entry, sessions: Sequence[int]) -> None:
        """Note that sheets of a paper are typed to their end. Raises FaultsError and OutputError as `keep` does."""
        with self._changing() as table:
            row = self._rows(table).get(entry)
            ended = _ended(row[1] if row is not None else {})
            if not ended.issuperset(sessions):
                self._put(table, entry, row, {TYPED: " ".join(map(str, sorted({*ended, *sessions})))})

    def clear(self, entry: Entry) -> Mapping[str, str]:
        """Take a paper's answers out; gives them, as `restore` takes them. What others have put beside them stays.

        Raises FaultsError and OutputError as `keep` does.
        """
        with self._changing() as table:
            row = self._rows(table).get(entry)
            if row is None:
                return {}
            place, cells = row
            taken = {name: cells.get(name, "") for name in (*self._book.head.response_columns, TYPED)}
            taken = {name: cell for name, cell in taken.items() if cell.strip()}
            if any(cell.strip() for name, cell in cells.items() if name not in (*self._about, *taken)):
                self._put(table, entry, row, dict.fromkeys(taken, ""))
            else:
                table.drop(place)
            return taken

    def restore(self, entry: Entry, cells: Mapping[str, str]) -> None:
        """Put answers back that were taken out; where something was typed since, that stays.

        Raises FaultsError and OutputError as `keep` does.
        """
        with self._changing() as table:
            row = self._rows(table).get(entry)
            there = row[1] if row is not None else {}
            free = {name: cell for name, cell in cells.items() if not there.get(name, "").strip()}
            self._put(table, entry, row, free)

    # reading

    def _table(self) -> Typed:
        """The table as it is now; one with a header alone where there is none."""
        header = (*self._about, *self._book.head.response_columns, TYPED)
        try:
            if self.folder.is_dir():
                settle(self.folder)
            return typed_rows(self._path) or Typed((), Record(1, header), ())
        except (ValueError, OSError) as error:
            found = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
            hint = _("Put it right in a spreadsheet, or move it away; nothing is typed over it.")
            raise FaultsError([Fault(str(self._path), "", found, _("a table of answers"), hint)]) from None

    def _read(self, table: Typed) -> Iterator[tuple[int, Row]]:
        return ((place, Row(place, dict(cells))) for place, cells in table.row_cells() if any(cells.values()))

    def _rows(self, table: Typed) -> dict[Entry, tuple[int, Mapping[str, str]]]:
        """The row of each paper, as a marking takes it: the last one with answers; without any, the last one."""
        found: dict[Entry, tuple[int, Mapping[str, str]]] = {}
        for place, row in self._read(table):
            entry = self._book.rows.entry(row)
            before = found.get(entry) if entry is not None else None
            if entry is not None and (
                before is None or self._has_answers(row.cells) or not self._has_answers(before[1])
            ):
                found[entry] = place, row.cells
        return found

    def _has_answers(self, cells: Mapping[str, str]) -> bool:
        return any(cells.get(column, "").strip() for column in self._book.head.response_columns)

    def _cells(self, row: tuple[int, Mapping[str, str]] | None) -> Mapping[str, str]:
        cells = row[1] if row is not None else {}
        return {column: cells.get(column, "") for column in self._book.head.response_columns}

    def _standing(
        self, entry: Entry, cells: Mapping[str, str], row: tuple[int, Mapping[str, str]] | None
    ) -> PaperStanding:
        others = self._book.not_asked.get(entry, ())
        columns = [column for column in self._book.head.response_columns if column not in others]
        blank = tuple(column for column in columns if not cells[column].strip())
        ended = _ended(row[1]) if row is not None else frozenset()
        state: PaperState = "begun" if len(blank) < len(columns) or ended else "missing"
        if not blank or (ended and ended.issuperset(sheets_of(self._book, entry))):
            state = "typed"
        return PaperStanding(entry, len(columns) - len(blank), blank, ended, state)

    # writing

    @contextmanager
    def _changing(self) -> Iterator[Typed]:
        """The table as it is now, to be changed: it is written where it was, and nobody else writes meanwhile."""
        with _ALONE, ExitStack() as stack:
            staging = self._entered(stack)
            table = self._table()
            yield table
            if table.is_changed:
                staging.write(TYPED_FILE, plain_lines(table.rows))

    def _entered(self, stack: ExitStack) -> Staging:
        for _try in range(_TRIES - 1):
            try:
                return stack.enter_context(Staging(self.folder, only=TYPED_FILE, replace=True))
            except OutputError:
                time.sleep(_PAUSE)
        return stack.enter_context(Staging(self.folder, only=TYPED_FILE, replace=True))

    def _put(
        self, table: Typed, entry: Entry, row: tuple[int, Mapping[str, str]] | None, cells: Mapping[str, str]
    ) -> None:
        """Put cells into a paper's row, or a new one; columns that the table lacks are added."""
        table.complete([(*self._about, *self._book.head.response_columns, TYPED)])
        if row is not None:
            table.put(row[0], cells)
            return
        student, attempt = entry
        name, section = self._book.people[student]
        who = dict(zip(self._about, (student, name, section, self._book.sheets[entry], str(attempt)), strict=False))
        table.put(None, {**{column: guarded(cell) for column, cell in who.items()}, **cells})


def _ended(cells: Mapping[str, str]) -> frozenset[int]:
    """The sheets that were typed to their end."""
    return frozenset(int(one) for one in cells.get(TYPED, "").split() if one.isdecimal() and one.isascii())


def _clean(text: str) -> str:
    """An answer as a cell holds it: on one line, without what no text has. Blanks within it may tell how it is read."""
    return _NO_TEXT.sub(" ", text).strip()
