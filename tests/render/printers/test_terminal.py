from __future__ import annotations

import pytest

from problemgen.model import blocks as b
from problemgen.render.printers.terminal import text_lines

WORDS = (b.Prose("Take "), b.Strong("3.25 g"), b.Prose(" of "), b.Chemical("CuSO4.5H2O"), b.Prose("."))
MMOL = b.UnitPiece("mmol", 1)
G_PER_MOL = (b.UnitPiece("g", 1), b.UnitPiece("mol", -1))


@pytest.mark.parametrize(
    ("block", "lines"),
    [
        (b.Heading(1, "Before the session"), ["", "BEFORE THE SESSION"]),
        (b.Heading(2, "Problem 1"), ["", "Problem 1"]),
        (b.NewSheet("Sheet 1"), ["Sheet 1"]),
        (b.Paragraph(WORDS), ["Take 3.25 g of CuSO₄·5H₂O."]),
        (b.Note(WORDS), ["Take 3.25 g of CuSO₄·5H₂O."]),
        (b.Bullets((WORDS, (b.Prose("Stir."),))), ["- Take 3.25 g of CuSO₄·5H₂O.", "- Stir."]),
        (b.Caution("Mind", (WORDS,)), ["Mind", "  Take 3.25 g of CuSO₄·5H₂O."]),
        (b.Part("p1-01", "a", (b.Prose("The mass"),), "2 points", "g"), ["(a) The mass [2 points] ____ g"]),
        (b.Part("p1-02", "b", (b.Prose("Which?"),), "1 point", ""), ["(b) Which? [1 point] ____"]),
        (
            b.Judged("1a", WORDS, "1 of 2 points", "≈", "A slip", (b.Prose("You wrote 3."),), ((b.Prose("So."),),)),
            ["1a Take 3.25 g of CuSO₄·5H₂O. [1 of 2 points]", "  ≈ A slip. You wrote 3.", "  So."],
        ),
        (b.Flagged((WORDS,), (b.Note(WORDS),)), ["  » Take 3.25 g of CuSO₄·5H₂O.", "  Take 3.25 g of CuSO₄·5H₂O."]),
        (b.Paragraph((b.Chemical("SO4^2-"), b.Prose(" and "), b.Chemical("Na+"))), ["SO₄²⁻ and Na⁺"]),
        (b.Paragraph((b.Chemical("no formula"),)), ["no formula"]),
        (b.Paragraph((b.Symbol("m", "NaCl"),)), ["m(NaCl)"]),
        (b.Paragraph((b.Symbol("n", "H2O", sub="left"),)), ["n_left(H₂O)"]),
        (b.Paragraph((b.Symbol("V", "solution", chemical=False),)), ["V(solution)"]),
        (b.Paragraph((b.Symbol("ξ"),)), ["ξ"]),
        (b.Paragraph((b.Prose("a\x1b[31mb\x07c"),)), ["a[31mbc"]),
    ],
)
def test_a_block_as_text(block: b.Block, lines: list[str]) -> None:
    assert list(text_lines([block])) == lines


def test_a_scheme_shows_coefficients_from_two_on() -> None:
    left = (b.SchemeItem(2, "AgNO3", "silver nitrate"), b.SchemeItem(1, "K2CrO4", "potassium chromate"))
    right = (b.SchemeItem(1, "Ag2CrO4", "silver chromate"), b.SchemeItem(2, "KNO3", "potassium nitrate"))
    assert list(text_lines([b.Scheme(left, right, "", "water", "")])) == ["2 AgNO₃ + K₂CrO₄ → Ag₂CrO₄ + 2 KNO₃"]


def test_a_table_has_its_columns_aligned_numbers_to_the_right() -> None:
    def cells(*texts: str) -> tuple[b.Line, ...]:
        return tuple((b.Prose(text),) for text in texts)

    table = b.Table(
        "Taken", cells("Substance", "m / g"), (cells("salt", "1.5"), cells("sugar", "12.25")), (False, True)
    )
    assert list(text_lines([table])) == ["Taken", "  Substance  m / g", "  salt         1.5", "  sugar      12.25"]
    nameless = b.Table("", cells("A", "B"), (cells("x", ""),), (False, False))
    assert list(text_lines([nameless])) == ["  A  B", "  x"]


def calculation(*terms: b.Ratio, operators: tuple[str, ...] = (), relation: b.Line = ()) -> list[str]:
    result = b.Amount("24.4", (MMOL,), "NaCl")
    return list(text_lines([b.Calculation(b.Symbol("n", "NaCl"), relation, terms, operators, result, "read aloud")]))


def test_a_line_of_working() -> None:
    mass = b.Ratio((b.Amount("1.425", (b.UnitPiece("g", 1),)),), (b.Amount("58.44", G_PER_MOL),))
    thousand = b.Ratio((b.Amount("1000", (MMOL,)),), (b.Amount("1", (b.UnitPiece("mol", 1),)),))
    relation = (b.Symbol("m", "NaCl"), b.Prose("/"), b.Symbol("M", "NaCl"))
    assert calculation(mass, thousand, operators=("×",), relation=relation) == [
        "    n(NaCl) = m(NaCl)/M(NaCl) = (1.425 g / 58.44 g·mol⁻¹) × (1000 mmol / 1 mol) = 24.4 mmol NaCl"
    ]
    assert calculation() == ["    n(NaCl) = 24.4 mmol NaCl"]
    assert calculation(b.Ratio((b.Amount("24.4", (MMOL,), "NaCl"),))) == ["    n(NaCl) = 24.4 mmol NaCl"]


@pytest.mark.parametrize(
    ("piece", "text"),
    [
        (b.UnitPiece("m3", -1), "m⁻³"),
        (b.UnitPiece("cm3", 1), "cm³"),
        (b.UnitPiece("dm3", -2), "dm⁻⁶"),
        (b.UnitPiece("mL", -1), "mL⁻¹"),
        (b.UnitPiece("s", 2), "s²"),
    ],
)
def test_powers_of_a_unit_are_one_number(piece: b.UnitPiece, text: str) -> None:
    line = b.Calculation(b.Symbol("ρ"), (), (), (), b.Amount("2", (piece,)), "read aloud")
    assert list(text_lines([line])) == [f"    ρ = 2 {text}"]
