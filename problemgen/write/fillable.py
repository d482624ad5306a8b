"""Sheets to be filled in on a screen: the links at the blanks of a printed sheet become the fields of a form.

The page stays as it is printed. Each field has its place in the reading order, its spoken label, and no program: what
is written into it is text, and nothing happens when it is.
"""

from __future__ import annotations

import io
from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any

import pikepdf
from pikepdf import Array, Dictionary, Name

from problemgen.errors import OutputError
from problemgen.model.handed_out import Field, digest_of

__all__ = ["FIELD", "fillable"]

FIELD = "field:"
"""What the address of a link begins with that becomes a field; behind it its name, and of a button its letter."""

_LONGEST = 200
"""Characters of an answer: an equation has some eighty."""
_RADIO = 1 << 15  # ISO 32000-1, table 226: of several buttons one is on, and it may be put off again
_PRINTED = 4  # ISO 32000-1, table 165: a field is printed too
_TALLER = 3
"""Points by which a field rises above its line, so that letters of eleven points have room."""
_TEXT = b"/Helv 10 Tf 0 g"
_MARK = b"/ZaDb 0 Tf 0 g"
_CROSS = "8"  # of ZapfDingbats, for readers that draw buttons themselves
_NO_TIME = "D:19800101000000Z"  # needed beside what a page says; the file does not tell when it was made
_NAMED = str.maketrans(".", ":")
"""A point in a field's name would make it one of a group (ISO 32000-1, 12.7.3.2)."""


def fillable(pdf: bytes, fields: Sequence[Field], stamp: Callable[[str], str]) -> bytes:
    """A printed sheet with fields where it has links to them; the same sheet gives the same bytes.

    `stamp` makes what the file says of itself from the digest of its pages and its fields' names. It stands among the
    keywords, in both places that PDF has for them, and with each page (ISO 32000-1, 14.5): what writes a file anew
    keeps one or another.

    Raises OutputError where a link and the fields do not agree.
    """
    with pikepdf.open(io.BytesIO(pdf)) as sheet:
        form = _Form(sheet, {field.name: field for field in fields})
        for page in sheet.pages:
            form.take(page)
        form.close()
        told = stamp(digest_of((*_page_texts(sheet), *sorted(field.name.encode() for field in fields))))
        with sheet.open_metadata(set_pikepdf_as_editor=False, update_docinfo=False) as metadata:
            metadata["pdf:Keywords"] = told
        sheet.docinfo["/Keywords"] = told
        for page in sheet.pages:
            page.obj.LastModified = _NO_TIME
            page.obj.PieceInfo = Dictionary(problemgen=Dictionary(LastModified=_NO_TIME, Private=told))
        target = io.BytesIO()
        sheet.save(target, deterministic_id=True, object_stream_mode=pikepdf.ObjectStreamMode.generate)
    return target.getvalue()


def _page_texts(sheet: pikepdf.Pdf) -> Iterator[bytes]:
    """What is printed on each page, as the page says it."""
    for page in sheet.pages:
        contents = page.obj.get("/Contents", Array())
        parts = contents if isinstance(contents, Array) else [contents]
        yield b"\n".join(part.read_bytes().strip() for part in parts)


class _Form:
    """Turns the links of one sheet into fields, page by page."""

    def __init__(self, sheet: pikepdf.Pdf, fields: Mapping[str, Field]) -> None:
        self._sheet, self._fields = sheet, fields
        self._tags = pikepdf.NumberTree(sheet.Root.StructTreeRoot.ParentTree)
        self._made: dict[str, Any] = {}

    def take(self, page: pikepdf.Page) -> None:
        for link in page.obj.get("/Annots", Array()):
            address = str(link.get("/A", Dictionary()).get("/URI", ""))
            if address.startswith(FIELD):
                name, _, option = address.removeprefix(FIELD).partition(":")
                self._turn(link, self._fields.get(name), option)
                link.P = page.obj

    def close(self) -> None:
        lacking = self._fields.keys() - self._made.keys()
        if lacking:
            raise OutputError(f"the sheet has no place for the fields {', '.join(sorted(lacking))}")
        helvetica = self._font("Helvetica", Encoding=Name.WinAnsiEncoding)
        fonts = Dictionary(Helv=helvetica, ZaDb=self._font("ZapfDingbats"))
        self._sheet.Root.AcroForm = self._sheet.make_indirect(
            Dictionary(Fields=Array(list(self._made.values())), DR=Dictionary(Font=fonts), DA=pikepdf.String(_TEXT))
        )

    def _font(self, name: str, **more: Any) -> Any:
        font = Dictionary(Type=Name.Font, Subtype=Name.Type1, BaseFont=Name(f"/{name}"), **more)
        return self._sheet.make_indirect(font)

    def _turn(self, link: Any, field: Field | None, option: str) -> None:
        words = dict(field.options).get(option, "") if field is not None else ""
        if field is None or bool(option) != bool(words):
            raise OutputError(f"the sheet has a place for a field that there is not: {link.A.URI}")
        said = f"{field.said} {words}".rstrip()
        for key in ("/A", "/Border"):
            if key in link:
                del link[key]
        link.Subtype, link.F, link.Contents, link.TU = Name.Widget, _PRINTED, said, said
        tag = self._tags[int(link.StructParent)]
        tag.S, tag.Alt = Name.Form, said
        if option:
            self._button(link, field, option)
        else:
            self._text(link, field)

    def _text(self, widget: Any, field: Field) -> None:
        left, bottom, right, top = map(float, widget.Rect)
        widget.Rect = Array([left, bottom, right, top + _TALLER])
        widget.FT, widget.T, widget.V = Name.Tx, field.name.translate(_NAMED), ""
        widget.MaxLen, widget.DA = _LONGEST, pikepdf.String(_TEXT)
        self._made[field.name] = widget

    def _button(self, widget: Any, field: Field, option: str) -> None:
        if field.name not in self._made:
            self._made[field.name] = self._sheet.make_indirect(
                Dictionary(
                    FT=Name.Btn,
                    Ff=_RADIO,
                    T=field.name.translate(_NAMED),
                    TU=field.said,
                    V=Name.Off,
                    DA=pikepdf.String(_MARK),
                    Kids=Array(),
                )
            )
        group = self._made[field.name]
        group.Kids.append(widget)
        left, bottom, right, top = map(float, widget.Rect)
        wide, high = right - left, top - bottom
        cross = f"1.2 w 1.5 1.5 m {wide - 1.5:.2f} {high - 1.5:.2f} l 1.5 {high - 1.5:.2f} m {wide - 1.5:.2f} 1.5 l S"
        looks = {name: self._drawn(text, wide, high) for name, text in ((f"/{option}", cross), ("/Off", ""))}
        widget.Parent, widget.AS, widget.MK = group, Name.Off, Dictionary(CA=_CROSS)
        widget.AP = Dictionary(N=Dictionary(looks))

    def _drawn(self, text: str, wide: float, high: float) -> Any:
        look = self._sheet.make_stream(text.encode())
        look.Type, look.Subtype, look.BBox = Name.XObject, Name.Form, Array([0, 0, wide, high])
        return look
