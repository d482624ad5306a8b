"""What is said of an answer as it is typed is what a marking says of it, and the file is read once."""

from __future__ import annotations

import os
import shutil
from pathlib import Path

import pytest

from problemgen.cli import main
from problemgen.language.messages import speaking
from problemgen.load.answers.answers import ANSWERS_FILE, Answers
from problemgen.load.people.responses import Responses
from problemgen.pipeline.answer_book import open_answers
from problemgen.pipeline.mark import MarkingRequest, class_results
from problemgen.pipeline.typed_papers import TYPED_FILE, PaperBook, PaperBooks, PaperField, Pile, TypedPaper, paper
from tests.support.small_class import SET, build_small, write_class

REPORT = Path(__file__).resolve().parents[3] / "templates" / "sets" / "organic-post-session"
ONE = ("s1", 1)


def right(built: Path, student: str = "s1", attempt: int = 1) -> dict[str, str]:
    """The right answers of a student, as they are typed."""
    with open_answers(built) as book:
        problems = book.problems(student, attempt=attempt)
    return {f"{one.label}{part.label}": part.answer or "" for one in problems for part in one.parts}


def field(opened: TypedPaper, column: str) -> PaperField:
    return next(one for one in opened.fields if one.column == column)


def said_of(book: PaperBook, cells: dict[str, str], column: str) -> tuple[str, str, str]:
    """The verdict of a part, what is right, and what follows from the earlier answers."""
    said = field(paper(book, ONE, cells), column).said
    assert said is not None
    return said.words, "".join(getattr(piece, "text", "") for piece in said.right).replace("\u00a0", " "), said.follows


@pytest.fixture(scope="module")
def report(tmp_path_factory: pytest.TempPathFactory) -> Path:
    out = tmp_path_factory.mktemp("report") / "built"
    assert main(["build", str(REPORT), "--out", str(out), "--quiet"]) == 0
    return out


def test_own_values_are_judged_as_by_a_marking_blank_by_blank(report: Path, tmp_path: Path) -> None:
    book = PaperBook(report)
    pile = Pile(tmp_path, book)
    typed = list(Responses((REPORT / "responses.csv",), book.sheets, book.head.response_columns))
    for student, attempt, cells in typed:
        for one in paper(book, (student, attempt), pile.cells((student, attempt))).fields:
            pile.keep((student, attempt), one.column, cells[one.column], "")
    request = MarkingRequest(report, (tmp_path / TYPED_FILE,), tmp_path / "grades", workers=1)
    results = {(key.student, key.attempt): result for key, result in class_results(request).results}
    assert len(typed) > 3
    for student, attempt, _cells in typed:
        entry = student, attempt
        mine = book.judged(entry, pile.cells(entry))
        assert tuple(one.result for one in mine.parts) == results[entry].parts


def test_own_values_stand_before_the_parts_and_are_read_at_once(report: Path) -> None:
    book = PaperBook(report)
    opened = paper(book, ("r01", 1), {"1.magnesium.mass": "0.5 lots"})
    assert [one.column for one in opened.fields][:6] == [
        "1.magnesium.mass",
        "1.bromobenzene.volume",
        "1.methyl-benzoate.volume",
        "1.methyl-benzoate.concentration",
        "1.triphenylmethanol.obtained",
        "1a",
    ]
    said = field(opened, "1.magnesium.mass").said
    assert said is not None
    assert (said.sign, said.words) == ("?", "Not readable")
    waiting = field(paper(book, ("r01", 1), {"1a": "20 mmol"}), "1a").said
    assert waiting is not None
    assert (waiting.words, waiting.right) == ("Not marked", ())


def test_the_right_value_and_what_follows_from_an_earlier_error(book: PaperBook, built: Path) -> None:
    cells = right(built)
    twice = f"{2 * float(cells['2a'].split()[0]):.4g} g"
    assert said_of(book, cells, "2b")[0] == "Right"
    assert said_of(book, cells, "2b")[2] == ""
    wrong = {**cells, "2a": twice}
    words, value, follows = said_of(book, wrong, "2b")
    assert (words, value) == ("Right", said_of(book, cells, "2b")[1])
    assert float(follows.split("\u00a0")[0]) == pytest.approx(2 * float(value.split()[0]), rel=1e-2)
    taken_up = {**wrong, "2b": follows.replace("\u00a0", " ")}
    assert said_of(book, taken_up, "2b")[0] == "Consistent with your earlier answer"


def test_a_blank_stays_blank(book: PaperBook) -> None:
    opened = paper(book, ONE, {"1a": "  "})
    assert {one.said for one in opened.fields} == {None}
    assert opened.earned.startswith("0 of ")


def test_choices_are_read_by_place_name_and_formula(book: PaperBook) -> None:
    choice = next(one for one in paper(book, ONE, {}).fields if one.choices)
    assert choice.choices == (("A", "silver nitrate"), ("B", "potassium chromate"))  # as on the sheet
    words = {said_of(book, {choice.column: typed}, choice.column)[0] for typed in ("1", "A", "silver nitrate", "AgNO3")}
    assert len(words) == 1
    assert "Not readable" not in words


def test_what_is_said_is_in_the_language_of_the_sheets(book: PaperBook) -> None:
    with speaking("de"):
        said = field(paper(book, ONE, {"1a": "lots"}), "1a").said
    assert said is not None
    assert said.words == "Not readable"


def test_later_attempts_have_numbers_of_their_own(tmp_path: Path) -> None:
    write_class(tmp_path, f"{SET}[attempts]\nnumber = 2\n", {"s1": "Ada"})
    assert build_small(tmp_path, tmp_path / "out", "--quiet") == 0
    book, pile = PaperBook(tmp_path / "out"), Pile(tmp_path / "returned", PaperBook(tmp_path / "out"))
    for attempt in (1, 2):
        for column, cell in right(tmp_path / "out", "s1", attempt).items():
            pile.keep(("s1", attempt), column, cell, "")
        opened = paper(book, ("s1", attempt), pile.cells(("s1", attempt)))
        assert {one.said.words for one in opened.fields if one.said} == {"Right"}
    text = (tmp_path / "returned" / TYPED_FILE).read_text(encoding="utf-8-sig")
    assert [line.split(",")[4] for line in text.splitlines()] == ["attempt", "1", "2"]


def test_a_meaning_of_the_instructor_holds_here_too(built: Path, tmp_path: Path) -> None:
    folder = tmp_path / "out"
    shutil.copytree(built, folder)
    cells = {"1a": "as above"}
    assert said_of(PaperBook(folder), cells, "1a")[0] == "Not readable"
    (folder / "means.csv").write_text(f"written,means\nas above,{right(built)['1a']}\n", encoding="utf-8")
    assert said_of(PaperBook(folder), cells, "1a")[0] == "Right"


def test_answers_are_opened_once_as_long_as_nothing_changes(
    built: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder, opened = tmp_path / "out", []
    shutil.copytree(built, folder)
    before = Answers.__init__

    def counted(self: Answers, path: Path) -> None:
        opened.append(path)
        before(self, path)

    monkeypatch.setattr(Answers, "__init__", counted)
    books = PaperBooks()
    first = books.of(folder)
    for column in ("1a", "1b"):
        paper(books.of(folder), ONE, {column: "1"})
    assert opened == [folder / ANSWERS_FILE]
    os.utime(folder / ANSWERS_FILE, (1, 1))
    assert books.of(folder) is not first
    assert len(opened) == 2


def test_the_built_folder_may_be_replaced_while_its_answers_are_held(built: Path, tmp_path: Path) -> None:
    folder = tmp_path / "out"
    shutil.copytree(built, folder)
    book = PaperBook(folder)
    shutil.rmtree(folder)
    assert paper(book, ("s6", 1), {"1a": "1"}).name == "苔原 雫乃"
