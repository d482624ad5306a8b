"""The first page: the job in its order, what is there of it, and what is sensible next; or a course to be made."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from starlette.responses import Response
from starlette.routing import Route

from problemgen.desk.answers import go, page
from problemgen.desk.calls import Call, get, post
from problemgen.desk.room import Room
from problemgen.desk.standing import next_step, standings
from problemgen.errors import Fault, FaultsError
from problemgen.load.documents import read_document
from problemgen.load.resources import COURSE_FILE
from problemgen.load.sets.courses import course_of
from problemgen.load.sets.documents import CourseDocument
from problemgen.pipeline.new_course import new_course

__all__ = ["FRONT"]


def _front(call: Call) -> Response:
    if call.desk.folder is None:
        return page(call, "first.html", proposed=call.desk.proposed)
    course, found = call.desk.course(), standings(call.desk)
    rooms: Sequence[Room] = call.request.app.state.rooms
    return page(
        call,
        "front.html",
        course=course,
        found=found,
        own_templates=len(course.course_templates),
        following=next_step(found, {one.path.strip("/"): one.path for one in rooms}),
    )


def _course(call: Call) -> Response:
    """Open the course in a folder, or make one there. Raises FaultsError and OutputError."""
    told = call.said("folder")
    folder = Path(told).expanduser()
    if not told or not folder.is_absolute():
        raise FaultsError([Fault("", "folder", repr(told), "a whole path, from the root of the disk")])
    if (folder / COURSE_FILE).is_file():
        read_document(folder / COURSE_FILE, CourseDocument)
    else:
        new_course(folder)
    call.desk.folder = course_of(folder).folder
    return go("/")


FRONT: tuple[Route, ...] = (get("/", _front), post("/course", _course))
"""The routes of the first page."""
