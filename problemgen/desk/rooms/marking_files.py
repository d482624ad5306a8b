"""Mark: what students handed in is dropped, listed, removed."""

from __future__ import annotations

import secrets
from collections.abc import Mapping, Sequence
from contextlib import ExitStack
from pathlib import Path
from urllib.parse import quote

from starlette.responses import Response

from problemgen.desk.answers import fragment, go
from problemgen.desk.calls import Call, Dropped, post
from problemgen.desk.columns_shown import check_told
from problemgen.desk.jobs import JobTitle
from problemgen.desk.marking.place import COLLECTED_FILE, MarkingPlace, place_of
from problemgen.desk.marking.returns import ENDINGS, Came, asked_in, came, collected, taken_away
from problemgen.desk.marking.table_columns import ABOUT, TableAsked, beside, changed_columns, told_text
from problemgen.desk.places import file_inside
from problemgen.errors import Fault, FaultsError
from problemgen.language.messages import N_, _
from problemgen.load.answers.answers import ANSWERS_FILE, Answers
from problemgen.load.people.responses import RESPONSES_FILE
from problemgen.load.people.whose_rows import ATTEMPT

__all__ = ["ROUTES", "UPLOADS"]

_LARGEST = 250_000_000
"""Bytes that are dropped at once: a class of a thousand with a quarter of a megabyte each, as workbooks have."""

UPLOADS = {"/mark-files/": _LARGEST}


def _dropped(call: Call) -> Response:
    """Take what was dropped; where a table does not tell what its columns are, ask first."""
    place = place_of(call)
    return _asked(call, place, [(one, _aside(call, one)) for one in call.dropped("files", ENDINGS)])


def _asked(call: Call, place: MarkingPlace, dropped: Sequence[tuple[Dropped, Path]]) -> Response:
    asked = {number: table for number, (one, path) in enumerate(dropped) if (table := asked_in(place, one, path))}
    if not asked:
        return _offered(call, place, dropped)
    with ExitStack() as stack:
        stack.callback(_forget, dropped)
        came(place, [pair for number, pair in enumerate(dropped) if number not in asked])  # refused before it is asked
        stack.pop_all()
    return _question(call, place, dropped, asked)


def _question(
    call: Call, place: MarkingPlace, dropped: Sequence[tuple[Dropped, Path]], asked: Mapping[int, TableAsked]
) -> Response:
    with Answers(place.built / ANSWERS_FILE) as answers:
        parts, several = answers.head.response_columns, answers.head.attempts.several
    called = {ours: _(words) for ours, words in ABOUT.items() if several or ours != ATTEMPT}
    names = [(one.name, path.name) for one, path in dropped]
    return fragment(call, "whose_columns.html", name=place.name, names=names, asked=asked, called=called, parts=parts)


def _told(call: Call) -> Response:
    """Take what was dropped before, with what the page says of columns. Raises FaultsError where none has the ids."""
    place, dropped = place_of(call), _before(call)
    called = {ours: _(words) for ours, words in ABOUT.items()}
    for number, (one, path) in enumerate(dropped):
        told = [*zip(call.every(f"theirs-{number}"), call.every(f"ours-{number}"), strict=False)]
        if told:
            check_told(one.name, told, called, needs_more=True)
            call.put_aside(beside(path).name, told_text(told))
    return _offered(call, place, dropped)


def _told_again(call: Call) -> Response:
    """Ask what the columns of a table are that is there already."""
    place, name = place_of(call), call.said("file")
    path = next((one for one in place.tables if place.told(one) == name), None)
    if path is None:
        hint = _("It was removed meanwhile: look at the page again.")
        raise FaultsError([Fault(name, "", _("no such file any more"), _("a file of the list"), hint)])
    one = Dropped(path.name, path.read_bytes())
    aside = _aside(call, one)
    asked = asked_in(place, one, aside, always=True)
    if asked is None:
        return _offered(call, place, [(one, aside)])  # which tells why it is no table
    return _question(call, place, [(one, aside)], {0: asked})


def _offered(call: Call, place: MarkingPlace, dropped: Sequence[tuple[Dropped, Path]]) -> Response:
    with ExitStack() as stack:
        stack.callback(_forget, dropped)
        found = came(place, dropped)
        if not found.there:
            return _kept(call, place, found)
        stack.pop_all()  # they wait for what is answered
    names = [(one.name, path.name) for one, path in dropped]
    there = [name.rpartition("/")[2] for name in found.there]
    return fragment(call, "replacing.html", name=place.name, names=names, there=there)


def _forget(dropped: Sequence[tuple[Dropped, Path]]) -> None:
    """Take away what lies aside: answers of students stay in the course alone, and what was refused nowhere."""
    for _one, path in dropped:
        path.unlink(missing_ok=True)
        beside(path).unlink(missing_ok=True)


def _replaced(call: Call) -> Response:
    """Take what was dropped before, in the place of files of the same names. Raises FaultsError where it has gone."""
    place, dropped = place_of(call), _before(call)
    with ExitStack() as stack:
        stack.callback(_forget, dropped)
        return _kept(call, place, came(place, dropped))


def _before(call: Call) -> Sequence[tuple[Dropped, Path]]:
    """What was dropped before the page has asked. Raises FaultsError where it has gone."""
    aside = [file_inside(call.desk.aside, name) for name in call.every("aside")]
    files = [Dropped(name, path.read_bytes()) for name, path in zip(call.every("dropped"), aside, strict=False)]
    if not files or len(files) != len(aside) or any(one.ending not in ENDINGS for one in files):
        raise FaultsError([Fault("", "", _("no file"), _("what was dropped before"), _("Drop it once more."))])
    return [*zip(files, aside, strict=True)]


def _kept(call: Call, place: MarkingPlace, found: Came) -> Response:
    names = ", ".join(name.rpartition("/")[2] for name in found.contents)
    if found.contents:
        place.steps.take("files", {"names": names}, lambda: {**found.contents, **changed_columns(place, found.told)})
    elif changed_columns(place, found.told):
        names = ", ".join(found.told)
        place.steps.take("columns", {"names": names}, lambda: changed_columns(place, found.told))
    if found.is_collected:
        _collect(call, place)
    return go(f"/mark/{quote(place.name)}")


def _taken(call: Call) -> Response:
    """Take the table beside the sheets, in which answers were typed."""
    place = place_of(call)
    one = Dropped(RESPONSES_FILE, (place.built / RESPONSES_FILE).read_bytes())
    return _asked(call, place, [(one, _aside(call, one))])


def _aside(call: Call, one: Dropped) -> Path:
    return call.put_aside(f"returned-{secrets.token_hex(8)}{one.ending}", one.content)


def _removed(call: Call) -> Response:
    """Move a file aside: its contents stay in the journal."""
    place, name = place_of(call), call.said("file")
    is_handed_in = name in (place.told(path) for path in place.files)
    place.steps.take("removed", {"name": name.rpartition("/")[2]}, lambda: taken_away(place, name))
    if is_handed_in and place.files:
        _collect(call, place)
    return go("")


def _again(call: Call) -> Response:
    """Collect once more what was handed in."""
    place = place_of(call)
    _collect(call, place)
    return go("")


def _collect(call: Call, place: MarkingPlace) -> None:
    title = JobTitle(N_("Reading what was handed in for {title}"), place.one.title)
    given: Sequence[Path] = (place.built, place.handed_in, place.returned / COLLECTED_FILE)
    about, shown = f"collect/{place.name}", f"/mark/{quote(place.name)}"
    call.desk.start(title, about, shown, collected, *given, place.steps, place.course)


ROUTES = (
    post("/mark-files/{name:path}", _dropped),
    post("/mark-columns/{name:path}", _told),
    post("/mark-columns-of/{name:path}", _told_again),
    post("/mark-replace/{name:path}", _replaced),
    post("/mark-take/{name:path}", _taken),
    post("/mark-remove/{name:path}", _removed),
    post("/mark-collect/{name:path}", _again),
)
"""Where files are dropped and removed, by the set's name."""
