"""Sheets and keys on paper in the pseudo-languages: words 40 % longer, and a page from right to left."""

from __future__ import annotations

import io
from collections.abc import Mapping

import pytest
from pypdf import PageObject, PdfReader

from problemgen.language.languages import ACCENTED, REVERSED
from problemgen.language.messages import speaking
from problemgen.load.resources import layouts
from problemgen.model.problem_set import Student
from problemgen.render.printers.typst import sheet_data
from problemgen.write.pdf import Job, compile_all
from tests.support.shipped import NAMES
from tests.support.spoken import sheet_and_key

ADA = Student("s1", "Ada", "")
MM = 72 / 25.4
FOOT, HEAD, SIDE = 23 * MM, (297 - 27) * MM, 22 * MM  # the margins of templates/layouts/sheet.typ
WIDTH = 210 * MM


@pytest.fixture(scope="module")
def texts() -> Mapping[str, str]:
    return layouts()


def placed(page: PageObject) -> list[tuple[float, float, str]]:
    """Each text of a page with where it begins, in points from the page's lower left corner."""
    found: list[tuple[float, float, str]] = []

    def note(text: str, on_page: list[float], line: list[float], *_: object) -> None:
        if text.strip():
            x = line[4] * on_page[0] + line[5] * on_page[2] + on_page[4]
            found.append((x, line[4] * on_page[1] + line[5] * on_page[3] + on_page[5], text))

    page.extract_text(visitor_text=note)
    return found


def outside(name: str, language: str, texts: Mapping[str, str]) -> list[str]:
    """What stands beside the page's measure, or below it in more than the foot's one line."""
    found = []
    with speaking(language):
        jobs = [Job(str(n), sheet_data(one)) for n, one in enumerate(sheet_and_key(name, language, ADA))]
        for _name, pdf in compile_all(jobs, texts):
            for page in PdfReader(io.BytesIO(pdf)).pages:
                every = placed(page)
                found += [text for x, _, text in every if not SIDE - 12 <= x <= WIDTH - SIDE + 1]
                below = {round(y / 4): text for _, y, text in every if y < FOOT - 2}
                found += list(below.values()) if len(below) > 1 else []
    return found


@pytest.mark.parametrize("name", NAMES[1::6])
def test_words_half_as_long_again_break_no_layout(name: str, texts: Mapping[str, str]) -> None:
    assert outside(name, ACCENTED, texts) == []


@pytest.mark.parametrize("name", NAMES[4::12])
def test_a_page_from_right_to_left(name: str, texts: Mapping[str, str]) -> None:
    assert outside(name, REVERSED, texts) == []
