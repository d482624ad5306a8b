"""Mark: what a class has handed in, as it is marked just now; what is written of it, and what helps to decide."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any
from urllib.parse import quote

from starlette.responses import Response

from problemgen.desk.answers import go, page
from problemgen.desk.calls import Call, get, post
from problemgen.desk.jobs import JobTitle
from problemgen.desk.marking.cells_shown import alike
from problemgen.desk.marking.marked import overview_of
from problemgen.desk.marking.place import COLLECTED_FILE, MarkingPlace, place_of
from problemgen.desk.marking.returns import ENDINGS, tables_shown, typed_beside
from problemgen.desk.marking.steps_shown import steps_shown
from problemgen.desk.marking.strips_shown import SHAPES, strip_shown
from problemgen.desk.room import Room
from problemgen.desk.rooms import marking_decisions, marking_files, marking_looks
from problemgen.desk.rooms.written import graded_in
from problemgen.desk.standing import standings
from problemgen.errors import FaultsError, ProblemgenError
from problemgen.language.messages import N_
from problemgen.model.decision import ALL
from problemgen.pipeline.deciding import DecisionLine, MeaningLine, decision_lines, meaning_lines
from problemgen.pipeline.mark import MarkingReport, mark
from problemgen.pipeline.overview import Overview
from problemgen.pipeline.progress import Progress
from problemgen.pipeline.typed_papers import TYPED_FILE

__all__ = ["ROOM"]

_LOW = 46
"""Pixels of a strip among others: six marks above each other, and no more than a line or two of text."""


def _list(call: Call) -> Response:
    return page(call, "mark.html", found=standings(call.desk), needs_sheets=True)


def _shown(call: Call) -> Response:
    place = place_of(call)
    if not place.is_built:
        return page(call, "unbuilt.html", one=place.one)
    look = next((look for asked, look in marking_looks.LOOKS.items() if call.asked(asked)), None)
    return look(call, place) if look is not None else _whole(call, place)


def _whole(call: Call, place: MarkingPlace) -> Response:
    desk, name = call.desk, place.name
    seen, error = _seen(place)
    decisions, meanings = _decided(place)
    return page(
        call,
        "marking.html",
        one=place.one,
        build=place.build,
        tables=[*tables_shown(place)],
        files=[(place.told(path), path.name) for path in place.files],
        own_tables=(COLLECTED_FILE, TYPED_FILE),
        typed=typed_beside(place),
        endings=ENDINGS,
        returned=place.told(place.returned),
        collecting=desk.jobs.about(f"collect/{name}"),
        job=desk.jobs.about(f"mark/{name}"),
        seen=seen,
        error=error,
        unread=seen.cells.unread if seen else (),
        doubted=alike(seen.cells.doubted) if seen else (),
        strips=[strip_shown(one, _LOW) for one in seen.strips] if seen else [],
        shapes=SHAPES,
        decisions=decisions,
        meanings=meanings,
        everybody=ALL,
        places=_places(seen) if seen else (),
        steps=steps_shown(place),
        is_written=seen is not None and seen.is_written(place.grades),
        graded=graded_in(place.course, place.grades),
    )


def _seen(place: MarkingPlace) -> tuple[Overview | None, ProblemgenError | None]:
    """The class as it is marked; or why it cannot be, which the page shows beside the files that are at fault."""
    try:
        return overview_of(place), None
    except ProblemgenError as error:
        return None, error


def _decided(place: MarkingPlace) -> tuple[Sequence[DecisionLine], Sequence[MeaningLine]]:
    """What was decided; nothing where a file is no table, which the marking tells."""
    try:
        return decision_lines(place.built), meaning_lines(place.built)
    except FaultsError:
        return (), ()


def _places(seen: Overview) -> Sequence[str]:
    """What a decision can be about: problems, and parts."""
    return tuple(marking_decisions.places_of(seen.marked.head))


def _mark(call: Call) -> Response:
    place = place_of(call)
    options = {"pdf": bool(call.said("pdf")), "solutions": bool(call.said("solutions")),
               "unguessable": bool(call.said("unguessable"))}  # fmt: skip
    files = [place.told(path) for path in place.tables]
    title = JobTitle(N_("Grades of {title}"), place.one.title)
    about, shown = f"mark/{place.name}", f"/mark/{quote(place.name)}"
    call.desk.start(title, about, shown, _marked, place.told(place.built), files, options)
    return go("")


def _marked(folder: str, files: Sequence[str], options: Mapping[str, Any], progress: Progress) -> MarkingReport:
    """The marking itself, in its process, as the command line does it. Raises what `mark` does."""
    there = (Path(folder) / "grades").is_dir()
    return mark(folder, files, **options, replace=there, progress=progress)


ROOM = Room(
    "mark",
    "/mark",
    N_("Mark"),
    N_("Drop what a class has handed in, decide what is in doubt, write the grades."),
    (
        get("/mark", _list),
        get("/mark/{name:path}", _shown),
        post("/mark/{name:path}", _mark),
        *marking_files.ROUTES,
        *marking_decisions.ROUTES,
    ),
    uploads=marking_files.UPLOADS,
)
