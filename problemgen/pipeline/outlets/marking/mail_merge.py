"""Whose feedback is which file: for a mail to each student, or the folder of a course platform.

It is written where the names of the files do not tell, and where answers were collected from files that came back.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from contextlib import suppress
from pathlib import Path

from problemgen.errors import FaultsError
from problemgen.load.tables.table import Table
from problemgen.model.answers import StudentKey
from problemgen.model.cells import unguarded
from problemgen.model.verdict import StudentResult
from problemgen.pipeline.outlets.marking.feedback import FeedbackPages
from problemgen.pipeline.outlets.marking.outlet import MarkingOutlet, MarkingRun
from problemgen.write.spreadsheet import CsvLines

__all__ = ["MAIL_MERGE_FILE", "MailMerge", "mailed_files", "mailed_to"]

MAIL_MERGE_FILE = "mail-merge.csv"
_COLUMNS = ("id", "name", "section", "e-mail", "attempt", "page", "pdf")
_CAME_AS = "came as"
_MAIL = ("email", "mail", "emailaddress", "mailaddress")
"""What a roster calls the column, in small letters and without what stands between them."""


_ATTEMPTS = frozenset("123456789")
_MAILED = re.compile(r"feedback/[a-z2-7]{24}\.(?:html|pdf)")


def mailed_files(grades: Path) -> list[str]:
    """The unguessable files of an earlier marking, by its table: another secret would not find them again."""
    try:
        cells = [cell for row in Table(grades / MAIL_MERGE_FILE, "id") for cell in row.cells.values()]
    except FaultsError:
        return []
    return [cell for cell in cells if _MAILED.fullmatch(cell)]


def mailed_to(grades: Path) -> Mapping[str, tuple[str, int]]:
    """Whose each file of feedback is, by the names in an earlier marking's table: the student's id, and the attempt."""
    found: dict[str, tuple[str, int]] = {}
    with suppress(FaultsError):
        for row in Table(grades / MAIL_MERGE_FILE, "id"):
            attempt = row.cells.get("attempt", "")
            entry = unguarded(row.cells.get("id", "")), int(attempt) if attempt in _ATTEMPTS else 1
            found |= {row.cells[column]: entry for column in ("page", "pdf") if row.cells.get(column, "")}
    return found


class MailMerge(MarkingOutlet):
    """mail-merge.csv: a row an attempt, with the roster's e-mail and the names of the feedback's files.

    Where answers were collected, it has the name of the file that they came in.
    """

    files = (MAIL_MERGE_FILE,)
    caution = "tells whose each file is, do not share it"

    def __init__(self, run: MarkingRun, pages: FeedbackPages) -> None:
        """`pages` names the files; one of the roster's further columns may hold the e-mail."""
        self._staging, self._pages, self._came_as = run.staging, pages, run.came_as
        columns = run.head.roster_columns
        self._mail = next((one for one in columns if re.sub(r"[\W_]", "", one.casefold()) in _MAIL), None)
        self._rows: list[tuple[str, ...]] = []

    def take(self, key: StudentKey, _result: StudentResult) -> None:
        """Keep one attempt's row."""
        mail = key.more.get(self._mail, "") if self._mail is not None else ""
        files = self._pages.written_for(key.student, key.attempt)
        page, pdf = (*files, "")[:2]
        row = (key.student, key.name, key.section, mail, str(key.attempt), page, pdf)
        self._rows.append((*row, self._came_as.get((key.student, key.attempt), "")) if self._came_as else row)

    def close(self) -> None:
        """Write the file."""
        lines = CsvLines()
        header = (*_COLUMNS, _CAME_AS) if self._came_as else _COLUMNS
        content = b"".join(lines.line(row) for row in (header, *self._rows))
        self._staging.write(MAIL_MERGE_FILE, content, private=True)

    def notes(self) -> Iterator[str]:
        """Whether there is an e-mail to write to."""
        if self._mail is None:
            yield f"{MAIL_MERGE_FILE} has no e-mail: the roster needs a column e-mail, and the set is built with it."
