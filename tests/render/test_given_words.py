"""Given values in the words of the sheets."""

from __future__ import annotations

import pytest

from problemgen.exact.digits import read_written
from problemgen.model.blocks import Block, Note, Paragraph, Table
from problemgen.model.fixed import Datum
from problemgen.model.quantity import Quantity, Role
from problemgen.model.told import COLUMNS
from problemgen.render.given_words import notes_blocks, numbers_blocks, printed_value, told_values
from problemgen.render.sheet import problem_blocks
from problemgen.render.terminal import text_lines
from tests.support.shipped import NAMES, shipped, variant_of

GRIGNARD = "preparations/triphenylmethanol"


def datum(text: str, unit: str) -> Datum:
    return Datum(read_written(text), unit)


@pytest.mark.parametrize(
    ("name", "quantity", "value", "text"),
    [
        (
            GRIGNARD,
            Quantity("volume", "methyl-benzoate", Role.SOLUTION),
            datum("15.0", "mL"),
            "15.0\u00a0mL of solution",
        ),
        (GRIGNARD, Quantity("density", "bromobenzene"), datum("1.495", "g/mL"), "density 1.495\u00a0g/mL (20 °C)"),
        (
            GRIGNARD,
            Quantity("mass", "triphenylmethanol", Role.ACTUAL),
            datum("1.53", "g"),
            "obtained, dry: 1.53\u00a0g",
        ),
        (GRIGNARD, Quantity("mass_fraction", "hydrogen-chloride"), datum("37.0", "%"), "37.0\u00a0% by mass"),
    ],
)
def test_a_value_with_its_words(name: str, quantity: Quantity, value: Datum, text: str) -> None:
    assert printed_value(shipped(name), quantity, value) == text


@pytest.mark.parametrize("name", NAMES)
def test_every_given_value_is_told_once_from_a_session_on(name: str) -> None:
    template = shipped(name)
    told = told_values(template)
    assert sorted(one.quantity for one in told) == sorted(template.scene.given)
    assert {one.column for one in told} <= {*COLUMNS}
    assert all(1 <= one.session <= template.sessions for one in told)


@pytest.mark.parametrize("name", NAMES)
def test_the_last_sheet_tells_all_that_is_told(name: str) -> None:
    template, variant = shipped(name), variant_of(name)
    told = told_values(template)
    blocks: list[Block] = [
        *numbers_blocks(template.scene.species, told, variant.given),
        *notes_blocks(template.scene, template.plan),
    ]
    sheet = list(problem_blocks(variant, template.sessions))
    assert [block for block in blocks if block not in sheet] == []


def test_what_was_obtained_is_a_sentence_of_its_own() -> None:
    template, variant = shipped(GRIGNARD), variant_of(GRIGNARD)
    table, obtained = numbers_blocks(template.scene.species, told_values(template), variant.given)
    assert isinstance(table, Table)
    assert isinstance(obtained, Paragraph)
    mass = variant.given["mass(triphenylmethanol,actual)"].written.text
    assert list(text_lines([obtained])) == [f"Obtained, dry: {mass}\u00a0g of triphenylmethanol (C₁₉H₁₆O)."]


def test_a_value_that_is_not_known_is_left_out() -> None:
    template, variant = shipped(GRIGNARD), variant_of(GRIGNARD)
    given = {name: one for name, one in variant.given.items() if "bromobenzene" not in name and "actual" not in name}
    (table,) = numbers_blocks(template.scene.species, told_values(template), given)
    assert not any("bromobenzene" in line for line in text_lines([table]))
    assert list(numbers_blocks(template.scene.species, told_values(template), {})) == []


def test_reagents_in_excess_and_constants_are_noted() -> None:
    blocks = [
        block
        for name in NAMES
        for block in notes_blocks(shipped(name).scene, shipped(name).plan)
        if isinstance(block, Note)
    ]
    lines = set(text_lines(blocks))
    assert "R = 8.3145 kPa·L/(mol·K), and 0 °C is 273.15 K." in lines
    assert "N_A = 6.0221 × 10²³ per mole." in lines
    assert any(line.startswith("In excess: ") for line in lines)
