"""Plain characters, blank cells, and how a reason quotes an answer."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from problemgen.grade.reading.spelling import NARROW, groups_written_out, is_blank, plain_characters, quoted


@pytest.mark.parametrize(
    ("typed", "plain"),
    [
        ("３．９５ｇ", "3.95g"),
        ("−5", "-5"),
        ("–5", "-5"),
        ("10⁻²", "10^-2"),
        ("10^⁻²", "10^-2"),
        ("10**-2", "10^-2"),
        ("10^{-2}", "10^-2"),
        ("10^( -2 )", "10^-2"),
        ("cm³", "cm^3"),
        ("H₂O", "H₂O"),
        ("½", "1/2"),
        ("1½", "1 1/2"),
        ("≈∼", "~~"),
        ("a → b => c", "a = b = c"),
        ("1\N{THIN SPACE}234", f"1{NARROW}234"),
        ("1\n2\t3", "1  2  3"),
        ("1\N{ZERO WIDTH SPACE}2", "12"),
        ("\N{SOFT HYPHEN}5", "\N{SOFT HYPHEN}5"),
        ("º", "°"),
        ("…", "..."),
        ("٣٫٥", "3.5"),
        ("１２。５", "12.5"),
        ("㎖", "ml"),
        ("㎤", "cm3"),
        ("㎎", "mg"),
        ("ℓ", "L"),
        ("`5`", "5"),
        ("mol∙L⁻¹", "mol·L^-1"),
        ("‘5", "5"),
        ("'5", "5"),
        ("'5'", "5"),
        ("“5 g”", "5 g"),
        ('"5"6"', '"5"6"'),
        ("٣۴५", "345"),
    ],
)
def test_plain_characters(typed: str, plain: str) -> None:
    assert plain_characters(typed) == plain


@given(st.text())
def test_every_space_and_digit_becomes_one_that_is_known(text: str) -> None:
    plain = plain_characters(text)
    assert {c for c in plain if c.isspace()} <= {" ", NARROW}
    assert all(c.isascii() for c in plain if c.isdecimal())


@pytest.mark.parametrize("text", ["", "-", "- -", "?", "N/A", "n.a.", "NA", "...", "_", "/"])
def test_blank(text: str) -> None:
    assert is_blank(text)


@pytest.mark.parametrize("text", ["0", "none", "x", "n", "no", "=", "+"])
def test_not_blank(text: str) -> None:
    assert not is_blank(text)


@pytest.mark.parametrize(
    ("text", "shown"),
    [("12 g", '"12 g"'), ("a\x00b\nc", '"a b c"'), ("x" * 40, f'"{"x" * 40}"'), ("x" * 41, f'"{"x" * 40}…"')],
)
def test_quoted(text: str, shown: str) -> None:
    assert quoted(text) == shown


@pytest.mark.parametrize(
    ("formula", "elements", "written_out"),
    [
        ("PhBr", False, "(C6H5)Br"),
        ("Ph3COH", False, "(C6H5)3COH"),
        ("Et2O", False, "(C2H5)2O"),
        ("NaCl", False, "NaCl"),
        ("Ac2O", False, "Ac2O"),
        ("Ac2O", True, "(C2H3O)2O"),
        ("PrOH", True, "(C3H7)OH"),
    ],
)
def test_groups_written_out(formula: str, written_out: str, *, elements: bool) -> None:
    assert groups_written_out(formula, elements=elements) == written_out
