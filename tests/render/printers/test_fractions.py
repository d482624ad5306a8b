"""Which side of a fraction is the wider one."""

from __future__ import annotations

from typing import Any

import pytest

from problemgen.model.blocks import Amount, Calculation, Chemical, Line, Prose, Ratio, Symbol, UnitPiece
from problemgen.render.printers.fractions import wider_amounts, wider_line, with_bars
from problemgen.render.printers.typst import SHAPES

GRAM, MOLE = UnitPiece("g", 1, cancelled=False), UnitPiece("mol", 1, cancelled=True)
PER_MOLE = UnitPiece("mol", -1, cancelled=False)


def shape_of(relation: Line, *terms: Ratio) -> dict[str, Any]:
    line = Calculation(Symbol("m"), relation, terms, ("×",) * len(terms), Amount("1"), alt="")
    return with_bars(SHAPES[Calculation](line))


@pytest.mark.parametrize(
    ("top", "bottom", "bar"),
    [
        ((Amount("12.500", (GRAM,)),), (Amount("2", (GRAM,)),), "top"),
        ((Amount("2"),), (Amount("180.2", (GRAM, PER_MOLE)),), "bottom"),
        ((Amount("2"),), (Amount("1", (MOLE,), "Na2CO3"),), "bottom"),
        ((Amount("2"),), (Amount("1.20e-3", (MOLE,)),), "bottom"),
        ((Amount("2"),), (Amount("1e-3", (MOLE,), "H2O"),), "bottom"),
        # Letters of a font that the tables do not have, above or below: the layout measures.
        ((Amount("2", (), "食塩"),), (Amount("1"),), ""),
        ((Amount("2"),), (Amount("1", (), "食塩"),), ""),
        ((Amount("2", (MOLE,)),), (), ""),
    ],
)
def test_a_ratio_of_amounts(top: tuple[Amount, ...], bottom: tuple[Amount, ...], bar: str) -> None:
    term = shape_of((), Ratio(top, bottom))["terms"][0]
    assert term["bar"] == wider_amounts(term["top"], term["bottom"]) == bar


@pytest.mark.parametrize(
    ("relation", "bar"),
    [
        ((Symbol("m", "NaOH", chemical=True), Prose(" / "), Symbol("M")), "top"),
        ((Symbol("m"), Prose(" / "), Symbol("M", "H2O", chemical=True)), "bottom"),
        ((Symbol("n"), Prose(" / "), Symbol("V", sub="stock")), "bottom"),
        ((Prose("of all that "), Chemical("H2O"), Prose(" / "), Symbol("V")), "top"),
    ],
)
def test_a_relation(relation: Line, bar: str) -> None:
    told = shape_of(relation)["relation"]
    assert told["bar"] == wider_line(told["top"], told["bottom"]) == bar


def test_several_amounts_are_wider_than_one() -> None:
    few, many = (Amount("10.00"),), (Amount("1.00"), Amount("1.00"), Amount("1.00"))
    assert shape_of((), Ratio(few, many))["terms"][0]["bar"] == "bottom"
    assert shape_of((), Ratio(many, few))["terms"][0]["bar"] == "top"
