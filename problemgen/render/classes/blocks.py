"""What a report is made of: sections of words, definitions, charts and tables, before the page shapes them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import TypeAlias

from jinja2 import Environment, StrictUndefined, Template
from markupsafe import Markup

from problemgen.language.messages import _

__all__ = ["Block", "Cell", "Charts", "Column", "Definitions", "Listing", "Report", "Section", "Words", "report_page"]

LAYOUT = "class-report.html"

Cell: TypeAlias = str | tuple[str, ...]
"""A cell's text, or several texts that are set one behind the other."""


@dataclass(frozen=True)
class Words:
    """A paragraph."""

    text: str
    kind: str = "words"


@dataclass(frozen=True)
class Definitions:
    """How statistics are calculated, and where they come from: a term and its words each."""

    items: tuple[tuple[str, str], ...]
    kind: str = "definitions"


@dataclass(frozen=True)
class Column:
    """A column of a table: its head, whether numbers stand in it, whether it takes the room that is left.

    `free`: it holds what students wrote, which may break anywhere.
    """

    head: str
    numeric: bool = False
    wide: bool = False
    free: bool = False


@dataclass(frozen=True)
class Listing:
    """A table. With `folded`, its words, it is shown when asked for, and in print."""

    caption: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    folded: str = ""
    kind: str = "listing"


@dataclass(frozen=True)
class Charts:
    """Charts, one below the other."""

    drawings: tuple[Markup, ...]
    kind: str = "charts"


Block: TypeAlias = Words | Definitions | Listing | Charts


@dataclass(frozen=True)
class Section:
    """A section with a heading; `id` is its place on the page."""

    id: str
    title: str
    blocks: tuple[Block, ...]


@dataclass(frozen=True)
class Report:
    """A whole report; `notice` is said above all, `first` are the points to look at first."""

    language: str
    title: str
    course: str
    notice: str
    opening: str
    first: tuple[str, ...]
    sections: tuple[Section, ...]
    closing: str


def report_page(report: Report, layouts: Mapping[str, str]) -> str:
    """The report as one self-contained HTML page without a script; `layouts` are the layout folder's texts by name."""
    return _compiled(layouts[LAYOUT]).render(
        report=report, words={"first": _("To look at first:"), "sections": _("Sections")}
    )


@lru_cache(maxsize=1)
def _compiled(layout: str) -> Template:
    environment = Environment(autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True)
    return environment.from_string(layout)
