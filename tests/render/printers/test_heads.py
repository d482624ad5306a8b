"""Heads of pages are measured only where they may be too narrow."""

from __future__ import annotations

import io
from dataclasses import replace

import pytest
from pypdf import PdfReader

from problemgen.load.resources import layouts
from problemgen.model.blocks import Document, NewSheet
from problemgen.render.printers.typst import sheet_data
from problemgen.render.printers.widths import text_width
from problemgen.write.pdf import Job, compile_all
from tests.support.advances import measured

SHORT = Document("Salt", "CHEM 12", "Anna", "AB-12", "a4", "en", (NewSheet("Before"), NewSheet("After")), about="s1, B")


@pytest.mark.parametrize(
    ("document", "roomy"),
    [
        (SHORT, True),
        (replace(SHORT, student="", name_line=True), True),
        (replace(SHORT, student="A" * 60), False),
        (replace(SHORT, student="م" * 16), False),
        (replace(SHORT, about="A" * 60), False),
        (replace(SHORT, course="Course " * 20), False),
        (replace(SHORT, title="Title " * 20), False),
        (replace(SHORT, blocks=(NewSheet("Title " * 20),)), False),
        (replace(SHORT, compact=True), True),
    ],
)
def test_what_surely_has_room_is_not_measured(document: Document, *, roomy: bool) -> None:
    assert sheet_data(document)["roomy_head"] is roomy


def placed(pdf: bytes) -> list[tuple[str, float, float]]:
    """Each text of all pages with its place, in points."""
    found: list[tuple[str, float, float]] = []

    def note(text: str, page: list[float], line: list[float], *_: object) -> None:
        found.append((text.strip(), line[4] * page[0] + page[4], line[5] * page[3] + page[5]))

    for page in PdfReader(io.BytesIO(pdf)).pages:
        page.extract_text(visitor_text=note)
    return found


def test_a_head_with_room_is_printed_as_one_that_is_measured() -> None:
    jobs = [Job("one", {**sheet_data(SHORT), "roomy_head": roomy}) for roomy in (True, False)]
    (_, simple), (_, measured_one) = compile_all(jobs, layouts(), workers=1)
    for one, other in zip(placed(simple), placed(measured_one), strict=True):
        assert one[0] == other[0]
        assert one[1:] == pytest.approx(other[1:], abs=0.01)


@pytest.mark.parametrize(
    "text", ["Wilhelmina Vandermolen-Iglesias", "Œuvre Ğül Škoda", "Before the first session: amounts", "illi"]
)
def test_bold_and_italic_letters_are_hardly_wider(text: str) -> None:
    bold, italic = (measured([text], style=style)[0] / 1000 for style in ("bold", "italic"))
    assert bold <= 1.25 * text_width(text)
    assert italic <= 1.1 * text_width(text)
