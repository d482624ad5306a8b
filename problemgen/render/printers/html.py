"""A document for the browser: a whole page, or pieces of one. No script, no request, every string escaped."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import lru_cache
from typing import Any

from jinja2 import DictLoader, Environment, StrictUndefined, Template
from markupsafe import Markup

from problemgen.language.messages import spoken
from problemgen.model.blocks import Block, Document, Line, Paragraph
from problemgen.render.printers.typst import document_data

__all__ = ["fragment", "fragments", "inline", "page"]

PAGE = "page.html"
BLOCKS = "blocks.html"

_IMPORT = '{% import "blocks.html" as printed with context %}'
_FRAGMENT = _IMPORT + "{% for b in blocks %}{{ printed.shown(b) }}{% endfor %}"
_CUT = "\x00"
"""What no text holds: `clean_text` leaves out all that cannot be printed."""
_FRAGMENTS = _IMPORT + "{% for b in blocks %}{{ printed.shown(b) }}" + _CUT + "{% endfor %}"
_INLINE = _IMPORT + "{{ printed.line(blocks[0].line) }}"


def page(document: Document, layouts: Mapping[str, str], shaped: Mapping[str, Any] | None = None) -> str:
    """The document as a self-contained HTML page.

    `layouts` holds the texts of the layout folder by file name; "page.html" and "blocks.html" are used. A part is
    printed with its prompt, its choices and, where it has lines to work on, its blank. `shaped` is what
    `document_data` tells, where it is at hand.
    """
    data = document_data(document) if shaped is None else shaped
    return _compiled(layouts[PAGE], layouts[BLOCKS]).render(_with_drawings(data))


def fragment(blocks: Sequence[Block], layouts: Mapping[str, str]) -> str:
    """Blocks as HTML that another page takes in."""
    return _compiled(_FRAGMENT, layouts[BLOCKS]).render(_with_drawings(document_data(_bare(blocks)))).strip()


def fragments(blocks: Sequence[Block], layouts: Mapping[str, str]) -> list[str]:
    """Each block as `fragment` prints it alone; of many at once each costs less."""
    printed = _compiled(_FRAGMENTS, layouts[BLOCKS]).render(_with_drawings(document_data(_bare(blocks))))
    return [one.strip() for one in printed.split(_CUT)[:-1]]


def inline(line: Line, layouts: Mapping[str, str]) -> str:
    """A line of text as HTML, without a paragraph round it."""
    return _compiled(_INLINE, layouts[BLOCKS]).render(_with_drawings(document_data(_bare([Paragraph(line)])))).strip()


def _bare(blocks: Sequence[Block]) -> Document:
    return Document("", "", "", "", "a4", spoken(), tuple(blocks))


def _with_drawings(data: Mapping[str, Any]) -> dict[str, Any]:
    # RDKit wrote the drawings, from a structure alone: labels are paths, no text of anybody's is in them.
    drawings = {smiles: Markup(drawing["svg"]) for smiles, drawing in data["drawings"].items()}  # noqa: S704
    return {**data, "drawings": drawings}


class _Environment(Environment):
    """Looks the name behind a dot up among the keys of a dict first: all that a layout is given are such dicts."""

    def getattr(self, obj: Any, attribute: str) -> Any:
        if type(obj) is dict and attribute in obj:
            return obj[attribute]
        return super().getattr(obj, attribute)


@lru_cache(maxsize=8)
def _compiled(layout: str, blocks: str) -> Template:
    """A layout, compiled once: compiling takes longer than filling in."""
    environment = _Environment(
        loader=DictLoader({BLOCKS: blocks}),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    return environment.from_string(layout)
