"""Papers: a pile of printed sheets, typed one at a time, each answer judged as its field is left."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from urllib.parse import quote, urlencode

from markupsafe import Markup
from starlette.responses import Response

from problemgen.desk.answers import fragment, go, page
from problemgen.desk.calls import Call, get, post
from problemgen.desk.places import NotThereError
from problemgen.desk.room import Room
from problemgen.desk.standing import built_folder, returned_folder, standing_of, standings
from problemgen.errors import Fault, FaultsError
from problemgen.language.messages import N_, _
from problemgen.load.people.whose_rows import Entry
from problemgen.load.resources import layouts
from problemgen.model.blocks import Block, Line
from problemgen.pipeline.typed_papers import (
    ChangedMeanwhileError,
    Found,
    PaperBook,
    PaperBooks,
    PaperStanding,
    Pile,
    paper,
    whose,
)
from problemgen.render.printers.html import fragment as html_of
from problemgen.render.printers.html import inline

__all__ = ["ROOM"]

_BOOKS = PaperBooks()
"""One for the desk: what it keeps open serves all tabs."""

_CLEARED: dict[tuple[str, Entry], Mapping[str, str]] = {}
"""What papers held that were cleared, by the set's folder, until the desk stops: it can be put back."""


@dataclass(frozen=True)
class InPile:
    """A paper in the list of the pile: whose it is, its address, and how far it is."""

    entry: Entry
    name: str
    section: str
    place: str
    standing: PaperStanding


def _list(call: Call) -> Response:
    return page(call, "papers.html", found=standings(call.desk), needs_sheets=True)


def _opened(call: Call) -> tuple[PaperBook, Pile]:
    """The set's book and its pile. Raises NotThereError for no such set, and what opening them does."""
    name = call.named("name")
    if f"sets/{name}" not in call.desk.course().course_sets:
        raise NotThereError(name)
    book = _BOOKS.of(built_folder(call.desk, name))
    return book, Pile(returned_folder(call.desk, name), book)


def _entry(call: Call, book: PaperBook, student: str, attempt: str) -> Entry:
    """A paper of the set, by what the page has sent. Raises NotThereError for none."""
    entry = _numbered(student, attempt)
    if entry not in book.sheets:
        raise NotThereError(call.named("name"))
    return entry


def _numbered(student: str, attempt: str) -> Entry:
    return student, int(attempt) if attempt.isdecimal() and len(attempt) < 5 else 1


def _typed_on(call: Call, book: PaperBook) -> Entry:
    """The paper that an answer was typed on. Raises FaultsError where its sheets are others by now."""
    entry = _numbered(call.said("student"), call.said("attempt"))
    if entry not in book.sheets or paper(book, entry, {}).printed != call.said("printed"):
        found = _("a paper whose sheets were drawn anew, or are no longer in the set")
        hint = _("Nothing was saved: its numbers are others now. Open the paper once more.")
        raise FaultsError([Fault("", entry[0], found, _("the paper as this page shows it"), hint)])
    return entry


def _shown(call: Call) -> Response:
    found = standing_of(call.desk, call.named("name"))
    if found is None:
        raise NotThereError(call.named("name"))
    if found.error is not None:
        raise found.error
    if found.built is None:
        return page(call, "pile.html", one=found, pile=None)
    book, pile = _opened(call)
    version, standing = pile.version, pile.standings()
    opened, student = None, call.asked("paper")
    if student:
        entry = _entry(call, book, student, call.asked("attempt") or "1")
        opened = paper(book, entry, pile.cells(entry))
    return page(
        call,
        "pile.html",
        one=found,
        pile=[_in_pile(found.name, book, one) for one in standing],
        strangers=pile.strangers(),
        version=version,
        paper=opened,
        remarks=pile.remarks(opened.entry) if opened is not None else (),
        standing=next((one for one in standing if opened is not None and one.entry == opened.entry), None),
        attempts=book.rows.attempts,
        sheet=int(call.asked("sheet")) if call.asked("sheet") in _SESSIONS else 0,
        cleared=opened is not None and (str(book.folder), opened.entry) in _CLEARED,
        html=_html,
        line=_line,
    )


_SESSIONS = ("1", "2", "3")


def _in_pile(name: str, book: PaperBook, standing: PaperStanding) -> InPile:
    student, section = book.people[standing.entry[0]]
    return InPile(standing.entry, student, section, _place(name, book, standing.entry), standing)


def _place(name: str, book: PaperBook, entry: Entry, sheet: int = 0) -> str:
    """The address of a paper."""
    student, attempt = entry
    asked = {"paper": student}
    if book.rows.attempts > 1:
        asked["attempt"] = str(attempt)
    if sheet:
        asked["sheet"] = str(sheet)
    return f"/papers/{quote(name)}?{urlencode(asked)}"


def _find(call: Call) -> Response:
    """Go to the paper whose code, id or name was typed; say why where it cannot be told."""
    book, _pile = _opened(call)
    found = whose(book, call.said("code"))
    if found.entry is not None:
        return go(_place(call.named("name"), book, found.entry, found.session))
    return fragment(call, "found.html", found=found, papers=_offered(call, book, found), attempts=book.rows.attempts)


def _offered(call: Call, book: PaperBook, found: Found) -> list[tuple[Entry, str, str]]:
    """Papers that may be meant, with the student's name and the address."""
    name = call.named("name")
    return [(entry, book.people[entry[0]][0], _place(name, book, entry)) for entry in found.entries]


def _keep(call: Call) -> Response:
    """Keep one answer, and judge the whole paper: what earlier answers lead to hangs on each of them."""
    book, pile = _opened(call)
    entry = _typed_on(call, book)
    column = call.said("column")
    if column not in book.head.response_columns:
        raise NotThereError(column)
    try:
        pile.keep(entry, column, call.said("cell"), call.said("before"))
    except ChangedMeanwhileError as error:
        return fragment(call, "changed.html", 422, found=error.found)
    version = pile.version  # before the file is read: what is shown is that, or newer
    return fragment(call, "verdicts.html", paper=paper(book, entry, pile.cells(entry)), version=version, line=_line)


def _end(call: Call) -> Response:
    """Note that a sheet of a paper is typed to its end, or all of them."""
    book, pile = _opened(call)
    entry = _entry(call, book, call.said("student"), call.said("attempt"))
    every = [one.session for one in paper(book, entry, pile.cells(entry)).sheets]
    wanted = [int(one) for one in call.every("session") if one in _SESSIONS]
    pile.end(entry, [one for one in every if one in wanted] or every)
    return go("")


def _clear(call: Call) -> Response:
    """Take a paper's answers out; they can be put back until the desk stops."""
    book, pile = _opened(call)
    entry = _entry(call, book, call.said("student"), call.said("attempt"))
    taken = pile.clear(entry)
    if taken:
        _CLEARED[str(book.folder), entry] = taken
    return go(_place(call.named("name"), book, entry))


def _restore(call: Call) -> Response:
    book, pile = _opened(call)
    entry = _entry(call, book, call.said("student"), call.said("attempt"))
    taken = _CLEARED.get((str(book.folder), entry))
    if taken is not None:
        pile.restore(entry, taken)
        del _CLEARED[str(book.folder), entry]
    return go(_place(call.named("name"), book, entry))


@cache
def _layouts() -> Mapping[str, str]:
    return layouts()


def _html(blocks: Sequence[Block]) -> Markup:
    return Markup(html_of(blocks, _layouts()))  # noqa: S704 - the printer has escaped it


def _line(line: Line) -> Markup:
    return Markup(inline(line, _layouts()))  # noqa: S704 - the printer has escaped it


ROOM = Room(
    "mark",
    "/papers",
    N_("Papers"),
    N_("Type a pile of printed sheets, one paper at a time, and see each verdict at once."),
    (
        get("/papers", _list),
        get("/papers/{name:path}", _shown),
        post("/find-paper/{name:path}", _find),
        post("/keep-answer/{name:path}", _keep),
        post("/end-paper/{name:path}", _end),
        post("/clear-paper/{name:path}", _clear),
        post("/restore-paper/{name:path}", _restore),
    ),
)
