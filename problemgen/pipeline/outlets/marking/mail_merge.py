"""Whose feedback is which file, where the names of the files do not tell: for a mail to each student."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from pathlib import Path

from problemgen.errors import FaultsError
from problemgen.load.tables.table import Table
from problemgen.model.answers import StudentKey
from problemgen.model.verdict import StudentResult
from problemgen.pipeline.outlets.marking.feedback import FeedbackPages
from problemgen.pipeline.outlets.marking.outlet import MarkingOutlet
from problemgen.write.files import Staging
from problemgen.write.spreadsheet import CsvLines

__all__ = ["MAIL_MERGE_FILE", "MailMerge", "mailed_files"]

MAIL_MERGE_FILE = "mail-merge.csv"
_COLUMNS = ("id", "name", "section", "e-mail", "attempt", "page", "pdf")
_MAIL = ("email", "mail", "emailaddress", "mailaddress")
"""What a roster calls the column, in small letters and without what stands between them."""


_MAILED = re.compile(r"feedback/[a-z2-7]{24}\.(?:html|pdf)")


def mailed_files(grades: Path) -> list[str]:
    """The unguessable files of an earlier marking, by its table: another secret would not find them again."""
    try:
        cells = [cell for row in Table(grades / MAIL_MERGE_FILE, "id") for cell in row.cells.values()]
    except FaultsError:
        return []
    return [cell for cell in cells if _MAILED.fullmatch(cell)]


class MailMerge(MarkingOutlet):
    """mail-merge.csv: a row an attempt, with the roster's e-mail and the names of the feedback's files."""

    files = (MAIL_MERGE_FILE,)
    caution = "tells whose each file is, do not share it"

    def __init__(self, staging: Staging, pages: FeedbackPages, roster_columns: Sequence[str]) -> None:
        """`pages` names the files; one of the roster's further columns may hold the e-mail."""
        self._staging, self._pages = staging, pages
        self._mail = next((one for one in roster_columns if re.sub(r"[\W_]", "", one.casefold()) in _MAIL), None)
        self._rows: list[tuple[str, ...]] = []

    def take(self, key: StudentKey, _result: StudentResult) -> None:
        """Keep one attempt's row."""
        mail = key.more.get(self._mail, "") if self._mail is not None else ""
        files = self._pages.written_for(key.student, key.attempt)
        page, pdf = (*files, "")[:2]
        self._rows.append((key.student, key.name, key.section, mail, str(key.attempt), page, pdf))

    def close(self) -> None:
        """Write the file."""
        lines = CsvLines()
        content = b"".join(lines.line(row) for row in (_COLUMNS, *self._rows))
        self._staging.write(MAIL_MERGE_FILE, content, private=True)

    def notes(self) -> Iterator[str]:
        """Whether there is an e-mail to write to."""
        if self._mail is None:
            yield f"{MAIL_MERGE_FILE} has no e-mail: the roster needs a column e-mail, and the set is built with it."
