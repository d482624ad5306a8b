"""One line of working: relation, chain, result, and what is read aloud."""

from __future__ import annotations

from fractions import Fraction

import pytest

from problemgen.chemistry.formula import read_formula
from problemgen.model.blocks import Amount, Calculation, Prose, Ratio, Symbol, UnitPiece
from problemgen.model.expression import Expression
from problemgen.model.plan import Plan
from problemgen.model.problem import Scene, Species
from problemgen.model.quantity import Quantity
from problemgen.render.worked.chains import Term, pieces_of
from problemgen.render.worked.lines import Lines
from problemgen.render.worked.printed import Numbers, Printed

MASS, VOLUME, DENSITY = (Quantity(kind, "ether") for kind in ("mass", "volume", "density"))
HEAT = Quantity("temperature", "ether")
M, V, RHO = Symbol("m", "C4H10O"), Symbol("V", "C4H10O"), Symbol("ρ", "C4H10O")


def lines(temperature: str = "24.5", scale: str = "°C") -> Lines:
    ether = Species("ether", "diethyl ether", read_formula("C4H10O"))
    data = {
        VOLUME.id: ("2.50", "mL"), DENSITY.id: ("0.714", "g/mL"), MASS.id: ("1.80", "g"),
        HEAT.id: (temperature, scale),
    }  # fmt: skip
    values = {VOLUME.id: Fraction("0.0025"), DENSITY.id: Fraction(714), MASS.id: Fraction("1.80")}
    plan = Plan((MASS, VOLUME, DENSITY, HEAT), (), (), (), ())
    return Lines(Printed(Scene({"ether": ether}, frozenset(), {}), plan, Numbers(values, data, {}, {})))


def test_a_line_has_relation_chain_result_and_words() -> None:
    writer = lines()
    expression = ("mul", DENSITY.id, VOLUME.id)
    result = Amount("1.79", (UnitPiece("g"),))
    gone = UnitPiece("mL", cancelled=True)
    below = UnitPiece("mL", -1, cancelled=True)
    assert writer.line(MASS, writer.relation(expression), writer.groups(expression, MASS), result) == Calculation(
        M,
        (V, Prose(" × "), RHO),
        (Ratio((Amount("2.50", (gone,)),)), Ratio((Amount("0.714", (UnitPiece("g"), below)),))),
        ("×",),
        result,
        "mass of diethyl ether equals 2.50 millilitres times 0.714 grams per millilitre equals 1.79 grams",
    )


@pytest.mark.parametrize(
    ("expression", "relation"),
    [
        (MASS.id, (M,)),
        (("div", MASS.id, VOLUME.id), (M, Prose("/"), V)),
        (("add", MASS.id, ("neg", VOLUME.id)), (M, Prose(" − "), V)),
        (("add", MASS.id, ("div", MASS.id, VOLUME.id)), (M, Prose(" + "), M, Prose(" ÷ "), V)),
        (("neg", MASS.id), (Prose("− "), M)),
        (("div", ("num", "1"), VOLUME.id), (Prose("1"), Prose("/"), V)),
        (("floor", MASS.id), ()),
    ],
)
def test_relations(expression: Expression, relation: tuple[object, ...]) -> None:
    assert lines().relation(expression) == relation


@pytest.mark.parametrize(
    ("reading", "scale", "number"),
    [
        ("24.5", "°C", "(273.15 + 24.5)"),
        ("-10.0", "°C", "(273.15 − 10.0)"),
        ("75.2", "°F", "(459.67 + 75.2) × 5/9"),
        ("297.6", "K", "297.6"),
    ],
)
def test_temperatures_enter_in_kelvin(reading: str, scale: str, number: str) -> None:
    assert lines(reading, scale).term(HEAT) == Term(number, pieces_of("K"))


def test_a_chain_that_repeats_the_result_is_left_out() -> None:
    writer = lines()
    same = writer.line(MASS, (), writer.groups(MASS.id, MASS), Amount("1.80", (UnitPiece("g"),)))
    rounded = writer.line(MASS, (), writer.groups(MASS.id, MASS), Amount("1.8", (UnitPiece("g"),)))
    shorter = writer.line(MASS, (), writer.groups(MASS.id, MASS), Amount("2", (UnitPiece("g"),)))
    assert (same.terms, rounded.terms, len(shorter.terms)) == ((), (), 1)
