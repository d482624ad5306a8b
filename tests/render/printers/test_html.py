"""The page for the browser: escaped, self-contained, in the reader's language."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from jinja2 import UndefinedError

from problemgen.model.blocks import (
    Amount,
    Block,
    Bullets,
    Calculation,
    Caution,
    Chemical,
    Document,
    Flagged,
    Heading,
    Judged,
    NewSheet,
    Note,
    Paragraph,
    Part,
    Prose,
    Ratio,
    Scheme,
    SchemeItem,
    Strong,
    Symbol,
    Table,
    UnitPiece,
)
from problemgen.render.printers.html import fragment, inline, page

FOLDER = Path(__file__).parents[3] / "templates" / "layouts"
LAYOUTS = {name: (FOLDER / name).read_text("utf-8") for name in ("page.html", "blocks.html")}
HOSTILE = "<script>alert(1)</script> {{ 7*7 }} {% raw %} & \"'> <img src=x onerror=y>"


def html(*blocks: Block, student: str = "Anna", language: str = "en", confidential: bool = False) -> str:
    document = Document("Salt & water", "CHEM 1", student, "AB-12", "a4", language, blocks, confidential)
    return page(document, LAYOUTS)


def test_the_frame_of_a_page() -> None:
    text = html(language="en-GB")
    assert text.startswith('<!DOCTYPE html>\n<html lang="en-GB" dir="ltr">')
    assert "<title>Salt &amp; water</title>" in text
    assert "<h1>Salt &amp; water</h1>" in text
    assert "<bdi>Anna</bdi>" in text
    assert "default-src &#39;none&#39;" not in text
    assert "content=\"default-src 'none'; style-src 'unsafe-inline'" in text
    assert "CONFIDENTIAL" not in text
    assert "CONFIDENTIAL: answers" in html(confidential=True)
    assert 'dir="rtl"' in html(language="ar")


def test_hostile_text_stays_text_in_every_place() -> None:
    line = (Prose(HOSTILE), Strong(HOSTILE), Chemical(HOSTILE), Symbol(HOSTILE, HOSTILE, False, HOSTILE))
    amount = Amount(HOSTILE, (UnitPiece(HOSTILE),), HOSTILE)
    text = html(
        Heading(2, HOSTILE),
        Paragraph(line),
        Note(line),
        Bullets((line,)),
        Caution(HOSTILE, (line,)),
        Scheme((SchemeItem(1, HOSTILE, HOSTILE),), (), HOSTILE, HOSTILE, HOSTILE),
        Table(HOSTILE, (line,), ((line,),), (False,)),
        Part(HOSTILE, HOSTILE, line, HOSTILE, HOSTILE, (line,)),
        Part(HOSTILE, HOSTILE, line, HOSTILE, HOSTILE),
        Calculation(Symbol(HOSTILE), line, (Ratio((amount,), (amount,)),), (), amount, HOSTILE),
        Judged(HOSTILE, line, HOSTILE, HOSTILE, HOSTILE, line, (line,)),
        Flagged((line,), (Paragraph(line), Table(HOSTILE, (line,), ((line,),), (False,)))),
        NewSheet(HOSTILE),
        student=HOSTILE,
    )
    assert "<script" not in text
    assert "<img" not in text
    assert "{{ 7*7 }}" in text
    assert not re.search(r"<[^>]*onerror(?![^>]*&)", text)


def test_a_page_asks_for_nothing_from_outside() -> None:
    species = (SchemeItem(1, "C2H6O", "ethanol", "CCO"),)
    text = html(Scheme(species, species, "", "", ""))
    assert "<svg" in text
    outside = re.findall(r"(?:src|href|url|action)\s*[=(]\s*['\"]?[^'\")\s>]+", text)
    assert outside == []
    assert set(re.findall(r"https?://[^'\" ]+", text)) == {
        "http://www.w3.org/2000/svg",
        "http://www.rdkit.org/xml",
        "http://www.w3.org/1999/xlink",
    }


def test_formulas_fractions_and_cancelled_units() -> None:
    top = Amount("2.50", (UnitPiece("g", cancelled=True),), "NaCl")
    bottom = Amount("58.44", (UnitPiece("g", cancelled=True), UnitPiece("mol", -1)))
    text = html(Calculation(Symbol("n", "H2O"), (), (Ratio((top,), (bottom,)),), (), Amount("9e-4"), "read aloud"))
    assert 'aria-label="read aloud"' in text
    assert "<i>n</i>(H<sub>2</sub>O)" in text
    assert "2.50 <s>g</s> <s>NaCl</s>" in text
    assert "58.44 <s>g</s>/mol" in text
    assert "9 × 10<sup>−4</sup>" in text
    assert 'class="fraction"' in text


def test_parts_with_and_without_a_blank() -> None:
    asked = Part("a", "a", (Prose("How much?"),), "2 points", "cm3")
    shown = Part("a", "a", (Prose("How much?"),), "2 points", "g", work_lines=0)
    choice = Part("b", "b", (Prose("Which?"),), "1 point", "", ((Prose("this"),), (Prose("that"),)))
    assert 'Answer: <span class="blank"></span> cm<sup>3</sup>' in html(asked)
    assert "Answer:" not in html(shown)
    assert "<li>this</li><li>that</li>" in html(choice)


def test_a_part_as_it_was_marked_says_it_in_words_beside_the_sign() -> None:
    text = html(Judged("1a", (Prose("How much?"),), "1 of 2 points", "≈", "A slip", (Prose("You wrote 3."),)))
    assert '<span class="sign" aria-hidden="true">≈</span> <strong>A slip.</strong> You wrote 3.' in text
    assert '<span class="points">1 of 2 points</span><strong>1a</strong> How much?' in text


@pytest.mark.parametrize("brief", [True, False])
def test_a_page_has_the_working_of_what_is_right_too(*, brief: bool) -> None:
    working = (Paragraph((Prose("The mass divided by the molar mass."),)),)
    assert "The mass divided by the molar mass." in html(Judged("1a", (), "", "✓", "Right", (), (), working, brief))


def test_a_flag_stands_around_its_blocks() -> None:
    text = html(
        Flagged(
            (
                (
                    Strong("Here: "),
                    Prose("why"),
                ),
            ),
            (Paragraph((Prose("the step"),)),),
        )
    )
    inside = text.partition('<div class="flagged">')[2].partition("</div>")[0]
    assert "<strong>Here: </strong>why" in inside
    assert "<p>the step</p>" in inside


def test_table_headers_have_a_scope() -> None:
    text = html(Table("Data", ((Prose("a"),), (Prose("b"),)), (((Prose("c"),), (Prose("1.0"),)),), (False, True)))
    assert '<th scope="col">a</th><th scope="col" class="number">b</th>' in text
    assert '<td>c</td><td class="number">1.0</td>' in text
    assert "<caption>Data</caption>" in text


def test_a_layout_that_names_something_unknown_is_an_error() -> None:
    with pytest.raises(UndefinedError, match="'nobody' is undefined"):
        page(Document("a", "", "", "", "a4", "en", ()), {**LAYOUTS, "page.html": "{{ nobody }}"})


def test_a_page_follows_the_reader_s_colours_and_prints_black_on_white() -> None:
    text = html()
    assert "color-scheme: light dark" in text
    assert text.index("prefers-color-scheme: dark") < text.index("@media print { :root { --ink: #000; --paper: #fff")


def test_a_fragment_has_the_blocks_alone_and_escapes_them() -> None:
    told = fragment([Heading(2, "a < b"), Paragraph((Prose("<i>"), Chemical("H2SO4")))], LAYOUTS)
    assert told == '<h2>a &lt; b</h2>\n<p>&lt;i&gt;<span class="whole">H<sub>2</sub>SO<sub>4</sub></span></p>'


def test_a_line_has_no_paragraph_round_it() -> None:
    assert inline((Strong("x & y"), Prose(" z")), LAYOUTS) == "<strong>x &amp; y</strong> z"
