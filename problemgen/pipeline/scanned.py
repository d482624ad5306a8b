"""Scanned pages sorted: into one PDF a student, with a list of what is missing, double, blank, foreign or not read."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

from problemgen.load.answers.answers import Answers
from problemgen.load.returns.scans import count_pages, read_page
from problemgen.model.page_code import SLIP, PageCode, build_mark
from problemgen.model.returned import Returned
from problemgen.model.scanned import Picture, ScannedPage
from problemgen.pipeline.earlier import Entry, file_stem
from problemgen.pipeline.progress import Progress, silent
from problemgen.write.apart import ENDED, apart
from problemgen.write.files import Staging
from problemgen.write.pictures import Aside, aside, picture_book
from problemgen.write.spreadsheet import CsvLines

__all__ = ["ScanReport", "earlier_scans", "sort_scans"]

_PAGES_FILE = "pages.csv"
_UNSORTED = "unsorted"
_COLUMNS = ("file", "page of file", "what", "id", "attempt", "sheet", "page", "of", "remark")
_SECONDS = 30.0
"""For a page, or for a look at a file: a page takes a tenth of one."""


@dataclass(frozen=True)
class ScanReport:
    """What became of the pages.

    `remarks` has a line for each thing to look at: a page that is nobody's, one that came twice, those that lack.
    `unread` has the files that cannot be read, by name, with the reason; `came` are the students of whom pages came.
    """

    pages: int
    sorted: int
    blank: int
    unsorted: int
    came: frozenset[str] = frozenset()
    unread: Mapping[str, str] = field(default_factory=dict)
    remarks: tuple[str, ...] = ()


def sort_scans(
    files: Sequence[Returned], answers: Answers, staging: Staging, folder: str, progress: Progress = silent
) -> ScanReport:
    """Sort scanned pages into `FOLDER/ID.pdf` (`FOLDER/ID-2.pdf` for a second attempt), in the order of the sheets.

    `files` are PDF, PNG or JPEG, the pages in any order and turned in any way; `answers` is the opened answers.json of
    the build whose sheets they are. Whose a page is, its code alone decides. A page that came twice is kept twice. What
    cannot be sorted is kept in `FOLDER/unsorted.pdf`, in the order in which it came; pages with nothing on them are
    left out. `FOLDER/pages.csv` has a row for every page that came, and one for every page that is missing. Nothing is
    written where nothing came.

    A file that cannot be read is a remark, and the others are sorted all the same. Raises OutputError where there is
    no room, and what `staging.write` raises.
    """
    with aside() as place:
        came = list(_read(files, place, progress))
        if not came:
            return ScanReport(0, 0, 0, 0)
        pile = _Pile(answers)
        rows = [pile.row(one) for one in came]
        missing = list(pile.missing())
        for done, (entry, pages) in enumerate(pile.sorted(), start=1):
            _write(staging, place, folder, file_stem(*entry), pages)
            progress("binding", done, len(pile.students))
        unsorted = [one for one, row in zip(came, rows, strict=True) if row.what == "unsorted"]
        if any(one.picture is not None for one in unsorted):
            taken = {file_stem(*entry).casefold() for entry in pile.students}
            _write(staging, place, folder, f"{_UNSORTED}~" if _UNSORTED in taken else _UNSORTED, unsorted)
    table = [*rows, *missing]
    lines = CsvLines()
    cells = b"".join(map(lines.line, (_COLUMNS, *(row.cells for row in table))))
    staging.write(f"{folder}/{_PAGES_FILE}", cells, private=True)
    counts = {what: sum(row.what == what for row in rows) for what in ("sorted", "double", "blank", "unsorted")}
    return ScanReport(
        pages=sum(bool(row.page_of_file) for row in rows),
        sorted=counts["sorted"] + counts["double"],
        blank=counts["blank"],
        unsorted=counts["unsorted"],
        came=frozenset(student for student, _ in pile.students),
        unread=_unread(rows),
        remarks=tuple(_remarks(rows, missing)),
    )


def earlier_scans(folder: Path) -> list[str]:
    """The files that an earlier run has written into a folder of scans."""
    return [*sorted(path.name for path in folder.glob("*.pdf")), _PAGES_FILE] if folder.is_dir() else []


@dataclass(frozen=True)
class _Came:
    """A page that came: from which file and place in it, from 1 (0 for the file as a whole), and where it is kept."""

    file: str
    number: int
    page: ScannedPage
    kept: Path | None = None

    @property
    def picture(self) -> Picture | None:
        """The picture, without what it shows."""
        return self.page.picture

    @property
    def place(self) -> str:
        """Where it is to be found again, in words."""
        return f"{self.file}, page {self.number}" if self.number else self.file


@dataclass(frozen=True)
class _Row:
    """A row of the table: a page that came or is missing; of a file that cannot be read, one alone."""

    file: str = ""
    page_of_file: int = 0
    what: str = ""
    entry: Entry | None = None
    code: PageCode | None = None
    remark: str = ""

    @property
    def cells(self) -> tuple[str, ...]:
        """The cells."""
        student, attempt = (self.entry[0], str(self.entry[1])) if self.entry else ("", "")
        sheet, page, of = (_sheet(self.code.session), self.code.page, self.code.pages) if self.code else ("", 0, 0)
        numbers = ("" if number == 0 else str(number) for number in (self.page_of_file, page, of))
        in_file, in_sheet, pages = numbers
        return (self.file, in_file, self.what, student, attempt, sheet, in_sheet, pages, self.remark)


class _Pile:
    """The pages that came, by student: takes them one after the other."""

    def __init__(self, answers: Answers) -> None:
        """Know whose each sheet is."""
        head = answers.head
        self._mark = build_mark(head.issued.secret, head.issued.term, head.set_id)
        self._owners = {code.replace("-", ""): entry for entry, code in answers.sheets.items()}
        self._entries = answers.entries
        self._pages: dict[Entry, dict[PageCode, list[_Came]]] = {}
        self._before: tuple[str, str] = ("", "")

    @property
    def students(self) -> Sequence[Entry]:
        """Of whom pages came, in the order of the class."""
        return [entry for entry in self._entries if entry in self._pages]

    def row(self, came: _Came) -> _Row:
        """Take a page; gives its row."""
        row, (file, behind) = _Row(came.file, came.number), self._before
        if came.page.is_blank:
            return replace(row, what="blank")
        code = came.page.code
        entry = None if code is None else self._owners.get(code.sheet.replace("-", ""))
        self._before = (came.file, f"page {came.number}, which is {entry[0]}'s") if entry is not None else ("", "")
        if code is None or entry is None:
            remark = came.page.remark if code is None else self._foreign(code)
            told = f"{remark}; it lies behind {behind}" if behind and came.file == file else remark
            return replace(row, what="unsorted" if came.number else "unread", code=code, remark=told)
        mine = self._pages.setdefault(entry, {}).setdefault(replace(code, build=""), [])
        mine.append(came)
        if len(mine) == 1:
            return replace(row, what="sorted", entry=entry, code=code)
        return replace(row, what="double", entry=entry, code=code, remark=f"as {mine[0].place}")

    def _foreign(self, code: PageCode) -> str:
        if code.build != self._mark:
            return f"a page of another build: {code.shown}"
        return f"a page of no sheet that answers.json has, drawn anew or of somebody who has left: {code.shown}"

    def sorted(self) -> Iterator[tuple[Entry, list[_Came]]]:
        """Each student's pages in the order of the sheets, doubles beside each other."""
        for entry in self.students:
            mine = self._pages[entry]
            ordered = sorted(mine, key=lambda code: (code.session, code.pages, code.page))
            yield entry, [came for code in ordered for came in mine[code]]

    def missing(self) -> Iterator[_Row]:
        """The pages that did not come, of sheets of which somebody's came."""
        seen = {(entry[1], code.session) for entry, mine in self._pages.items() for code in mine}
        for entry in self._entries:
            mine = self._pages.get(entry, {})
            for session in sorted(session for attempt, session in seen if attempt == entry[1]):
                yield from self._missing_of(entry, session, [code for code in mine if code.session == session])

    @staticmethod
    def _missing_of(entry: Entry, session: int, mine: Sequence[PageCode]) -> Iterator[_Row]:
        if not mine:
            yield _Row(what="missing", entry=entry, remark=f"no page of {_sheet(session)}")
        for pages in sorted({code.pages for code in mine}):
            there = {code.page for code in mine if code.pages == pages}
            for page in range(1, pages + 1):
                if page not in there:
                    yield _Row(what="missing", entry=entry, code=replace(mine[0], page=page, pages=pages))


def _sheet(session: int) -> str:
    return "slip" if session == SLIP else f"session {session}"


def _read(files: Sequence[Returned], place: Aside, progress: Progress) -> Iterator[_Came]:
    """All pages of all files, in order; a file that cannot be read as one page of number 0."""
    counted = list(apart(count_pages, [(one.path,) for one in files], _SECONDS, (0, ENDED)))
    jobs = [(one.path, number) for one, (count, _) in zip(files, counted, strict=True) for number in range(count)]
    pages = apart(read_page, jobs, _SECONDS, ScannedPage(None, remark=f"a page that cannot be read: {ENDED}"))
    done = 0
    for one, (count, reason) in zip(files, counted, strict=True):
        if reason:
            yield _Came(one.name, 0, ScannedPage(None, remark=reason))
        for number in range(1, count + 1):
            yield _put_aside(_Came(one.name, number, next(pages)), place)
            done += 1
            progress("reading pages", done, len(jobs))


def _put_aside(came: _Came, place: Aside) -> _Came:
    """The page with its picture in a file."""
    picture = came.page.picture
    if picture is None:
        return came
    kept = place.keep(picture.jpeg)
    return replace(came, page=replace(came.page, picture=replace(picture, jpeg=b"")), kept=kept)


def _write(staging: Staging, place: Aside, folder: str, stem: str, pages: Iterable[_Came]) -> None:
    pictures = (
        replace(one.picture, jpeg=place.content(one.kept)) for one in pages if one.picture is not None and one.kept
    )
    staging.write(f"{folder}/{stem}.pdf", picture_book(pictures, stem), private=True)


def _unread(rows: Sequence[_Row]) -> dict[str, str]:
    """The files that nothing could be taken from, with the reason: those that cannot be read, and those left blank."""
    shown = {row.file for row in rows if row.what != "blank"}
    blank = {row.file: "nothing is on its pages" for row in rows if row.file not in shown}
    return {row.file: row.remark for row in rows if row.what == "unread"} | blank


def _remarks(rows: Iterable[_Row], missing: Iterable[_Row]) -> Iterator[str]:
    """A line for each thing to look at; pages that are missing of one sheet together."""
    for row in rows:
        where = f"{row.file}, page {row.page_of_file}"
        if row.what == "unsorted":
            yield f"{where}: {row.remark}"
        elif row.what == "double" and row.entry is not None and row.code is not None:
            yield f"{where}: page {row.code.page} of {_whose(row.entry, row.code.session)} once more, {row.remark}"
    lost: dict[tuple[Entry, str], list[int]] = {}
    for row in missing:
        assert row.entry is not None
        sheet = row.remark if row.code is None else f"of {_sheet(row.code.session)} (of {row.code.pages})"
        lost.setdefault((row.entry, sheet), []).extend([] if row.code is None else [row.code.page])
    for ((student, attempt), sheet), pages in lost.items():
        whose = student if attempt == 1 else f"{student}, attempt {attempt}"
        yield f"{whose}: {sheet}" if not pages else f"{whose}: no page {', '.join(map(str, pages))} {sheet}"


def _whose(entry: Entry, session: int) -> str:
    student, attempt = entry
    return f"{student}{'' if attempt == 1 else f', attempt {attempt}'}, {_sheet(session)}"
