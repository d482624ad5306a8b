"""Widths worked out from the table of letters, against what Typst measures."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from problemgen.language.catalogues import pseudo
from problemgen.render.printers.widths import Style, lines_of, longest_word, pieces_width, text_width
from problemgen.render.words.text import Pieces, word_pieces
from problemgen.write.fonts import font_families
from tests.support.advances import PATH, measured, module_text
from tests.support.small_set import banks


def test_the_table_is_what_typst_measures() -> None:
    assert PATH.read_text("utf-8") == module_text()


def test_no_letter_that_a_sheet_may_print_is_wider_than_one_that_is_not_in_the_table() -> None:
    others = ["⟶", "中", "の", "ش", "ﷺ", "क", "m̄"]
    assert max(measured([one], font_families())[0] for one in others) <= 1000 * text_width("\ue000")


def names() -> list[str]:
    """All that schemes can say, in all languages."""
    known = banks()
    found = {one.name for one in known.substances.values()}
    found |= {name for names in known.names.values() for name in names.substances.values()}
    return sorted(found | {text for one in known.reactions.values() for text in (one.above, one.below)})


def differences(texts: list[str]) -> list[float]:
    """By how much texts are worked out as wider than Typst prints them, in em."""
    return [text_width(text) - width / 1000 for text, width in zip(texts, measured(texts), strict=True)]


def test_names_are_as_wide_as_typst_prints_them() -> None:
    assert [by for by in differences(names()) if not -0.001 <= by <= 0.01] == []


def test_letters_with_accents_are_nearly_so() -> None:
    """The table has no pairs of them."""
    assert [by for by in differences([pseudo(name) for name in names()]) if not -0.02 <= by <= 0.1] == []


@pytest.mark.parametrize("style", ["bold", "italic"])
@pytest.mark.parametrize("text", ["Wilhelmina Vandermolen-Iglesias", "fluffy AVATAR, illi", "Çağrı", "λ-Жук"])
def test_bold_and_italic_letters_have_widths_of_their_own(text: str, style: Style) -> None:
    assert text_width(text, style) == pytest.approx(measured([text], style=style)[0] / 1000, abs=0.02)


def test_low_and_high_letters_are_smaller() -> None:
    assert pieces_width([["text", "H"], ["sub", "2"], ["sup", "2"]]) == pytest.approx(0.730 + 1.4 * 0.465)


@pytest.mark.parametrize(
    ("text", "longest"),
    [
        ("acetic acid", "acetic"),
        ("3-methylbutan-1-ol", "methylbutan-1-"),
        ("hept-2-ene", "hept-2-"),
        ("ethanol–water", "ethanol–"),
        ("-oic", "-oic"),
        ("", ""),
    ],
)
def test_the_longest_word_is_what_no_break_divides(text: str, longest: str) -> None:
    assert longest_word(text) == text_width(longest)


def test_long_conditions_are_broken_at_spaces() -> None:
    pieces = word_pieces("H2SO4 (catalytic), then reflux")
    lines = ["".join(text for _, text in line) for line in lines_of(pieces, 9)]
    assert lines == ["H2SO4 (catalytic),", "then reflux"]
    assert lines_of([], 9) == []


WORDS = st.text(st.sampled_from("abcXYZ2-, "), max_size=60)


@given(WORDS, st.floats(1, 40))
def test_lines_hold_all_words_and_are_no_wider_than_they_may_be(text: str, widest: float) -> None:
    lines = lines_of(word_pieces(text), widest)
    assert " ".join(map(_said, lines)).split() == text.split()
    for line in lines:
        assert pieces_width(line) <= widest or len(_said(line).split()) == 1


def _said(line: Pieces) -> str:
    return "".join(text for _, text in line)


@given(WORDS, WORDS)
def test_texts_beside_each_other_are_about_as_wide_as_both(one: str, other: str) -> None:
    assert text_width(one + other) == pytest.approx(text_width(one) + text_width(other), abs=0.13)
