"""An author's prose as blocks: paragraphs, lists and strong words; everything else is literal text."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from problemgen.model.blocks import Block, Bullets, Paragraph, Prose, Strong
from problemgen.render.words.prose import story_blocks


def blocks(story: str) -> list[Block]:
    return list(story_blocks(story))


def text(story: str) -> str:
    """All text of a story's blocks."""
    lines = []
    for block in blocks(story):
        assert isinstance(block, Paragraph | Bullets)
        lines += [block.line] if isinstance(block, Paragraph) else list(block.items)
    return "\n".join("".join(piece.text for piece in line if isinstance(piece, Prose | Strong)) for line in lines)


@pytest.mark.parametrize(
    ("story", "expected"),
    [
        ("", []),
        ("One line.", [Paragraph((Prose("One line."),))]),
        ("Two\nlines.", [Paragraph((Prose("Two"), Prose(" "), Prose("lines.")))]),
        ("One.\n\nTwo.", [Paragraph((Prose("One."),)), Paragraph((Prose("Two."),))]),
        ("A **strong** word.", [Paragraph((Prose("A "), Strong("strong"), Prose(" word.")))]),
        ("An *other* word.", [Paragraph((Prose("An "), Strong("other"), Prose(" word.")))]),
        ("**a *b* c** d", [Paragraph((Strong("a "), Strong("b"), Strong(" c"), Prose(" d")))]),
        ("- one\n- **two**\n", [Bullets(((Prose("one"),), (Strong("two"),)))]),
        ("1. one\n2. two\n", [Bullets(((Prose("one"),), (Prose("two"),)))]),
        ("- one\n  - deep\n\nafter", [Bullets(((Prose("one"),), (Prose("deep"),))), Paragraph((Prose("after"),))]),
        ("# Not a heading", [Paragraph((Prose("Not a heading"),))]),
        ("> Not a quotation", [Paragraph((Prose("Not a quotation"),))]),
    ],
)
def test_prose_becomes_blocks(story: str, expected: list[Block]) -> None:
    assert blocks(story) == expected


@pytest.mark.parametrize(
    "literal",
    [
        "<b>bold</b> & <script>x</script>",
        "[a link](http://x) stays",
        "![an image](x.png) stays",
        "#let x = 1 $y$ @z",
        "\\newpage",
        "100 % of CuSO4·5H2O at 5 °C",
        "{{ name }} {% if x %}",
    ],
)
def test_what_is_no_such_markup_stays_as_it_is(literal: str) -> None:
    assert text(f"It says {literal} here.") == f"It says {literal} here."


@pytest.mark.parametrize("story", ["    code", "```\ncode\n```", "`code`"])
def test_there_is_no_code(story: str) -> None:
    assert blocks(story) == [Paragraph((Prose("code"),))]


@given(st.text(max_size=200))
def test_any_prose_becomes_paragraphs_and_bullets(story: str) -> None:
    assert all(isinstance(block, Paragraph | Bullets) for block in blocks(story))


@given(st.text(st.characters(categories=("L", "N")), min_size=1, max_size=30))
def test_plain_words_are_kept(words: str) -> None:
    assert text(words) == words
