"""Sheets as PDF: Typst compiles each one; pikepdf puts a class into one file for the printer."""

from __future__ import annotations

import io
import json
from collections import deque
from collections.abc import Iterable, Iterator, Mapping
from concurrent.futures import Future
from dataclasses import dataclass
from itertools import chain, islice
from typing import Any, TypeAlias

import pikepdf
import typst

from problemgen.errors import OutputError
from problemgen.write.fonts import NO_FOLDER, font_families, fonts
from problemgen.write.processes import helpers

__all__ = ["Job", "Press", "compile_all", "merge"]

CHUNK = 8  # sheets handed to a process at once
POOL_FROM = 24  # fewer sheets are done sooner than two processes have started
MAIN = "main.typ"  # the name that Typst starts from
SHEET = "sheet.typ"

Sheet: TypeAlias = tuple[str, bytes]


@dataclass(frozen=True)
class Job:
    """One sheet to compile: the name it is known by, and the data that its layout reads."""

    name: str
    data: Mapping[str, Any]


class Press:
    """One Typst compiler with the layouts: one a process, never shared, never carried over a fork."""

    def __init__(self, layouts: Mapping[str, str]) -> None:
        """Take the layout texts by file name."""
        self._files = {name: text.encode() for name, text in layouts.items() if name.endswith(".typ")}
        self._files[MAIN] = self._files.pop(SHEET)
        self._files["fonts.json"] = json.dumps(font_families()).encode()
        self._compiler = typst.Compiler(
            root=NO_FOLDER, font_paths=fonts(), package_path=NO_FOLDER, package_cache_path=NO_FOLDER
        )

    def sheet(self, name: str, data: bytes) -> Sheet:
        """Compile one sheet to tagged PDF (PDF/UA-1). Raises OutputError, with Typst's reason."""
        pdf = self._compiled(name, data, pdf_standards=["ua-1"])
        if not isinstance(pdf, bytes):
            raise OutputError(f"sheet {name!r} could not be laid out: no PDF came out")
        return name, pdf

    def pictures(self, job: Job, dots: float) -> tuple[bytes, ...]:
        """The pages of one sheet as PNG, of so many dots an inch. Raises OutputError, with Typst's reason."""
        pages = self._compiled(job.name, _encoded(job), format="png", ppi=dots)
        return (pages,) if isinstance(pages, bytes) else tuple(pages)

    def _compiled(self, name: str, data: bytes, **how: Any) -> Any:
        files: Any = {**self._files, "data.json": data}  # a form that typst's declared types leave out
        try:
            return self._compiler.compile(input=files, **how)
        except typst.TypstError as error:
            raise OutputError(f"sheet {name!r} could not be laid out: {error.message}") from error


def compile_all(jobs: Iterable[Job], layouts: Mapping[str, str], workers: int = 2) -> Iterator[Sheet]:
    """Compile the sheets, and yield (name, PDF bytes) in the order of the jobs.

    `layouts` holds the texts of the layout folder by file name ("sheet.typ", "chem.typ", …). A few sheets
    are compiled here, more in `workers` processes. Jobs are taken as they are needed, so that memory stays
    flat. Raises OutputError for the first sheet that cannot be laid out.
    """
    ahead = iter(jobs)
    first = list(islice(ahead, POOL_FROM))
    if workers < 2 or len(first) < POOL_FROM:
        yield from _compile_here(chain(first, ahead), layouts)
    else:
        yield from _compile_in_pool(chain(first, ahead), layouts, workers)


def merge(pdfs: Iterable[bytes], title: str, sheet: int | None = None) -> bytes:
    """One file for the printer: each PDF in turn, or only its `sheet` so numbered (from 0), each on a right-hand page.

    A blank page follows every PDF with an odd number of pages but the last. The file asks for printing on
    both sides. It is not tagged: a student who needs the tags gets the own sheet. Same input, same bytes.
    """
    with pikepdf.new() as book:
        for pdf in pdfs:
            if len(book.pages) % 2:
                book.add_blank_page(page_size=_size(book.pages[-1]))
            _append(book, pdf, sheet)
        book.docinfo["/Title"] = title
        book.Root.ViewerPreferences = pikepdf.Dictionary(DisplayDocTitle=True, Duplex=pikepdf.Name.DuplexFlipLongEdge)
        target = io.BytesIO()
        book.save(target, deterministic_id=True, object_stream_mode=pikepdf.ObjectStreamMode.generate)
    return target.getvalue()


def _append(book: pikepdf.Pdf, pdf: bytes, sheet: int | None) -> None:
    with pikepdf.open(io.BytesIO(pdf)) as source:
        start = len(book.pages)
        book.pages.extend(source.pages if sheet is None else _pages_of(source, sheet))
        for page in list(book.pages)[start:]:
            for key in ("/StructParents", "/Tabs"):  # point into tags that stay behind
                if key in page.obj:
                    del page.obj[key]


def _pages_of(source: pikepdf.Pdf, sheet: int) -> list[pikepdf.Page]:
    """The pages of one sheet, from 0: from its entry in the outline, one a sheet, to the page before the next one's.

    Without the blank one behind it, which alone has no tags.
    """
    with source.open_outline() as outline:
        places = [_destination(item) for item in outline.root]
    begins = [place for place, page in enumerate(source.pages) if page.obj.objgen in places]
    end = begins[sheet + 1] if sheet + 1 < len(begins) else len(source.pages)
    return [page for page in list(source.pages)[begins[sheet] : end] if "/StructParents" in page.obj]


def _destination(item: pikepdf.OutlineItem) -> tuple[int, int]:
    """The object of the page to which an entry of the outline leads."""
    destination = item.destination
    page = destination[0] if isinstance(destination, pikepdf.Array) else pikepdf.Dictionary()
    return page.objgen


def _size(page: pikepdf.Page) -> tuple[float, float]:
    left, bottom, right, top = (float(edge) for edge in page.mediabox)
    return right - left, top - bottom


def _compile_here(jobs: Iterable[Job], layouts: Mapping[str, str]) -> Iterator[Sheet]:
    press = Press(layouts)
    for job in jobs:
        yield press.sheet(job.name, _encoded(job))


def _compile_in_pool(jobs: Iterator[Job], layouts: Mapping[str, str], workers: int) -> Iterator[Sheet]:
    running: deque[Future[list[Sheet]]] = deque()
    with helpers(workers, _start_worker, (dict(layouts),)) as pool:
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
