"""Symbols, unit words and numbers as they are printed and read aloud."""

from __future__ import annotations

import pytest

from problemgen.chemistry.formula import read_formula
from problemgen.chemistry.unit_list import SPELLINGS
from problemgen.model.blocks import Amount, Ratio, Symbol
from problemgen.model.problem import Scene, Species
from problemgen.model.quantity import Quantity, Role
from problemgen.render.words.symbols import (
    capitalised,
    coefficient_symbol,
    owner,
    prose_number,
    spoken_amount,
    spoken_chain,
    symbol,
    unit_pieces_of,
)

SCENE = Scene(
    {
        "acid": Species("acid", "hydrochloric acid", read_formula("HCl"), -1),
        "blue": Species("blue", "copper sulfate pentahydrate", read_formula("CuSO4.5H2O"), -1),
        "juice": Species("juice", "juice"),
    },
    frozenset(),
    {},
)


@pytest.mark.parametrize(
    ("quantity", "expected", "words"),
    [
        (Quantity("mass", "acid"), Symbol("m", "HCl"), "mass of hydrochloric acid"),
        (Quantity("mass", "juice"), Symbol("m", "juice", chemical=False), "mass of juice"),
        (
            Quantity("mass", "acid", Role.THEORETICAL),
            Symbol("m", "HCl", sub="theoretical"),
            "theoretical mass of hydrochloric acid",
        ),
        (
            Quantity("amount", "acid", Role.ACTUAL),
            Symbol("n", "HCl", sub="obtained"),
            "amount of hydrochloric acid obtained",
        ),
        (
            Quantity("amount", "acid", Role.FROM, source="blue"),
            Symbol("n", "HCl", sub="from CuSO₄·5H₂O"),
            "amount of hydrochloric acid from copper sulfate pentahydrate",
        ),
        (Quantity("extent", ""), Symbol("ξ"), "extent of reaction"),
        (Quantity("volume", "", Role.MIXED), Symbol("V", sub="mixture"), "volume of the mixture"),
        (Quantity("volume", "acid", Role.ADDED), Symbol("V", sub="added"), "volume added"),
        (
            Quantity("volume", "acid", Role.SOLUTION),
            Symbol("V", "HCl", sub="solution"),
            "volume of the solution of hydrochloric acid",
        ),
        (Quantity("mass", "acid", Role.DRY), Symbol("m", "HCl", sub="dry"), "mass of hydrochloric acid when dried"),
        (
            Quantity("volume", "acid", Role.EQUAL_PORTION, stage=3),
            Symbol("V", "HCl", sub="three portions"),
            "volume of each of three portions of solvent",
        ),
        (
            Quantity("mass", "acid", Role.UNEXTRACTED, stage=1),
            Symbol("m", "HCl", sub="after one"),
            "mass of hydrochloric acid left after one portion",
        ),
    ],
)
def test_a_quantity_has_a_symbol_and_words(quantity: Quantity, expected: Symbol, words: str) -> None:
    assert symbol(SCENE, quantity) == expected
    assert SCENE.words_of(quantity) == words


WEIGHED = Quantity("mass", "acid", Role.THEORETICAL)


@pytest.mark.parametrize("role", [Role.IMPURE, Role.SAMPLE])
def test_what_is_weighed_in_an_analysis_is_obtained_and_no_theory(role: Role) -> None:
    scene = Scene(SCENE.species, frozenset({WEIGHED, Quantity("mass", "blue", role)}), {})
    amount = Quantity("amount", "acid", Role.THEORETICAL)
    assert symbol(scene, WEIGHED) == Symbol("m", "HCl", sub="obtained")
    assert symbol(scene, amount) == Symbol("n", "HCl", sub="obtained")
    assert scene.words_of(WEIGHED) == "mass of hydrochloric acid obtained"


@pytest.mark.parametrize("given", [{WEIGHED}, {Quantity("mass", "blue", Role.IMPURE)}])
def test_what_is_wanted_or_possible_is_a_theory(given: set[Quantity]) -> None:
    assert symbol(Scene(SCENE.species, frozenset(given), {}), WEIGHED) == Symbol("m", "HCl", sub="theoretical")


@pytest.mark.parametrize(
    ("role", "sub"), [(Role.START, "start"), (Role.FRONT, "front"), (Role.FRONT_EDGE, "front edge")]
)
def test_the_lines_of_a_plate_belong_to_no_substance(role: Role, sub: str) -> None:
    assert symbol(SCENE, Quantity("distance", "acid", role)) == Symbol("d", sub=sub)


def test_coefficients_and_owners() -> None:
    assert coefficient_symbol(SCENE, "blue") == Symbol("ν", "CuSO4.5H2O")
    assert owner(SCENE, "unheard of") == ("unheard of", False)


@pytest.mark.parametrize(
    ("number", "unit", "of", "spoken"),
    [
        ("1.50", "g/mL", "", "1.50 grams per millilitre"),
        ("1", "mol", "HCl", "1 mole of hydrochloric acid"),
        ("2", "mmol", "NaOH", "2 millimoles of NaOH"),
        ("8.31", "kPa L/(mol K)", "", "8.31 kilopascal litres per mole per kelvin"),
        ("67.1", "%", "", "67.1 percent"),
        ("-3.5", "°C", "", "minus 3.5 degrees Celsius"),
        ("(273.15 − 3.5)", "K", "", "273.15 minus 3.5 kelvins"),
        ("6.022e23", "molecules/mol", "", "6.022 times ten to the 23 molecules per mole"),
        ("1.5e-5", "1", "", "1.5 times ten to the minus 5"),
        ("1", "atoms", "", "1 atom"),
        ("37", "g", "solution", "37 grams of solution"),
    ],
)
def test_amounts_are_read_aloud(number: str, unit: str, of: str, spoken: str) -> None:
    names = {"HCl": "hydrochloric acid", "NaOH": "NaOH"}
    assert spoken_amount(Amount(number, unit_pieces_of(unit), of), names) == spoken


def test_a_line_is_read_aloud() -> None:
    first = Ratio((Amount("2.60", unit_pieces_of("mL")),))
    second = Ratio((Amount("1.50", unit_pieces_of("g/mL")),))
    result = Amount("3.90", unit_pieces_of("g"))
    assert spoken_chain("mass of bromobenzene", (first, second), ("×",), result, {}) == (
        "mass of bromobenzene equals 2.60 millilitres times 1.50 grams per millilitre equals 3.90 grams"
    )


@pytest.mark.parametrize("unit", sorted({listed.symbol for listed in SPELLINGS.values()}))
def test_every_unit_of_the_list_can_be_said(unit: str) -> None:
    assert spoken_amount(Amount("2", unit_pieces_of(unit)), {}).startswith("2 ")


@pytest.mark.parametrize(
    ("text", "printed"),
    [("1.20", "1.20"), ("-3.5", "−3.5"), ("1.20e-5", "1.20 × 10⁻⁵"), ("6.0e23", "6.0 × 10²³")],
)
def test_numbers_in_running_text(text: str, printed: str) -> None:
    assert prose_number(text) == printed


@pytest.mark.parametrize(
    ("name", "opening"),
    [
        ("magnesium", "Magnesium"),
        ("2-naphthol", "2-Naphthol"),
        ("3-methylbutan-1-ol", "3-Methylbutan-1-ol"),
        ("1,3-dinitrobenzene", "1,3-Dinitrobenzene"),
        ("tert-butyl alcohol", "tert-Butyl alcohol"),
        ("cobalt(II) chloride", "Cobalt(II) chloride"),
        ("p-toluidine", "p-Toluidine"),
        ("", ""),
    ],
)
def test_names_open_sentences(name: str, opening: str) -> None:
    assert capitalised(name) == opening
