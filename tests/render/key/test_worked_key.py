"""The worked key from answers.json alone: what own data are needed for stays open until they are known."""

from __future__ import annotations

from problemgen.model.blocks import Block, Calculation, Document, Heading, Table
from problemgen.render.key.worked_key import worked_key_document
from problemgen.render.printers.terminal import text_lines
from tests.support.own_set import ALCOHOL, ALCOHOL_OWN, cells_of, drawn_key, own_key, worked


def cells(document: Document) -> list[tuple[str, str]]:
    """Each part's letter and answer."""
    (table,) = (block for block in document.blocks if isinstance(block, Table) and block.caption == "Answers")
    lines = list(text_lines([Table("", table.header[:1], tuple((row[0],) for row in table.rows), (False,))]))
    answers = list(text_lines([Table("", table.header[2:3], tuple((row[2],) for row in table.rows), (False,))]))
    return list(zip((line.strip() for line in lines[1:]), (line.strip() for line in answers[1:]), strict=True))


def headings(blocks: tuple[Block, ...]) -> list[str]:
    return [block.text for block in blocks if isinstance(block, Heading) and block.level == 4]


def test_every_part_has_its_answer_and_its_working() -> None:
    head, key = drawn_key(ALCOHOL)
    document = worked_key_document(head, key, "Ada")
    letters = [part.label for part in head.templates[ALCOHOL].parts]
    assert [label for label, _ in cells(document)] == letters
    assert headings(document.blocks) == [f"1{letter}" for letter in letters]
    assert any(isinstance(block, Calculation) for block in document.blocks)
    assert (document.title, document.confidential, document.about) == ("S: key for s1", True, "section A")


def test_own_data_are_waited_for() -> None:
    head, key = own_key(ALCOHOL, ALCOHOL_OWN)
    before = worked_key_document(head, key, "Ada")
    assert {answer for _, answer in cells(before)} == {"own data"}
    assert headings(before.blocks) == []
    after = worked_key_document(head, worked(ALCOHOL, ALCOHOL_OWN, cells_of(ALCOHOL, ALCOHOL_OWN)), "Ada")
    drawn = worked_key_document(*drawn_key(ALCOHOL), "Ada")
    assert headings(after.blocks) == headings(drawn.blocks)
    assert "own data" not in {answer for _, answer in cells(after)}
