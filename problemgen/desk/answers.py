"""What a room answers: a page, a piece of one, or where to go on."""

from __future__ import annotations

from datetime import datetime
from functools import cache
from pathlib import Path
from typing import Any

from babel.dates import format_datetime, format_time
from jinja2 import Environment, FileSystemLoader, StrictUndefined
from starlette.responses import HTMLResponse, JSONResponse, Response

from problemgen.desk.calls import Call
from problemgen.desk.worded import on_desk
from problemgen.errors import FaultsError, ProblemgenError
from problemgen.language.languages import LANGUAGES, direction
from problemgen.language.messages import _, ngettext, pgettext, spoken
from problemgen.language.numbers import locale_of

__all__ = ["IN_A_BOX", "boxed", "fragment", "go", "page", "told"]

IN_A_BOX = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; frame-ancestors 'none'; sandbox"
"""The policy of a page that is not the desk's: it is of no origin, runs nothing, sends nothing, asks for nothing."""

_PAGES = Path(__file__).resolve().parent / "pages"


def page(call: Call, name: str, /, status: int = 200, **values: Any) -> Response:
    """A page of pages/, in the language spoken."""
    return HTMLResponse(_rendered(call, name, values), status)


def fragment(call: Call, name: str, /, status: int = 200, **values: Any) -> Response:
    """A piece of a page, which send.js puts into the form's element `.told`."""
    return HTMLResponse(_rendered(call, name, values), status, headers={"x-desk": "fragment"})


def boxed(text: str) -> Response:
    """A whole page that is not the desk's own, such as a report, in a box in which nothing runs."""
    return HTMLResponse(text, headers={"content-security-policy": IN_A_BOX})


def go(address: str) -> Response:
    """Where the page that has sent a form goes on; its own address has it brought up to date."""
    return JSONResponse({"go": address})


def told(call: Call, error: ProblemgenError, status: int = 422) -> Response:
    """A refusal, as the command line tells it: all faults at once. A piece for a form, a page for everything else."""
    answer = fragment if call.request.method == "POST" else page
    return answer(call, "told.html" if call.request.method == "POST" else "refused.html", status, error=error)


def _rendered(call: Call, name: str, values: dict[str, Any]) -> str:
    rooms = call.request.app.state.rooms
    return (
        _environment()
        .get_template(name)
        .render(
            rooms=rooms,
            here=call.request.url.path,
            desk=call.desk,
            number=call.desk.number if call.number is None else call.number,
            language=spoken(),
            languages={one: locale_of(one).languages[locale_of(one).language].capitalize() for one in LANGUAGES},
            direction=direction(spoken()),
            **values,
        )
    )


@cache
def _environment() -> Environment:
    environment = Environment(
        loader=FileSystemLoader(_PAGES),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.globals |= {"_": _, "ngettext": ngettext, "pgettext": pgettext}
    environment.filters |= {"when": _when, "faults": _faults, "on_desk": on_desk}
    return environment


def _faults(error: ProblemgenError) -> tuple[Any, ...]:
    """The faults of an error, where it has them one by one."""
    return error.faults if isinstance(error, FaultsError) else ()


def _when(moment: datetime) -> str:
    """A time as it is told: the hour alone today."""
    here = locale_of(spoken())
    if moment.date() == datetime.now(moment.tzinfo).date():
        return _("today, {time}").format(time=format_time(moment, "short", locale=here))
    return format_datetime(moment, "medium", locale=here)
