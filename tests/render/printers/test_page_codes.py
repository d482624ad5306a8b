"""The codes on printed pages: every page's says which it is, in a picture and in letters, and costs no line."""

from __future__ import annotations

import io
from collections.abc import Mapping
from dataclasses import replace

import pikepdf
import pypdfium2
import pytest
import zxingcpp

from problemgen.load.resources import layouts as shipped_layouts
from problemgen.model.blocks import Block, Document, Heading, NewSheet, Part, Prose
from problemgen.model.page_code import MOST_PAGES, PageCode
from problemgen.render.printers.page_codes import page_code_data, qr_rows
from problemgen.render.printers.typst import sheet_data
from problemgen.write.pdf import Job, compile_all

CODE = "4BRM-TW9H"


@pytest.fixture(scope="module")
def layouts() -> Mapping[str, str]:
    return shipped_layouts()


def part(label: str) -> Part:
    return Part(label, label, (Prose("The amount of salt"),), "2 points", "mol", work_lines=4)


def document(parts: int = 12, sessions: tuple[int, ...] = (1, 2), *, build: str = "K7QX", **fields: bool) -> Document:
    blocks: list[Block] = []
    for session in sessions:
        blocks += [NewSheet(f"Session {session}", session), Heading(2, "Questions"), *map(part, "a" * parts)]
    plain = Document("Salt", "CHEM 1", "Anna", CODE, "a4", "en", tuple(blocks), leaves=True, build=build)
    return replace(plain, **fields)


def printed(document: Document, layouts: Mapping[str, str]) -> bytes:
    ((_, pdf),) = compile_all([Job("one", sheet_data(document))], layouts)
    return pdf


def codes_and_texts(pdf: bytes) -> list[tuple[list[str], str]]:
    """What each page's pictures say, and its text; pages without text are left out."""
    found = []
    for page in pypdfium2.PdfDocument(pdf):
        text = page.get_textpage().get_text_range()
        picture = page.render(scale=150 / 72, grayscale=True).to_pil()
        if text:
            found.append(([one.text for one in zxingcpp.read_barcodes(picture)], text))
    return found


def elements(pdf: bytes) -> list[str]:
    """The kinds of all elements of the structure tree; the file is one of PDF/UA-1."""
    with pikepdf.open(io.BytesIO(pdf)) as file:
        with file.open_metadata() as metadata:
            assert metadata["pdfuaid:part"] == "1"
        return sorted(str(one.S)[1:] for one in file.objects if isinstance(one, pikepdf.Dictionary) and "/P" in one)


@pytest.mark.parametrize("compact", [False, True])
def test_every_page_says_which_it_is(layouts: Mapping[str, str], *, compact: bool) -> None:
    count = 60 if compact else 12
    found = codes_and_texts(printed(document(count, (1, 3), compact=compact), layouts))
    pages = len(found) // 2
    assert pages > 1
    expected = [PageCode("K7QX", CODE, session, page, pages) for session in (1, 3) for page in range(1, pages + 1)]
    assert [codes for codes, _ in found] == [[one.text] for one in expected]
    for one, (_, text) in zip(expected, found, strict=True):
        assert one.shown in text
        assert f"Page {one.page} of {one.pages}" in text


@pytest.mark.parametrize("compact", [False, True])
def test_a_code_costs_no_line(layouts: Mapping[str, str], *, compact: bool) -> None:
    bare, coded = (
        [
            len(text.split("(a)"))
            for _, text in codes_and_texts(printed(document(70, build=build, compact=compact), layouts))
        ]
        for build in ("", "K7QX")
    )
    assert bare == coded


def test_a_code_is_beside_what_is_read_aloud(layouts: Mapping[str, str]) -> None:
    """As head and foot are: a screen reader goes past them, and PDF/UA has them as artifacts."""
    bare, coded = (elements(printed(document(1, build=build), layouts)) for build in ("", "K7QX"))
    assert bare == coded
    assert "Figure" not in coded


def test_what_has_no_code(layouts: Mapping[str, str]) -> None:
    for one in (document(1, build=""), replace(document(1), code="AB-12")):
        assert page_code_data(one) == {}
        assert not any(codes for codes, _ in codes_and_texts(printed(one, layouts)))


def test_pages_beyond_the_last_that_a_code_can_tell_have_none(layouts: Mapping[str, str]) -> None:
    data = sheet_data(document(12, (1,)))
    data["codes"]["most"] = 1
    ((_, pdf),) = compile_all([Job("one", data)], layouts)
    assert [codes for codes, _ in codes_and_texts(pdf)] == [[]] * 3


def test_a_code_put_together_is_the_code_as_a_whole() -> None:
    data = page_code_data(document(1, (0, 9)))
    for sheet, session in zip(data["sheets"], (0, 9), strict=True):
        for page, pages in ((1, 1), (3, 17), (MOST_PAGES, MOST_PAGES)):
            code = PageCode("K7QX", CODE, session, page, pages).text
            rows = sheet["rows"]
            for start, turned in zip((12, 14), data["turned"], strict=True):
                first, second = (data["values"][letter] for letter in code[start : start + 2])
                pair = first * data["base"] + second
                for place, fours in enumerate(turned):
                    rows = tuple(a ^ b for a, b in zip(rows, fours[pair >> 4 * place & 15], strict=True))
            assert rows == qr_rows(code)
