"""What is read aloud where a block brings no words of its own."""

from __future__ import annotations

import pytest

from problemgen.model.blocks import (
    Amount,
    Calculation,
    Chemical,
    Prose,
    Ratio,
    Scheme,
    SchemeItem,
    Strong,
    Symbol,
    UnitPiece,
)
from problemgen.render.words.spoken import spoken_calculation, spoken_formula, spoken_line, spoken_scheme

GRAM, PER_MOLE = UnitPiece("g", cancelled=True), UnitPiece("mol", -1)


@pytest.mark.parametrize(
    ("formula", "spoken"),
    [
        ("H2O", "H2O"),
        ("SO4^2-", "SO4 2 minus"),
        ("Na+", "Na plus"),
        ("CuSO4.5H2O", "CuSO4 dot 5H2O"),
        ("the filtrate", "the filtrate"),
    ],
)
def test_spoken_formula(formula: str, spoken: str) -> None:
    assert spoken_formula(formula) == spoken


def test_spoken_line() -> None:
    line = (
        Strong("Find"),
        Symbol("m", "NaCl", sub="dry"),
        Prose(" / "),
        Symbol("V", "flask", chemical=False),
    )
    assert spoken_line((*line, Chemical("NH4+"))) == "Find m dry of NaCl over V of flask NH4 plus"


def scheme(alt: str) -> Scheme:
    left = (SchemeItem(1, "CaCO3", "calcium carbonate"), SchemeItem(2, "HCl", ""))
    return Scheme(left, (SchemeItem(1, "CO2", "carbon dioxide"),), "water", "20 °C", alt)


def test_spoken_scheme() -> None:
    assert spoken_scheme(scheme("")) == ("calcium carbonate plus 2 HCl gives carbon dioxide. Conditions: water, 20 °C")
    assert spoken_scheme(scheme(" in its own words\n")) == "in its own words"


def calculation(alt: str) -> Calculation:
    terms = (
        Ratio((Amount("2.50", (GRAM,), of="NaCl"),), (Amount("58.44", (GRAM, PER_MOLE)),)),
        Ratio((Amount("3"),)),
        Ratio((Amount("1.0", (UnitPiece("cm", 3),)),)),
    )
    relation = (Symbol("m"), Prose("/"), Symbol("M"))
    return Calculation(Symbol("n", "NaCl"), relation, terms, ("×", "−"), Amount("0.128", (UnitPiece("mol"),)), alt)


def test_spoken_calculation() -> None:
    assert spoken_calculation(calculation("")) == (
        "n of NaCl equals m over M equals 2.50 g NaCl over 58.44 g per mol times 3 minus 1.0 cm to the 3"
        " equals 0.128 mol"
    )
    assert spoken_calculation(calculation("said so")) == "said so"
