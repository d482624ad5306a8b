"""Whose paper is meant: what is typed right opens it, and a typing error opens nobody else's."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from problemgen.errors import FaultsError
from problemgen.model.page_code import LETTERS, PageCode
from problemgen.pipeline.typed_papers import PaperBook, whose
from tests.support.small_class import SET, build_small, write_class


def code_of(book: PaperBook, student: str, session: int = 1, page: int = 1, attempt: int = 1) -> str:
    """The code on a page of a student's sheets, as it is printed."""
    return PageCode(book.mark, book.sheets[student, attempt], session, page, 2).shown


@pytest.fixture(scope="module")
def twice(tmp_path_factory: pytest.TempPathFactory) -> PaperBook:
    """A class with two attempts each."""
    folder = tmp_path_factory.mktemp("twice")
    write_class(folder, f"{SET}[attempts]\nnumber = 2\n", {"s1": "Ada Quill", "s2": "Adam Quince"})
    assert build_small(folder, folder / "out", "--quiet") == 0
    return PaperBook(folder / "out")


@pytest.mark.parametrize("shown", [str, str.lower, lambda code: code.replace(" ", ""), lambda code: f" {code}  "])
def test_a_page_s_code_opens_its_paper_at_its_sheet(book: PaperBook, shown: type[str]) -> None:
    found = whose(book, shown(code_of(book, "s3", session=1, page=2)))
    assert (found.entry, found.session, found.remark) == (("s3", 1), 1, "")


def test_the_code_of_a_slip_opens_the_whole_paper(book: PaperBook) -> None:
    assert whose(book, code_of(book, "s3", session=0)).session == 0


@pytest.mark.parametrize(
    "typed",
    ["s2", " S2 ", "adrel", "O'Sommer", "sommer adrel", "ADREL o SOMMER"],
)
def test_an_id_or_a_name_opens_the_paper(book: PaperBook, typed: str) -> None:
    assert whose(book, typed).entry == ("s2", 1)


@pytest.mark.parametrize(
    ("typed", "student"), [("טלורה", "s4"), ("الغيام", "s5"), ("苔原", "s6"), ("dervaux", ""), ("ervaux", "s3")]
)
def test_names_of_any_script_are_found(book: PaperBook, typed: str, student: str) -> None:
    found = whose(book, typed)
    assert (found.entry or ("",))[0] == student


def test_the_code_of_a_sheet_opens_its_paper(book: PaperBook) -> None:
    assert whose(book, book.sheets["s5", 1].lower()).entry == ("s5", 1)


@given(st.integers(0, 15), st.sampled_from(LETTERS), st.sampled_from(["s1", "s4", "s6"]))
def test_a_wrong_character_is_noticed_and_the_paper_offered(
    book: PaperBook, place: int, other: str, student: str
) -> None:
    code = code_of(book, student).replace(" ", "")
    wrong = code[:place] + other + code[place + 1 :]
    found = whose(book, wrong)
    if wrong == code:
        assert found.entry == (student, 1)
        return
    assert found.entry is None
    assert found.remark == "A letter or figure of this code is mistyped, or two are exchanged."
    assert (student, 1) in found.entries


@given(st.integers(0, 14), st.sampled_from(["s1", "s4", "s6"]))
def test_two_that_are_exchanged_are_noticed(book: PaperBook, place: int, student: str) -> None:
    code = code_of(book, student).replace(" ", "")
    wrong = code[:place] + code[place + 1] + code[place] + code[place + 2 :]
    found = whose(book, wrong)
    assert found.entry == ((student, 1) if wrong == code else None)
    assert (student, 1) in found.entries


@given(st.integers(0, 15), st.sampled_from(["s1", "s4", "s6"]))
def test_one_that_is_missing_is_noticed(book: PaperBook, place: int, student: str) -> None:
    code = code_of(book, student).replace(" ", "")
    found = whose(book, code[:place] + code[place + 1 :])
    assert found.entry is None
    assert found.remark == "That is 15 letters and figures; the code on a page has 16."
    assert (student, 1) in found.entries


def test_what_looks_like_a_letter_is_told(book: PaperBook) -> None:
    code = code_of(book, "s1").replace(" ", "")
    found = whose(book, f"0{code[1:]}")
    assert found.remark == "No code has 0: what looks like it is another letter or figure."
    assert found.entries == (("s1", 1),)


def test_a_page_of_another_set_is_told(book: PaperBook) -> None:
    other = PageCode("2345" if book.mark != "2345" else "3456", "AB2C-DE3F", 1, 1, 2)
    assert whose(book, other.shown).remark == "This page is of another set, or of another class."


def test_a_page_of_a_sheet_that_was_drawn_anew_is_told(book: PaperBook) -> None:
    gone = PageCode(book.mark, "AB2C-DE3F", 1, 1, 2)
    assert whose(book, gone.shown).remark.startswith("This page is of no sheet that the set has now")


@pytest.mark.parametrize(
    ("typed", "remark"),
    [
        ("", "Type a code, an id or a name."),
        ("  ", "Type a code, an id or a name."),
        ("s77", "Nobody in this set has the code, the id or the name “s77”."),
        ("<script>", "Nobody in this set has the code, the id or the name “<script>”."),
    ],
)
def test_nobody_s_paper_is_told(book: PaperBook, typed: str, remark: str) -> None:
    found = whose(book, typed)
    assert (found.entry, found.remark) == (None, remark)


def test_an_id_that_is_nearly_one_is_offered(book: PaperBook) -> None:
    assert whose(book, "ss2").entries == (("s2", 1),)


@given(st.text(max_size=40))
def test_no_text_raises_an_error(book: PaperBook, typed: str) -> None:
    found = whose(book, typed)
    assert (found.entry is None) == bool(found.remark)


def test_of_several_attempts_one_is_told_or_chosen(twice: PaperBook) -> None:
    assert whose(twice, "s1").remark == "Which attempt?"
    assert whose(twice, "s1").entries == (("s1", 1), ("s1", 2))
    assert whose(twice, "s1 2").entry == ("s1", 2)
    assert whose(twice, "s1 3").remark == "s1 has no attempt 3."
    assert whose(twice, code_of(twice, "s2", attempt=2)).entry == ("s2", 2)
    assert whose(twice, "qui").remark == "Whose paper?"


def test_a_folder_without_a_build_is_told(tmp_path: Path) -> None:
    with pytest.raises(FaultsError, match=r"the answers\.json of a built set"):
        PaperBook(tmp_path)
