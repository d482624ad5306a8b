"""Charts as pieces of a page: drawn by Matplotlib, in the colours and the type of the page that they stand in."""

from __future__ import annotations

import io
import re
import warnings
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any
from xml.etree import ElementTree
from xml.etree.ElementTree import Element, SubElement

import matplotlib as mpl
from markupsafe import Markup
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.legend import Legend

__all__ = ["INK", "MAIN", "PAPER", "RULE", "SOFT", "TYPE", "WIDTH", "Drawing", "drawing", "label", "legend", "svg"]

WIDTH = 340
"""Units of a chart's width: at this size it fills a phone, and its type is as large as the page's notes."""
TYPE = 11.0

INK, PAPER, MAIN, SOFT, RULE = "#010101", "#fefefe", "#0101fe", "#01fefe", "#818181"
_NAMES = {INK: "ink", PAPER: "paper", MAIN: "main", SOFT: "soft", RULE: "rule"}
"""Colours that the page decides, in light and in dark: each stands for a variable of its style."""

_SETTINGS: dict[Any, Any] = {
    "svg.fonttype": "none",  # letters stay letters: small, and as sharp as the page's
    "font.family": "DejaVu Sans",  # comes with Matplotlib: places are the same on every computer
    "font.size": TYPE,
    "text.parse_math": False,
    "path.simplify": False,
    "hatch.linewidth": 1.0,
    "hatch.color": MAIN,
    "axes.unicode_minus": True,
}
_METADATA = dict.fromkeys(("Creator", "Date", "Format", "Type"))


@dataclass(frozen=True)
class Drawing:
    """An empty chart: `axes` span the room inside the margins; `sheet` spans all, its numbers are the chart's units.

    The sheet's numbers begin at the upper left corner.
    """

    figure: Figure
    axes: Axes
    sheet: Axes


def drawing(height: float, left: float = 4, right: float = 4, top: float = 4, bottom: float = 26) -> Drawing:
    """An empty chart of the usual width; height and margins in its units."""
    with mpl.rc_context(_SETTINGS):
        figure = Figure(figsize=(WIDTH / 72, height / 72), dpi=72, facecolor="none")
        box = (left / WIDTH, bottom / height, (WIDTH - left - right) / WIDTH, (height - top - bottom) / height)
        axes = figure.add_axes(box, facecolor="none")
        sheet = figure.add_axes((0, 0, 1, 1), facecolor="none", xlim=(0, WIDTH), ylim=(height, 0))
    sheet.set_axis_off()
    for side in ("top", "left", "right"):
        axes.spines[side].set_visible(False)
    axes.spines["bottom"].set_color(INK)
    axes.tick_params(axis="both", colors=INK, labelsize=TYPE, length=3)
    return Drawing(figure, axes, sheet)


def label(axes: Axes, x: float, y: float, text: str, **more: Any) -> None:
    """Words in a chart, at a place in the axes' own numbers."""
    usual = {"fontsize": TYPE, "color": INK, "va": "center", "parse_math": False}
    axes.text(x, y, text, **{**usual, **more})


def legend(drawn: Drawing, x: float, y: float, entries: Sequence[tuple[str, Artist]], columns: int = 1) -> None:
    """What marks and areas mean: each in words behind a sample; the upper left corner in the sheet's numbers."""
    drawn.sheet.add_artist(
        Legend(
            drawn.sheet,
            [sample for _, sample in entries],
            [words for words, _ in entries],
            loc="upper left",
            bbox_to_anchor=(x, y),
            bbox_transform=drawn.sheet.transData,
            ncols=columns,
            frameon=False,
            fontsize=TYPE,
            labelcolor=INK,
            handlelength=1.6,
            borderpad=0,
            borderaxespad=0,
        )
    )


def svg(drawn: Drawing, name: str, title: str, told: str) -> Markup:
    """The chart as inline SVG: one picture to a screen reader, with a title and what it tells.

    `name` is the chart's own on its page; every id begins with it.
    """
    out = io.BytesIO()
    with mpl.rc_context({**_SETTINGS, "svg.hashsalt": name}), warnings.catch_warnings():
        # Letters are drawn by the browser's fonts: that Matplotlib's own lacks some is of no account.
        warnings.filterwarnings("ignore", r"Glyph .* missing from", UserWarning)
        drawn.figure.savefig(out, format="svg", metadata=_METADATA, transparent=True)
    root = ElementTree.fromstring(out.getvalue())  # noqa: S314  # Matplotlib wrote it, a moment ago
    ours = Element("svg", viewBox=root.attrib["viewBox"], role="img")
    ours.set("aria-labelledby", f"{name}-title {name}-told")
    for tag, text in (("title", title), ("desc", told)):
        SubElement(ours, tag, id=f"{name}-{'told' if tag == 'desc' else tag}").text = text
    used = {found for node in root.iter() for value in node.attrib.values() for found in _REFERENCE.findall(value)}
    ours.extend(_for_page(child, name, used) for child in root if not _is_of_a_file(child))
    return Markup(ElementTree.tostring(ours, encoding="unicode"))  # noqa: S704  # every text was escaped just now


_REFERENCE = re.compile(r"(?<=#)[\w.-]+")
_FACE = re.compile(r"font-family:[^;]*;? ?")
_LONG = re.compile(r"(\.\d\d)\d+")


def _is_of_a_file(node: Element) -> bool:
    """Whether a node is of no use in a page: data about the file, and a style that would reach out of the chart."""
    return _local(node.tag) == "metadata" or node.find("{*}style") is not None


def _local(tag: str) -> str:
    return tag.rpartition("}")[2]


def _for_page(node: Element, name: str, used: set[str]) -> Element:
    """A node without its namespace, with ids of the chart's own where they are used, in the page's type and colours."""
    ours = Element(_local(node.tag))
    for key, value in node.attrib.items():
        if key == "id":
            if value in used:
                ours.set("id", f"{name}-{value}")
        elif not value.startswith("rotate(-0 "):
            ours.set(_local(key), _attribute(value, name))
    ours.text = node.text if ours.tag in ("text", "tspan") else None
    ours.extend(_for_page(child, name, used) for child in node)
    return ours


def _attribute(value: str, name: str) -> str:
    """An attribute's value: names as they are in the page, two decimals, no line breaks."""
    for colour, variable in _NAMES.items():
        value = value.replace(colour, f"var(--{variable})")
    value = _REFERENCE.sub(lambda found: f"{name}-{found[0]}", value)
    return " ".join(_LONG.sub(r"\1", _FACE.sub("", value)).split())
