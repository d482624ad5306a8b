"""Strings for print: cleaned, and cut into pieces that stand low, high or on the line."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from problemgen.render.words.text import (
    chemical_pieces,
    clean_text,
    number_pieces,
    unit_pieces,
    word_pieces,
)


@pytest.mark.parametrize(
    ("raw", "clean"),
    [
        ("Anna", "Anna"),
        ("Anna\u202egnp.exe", "Annagnp.exe"),
        ("\u2066a\u2067b\u2068c\u2069", "abc"),
        ("\u202aa\u202bb\u202cc\u202d", "abc"),
        ("a\x00b\x07c\x1b[31md\x7f", "abc[31md"),
        ("one\ntwo\tthree\r", "one two three "),
        ("a\u2028b\u2029c", "a b c"),
        ("a\ud800b\ufeff\uffff", "ab"),
        ("A\u030angstro\u0308m", "Ångström"),
        ("می\u200cخواهم", "می\u200cخواهم"),
        ("#read(<x>) $y$ @z {{ 7*7 }} =cmd", "#read(<x>) $y$ @z {{ 7*7 }} =cmd"),
    ],
)
def test_clean_text(raw: str, clean: str) -> None:
    assert clean_text(raw) == clean


@given(st.text(st.characters(), max_size=60))
def test_clean_text_leaves_nothing_that_steers_a_printer(text: str) -> None:
    clean = clean_text(text)
    assert not {unicodedata.category(letter) for letter in clean} & {"Cc", "Cs"}
    assert not any("\u202a" <= letter <= "\u202e" or "\u2066" <= letter <= "\u2069" for letter in clean)
    assert clean_text(clean) == clean
    assert clean.encode("utf-8").decode("utf-8") == clean


@pytest.mark.parametrize(
    ("formula", "pieces"),
    [
        ("H2O", [["text", "H"], ["sub", "2"], ["text", "O"]]),
        ("SO4^2-", [["text", "SO"], ["sub", "4"], ["sup", "2−"]]),
        (
            "CuSO4.5H2O",
            [["text", "CuSO"], ["sub", "4"], ["text", "·5H"], ["sub", "2"], ["text", "O"]],
        ),
        ("the crude product", [["text", "the crude product"]]),
        ("", [["text", ""]]),
    ],
)
def test_chemical_pieces(formula: str, pieces: list[list[str]]) -> None:
    assert chemical_pieces(formula) == pieces


@pytest.mark.parametrize(
    ("words", "pieces"),
    [
        ("ethanol, 1.5 h", [["text", "ethanol, 1.5 h"]]),
        ("H3PO4 (cat.)", [["text", "H"], ["sub", "3"], ["text", "PO"], ["sub", "4"], ["text", " (cat.)"]]),
        ("under N2, 0 °C", [["text", "under N"], ["sub", "2"], ["text", ", 0 °C"]]),
        ("In, No and I at Site7", [["text", "In, No and I at Site7"]]),
        ("", []),
    ],
)
def test_word_pieces(words: str, pieces: list[list[str]]) -> None:
    assert word_pieces(words) == pieces


@pytest.mark.parametrize(
    ("number", "pieces"),
    [
        ("0.0500", [["text", "0.0500"]]),
        ("-3.20", [["text", "−3.20"]]),
        ("9.2e-4", [["text", "9.2 × 10"], ["sup", "−4"]]),
        ("-6.022E+23", [["text", "−6.022 × 10"], ["sup", "23"]]),
        ("between 2 and 3", [["text", "between 2 and 3"]]),
    ],
)
def test_number_pieces(number: str, pieces: list[list[str]]) -> None:
    assert number_pieces(number) == pieces


@pytest.mark.parametrize(
    ("unit", "pieces"),
    [
        ("mol", [["text", "mol"]]),
        ("g/mL", [["text", "g/mL"]]),
        ("cm3", [["text", "cm"], ["sup", "3"]]),
        (
            "kPa L mol^-1 K^-1",
            [["text", "kPa L mol"], ["sup", "−1"], ["text", " K"], ["sup", "−1"]],
        ),
        ("°C", [["text", "°C"]]),
        ("%", [["text", "%"]]),
        ("", []),
    ],
)
def test_unit_pieces(unit: str, pieces: list[list[str]]) -> None:
    assert unit_pieces(unit) == pieces
