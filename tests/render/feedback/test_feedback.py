"""A student's feedback: own numbers as the sheet has them, verdicts part by part, and nothing about anyone else."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from pathlib import Path

import pytest

from problemgen.grade.judging.judge import judge_student
from problemgen.load.answers.answers import Answers
from problemgen.load.resources import layouts
from problemgen.model.blocks import Document, Flagged, Heading, Judged, Line, Note, Paragraph, Table
from problemgen.model.verdict import VERDICTS, PartResult, StudentResult
from problemgen.render.feedback.feedback import feedback_document
from problemgen.render.feedback.points import points_number
from problemgen.render.printers.html import page
from problemgen.render.printers.terminal import text_lines
from problemgen.render.sheet.sheet import problem_blocks
from tests.support.small_set import STUDENTS, made, small_set, write_answers

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
    (text,) = text_lines([Paragraph(line)])
    return text


def feedback(folder: Path, cells: Mapping[str, str], more: str = "", *, solutions: bool = False) -> Document:
    """The feedback of the first student; without worked solutions unless they are asked for."""
    with Answers(write_answers(folder, small_set(folder, more))) as answers:
        key = answers.student("s1")
        return feedback_document(answers.head, key, judge_student(answers.head, key, cells), solutions=solutions)


def judged(document: Document) -> dict[str, Judged]:
    return {block.label: block for block in document.blocks if isinstance(block, Judged)}


def said(part: Judged) -> list[str]:
    return [words(line) for line in part.sentences]


def test_the_page_says_who_and_how_many_points(tmp_path: Path) -> None:
    document = feedback(tmp_path, {**RIGHT, "2d": ""})
    assert (document.title, document.course, document.student) == ("Small: feedback", "C", "Ada")
    first = document.blocks[0]
    assert isinstance(first, Paragraph)
    assert words(first.line) == "You earned 12 of 14 points."
    assert [(block.level, block.text) for block in document.blocks if isinstance(block, Heading)] == [
        (2, "Problem 1: Silver chromate"),
        (3, "Your answers: 8 of 8 points"),
        (2, "Problem 2: Isopentyl acetate"),
        (3, "Your answers: 4 of 6 points"),
    ]
    assert not document.confidential


def test_the_paper_is_that_of_the_sheets(tmp_path: Path) -> None:
    with Answers(write_answers(tmp_path, small_set(tmp_path))) as answers:
        assert answers.head.paper == feedback(tmp_path, {}).paper == "a4"


def test_the_numbers_stand_as_the_sheet_has_them(tmp_path: Path) -> None:
    sheets = [
        block
        for variant in made(small_set(tmp_path), "s1")
        for session in range(1, variant.template.sessions + 1)
        for block in problem_blocks(variant, session)
        if isinstance(block, Table | Note)
    ]
    shown = [block for block in feedback(tmp_path, {}).blocks if block in sheets]
    assert [block for block in sheets if block not in shown and "flask" not in str(block)] == []
    tables = [list(text_lines([block])) for block in shown if isinstance(block, Table)]
    assert tables[0] == [
        "Your numbers",
        "  Substance                    How much              Data",
        "  silver nitrate (AgNO₃)       25.00\u00a0mL of solution  0.1000\u00a0mol/L",
        "  potassium chromate (K₂CrO₄)  20.00\u00a0mL of solution  0.1000\u00a0mol/L",
    ]
    assert tables[1][-1] == "  3-methylbutyl acetate (C₇H₁₄O₂)  obtained: 4.20\u00a0g  –"
    assert [words(block.line) for block in shown if isinstance(block, Note)] == ["In excess: acetic acid."]


def test_every_part_is_told_with_what_was_written_and_read(tmp_path: Path) -> None:
    cells = {"1a": " 2,500 ", "1b": "3 g", "1e": "K2CrO4", "1f": "0.4147", "2b": "4.59E-02 mol", "2c": "5.98 g"}
    parts = judged(feedback(tmp_path, cells))
    assert list(parts) == list(RIGHT)
    told = {label: (part.sign, part.verdict, words(part.wrote), part.points) for label, part in parts.items()}
    assert told["1a"] == ("✓", "Right", "You wrote 2,500, read as 2.500\u00a0mmol.", "1 of 1 point")
    assert told["1b"] == ("✗", "Another kind of unit", "You wrote 3 g.", "0 of 1 point")
    assert told["1c"] == ("–", "No answer", "", "0 of 1 point")
    assert told["1e"][2] == "You wrote K2CrO4, read as potassium chromate."
    assert told["1f"] == ("✗", "A usual mistake", "You wrote 0.4147, read as 0.4147\u00a0mg.", "1 of 2 points")
    assert told["2b"][2] == "You wrote 4.59E-02 mol, read as 4.59\u00a0×\u00a010⁻²\u00a0mol."
    assert told["2c"][2] == "You wrote 5.98 g."


def test_only_what_is_right_with_all_its_points_is_brief(tmp_path: Path) -> None:
    document = feedback(tmp_path, {**RIGHT, "1f": "415", "2a": "", "2d": "71.9"}, solutions=True)
    assert [label for label, part in judged(document).items() if not part.brief] == ["2a", "2d"]
    html = page(document, layouts())
    assert html.count("<details") == len(RIGHT) - 2
    assert html.count("<summary>") == html.count("</details>") == len(RIGHT) - 2
    assert "details::details-content { content-visibility: visible" in html


def test_each_answer_has_its_working_below_it(tmp_path: Path) -> None:
    parts = judged(feedback(tmp_path, {**RIGHT, "2a": "3.91"}, solutions=True))
    assert all(part.working for part in parts.values())
    (flagged,) = (block for block in parts["2a"].working if isinstance(block, Flagged))
    assert "4.05" in "".join(text_lines([flagged]))
    assert all(part.working == () for part in judged(feedback(tmp_path, RIGHT)).values())


def test_a_right_part_where_another_went_wrong_is_told_at_length(tmp_path: Path) -> None:
    """The reagent in excess taken for the limiting one in 1f, though 1e names the right one."""
    parts = judged(feedback(tmp_path, {**RIGHT, "1f": "663.5", "1g": ""}, solutions=True))
    flagged = [label for label, part in parts.items() if any(isinstance(block, Flagged) for block in part.working)]
    assert flagged
    assert not any(parts[label].brief for label in flagged)


def test_the_opening_stands_only_where_a_working_follows(tmp_path: Path) -> None:
    def noted(cells: Mapping[str, str]) -> int:
        return sum("one figure more" in line for line in text_lines(feedback(tmp_path, cells, solutions=True).blocks))

    assert noted(RIGHT) == 0
    assert noted({**RIGHT, "2d": ""}) == 1


def test_prompts_have_their_formulas_in_pieces(tmp_path: Path) -> None:
    document = feedback(tmp_path, {})
    assert words(judged(document)["1a"].prompt) == "The amount of silver nitrate (AgNO₃)"
    assert "The amount of silver nitrate (<span" in page(document, layouts())
    assert "AgNO<sub>3</sub>" in page(document, layouts())


def test_what_a_verdict_s_words_say_is_not_said_again(tmp_path: Path) -> None:
    parts = judged(feedback(tmp_path, {**RIGHT, "1a": "3.111", "2a": ""}))
    assert said(parts["1a"]) == ["Go through the steps again, with the unit of each number beside it."]
    assert said(parts["2a"]) == []
    assert said(parts["1b"]) == []


def test_a_right_answer_gets_remarks_only(tmp_path: Path) -> None:
    parts = judged(feedback(tmp_path, {**RIGHT, "1f": "415"}))
    assert said(parts["1f"]) == ["Written with 3 significant figures; the data support 4."]
    assert all(said(part) == [] for label, part in parts.items() if label != "1f")


def test_the_step_to_look_at_is_told_where_another_part_asks_for_it(tmp_path: Path) -> None:
    """The density upside down, first seen in the mass: 5.00 mL over 0.809 g/mL in place of 4.05 g."""
    cells = {**RIGHT, "2a": "", "2b": "0.0701"}
    parts = judged(feedback(tmp_path, cells))
    assert parts["2b"].verdict == "A usual mistake"
    assert said(parts["2b"])[1] == "The step to look at: the mass of 3-methylbutan-1-ol, m(C₅H₁₂O)."


def test_every_verdict_has_a_sign_and_words(tmp_path: Path) -> None:
    with Answers(write_answers(tmp_path, small_set(tmp_path))) as answers:
        head, key = answers.head, answers.student("s1")
    nothing = Fraction(0)
    for verdict in VERDICTS:
        part = PartResult("p1", "01", "1a", verdict, "r", "So it is.", (), nothing, Fraction(1), "1", "1")
        result = StudentResult(key.student, key.name, key.section, key.code, (part,))
        shown = judged(feedback_document(head, key, result))["1a"]
        assert len(shown.sign) == 1
        assert shown.verdict[0].isupper()


def test_a_very_long_answer_is_cut(tmp_path: Path) -> None:
    wrote = words(judged(feedback(tmp_path, {"1a": "x" * 5000}))["1a"].wrote)
    assert wrote == f"You wrote {'x' * 200}…."


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


@pytest.mark.parametrize("solutions", [True, False])
def test_nothing_is_said_about_anyone_else(tmp_path: Path, *, solutions: bool) -> None:
    html = page(feedback(tmp_path, RIGHT, solutions=solutions), layouts())
    ada, bea = STUDENTS
    assert ada.name in html
    assert bea.name not in html
    assert bea.id not in html


@pytest.mark.parametrize(
    ("points", "text"),
    [(Fraction(2), "2"), (Fraction(1, 2), "0.5"), (Fraction(1, 3), "0.33"), (Fraction(10), "10"), (Fraction(0), "0")],
)
def test_points_have_two_decimals_at_most(points: Fraction, text: str) -> None:
    assert points_number(points) == text
