"""A document as one page for the browser: no script, no request to anywhere, every string escaped."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache

from jinja2 import Environment, StrictUndefined, Template
from markupsafe import Markup

from problemgen.model.blocks import Document
from problemgen.render.typst import sheet_data

__all__ = ["page"]

PAGE = "page.html"


def page(document: Document, layouts: Mapping[str, str]) -> str:
    """The document as a self-contained HTML page.

    `layouts` holds the texts of the layout folder by file name; "page.html" is used. A part is printed
    with its prompt, its choices and, where it has lines to work on, its blank.
    """
    data = sheet_data(document)
    # RDKit wrote the drawings, from a structure alone: labels are paths, no text of anybody's is in them.
    drawings = {smiles: Markup(drawing["svg"]) for smiles, drawing in data["drawings"].items()}  # noqa: S704
    return _compiled(layouts[PAGE]).render({**data, "drawings": drawings})


@lru_cache(maxsize=4)
def _compiled(layout: str) -> Template:
    """A page's layout, compiled once: compiling takes longer than filling in."""
    environment = Environment(autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True)
    return environment.from_string(layout)
