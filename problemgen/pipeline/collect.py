"""One collection: what came back from a class in; a table of responses for marking out, and a list of what is odd."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import TypeAlias

from problemgen.load.answers.answers import Answers
from problemgen.load.people.whose_rows import FILE
from problemgen.load.returns.archive import Returns
from problemgen.load.returns.read import read_returned
from problemgen.model.problem_set import Student
from problemgen.model.returned import Filled, Returned, Unread
from problemgen.pipeline.arguments import AnyPath, checked
from problemgen.pipeline.built import open_built, sealing_secret
from problemgen.pipeline.earlier import Entry
from problemgen.pipeline.progress import Progress, silent
from problemgen.pipeline.scanned import ScanReport, earlier_scans, sort_scans
from problemgen.pipeline.single_file import check_single_file
from problemgen.pipeline.which_returns import Listed, Taken, WhoseReturns, counting
from problemgen.render.classes.grades import blank_responses
from problemgen.write.apart import ENDED, apart
from problemgen.write.files import Staging
from problemgen.write.spreadsheet import CsvLines

__all__ = ["CollectReport", "collect"]

_LONGEST = 20.0
"""Seconds for one file: a sheet takes some thousandths of one."""

_COLUMNS = ("file", "id", "attempt", "counts", "reason")

_Chosen: TypeAlias = tuple[Mapping[str, str], str, tuple[Listed, ...]]
"""What `counting` gives."""


@dataclass(frozen=True)
class CollectReport:
    """What was taken and written.

    `out` is the table of responses, `listed` that of files about which something is to be known, a message each in
    `messages`. `to_look_at` is about all files; `notes` are what may be known.
    """

    out: Path
    listed: Path
    files: int
    taken: int  # attempts with answers
    absent: int  # students of whom nothing came back
    messages: tuple[str, ...]
    to_look_at: tuple[str, ...]
    notes: tuple[str, ...]


@checked
def collect(
    folder: AnyPath, returns: AnyPath, out: AnyPath, *, replace: bool = False, progress: Progress = silent
) -> CollectReport:
    """Take the answers out of what came back, and write them as a table of responses.

    `folder` is that of the built set, `returns` a folder or an archive as a course platform hands it out. Whose a file
    is its stamp tells, never its name. Of several of one student the later counts. `out` is the table to be written;
    beside it, under its name with "-unread", stands what could not be read or is odd, and in a folder under its name
    with "-scans" the pages that were scanned, by student. `replace` overwrites them.

    Raises:
        FaultsError: for the built folder as marking does; for `returns` that cannot be read.
        OutputError: for files that cannot be written, or are there already.
    """
    table = Path(out)
    check_single_file(table)
    listed = table.with_name(f"{table.stem}-unread.csv")
    built = open_built(Path(folder))
    with (
        built as answers,
        Returns(Path(returns)) as came_back,
        Staging(table.resolve().parent, only=table.name, replace=replace) as staging,
    ):
        scans = f"{table.stem}-scans"
        staging.expect([table.name, listed.name, scans])
        staging.supersede(f"{scans}/{name}" for name in earlier_scans(table.with_name(scans)))
        students = {key.student: Student(key.student, key.name, key.section) for key in answers}
        whose = WhoseReturns(answers, sealing_secret(built), {one.id: one.name for one in students.values()})
        ours = (table.resolve(), listed.resolve())
        files = [one for one in came_back.files if one.path.resolve() not in ours]
        found = _sorted(files, whose, progress)
        chosen = {entry: counting(files) for entry, files in found.taken.items()}
        pages = sort_scans(found.unmarked, answers, staging, scans, progress)
        unread = [Unread(name, reason) for name, reason in pages.unread.items()]
        told = [row for _, _, rows in chosen.values() for row in rows]
        told += (Listed(one.name, "", "", False, (one.reason,)) for one in (*came_back.refused, *found.unread, *unread))
        staging.write(table.name, _table(answers, list(students.values()), chosen), private=True)
        staging.write(listed.name, _list(sorted(told, key=lambda row: row.file)), private=True)
    return CollectReport(
        out=table,
        listed=listed,
        files=len(files) + len(came_back.refused),
        taken=sum(bool(cells) for cells, _, _ in chosen.values()),
        absent=len(set(answers.students) - {student for student, _ in chosen} - pages.came),
        messages=(*(str(row) for row in sorted(told, key=lambda row: row.file)), *pages.remarks),
        to_look_at=(built.doubt,) if built.doubt and not built.is_public else (),
        notes=(*_scanned(pages, scans), *_left_out(came_back.left_out)),
    )


@dataclass(frozen=True)
class _Sorted:
    """The files by the attempt whose sheets they are, and those that are nobody's.

    `unmarked` are those that say of no sheet to be its: pages that were printed and scanned. Whose they are, the codes
    on them may tell.
    """

    taken: dict[Entry, list[Taken]] = field(default_factory=dict)
    unread: list[Unread] = field(default_factory=list)
    unmarked: list[Returned] = field(default_factory=list)


def _sorted(files: Sequence[Returned], whose: WhoseReturns, progress: Progress) -> _Sorted:
    """Read each file in a process that is ended where the file is made to stall it."""
    found = _Sorted()
    held = apart(read_returned, [(file,) for file in files], _LONGEST, None)
    for done, (file, read) in enumerate(zip(files, held, strict=True), start=1):
        told = read or Unread(file.name, f"not read: {ENDED}")
        one = whose.taken(file, told) if isinstance(told, Filled) else told
        if isinstance(one, Taken):
            found.taken.setdefault(one.entry, []).append(one)
        elif one.is_unmarked and file.kind in ("pdf", "picture"):
            found.unmarked.append(file)
        else:
            found.unread.append(one)
        progress("reading", done, len(files))
    return found


def _table(answers: Answers, students: Sequence[Student], chosen: Mapping[Entry, _Chosen]) -> bytes:
    """The table of responses: a row an attempt, as a build writes it, with the name of the file at the end."""
    columns, attempts = answers.head.response_columns, answers.head.attempts.number
    header, *rows = blank_responses(students, answers.sheets, columns, attempts)
    lines = CsvLines()
    content = [lines.line((*header, FILE))]
    entries = ((student.id, attempt) for student in students for attempt in range(1, attempts + 1))
    for entry, row in zip(entries, rows, strict=True):
        cells, file, _ = chosen.get(entry, ({}, "", ()))
        about = row[: len(row) - len(columns)]
        content.append(lines.line((*about, *(cells.get(column, "") for column in columns), file)))
    return b"".join(content)


def _list(rows: Iterable[Listed]) -> bytes:
    lines = CsvLines()
    content = [lines.line(_COLUMNS)]
    for row in rows:
        counts = "yes" if row.counts else "no"
        content.append(lines.line((row.file, row.student, row.attempt, counts, "; ".join(row.reasons))))
    return b"".join(content)


def _scanned(pages: ScanReport, folder: str) -> Iterator[str]:
    """What became of pages that were scanned: nobody reads handwriting here."""
    if pages.sorted:
        whose = "one student" if len(pages.came) == 1 else f"{len(pages.came)} students"
        yield (
            f"Scanned pages of {whose} ({pages.sorted}) lie in {folder}/, in the order of the sheets; what is "
            "written on them is not read."
        )


def _left_out(number: int) -> tuple[str, ...]:
    """What nobody hands in."""
    return (f"{number} files that systems put beside others were left out.",) if number else ()
