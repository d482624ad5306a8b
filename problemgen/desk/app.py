"""The application: the routes of the frame and of all rooms, and what becomes of errors."""

from __future__ import annotations

import mimetypes
from pathlib import Path

from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.requests import ClientDisconnect, Request
from starlette.responses import FileResponse, JSONResponse, PlainTextResponse, Response
from starlette.types import ASGIApp, Receive, Scope, Send

from problemgen.desk.answers import IN_A_BOX, fragment, go, page, told
from problemgen.desk.calls import Call, get, post
from problemgen.desk.desk import Desk
from problemgen.desk.front import FRONT
from problemgen.desk.gate import Gate, Keys
from problemgen.desk.places import NotThereError, file_inside
from problemgen.desk.room import Room
from problemgen.errors import OutputError, ProblemgenError
from problemgen.language.languages import LANGUAGES, known
from problemgen.language.messages import speaking

__all__ = ["application"]

_ASSETS = Path(__file__).resolve().parent / "assets"
_SHARED = Path(__file__).resolve().parents[1] / "practice" / "assets" / "colours.css"
"""The colours of the page for students: a course has one look."""

_SMALL = 1_000_000
"""Bytes of a request that drops no file: the fields of the largest set are some ten thousand."""

_LANGUAGE = "desk-language"

_SHOWN = {".pdf": "application/pdf", ".png": "image/png"}
"""What a browser shows by itself; everything else in the course is saved."""


def application(desk: Desk, keys: Keys, rooms: tuple[Room, ...]) -> ASGIApp:
    """The application behind its gate."""
    limits = {start: size for room in rooms for start, size in room.uploads.items()}

    def limit(path: str) -> int:
        return next((size for start, size in limits.items() if path.startswith(start)), _SMALL)

    app = Starlette(
        routes=[*_FRAME, *FRONT, *(route for room in rooms for route in room.routes)],
        exception_handlers={
            ProblemgenError: _refused,
            OSError: _system,
            NotThereError: _missing,
            HTTPException: _missing,
            ClientDisconnect: _cut,
        },
    )
    app.state.desk, app.state.rooms = desk, rooms
    return _Spoken(Gate(app, keys, limit))


class _Spoken:
    """Says everything in the language that was chosen, or that the browser asks for."""

    def __init__(self, app: ASGIApp) -> None:
        self._app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        request = Request(scope)
        chosen = request.cookies.get(_LANGUAGE, "")
        wanted = request.headers.get("accept-language", "").split(",")[0].split(";")[0].strip()
        with speaking(chosen if chosen in LANGUAGES else known(wanted)):
            await self._app(scope, receive, send)


def _refused(request: Request, error: Exception) -> Response:
    assert isinstance(error, ProblemgenError)
    return told(Call(request.app.state.desk, request), error)


def _system(request: Request, error: Exception) -> Response:
    """The system's refusal, as the command line tells it."""
    assert isinstance(error, OSError)
    said = OutputError(f"{error.filename or 'the system'}: {(error.strerror or str(error)).lower()}")
    return told(Call(request.app.state.desk, request), said)


def _missing(request: Request, error: Exception) -> Response:
    status = error.status_code if isinstance(error, HTTPException) else 404
    return page(Call(request.app.state.desk, request), "missing.html", status)


def _cut(_request: Request, _error: Exception) -> Response:
    """A request that was longer than it had announced, or whose browser has gone."""
    return PlainTextResponse("", 413)


def _state(call: Call) -> Response:
    """The state number, and how far open work is: what every page asks again and again."""
    return JSONResponse({"number": call.desk.number, "open": len(call.desk.jobs.open)})


def _cancel(call: Call) -> Response:
    call.desk.jobs.cancel(call.named("job"))
    return go("")


def _forget(call: Call) -> Response:
    job = call.desk.jobs.get(call.named("job"))
    if job is not None:
        call.desk.jobs.forget(job.about)
    return go("")


def _language(call: Call) -> Response:
    answer = go("")
    if call.said("language") in LANGUAGES:
        answer.set_cookie(_LANGUAGE, call.said("language"), httponly=True, samesite="strict", max_age=31_536_000)
    return answer


def _stop(call: Call) -> Response:
    call.desk.stop()
    return fragment(call, "stopped.html")


def _asset(call: Call) -> Response:
    name = call.named("name")
    path = _SHARED if name == _SHARED.name else file_inside(_ASSETS, name)
    kind = "text/javascript" if path.suffix == ".js" else mimetypes.guess_type(path.name)[0]
    return FileResponse(path, media_type=kind)


def _file(call: Call) -> Response:
    """A file of the course. What a browser would run, such as a student's feedback, is saved, or with "open" shown in
    a box in which nothing runs."""
    path = file_inside(call.desk.place(), call.named("name"))
    boxed = path.suffix.lower() == ".html" and bool(call.asked("open"))
    kind = "text/html" if boxed else _SHOWN.get(path.suffix.lower())
    if path.suffix.lower() not in _HANDED_OUT:
        raise NotThereError(path.name)
    shown = kind is not None and not call.asked("save")
    return FileResponse(
        path,
        headers={"content-security-policy": IN_A_BOX if boxed else _OF_FILES},
        media_type=kind or "application/octet-stream",
        filename=path.name,
        content_disposition_type="inline" if shown else "attachment",
    )


_OF_FILES = (
    "default-src 'none'; object-src 'self'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'; "
    "frame-ancestors 'none'"
)
"""The policy of a file: browsers put a PDF into an element of a page of their own, which has a style in it."""

_HANDED_OUT = frozenset({*_SHOWN, ".csv", ".xlsx", ".html", ".zip"})
"""Endings of what the desk gives out of the course; answers.json and what it is drawn from are not among them."""

_FRAME = [
    get("/state", _state),
    get("/assets/{name}", _asset),
    get("/files/{name:path}", _file),
    post("/jobs/{job}/cancel", _cancel),
    post("/jobs/{job}/forget", _forget),
    post("/language", _language),
    post("/stop", _stop),
]
"""What every page needs; no room's."""
