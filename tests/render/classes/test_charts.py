"""Charts as inline SVG: one picture to a screen reader, the same every time, nothing that reaches out of it."""

from __future__ import annotations

import re
import warnings
from xml.etree import ElementTree

import pytest
from matplotlib.lines import Line2D
from matplotlib.patches import Patch

from problemgen.render.classes.charts import INK, MAIN, PAPER, RULE, SOFT, TYPE, WIDTH, drawing, label, legend, svg

AWKWARD = 'x < y & "z" $a_1$ 苔原 טלורה --> </svg><script>'


def made(name: str = "one", words: str = "words") -> str:
    drawn = drawing(100)
    drawn.axes.barh([1, 2], [3, 4], facecolor=SOFT, hatch="//", edgecolor=MAIN)
    drawn.axes.plot([1, 2], [1.123456, 2], color=INK, marker="o", markeredgecolor=PAPER)
    drawn.axes.axhline(1, color=RULE)
    label(drawn.sheet, 10, 20, words)
    return str(svg(drawn, name, f"Title {words}", f"Told {words}"))


def parsed(text: str) -> ElementTree.Element:
    return ElementTree.fromstring(text)  # noqa: S314  # our own drawing


@pytest.fixture(scope="module")
def chart() -> str:
    return made()


def test_it_is_one_picture_with_a_title_and_what_it_tells(chart: str) -> None:
    root = parsed(chart)
    assert (root.tag, root.get("role"), root.get("viewBox")) == ("svg", "img", f"0 0 {WIDTH} 100")
    assert root.get("aria-labelledby") == "one-title one-told"
    title, told = root[0], root[1]
    assert (title.tag, title.get("id"), title.text) == ("title", "one-title", "Title words")
    assert (told.tag, told.get("id"), told.text) == ("desc", "one-told", "Told words")
    assert root.get("width") is None


def test_letters_stay_letters_in_the_pages_type(chart: str) -> None:
    words = [node for node in parsed(chart).iter("text") if node.text == "words"]
    assert len(words) == 1
    assert f"font-size: {TYPE:g}px" in words[0].attrib["style"]
    assert "font-family" not in chart


def test_colours_are_the_pages(chart: str) -> None:
    assert re.findall(r"#[0-9a-f]{6}\b", chart) == []
    assert {"ink", "paper", "main", "soft", "rule"} == set(re.findall(r"var\(--(\w+)\)", chart))


def test_it_reaches_for_nothing_outside_and_holds_no_style_sheet(chart: str) -> None:
    for word in ("http", "<style", "<metadata", "xlink", "<image", "javascript", "<!--", "Date"):
        assert word not in chart
    references = set(re.findall(r'(?:url\(#|href="#)([\w.-]+)', chart))
    ids = re.findall(r' id="([^"]+)"', chart)
    assert references
    assert references <= set(ids)
    assert len(ids) == len(set(ids))
    assert all(one.startswith("one-") for one in ids)


def test_two_charts_of_a_page_share_no_id() -> None:
    first, second = (set(re.findall(r' id="([^"]+)"', made(name))) for name in ("one", "two"))
    assert not first & second


def test_the_same_chart_is_the_same_text(chart: str) -> None:
    assert made() == chart


def test_words_of_any_script_are_text_and_warn_of_nothing(capfd: pytest.CaptureFixture[str]) -> None:
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        root = parsed(made(words=AWKWARD))
    assert [node.text for node in root.iter("text") if node.text == AWKWARD] == [AWKWARD]
    assert not list(root.iter("script"))
    assert capfd.readouterr() == ("", "")


def test_numbers_have_two_decimals_at_most(chart: str) -> None:
    for node in parsed(chart).iter():
        for key in ("d", "x", "y", "transform"):
            assert not re.search(r"\.\d{3}", node.get(key, ""))


def test_a_legend_has_each_sample_with_its_words() -> None:
    drawn = drawing(100)
    legend(
        drawn, 10, 5, [("some points", Patch(facecolor=SOFT, hatch="////")), ("the mean", Line2D([], [], marker="D"))]
    )
    root = parsed(str(svg(drawn, "one", "Title", "Told")))
    assert [node.text for node in root.iter("text") if node.text in ("some points", "the mean")] == [
        "some points",
        "the mean",
    ]
