"""An author's prose, CommonMark, as blocks: paragraphs, lists and strong words; nothing else is markup."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from markdown_it import MarkdownIt
from markdown_it.token import Token

from problemgen.model.blocks import Block, Bullets, Inline, Line, Paragraph, Prose, Strong

__all__ = ["story_blocks"]

_READER = MarkdownIt("commonmark", {"html": False}).disable(["image", "link", "autolink", "code", "fence"])


def story_blocks(story: str) -> Iterator[Block]:
    """The blocks of a story. Headings and quotations become paragraphs: a sheet has its own headings."""
    items: list[Line] = []
    in_list = 0
    for token in _READER.parse(story):
        if token.type.endswith("list_open"):
            in_list += 1
        elif token.type.endswith("list_close"):
            in_list -= 1
            if not in_list:
                yield Bullets(tuple(items))
                items = []
        elif token.type == "inline":
            line = _line(token.children or ())
            if in_list:
                items.append(line)
            else:
                yield Paragraph(line)


def _line(tokens: Sequence[Token]) -> Line:
    pieces: list[Inline] = []
    strong = 0
    for token in tokens:
        if token.type in ("strong_open", "strong_close", "em_open", "em_close"):
            strong += token.nesting
        elif token.type in ("softbreak", "hardbreak"):
            pieces.append(Prose(" "))
        elif token.content:
            pieces.append(Strong(token.content) if strong else Prose(token.content))
    return tuple(pieces)
