"""A student's feedback page: own numbers and verdicts, and nothing about anyone else."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path

import pytest

from problemgen.grade.judge import judge_student
from problemgen.load.answers import Answers
from problemgen.load.resources import layouts
from problemgen.model.blocks import Bullets, Document, Heading, Line, Note, Paragraph, Prose, Strong, Table
from problemgen.render.feedback import feedback_document
from problemgen.render.html import page
from tests.support.small_set import small_set, write_answers

Feedback = dict[str, Document]
RIGHT = {
    "1a": "2.500 mmol",
    "1b": "2.000",
    "1c": "1.250",
    "1d": "2.000",
    "1e": "AgNO3",
    "1f": "414.7",
    "1g": "0.750",
    "2a": "4.05",
    "2b": "0.0459",
    "2c": "5.98",
    "2d": "70.2",
}


def words(line: Line) -> str:
    return "".join(piece.text for piece in line if isinstance(piece, Prose | Strong))


def feedback(folder: Path, cells: Mapping[str, str], student: str = "s1") -> Document:
    with Answers(write_answers(folder, small_set(folder))) as answers:
        key = answers.student(student)
        return feedback_document(answers.head, key, judge_student(answers.head, key, cells))


def tables(document: Document, caption: str) -> Iterator[list[list[str]]]:
    for block in document.blocks:
        if isinstance(block, Table) and block.caption == caption:
            yield [[words(cell) for cell in row] for row in block.rows]


def bullets(document: Document) -> list[str]:
    return [words(item) for block in document.blocks if isinstance(block, Bullets) for item in block.items]


def test_the_page_says_who_and_how_many_points(tmp_path: Path) -> None:
    document = feedback(tmp_path, RIGHT)
    assert (document.title, document.course, document.student) == ("Small: feedback", "C", "Ada")
    first = document.blocks[0]
    assert isinstance(first, Paragraph)
    assert words(first.line) == "You earned 14 of 14 points."
    headings = [block.text for block in document.blocks if isinstance(block, Heading)]
    assert headings == ["Problem 1: Silver chromate", "Problem 2: Isopentyl acetate"]
    assert bullets(document) == []
    assert not document.confidential


def test_the_own_numbers_stand_in_the_order_of_the_substances(tmp_path: Path) -> None:
    first, second = tables(feedback(tmp_path, {}), "Your numbers")
    assert ["volume of silver nitrate (solution)", "25.00\u00a0mL"] in first
    assert ["amount concentration of potassium chromate", "0.1000\u00a0mol/L"] in first
    assert [row[0].split(" of ")[1].split(" (")[0] for row in first] == [
        *("silver nitrate", "silver nitrate"),
        *("potassium chromate", "potassium chromate"),
    ]
    assert ["volume of 3-methylbutan-1-ol", "5.00\u00a0mL"] in second


def test_every_part_has_its_row(tmp_path: Path) -> None:
    cells = {"1a": " 2,500 ", "1b": "3 g", "1e": "K2CrO4", "1f": "0.4147", "2b": "4.59e-2 mol"}
    first, second = tables(feedback(tmp_path, cells), "Your answers")
    assert [row[0] for row in (*first, *second)] == list(RIGHT)
    assert first[0][1:] == ["The amount of silver nitrate (AgNO3)", "2,500", "2.500 mmol", "right", "1 / 1"]
    assert first[1][2:] == ["3 g", "–", "another kind of unit", "0 / 1"]
    assert first[2][2:] == ["–", "–", "no answer", "0 / 1"]
    assert first[4][3] == "potassium chromate"
    assert first[5][4:] == ["slip of unit, sign or power of ten", "1 / 2"]
    assert second[1][3] == "4.59\u00a0×\u00a010⁻² mol"


def test_what_is_said_names_the_parts_that_it_is_about_once(tmp_path: Path) -> None:
    found = bullets(feedback(tmp_path, {**RIGHT, "1a": "3.111", "1b": "1.777", "2a": ""}))
    expected = "1a, 1b: Not right. Go through the steps again, with the unit of each number beside it."
    assert expected in found
    assert "2a: No answer." in found


def test_a_right_answer_gets_remarks_only(tmp_path: Path) -> None:
    found = bullets(feedback(tmp_path, {**RIGHT, "1f": "415"}))
    assert found == ["1f: Written with 3 significant figures; the data support 4."]


def test_the_page_refers_to_the_laboratory_s_own_rules(tmp_path: Path) -> None:
    last = feedback(tmp_path, {}).blocks[-1]
    assert isinstance(last, Note)
    assert words(last.line).startswith("These exercises are calculations, not procedures: ")


@pytest.mark.parametrize("wrote", ["<script>alert(1)</script>", "{{ 7 * 7 }}", "&amp; \u202e x", '" onclick="x'])
def test_what_was_written_stands_on_the_page_as_text(tmp_path: Path, wrote: str) -> None:
    html = page(feedback(tmp_path, {"1a": wrote}), layouts())
    assert "<script>alert" not in html
    assert 'onclick="x' not in html.replace("&#34;", "")
    assert "49" not in html
    assert "Ada" in html
    assert "Bea" not in html
