"""What becomes of a sheet or a workbook between a student's screen and a course platform."""

from __future__ import annotations

import io
import re
from collections.abc import Callable
from typing import Any

import pikepdf
import pypdf
from openpyxl import load_workbook
from pypdf.annotations import FreeText

__all__ = [
    "cut_short",
    "flattened",
    "forged",
    "forged_book",
    "page_by_page",
    "with_changed_number",
    "with_changed_page",
    "with_note",
    "with_other_sheet_first",
    "with_password",
    "with_program",
]


def _changed(sheet: bytes, change: Callable[[pikepdf.Pdf], None]) -> bytes:
    with pikepdf.open(io.BytesIO(sheet)) as opened:
        change(opened)
        out = io.BytesIO()
        opened.save(out)
    return out.getvalue()


def cut_short(content: bytes) -> bytes:
    """Half of a file, as a connection that broke leaves it, without what PDF has at the end to mend it by."""
    return content[: len(content) // 2]


def with_password(sheet: bytes) -> bytes:
    """Saved so that it opens with a password alone."""
    with pikepdf.open(io.BytesIO(sheet)) as opened:
        out = io.BytesIO()
        opened.save(out, encryption=pikepdf.Encryption(owner="master", user="open sesame"))
    return out.getvalue()


def page_by_page(sheet: bytes) -> bytes:
    """Put together anew from its pages, as programs do that join files: what the whole file says of itself is gone."""
    writer = pypdf.PdfWriter()
    writer.append(io.BytesIO(sheet))
    out = io.BytesIO()
    writer.write(out)
    return out.getvalue()


def flattened(sheet: bytes) -> bytes:
    """Its fields made part of the page."""

    def change(opened: pikepdf.Pdf) -> None:
        opened.flatten_annotations()
        for page in opened.pages:
            if "/Annots" in page.obj:
                del page.obj["/Annots"]

    return _changed(sheet, change)


def with_changed_page(sheet: bytes) -> bytes:
    """With another number written over one that it prints."""

    def change(opened: pikepdf.Pdf) -> None:
        opened.pages[0].contents_add(b"q 0 0 20 20 re f Q")

    return _changed(sheet, change)


def with_note(sheet: bytes, text: str) -> bytes:
    """With a note beside the fields."""
    writer = pypdf.PdfWriter(clone_from=io.BytesIO(sheet))
    writer.add_annotation(0, FreeText(text=text, rect=(50, 550, 200, 650)))
    out = io.BytesIO()
    writer.write(out)
    return out.getvalue()


def with_program(sheet: bytes) -> bytes:
    """With a program that would run when it is opened."""

    def change(opened: pikepdf.Pdf) -> None:
        program = pikepdf.Dictionary(S=pikepdf.Name.JavaScript, JS="app.alert('hello');")
        opened.Root.OpenAction = opened.make_indirect(program)

    return _changed(sheet, change)


def forged(sheet: bytes, code: str, other: str) -> bytes:
    """With another sheet's code in the place of its own, wherever it says of which sheet it is."""

    def change(opened: pikepdf.Pdf) -> None:
        keywords: Any = opened.docinfo["/Keywords"]
        opened.docinfo["/Keywords"] = str(keywords).replace(code, other)
        metadata: Any = opened.Root.Metadata
        metadata.write(metadata.read_bytes().replace(code.encode(), other.encode()))
        for page in opened.pages:
            mine: Any = page.obj.PieceInfo.problemgen
            mine.Private = str(mine.Private).replace(code, other)

    return _changed(sheet, change)


def _saved(book: Any) -> bytes:
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def forged_book(content: bytes, code: str, other: str) -> bytes:
    """With another sheet's code in its properties, and on the tab."""
    book: Any = load_workbook(io.BytesIO(content))
    for one in book.custom_doc_props.props:
        one.value = re.sub(code, other, one.value)
    book.properties.keywords = re.sub(code, other, book.properties.keywords)
    book.worksheets[0].title = other
    return _saved(book)


def with_changed_number(content: bytes) -> bytes:
    """With another given number in the first cell that has one."""
    book = load_workbook(io.BytesIO(content))
    cells = (row[2] for row in book.worksheets[0].iter_rows() if row[0].value is None and row[2].value is not None)
    next(cells).value = 1.5
    return _saved(book)


def with_other_sheet_first(content: bytes) -> bytes:
    """With a sheet for calculating in front of ours."""
    book = load_workbook(io.BytesIO(content))
    scratch: Any = book.create_sheet("Scratch", 0)
    scratch["A1"] = "=2*3"
    return _saved(book)
