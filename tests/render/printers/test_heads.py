"""Heads of pages: worked out as they would be measured."""

from __future__ import annotations

import io
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pypdf import PdfReader

from problemgen.load.resources import layouts
from problemgen.model.blocks import Document, NewSheet, Paragraph, Prose
from problemgen.render.printers.sizes import ROOMY
from problemgen.render.printers.typst import sheet_data
from problemgen.write.pdf import Job, compile_all

SHORT = Document("Salt", "CHEM 12", "Anna", "AB-12", "a4", "en", (NewSheet("Before"), NewSheet("After")), about="s1, B")
LONG = "Wilhelmina Vandermolen-Iglesias of the many names "
DOCUMENTS = [
    SHORT,
    replace(SHORT, student="", name_line=True),
    replace(SHORT, student="", confidential=True),
    replace(SHORT, student=""),
    replace(SHORT, student=LONG),
    replace(SHORT, student=LONG * 2),
    replace(SHORT, student=LONG * 3, compact=True),
    replace(SHORT, about=LONG * 3),
    replace(SHORT, course=LONG * 3),
    replace(SHORT, student=LONG, course=LONG * 3, blocks=(NewSheet(LONG * 4), *(Paragraph((Prose("x"),)),) * 90)),
    replace(SHORT, student="Ünal Çağrı", compact=True, paper="us-letter"),
]


@pytest.mark.parametrize(
    ("document", "measured"),
    [
        *((document, False) for document in DOCUMENTS),
        (replace(SHORT, student="م" * 4), False),
        (replace(SHORT, student="م" * 40), True),
        (replace(SHORT, student="م", course=LONG * 3), True),
    ],
)
def test_a_head_is_measured_where_letters_are_not_known_and_may_have_no_room(
    document: Document, *, measured: bool
) -> None:
    assert (sheet_data(document)["head"] is None) is measured


def placed(pdf: bytes) -> list[tuple[str, float, float]]:
    """Each text of all pages with its place, in points."""
    found: list[tuple[str, float, float]] = []

    def note(text: str, page: list[float], line: list[float], *_: object) -> None:
        found.append((text.strip(), line[4] * page[0] + page[4], line[5] * page[3] + page[5]))

    for page in PdfReader(io.BytesIO(pdf)).pages:
        page.extract_text(visitor_text=note)
    return found


@pytest.mark.parametrize("document", DOCUMENTS)
def test_a_head_is_printed_as_one_that_is_measured(document: Document) -> None:
    data = sheet_data(document)
    jobs = [Job("one", {**data, "head": head}) for head in (data["head"], None)]
    (_, known), (_, measured) = compile_all(jobs, layouts(), workers=1)
    for one, other in zip(placed(known), placed(measured), strict=True):
        assert one[0] == other[0]
        assert one[1:] == pytest.approx(other[1:], abs=0.5)


@given(st.builds(Document, *[st.text("abc ÄöλЖم-1", max_size=120)] * 4, st.just("a4"), st.just("en"), st.just(())))
def test_no_head_is_wider_than_its_place(document: Document) -> None:
    head, room = sheet_data(document)["head"], ROOMY.page("a4")
    if head is not None:
        left, right = (room - head["share"] - 12, head["share"]) if head["beside"] else (room, room)
        places = [("name", right), ("about", head["share"]), ("course", room - head["share"] - 12)]
        fitted = [(head[name], place) for name, place in places] + [(title, left) for title in head["titles"]]
        assert all(one["width"] * one["factor"] <= place + 1e-6 for one, place in fitted)
