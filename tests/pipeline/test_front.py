"""The front door: text for paths, plain keywords, results that a notebook shows, and errors that say what was wrong."""

from __future__ import annotations

import csv
import json
import math
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from typing import Any, cast

import pytest

from problemgen import build, mark, open_answers, read_answer, sample, solve
from problemgen.errors import FaultsError, OutputError, UnitError
from problemgen.load.answers.answers import ANSWERS_FILE
from problemgen.pipeline.answer_book import AnswerBook
from tests.support.judged import RIGHT
from tests.support.marking import write_cells
from tests.support.own_set import ALCOHOL, ALCOHOL_OWN, own_set
from tests.support.small_class import NAMES, write_class
from tests.support.small_set import small_set, write_answers


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> AnswerBook:
    """The small set, opened by the text of its folder."""
    folder = tmp_path_factory.mktemp("small")
    write_answers(folder, small_set(folder))
    return open_answers(str(folder))


def test_a_book_tells_whose_it_is_and_no_key(book: AnswerBook) -> None:
    assert repr(book) == "<AnswerBook 'Small': 2 students>"
    assert (book.students, book.attempts, book.title) == (("s1", "s2"), 1, "Small")
    assert book.columns == tuple(RIGHT)


def test_a_problem_has_its_numbers_as_they_are_printed(book: AnswerBook) -> None:
    chromate, ester = book.problems("s1")
    assert (chromate.label, chromate.template, chromate.title) == ("1", "chromate", "Silver chromate")
    given = chromate.given["concentration(silver-nitrate)"]
    assert (given.value, given.unit, str(given)) == ("0.1000", "mol/L", "0.1000 mol/L")
    assert [part.label for part in ester.parts] == ["a", "b", "c", "d"]


def test_a_part_has_its_answer_and_its_bounds(book: AnswerBook) -> None:
    parts = {part.label: part for part in book.problems("S1")[0].parts}
    mass, limiting = parts["f"], parts["e"]
    assert (mass.form, mass.unit, mass.answer) == ("number", "mg", "414.7")
    assert isinstance(mass.low, Decimal)
    assert isinstance(mass.high, Decimal)
    assert mass.low < Decimal("414.7") < mass.high < Decimal("416")
    assert (limiting.form, limiting.unit, limiting.answer) == ("species", "", "silver nitrate")
    assert (limiting.low, limiting.high) == (None, None)


def test_answers_are_judged_as_in_a_marking(book: AnswerBook) -> None:
    cells = {"1a": "2.500 mmol", "1B": "2 mol", "1d": "x", "1e": "K2CrO4", "1f": "3 cm", "2a": "4.05 g"}
    result = book.judge("s1", cells)
    found = {part.label: part for part in result.parts}
    assert list(found) == list(RIGHT)
    words = {label: part.verdict for label, part in found.items() if label in "1a 1b 1c 1d 1f 2a"}
    assert words == {"1a": "right", "1b": "mistake", "1c": "blank", "1d": "unread", "1f": "unit", "2a": "right"}
    slip = found["1b"]
    assert (slip.reason, slip.points, slip.of) == ("written-unit:mol:mmol", Fraction(1, 2), 1)
    assert slip.sentence == "You wrote mol; the number is right in mmol."
    assert repr(slip) == "<PartResult 1b: mistake (written-unit:mol:mmol), 1/2 of 1>"
    assert (result.student, result.of, found["1a"].remarks) == ("s1", 14, ())


@pytest.mark.parametrize(("cell", "verdict"), [(2.5, "right"), (Decimal("2.500"), "right"), (9, "wrong"),
                                               (None, "blank"), (math.nan, "blank"),
                                               (Decimal("NaN"), "blank"), ("", "blank")])  # fmt: skip
def test_cells_of_a_data_frame_count_as_their_text(book: AnswerBook, cell: object, verdict: str) -> None:
    assert book.judge("s1", {"1a": cell}).parts[0].verdict == verdict


@pytest.mark.parametrize(
    ("student", "cells", "attempt", "fault"),
    [
        ("s3", {}, 1, "student: found 's3'; expected one of the set's students"),
        ("s1", {"1z": "1"}, 1, "column: found '1z'; expected one of the set's columns"),
        ("s1", {}, 2, "attempt: found '2'; expected one of the set's attempts"),
        ("s1", {}, 0, "attempt: found '0'; expected one of the set's attempts"),
    ],
)
def test_who_or_what_is_not_in_the_set_is_told(
    book: AnswerBook, student: str, cells: dict[str, object], attempt: int, fault: str
) -> None:
    with pytest.raises(FaultsError) as caught:
        book.judge(student, cells, attempt=attempt)
    assert str(caught.value).partition(f"{ANSWERS_FILE}: ")[2] == fault


@pytest.mark.parametrize("attempt", [None, 1.5, "one", True])
def test_an_attempt_is_a_number_of_the_sets(book: AnswerBook, attempt: Any) -> None:
    assert book.problems("s1", attempt=cast("int", "1")) == book.problems("s1")
    with pytest.raises(FaultsError, match=f"attempt: found '{attempt}'; expected one of the set's attempts"):
        book.problems("s1", attempt=attempt)


@pytest.mark.parametrize(
    ("responses", "fault"),
    [
        ("39.5 g", """responses: found '39.5 g'; expected cells by their columns, such as {"1a": "39.5 g"}"""),
        (["39.5 g"], """responses: found ['39.5 g']; expected cells by their columns, such as {"1a": "39.5 g"}"""),
        ({7: "39.5 g"}, "column: found '7'; expected one of the set's columns"),
        ({"1a": [39.5]}, "responses: 1a: found [39.5]; expected text, a number or None"),
        ({"1a": True}, "responses: 1a: found True; expected text, a number or None"),
        ({"1a": b"39.5"}, "responses: 1a: found b'39.5'; expected text, a number or None"),
    ],
)
def test_responses_are_texts_and_numbers_by_column(book: AnswerBook, responses: Any, fault: str) -> None:
    with pytest.raises(FaultsError) as caught:
        book.judge("s1", responses)
    assert str(caught.value).endswith(fault)


def test_a_class_has_a_roster_or_a_number(tmp_path: Path) -> None:
    with pytest.raises(FaultsError) as caught:
        build(tmp_path, tmp_path / "out", roster=tmp_path / "roster.csv", count=3)
    assert str(caught.value) == "build: count: found 3 beside a roster; expected a roster, or a number of variants"


def test_own_data_make_the_answers(tmp_path: Path) -> None:
    write_answers(tmp_path, own_set(ALCOHOL, ALCOHOL_OWN))
    with open_answers(tmp_path) as book:
        (before,) = book.problems("s1")
        assert {part.answer for part in before.parts} >= {None}
        assert "1.magnesium.mass" in book.columns
        (after,) = book.problems("s1", responses={"1.magnesium.mass": "6.120 g"})
        assert after.given["mass(magnesium)"].value == "6.120"
        assert sum(part.answer is None for part in after.parts) < sum(part.answer is None for part in before.parts)


def test_a_book_closes_by_itself_and_only_once(tmp_path: Path) -> None:
    write_answers(tmp_path, small_set(tmp_path))
    open_answers(tmp_path)  # an unclosed file would be a warning, and a failure here
    book = open_answers(tmp_path)
    book.close()
    book.close()
    with pytest.raises(FaultsError, match=r"answers\.json: found a book that is closed; expected an open one"):
        book.problems("s1")
    with pytest.raises(FaultsError, match=r"answers\.json: found no such file"):
        open_answers(tmp_path / "elsewhere")


def test_a_marking_gives_what_the_book_gives(built: Path, tmp_path: Path) -> None:
    cells = {student: {"1a": "2.5", "1e": "AgNO3", "2a": f"{place} g"} for place, student in enumerate(NAMES)}
    report = mark(str(built), str(write_cells(tmp_path / "r.csv", cells)), str(tmp_path / "g"), pdf=False)
    assert (report.marked, report.out) == (len(NAMES), tmp_path / "g")
    with (tmp_path / "g" / "grades.csv").open(encoding="utf-8-sig", newline="") as file:
        rows = {(row["id"], row["part"]): (row["verdict"], row["reason"], row["wrote"]) for row in csv.DictReader(file)}
    with open_answers(built) as book:
        judged = {
            (student, part.label): (part.verdict, part.reason, part.wrote)
            for student in book.students
            for part in book.judge(student, cells[student]).parts
        }
    assert judged == rows


@pytest.mark.parametrize(("anonymous", "where"), [(False, "grades"), (True, "grades-anonymous")])
def test_a_marking_lies_in_the_folder_of_its_set(tmp_path: Path, anonymous: bool, where: str) -> None:
    write_answers(tmp_path, small_set(tmp_path))
    responses = write_cells(tmp_path / "r.csv", {"s1": RIGHT})
    report = mark(tmp_path, responses, pdf=False, solutions=False, anonymous=anonymous)
    assert report.out == tmp_path / where
    assert (tmp_path / where / "grades.csv").is_file()
    with pytest.raises(OutputError, match="already holds"):
        mark(tmp_path, responses, pdf=False, anonymous=anonymous)
    assert mark(tmp_path, responses, pdf=False, anonymous=anonymous, replace=True).marked == 1


def test_a_set_is_built_by_the_text_of_its_folder(tmp_path: Path) -> None:
    week = write_class(tmp_path)
    told: list[str] = []
    report = build(str(week), str(tmp_path / "out"), count=2, progress=lambda what, *_: told.append(what))
    assert (report.out, report.students) == (tmp_path / "out", 2)
    assert open_answers(report.out).students == ("v001", "v002")
    assert set(told) == {"printing", "binding"}


def test_an_answer_is_read_for_a_unit_or_for_its_own() -> None:
    assert read_answer("39.5 g", unit="mL").status == "wrong_dimension"
    reading = read_answer("39.5 g")
    assert (reading.number, reading.unit, reading.figures, reading.status) == ("39.5", "g", 3, "number")
    assert read_answer("1,234", decimal_mark=",").number == "1.234"
    assert str(read_answer("")) == '"": unreadable; No answer is written.'
    with pytest.raises(UnitError, match="'spoons'"):
        read_answer("3", unit="spoons")


def test_another_secret_gives_another_sample() -> None:
    usual, again, mine = (
        sample("amounts/three-weighings", 1, secret=secret)[0].problem.given for secret in (None, None, "a jar")
    )
    assert usual == again != mine


def test_problems_are_solved_one_or_several_or_from_a_file(tmp_path: Path) -> None:
    given = [{"quantity": "mass", "of": "NaCl", "value": "5.844", "unit": "g"}]
    asked = [{"quantity": "amount", "of": "NaCl", "unit": "mol", "answer": "0.1000"}]
    one = {"id": "salt", "given": given, "asked": asked}
    solved = solve(one)
    assert repr(solved.answers) == "(<SolvedAnswer amount NaCl mol: 0.100000000000>,)"
    assert (solved.id, solved.error, solved.answers[0].accepted) == ("salt", None, True)
    (tmp_path / "p.json").write_text(json.dumps([one]), encoding="utf-8")
    assert solve([one]) == solve(str(tmp_path / "p.json")) == solve(tmp_path / "p.json") == (solved,)
