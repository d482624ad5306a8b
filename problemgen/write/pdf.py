"""Sheets as PDF, each of which Typst compiles."""

from __future__ import annotations

import json
from collections import deque
from collections.abc import Iterable, Iterator, Mapping
from concurrent.futures import Future
from dataclasses import dataclass
from itertools import chain, islice
from typing import Any, TypeAlias

import typst

from problemgen.errors import OutputError
from problemgen.write.fonts import NO_FOLDER, font_families, fonts
from problemgen.write.processes import helpers

__all__ = ["Job", "Press", "compile_all"]

CHUNK = 8  # sheets handed to a process at once
POOL_FROM = 24  # fewer sheets are done sooner than two processes have started
MAIN = "main.typ"  # the name that Typst starts from
SHEET = "sheet.typ"

Sheet: TypeAlias = tuple[str, bytes]

_A_WHILE = 50_000
"""Bytes of PDF after which a compiler that has printed them is told that time has passed.

Typst keeps what its last ten documents have laid out, for the next one to use, however long they are. A class of 120
with its key takes 288 MB of one process so, 243 with 100,000 bytes, 231 with 50,000 and 222 with 30,000, in the same
time: what a next sheet can use is used by every sheet.
"""
_NOTHING: Any = {MAIN: b""}  # a form that typst's declared types leave out


@dataclass(frozen=True)
class Job:
    """One sheet to compile: the name it is known by, and the data that its layout reads."""

    name: str
    data: Mapping[str, Any]


class Press:
    """One Typst compiler with the layouts: one a process, never shared, never carried over a fork."""

    def __init__(self, layouts: Mapping[str, str]) -> None:
        """Take the layout texts by file name."""
        self._since = 0
        self._files = {name: text.encode() for name, text in layouts.items() if name.endswith(".typ")}
        self._files[MAIN] = self._files.pop(SHEET)
        self._files["fonts.json"] = json.dumps(font_families()).encode()
        self._compiler = typst.Compiler(
            root=NO_FOLDER, font_paths=fonts(), package_path=NO_FOLDER, package_cache_path=NO_FOLDER
        )

    def sheet(self, name: str, data: bytes) -> Sheet:
        """Compile one sheet to tagged PDF (PDF/UA-1). Raises OutputError, with Typst's reason."""
        pdf = b"".join(self._compiled(name, data, pdf_standards=["ua-1"]))
        self._let_time_pass(len(pdf))
        return name, pdf

    def pictures(self, job: Job) -> list[bytes]:
        """One sheet as SVG, a picture a page: half the work of PNG. Raises OutputError as `sheet` does."""
        return self._compiled(job.name, _encoded(job), format="svg")

    def _let_time_pass(self, printed: int) -> None:
        """Have Typst forget the pages of sheets that are long gone: each document counts as time, an empty one too."""
        self._since += printed
        while self._since > _A_WHILE:
            self._compiler.compile(input=_NOTHING, format="svg")
            self._since -= _A_WHILE

    def _compiled(self, name: str, data: bytes, **form: Any) -> list[bytes]:
        files: Any = {**self._files, "data.json": data}  # a form that typst's declared types leave out
        try:
            made = self._compiler.compile(input=files, **form)
        except typst.TypstError as error:
            raise OutputError(f"sheet {name!r} could not be laid out: {error.message}") from error
        if made is None:
            raise OutputError(f"sheet {name!r} could not be laid out: nothing came out")
        return [made] if isinstance(made, bytes) else made


def compile_all(
    jobs: Iterable[Job], layouts: Mapping[str, str], workers: int = 2, *, expected: int = 0
) -> Iterator[Sheet]:
    """Compile the sheets, and yield (name, PDF bytes) in the order of the jobs.

    `layouts` holds the texts of the layout folder by file name ("sheet.typ", "chem.typ", …). A few sheets
    are compiled here, more in `workers` processes; where so many are `expected`, these start while the first jobs are
    made. Jobs are taken as they are needed, so that memory stays flat. Raises OutputError for the first sheet that
    cannot be laid out.
    """
    ahead = iter(jobs)
    first = [] if expected >= POOL_FROM else list(islice(ahead, POOL_FROM))
    if workers < 2 or max(expected, len(first)) < POOL_FROM:
        yield from _compile_here(chain(first, ahead), layouts)
    else:
        yield from _compile_in_pool(chain(first, ahead), layouts, workers, expected)


def _compile_here(jobs: Iterable[Job], layouts: Mapping[str, str]) -> Iterator[Sheet]:
    press = Press(layouts)
    for job in jobs:
        yield press.sheet(job.name, _encoded(job))


def _compile_in_pool(jobs: Iterator[Job], layouts: Mapping[str, str], workers: int, expected: int) -> Iterator[Sheet]:
    running: deque[Future[list[Sheet]]] = deque()
    with helpers(workers, _start_worker, (dict(layouts),)) as pool:
        pool.begin(min(workers, -(-expected // CHUNK)))  # no more than there will be work for
        while chunk := [(job.name, _encoded(job)) for job in islice(jobs, CHUNK)]:
            running.append(pool.submit(_compile_chunk, chunk))
            if len(running) > 2 * workers:
                yield from running.popleft().result()
        while running:
            yield from running.popleft().result()


def _encoded(job: Job) -> bytes:
    return json.dumps(job.data).encode()


_PRESSES: list[Press] = []  # a worker's own, put there as the worker starts


def _start_worker(layouts: Mapping[str, str]) -> None:
    _PRESSES.append(Press(layouts))


def _compile_chunk(chunk: list[tuple[str, bytes]]) -> list[Sheet]:
    return [_PRESSES[0].sheet(name, data) for name, data in chunk]
