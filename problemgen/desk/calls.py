"""One request as the rooms get it, and the routes that bring it to them."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path, PurePosixPath
from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import UploadFile
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from problemgen.desk.desk import Desk
from problemgen.errors import Fault, FaultsError
from problemgen.write.files import Staging

__all__ = ["Call", "Dropped", "get", "post"]

_MOST_FIELDS = 5_000
"""Fields of a form; the largest one, a set of a hundred problems with their parts, has some hundred."""

_MOST_FILES = 1_000


@dataclass(frozen=True)
class Dropped:
    """A file that was dropped: its name as the browser told it, without folders, and its bytes."""

    name: str
    content: bytes

    @property
    def ending(self) -> str:
        """The name's ending in small letters, ".csv"; "" for none."""
        return PurePosixPath(self.name).suffix.lower()


@dataclass(frozen=True)
class Call:
    """A request: the desk, the address's own names, the fields and files of a form.

    `number` is the state number before anything of the answer was read: what changes while a page is made is found out
    by the page. None where a form is answered.
    """

    desk: Desk
    request: Request
    fields: Mapping[str, Sequence[str]] = field(default_factory=dict)
    files: Mapping[str, Sequence[Dropped]] = field(default_factory=dict)
    number: int | None = None

    def named(self, name: str) -> str:
        """A name in the address: of "/sets/{name:path}"."""
        return str(self.request.path_params[name])

    def asked(self, name: str) -> str:
        """A value behind the question mark; "" for none."""
        return self.request.query_params.get(name, "")

    def said(self, name: str) -> str:
        """A field of the form, without blanks around it; "" for none."""
        return next(iter(self.fields.get(name, ())), "").strip()

    def every(self, name: str) -> Sequence[str]:
        """All fields of a name."""
        return self.fields.get(name, ())

    def dropped(self, name: str, endings: Sequence[str]) -> Sequence[Dropped]:
        """The files of a field. Raises FaultsError for none, and for one of another kind, by its ending."""
        found = [one for one in self.files.get(name, ()) if one.name or one.content]
        kinds = ", ".join(endings)
        faults = [Fault(one.name, "", f"a file of the kind {one.ending or '(none)'}", kinds) for one in found
                  if one.ending not in endings]  # fmt: skip
        if not found:
            faults = [Fault("", "", "no file", f"a file: {kinds}")]
        if faults:
            raise FaultsError(faults)
        return found

    def put_aside(self, name: str, content: bytes) -> Path:
        """Put what was dropped where it can be read; it is replaced by the next one of the name."""
        with Staging(self.desk.aside, only=name, replace=True) as staging:
            staging.write(name, content, private=True)
        return self.desk.aside / name


Work = Callable[[Call], Response]


def get(path: str, work: Work) -> Route:
    """A route that shows something. `work` runs in a thread."""

    def answered(request: Request) -> Response:
        desk = request.app.state.desk
        return work(Call(desk, request, number=desk.number))

    async def shown(request: Request) -> Response:
        return await run_in_threadpool(answered, request)

    return Route(path, shown, methods=["GET"])


def post(path: str, work: Work) -> Route:
    """A route that changes something: it takes a form. `work` runs in a thread."""

    async def taken(request: Request) -> Response:
        async with request.form(max_files=_MOST_FILES, max_fields=_MOST_FIELDS) as form:
            fields: dict[str, list[Any]] = {}
            files: dict[str, list[Dropped]] = {}
            for name, value in form.multi_items():
                if isinstance(value, UploadFile):
                    told = PurePosixPath((value.filename or "").replace("\\", "/")).name
                    files.setdefault(name, []).append(Dropped(told, await value.read()))
                else:
                    fields.setdefault(name, []).append(value)
        answer = await run_in_threadpool(work, Call(request.app.state.desk, request, fields, files))
        request.app.state.desk.watch.look()
        return answer

    return Route(path, taken, methods=["POST"])
