"""Own data on paper: blanks where values are the student's own, and what was read on the feedback."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

import pytest

from problemgen.grade.judging.judge import judge_student
from problemgen.model.blocks import (
    Blank,
    Block,
    Bullets,
    Document,
    Heading,
    Judged,
    NewSheet,
    Paragraph,
    Part,
    Prose,
    Strong,
    Table,
)
from problemgen.model.problem_set import ProblemSet, Sheet
from problemgen.model.truths import number_in
from problemgen.render.feedback.feedback import feedback_document
from problemgen.render.key.variant_key import key_document
from problemgen.render.sheet.own_data import OWN_DATA_COLUMNS, own_rows, read_blocks, story_text
from problemgen.render.sheet.sheet import sheet_document
from tests.support.own_set import ALCOHOL, ALCOHOL_OWN, own_key, own_set, worked
from tests.support.small_set import STUDENTS, made

ASPIRIN = "preparations/aspirin"
OBTAINED = ("acetylsalicylic-acid.obtained",)
DATA = ("0.612 g", "2,45 mL", "13.2 mL", "1.10 mol/L", "3.42 g")
CELLS = {f"1.{name}": cell for name, cell in zip(ALCOHOL_OWN, DATA, strict=True)}


def plain(line: Iterable[object]) -> str:
    return "".join(piece.text for piece in line if isinstance(piece, Blank | Prose | Strong))


def table(blocks: Iterable[Block], caption: str) -> list[list[str]]:
    found, *_ = [block for block in blocks if isinstance(block, Table) and block.caption == caption]
    return [[plain(cell) for cell in row] for row in found.rows]


def sheet_of(problem_set: ProblemSet) -> Document:
    return sheet_document(problem_set, STUDENTS[0], "Ada", "CODE", made(problem_set, "s1"))


def test_a_sheet_has_a_blank_for_each_own_value_and_does_not_tell_it() -> None:
    document = sheet_of(own_set(ALCOHOL, ALCOHOL_OWN))
    rows = table(document.blocks, "Your own data")
    assert rows[0] == ["Mass of magnesium", "______________\u00a0g", "0.001\u00a0g (balance reading to 0.001 g)"]
    variant = made(own_set(ALCOHOL, ALCOHOL_OWN), "s1")[0]
    told = "\n".join(plain(cell) for b in document.blocks if isinstance(b, Table) for row in b.rows for cell in row)
    for value in variant.own:
        assert variant.given[value.quantity.id].written.text not in told


def blanks(document: Document) -> list[list[str]]:
    """What is to be filled in, a list for each sheet."""
    found: list[list[str]] = []
    for block in document.blocks:
        if isinstance(block, NewSheet):
            found.append([])
        elif isinstance(block, Table) and block.caption == "Your own data":
            found[-1] += [plain(row[0]) for row in block.rows]
    return found


def test_each_blank_stands_on_the_sheet_of_its_session() -> None:
    assert blanks(sheet_of(own_set(ALCOHOL, ALCOHOL_OWN))) == [
        [
            "Mass of magnesium",
            "Volume of bromobenzene",
            "Volume of the solution of methyl benzoate",
            "Amount concentration of methyl benzoate",
        ],
        ["Mass of triphenylmethanol obtained"],
    ]
    assert blanks(sheet_of(own_set(ASPIRIN, OBTAINED))) == [[], ["Mass of acetylsalicylic acid obtained"]]


def test_drawn_values_are_printed_beside_blanks() -> None:
    problem_set = own_set(ASPIRIN, OBTAINED)
    (variant,) = made(problem_set, "s1")
    document = sheet_of(problem_set)
    numbers = [b for b in document.blocks if isinstance(b, Table) and b.caption == "Your numbers"]
    told = "\n".join(plain(cell) for b in numbers for row in b.rows for cell in row)
    assert variant.given["mass(salicylic-acid)"].written.text in told
    assert variant.given["mass(acetylsalicylic-acid,actual)"].written.text not in told
    assert not [b for b in document.blocks if isinstance(b, Paragraph) and plain(b.line).startswith("Obtained")]


def test_a_drawn_set_has_no_blanks_for_data() -> None:
    document = sheet_of(own_set(ASPIRIN, ()))
    assert not [b for b in document.blocks if isinstance(b, Table) and b.caption == "Your own data"]


def test_a_story_has_a_blank_for_an_own_value() -> None:
    problem_set = own_set(ASPIRIN, OBTAINED)
    (variant,) = made(problem_set, "s1")
    (value,) = variant.own
    assert story_text(value.quantity, variant.given, variant.own) == "______ g"
    (other,) = [q for q in variant.template.scene.given if q.id == "mass(salicylic-acid)"]
    assert story_text(other, variant.given, variant.own).endswith("\u00a0g")


def test_the_flask_is_not_told_where_volumes_are_own() -> None:
    def flasks(own: tuple[str, ...]) -> int:
        blocks = sheet_of(own_set(ALCOHOL, own)).blocks
        return sum("-mL flask" in plain(block.line) for block in blocks if hasattr(block, "line"))

    assert flasks(("triphenylmethanol.obtained",)) == 1
    assert flasks(ALCOHOL_OWN) == 0


def test_the_key_tells_how_own_data_are_marked_and_works_an_example() -> None:
    problem_set = own_set(ASPIRIN, OBTAINED)
    (variant,) = made(problem_set, "s1")
    blocks = key_document(problem_set, STUDENTS[0], "Ada", "CODE", (variant,)).blocks
    ((words, column, usual, example),) = table(blocks, "The student's own data")
    assert (words, column) == ("Mass of acetylsalicylic acid obtained", "1.acetylsalicylic-acid.obtained")
    assert usual == "52 to 100 % of the theoretical mass of acetylsalicylic acid"
    assert example == f"{variant.given['mass(acetylsalicylic-acid,actual)'].written.text}\u00a0g"
    answers = {row[0]: row[2] for row in table(blocks, "Answers")}
    assert answers["e"] == "own data"
    assert answers["d"] == number_in(variant.answers[3]).printed
    assert "own data" not in {answers[label] for label in "abcd"}
    assert Heading(3, "Worked solution with the example values") in blocks


def test_one_key_serves_all_where_nothing_is_drawn() -> None:
    whole = own_set(ALCOHOL, ALCOHOL_OWN)
    assert whole.same_for_all
    document = key_document(whole, STUDENTS[0], "Ada", "CODE", made(whole, "s1"))
    assert (document.title, document.student, document.code) == ("S: key for all students", "", "key")
    mixed = own_set(ASPIRIN, OBTAINED)
    assert not mixed.same_for_all
    assert key_document(mixed, STUDENTS[0], "Ada", "CODE", made(mixed, "s1")).title == "S: key for s1"


def feedback(cells: dict[str, str]) -> Document:
    head, _ = own_key(ALCOHOL, ALCOHOL_OWN)
    key = worked(ALCOHOL, ALCOHOL_OWN, cells)
    return feedback_document(head, key, judge_student(head, key, cells))


def test_feedback_shows_what_was_read_and_what_to_check() -> None:
    document = feedback(CELLS)
    rows = table(document.blocks, "Your own data")
    assert rows[1] == ["Volume of bromobenzene", "2,45 mL", "2.45\u00a0mL"]
    (bullets,) = [block for block in document.blocks if isinstance(block, Bullets)]
    assert [plain(item) for item in bullets.items] == [
        (
            "Your mass of triphenylmethanol obtained: 3.42 g is 112.6 % of the theoretical mass of triphenylmethanol, "
            "more than there can be: is the product dry and pure? Check the weighing."
        )
    ]
    assert any(block.working for block in document.blocks if isinstance(block, Judged))


def test_the_worked_solution_goes_as_far_as_the_data() -> None:
    cells = {**CELLS, "1.bromobenzene.volume": "a drop", "1c": "25.2 mmol", "1a": "3.66 g"}
    document = feedback(cells)
    rows = table(document.blocks, "Your own data")
    assert rows[1] == ["Volume of bromobenzene", "a drop", "not readable"]
    solved = [block.label for block in document.blocks if isinstance(block, Judged) and block.working]
    assert solved == ["1c", "1d", "1f", "1g"]
    (judged,) = [block for block in document.blocks if getattr(block, "label", "") == "1a"]
    assert not isinstance(judged, Part)
    assert getattr(judged, "verdict", "") == "Not marked"


def test_a_value_that_is_missing_is_told_as_nothing() -> None:
    (row, *_) = table(feedback({}).blocks, "Your own data")
    assert row == ["Mass of magnesium", "–", "nothing"]


def test_nothing_is_shown_without_own_data() -> None:
    assert list(read_blocks(())) == []


def test_long_text_is_cut() -> None:
    (row, *_) = table(feedback({**CELLS, "1.magnesium.mass": "x" * 500}).blocks, "Your own data")
    assert row[1] == "x" * 60


def test_notes_for_the_instructor_are_on_no_feedback_page() -> None:
    close = {**CELLS, "1.magnesium.mass": "0.568 g", "1h": "bromobenzene"}
    head, _ = own_key(ALCOHOL, ALCOHOL_OWN)
    key = worked(ALCOHOL, ALCOHOL_OWN, close)
    result = judge_student(head, key, close)
    noted = [note for part in result.parts for note in part.notes]
    assert noted
    shown = repr(feedback_document(head, key, result).blocks)
    assert not [note for note in noted if note in shown]
    assert [row[-1] for row in own_rows(key, result) if row[4] == "1h"] == list(noted)


@pytest.mark.parametrize(
    ("name", "cell", "flag", "read"),
    [
        ("magnesium.mass", "0.612 g", "", "0.612 g"),
        ("magnesium.mass", "", "missing", ""),
        ("magnesium.mass", "612 mL", "unreadable", ""),
        ("magnesium.mass", "6.120 g", "range", "6.120 g"),
        ("triphenylmethanol.obtained", "3.42 g", "over-100", "3.42 g"),
    ],
)
def test_rows_of_the_instructors_table(name: str, cell: str, flag: str, read: str) -> None:
    cells = {**CELLS, f"1.{name}": cell}
    head, _ = own_key(ALCOHOL, ALCOHOL_OWN)
    key = worked(ALCOHOL, ALCOHOL_OWN, cells)
    rows = [dict(zip(OWN_DATA_COLUMNS, row, strict=True)) for row in own_rows(key, judge_student(head, key, cells))]
    (row,) = [row for row in rows if row["about"] == f"1.{name}"]
    assert (row["id"], row["name"], row["section"]) == ("s1", "Ada", "A")
    assert (row["wrote"], row["read"], row["flag"]) == (cell, read, flag)
    assert bool(row["remark"]) == bool(flag)


def test_one_sheet_may_hold_everything() -> None:
    problem_set = replace(own_set(ASPIRIN, OBTAINED), sheets=(Sheet(1, "One"), Sheet(2, "Two")))
    labels = [block.label for block in sheet_of(problem_set).blocks if isinstance(block, Part)]
    assert labels == ["a", "b", "c", "d", "e"]
