"""The code of a page: what it says, and that no single slip of a pen or a key passes."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from problemgen.model.page_code import LETTERS, MOST_PAGES, PageCode, build_mark, check_state, read_page_code

WHOLE = 16
letters = st.sampled_from(LETTERS)


def words(size: int) -> st.SearchStrategy[str]:
    return st.text(letters, min_size=size, max_size=size)


@st.composite
def codes(draw: st.DrawFn) -> PageCode:
    pages = draw(st.integers(1, MOST_PAGES))
    sheet = draw(words(8))
    place = (draw(st.integers(0, 9)), draw(st.integers(1, pages)), pages)
    return PageCode(draw(words(4)), f"{sheet[:4]}-{sheet[4:]}", *place)


def is_read(text: str) -> bool:
    try:
        read_page_code(text)
    except ValueError:
        return False
    return True


@pytest.mark.parametrize(
    ("text", "radix", "alphabet", "check"),
    [
        ("000000021825009", 2, "0123456789X", "7"),  # ORCID's own example, MOD 11-2
        ("000000021694233", 2, "0123456789X", "X"),  # ORCID, "Structure of the ORCID Identifier"
        ("0794", 2, "0123456789X", "0"),  # ISO/IEC 7064, the example of MOD 11-2
        ("G123498654321", 2, "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ*", "H"),  # ISBT 128, MOD 37-2
    ],
)
def test_the_check_is_that_of_the_standard(text: str, radix: int, alphabet: str, check: str) -> None:
    assert alphabet[(1 - check_state(text, alphabet, radix)) % len(alphabet)] == check


@pytest.mark.parametrize(
    ("code", "text"),
    [
        (PageCode("K7QX", "4BRM-TW9H", 1, 1, 2), "K7QX4BRMTW9H54UF"),
        (PageCode("2222", "2222-2222", 0, 1, 1), "2222222222222223"),
        (PageCode("ZZZZ", "ZZZZ-ZZZZ", 9, MOST_PAGES, MOST_PAGES), "ZZZZZZZZZZZZZCNU"),
    ],
)
def test_what_is_printed(code: PageCode, text: str) -> None:
    assert code.text == text
    assert code.shown == " ".join((text[:4], text[4:8], text[8:12], text[12:]))


@given(codes())
def test_what_is_written_is_read_again(code: PageCode) -> None:
    assert read_page_code(code.text) == code
    assert read_page_code(f" {code.shown.lower().replace(' ', '-')}\n") == code


@given(codes())
def test_no_letter_is_taken_for_another(code: PageCode) -> None:
    assert not set(code.text) & set("IO01")


@given(codes(), st.integers(0, WHOLE - 1), letters)
def test_a_wrong_letter_is_noticed(code: PageCode, place: int, letter: str) -> None:
    wrong = code.text[:place] + letter + code.text[place + 1 :]
    assert is_read(wrong) == (wrong == code.text)


@given(codes(), st.integers(0, WHOLE - 1), st.integers(0, WHOLE - 1))
def test_two_letters_in_each_other_s_place_are_noticed(code: PageCode, one: int, other: int) -> None:
    swapped = list(code.text)
    swapped[one], swapped[other] = swapped[other], swapped[one]
    assert is_read("".join(swapped)) == ("".join(swapped) == code.text)


@pytest.mark.parametrize("text", [PageCode("K7QX", "4BRM-TW9H", 1, 1, 2).text, "2222222222222223"])
def test_every_single_slip_of_a_code_is_noticed(text: str) -> None:
    wrong = {text[:place] + letter + text[place + 1 :] for place in range(WHOLE) for letter in LETTERS}
    wrong |= {text[:place] + text[place + 1] + text[place] + text[place + 2 :] for place in range(WHOLE - 1)}
    assert [one for one in wrong if is_read(one)] == [text]


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("", "no code of a page"),
        ("K7QX4BRMTW9H54U", "no code of a page"),
        ("K7QX4BRMTW9H54UFF", "no code of a page"),
        ("K7QX4BRMTW9H54U0", "no code of a page"),
        ("https://example.org/", "no code of a page"),
        ("K7QX4BRMTW9H54UG", "a code with a character that was misread"),
        ("222222222222223Y", "a code of no page"),  # the second page of one
        ("222222222222ZZZB", "a code of no page"),  # a session beyond the last
    ],
)
def test_what_is_no_code(text: str, reason: str) -> None:
    with pytest.raises(ValueError, match=f"^{reason}$"):
        read_page_code(text)


@pytest.mark.parametrize("place", [(0, 0, 1), (1, 2, 1), (1, 1, MOST_PAGES + 1), (10, 1, 1), (-1, 1, 1)])
def test_what_a_code_cannot_say(place: tuple[int, int, int]) -> None:
    with pytest.raises(ValueError, match=r"^no code for page"):
        assert PageCode("K7QX", "4BRM-TW9H", *place).text


def test_builds_have_marks_of_their_own() -> None:
    told = [("ab", "", "week"), ("ac", "", "week"), ("ab", "2026", "week"), ("ab", "", "week-2"), ("a", "b", "week")]
    marks = [build_mark(*one) for one in told]
    assert len(set(marks)) == len(told)
    assert all(len(mark) == 4 and not set(mark) - set(LETTERS) for mark in marks)
    assert build_mark("ab", "", "week") == marks[0]


@pytest.mark.parametrize(
    ("text", "fits"),
    [("4BRM-TW9H", True), ("4BRMTW9H", True), ("AB-12", False), ("4BRM-TW0H", False), ("", False)],
)
def test_codes_of_sheets(text: str, *, fits: bool) -> None:
    assert PageCode.is_sheet_code(text) is fits
