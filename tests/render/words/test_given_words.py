"""Given values in the words of the sheets."""

from __future__ import annotations

from dataclasses import replace
from typing import get_args

import pytest

from problemgen.exact.digits import read_written
from problemgen.model.blocks import Block, Note, Paragraph, Prose, Table
from problemgen.model.fixed import Datum
from problemgen.model.problem import Asked
from problemgen.model.quantity import KINDS, Kind, Quantity, Role
from problemgen.model.quantity import quantity as quantity_module
from problemgen.model.told import Column
from problemgen.render.printers.terminal import text_lines
from problemgen.render.sheet.sheet import problem_blocks
from problemgen.render.words import given_words, prompts, symbols
from problemgen.render.words.given_words import notes_blocks, numbers_blocks, printed_value, told_values
from tests.support.every_row import for_every
from tests.support.shipped import NAMES, shipped, variant_of

GRIGNARD = "preparations/triphenylmethanol"
LIQUID = "preparations/isopentyl-acetate"


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
        (
            "yield/smudged-notebook",
            Quantity("mass", "preparation", Role.THEORETICAL),
            datum("7.172", "g"),
            "in theory: 7.172\u00a0g",
        ),
    ],
)
def test_a_value_with_its_words(name: str, quantity: Quantity, value: Datum, text: str) -> None:
    assert printed_value(shipped(name), quantity, value) == text


@pytest.mark.parametrize(
    ("quantity", "value", "text"),
    [
        (Quantity("e_factor", "triphenylmethanol"), datum("12.5", "1"), "E-factor 12.5"),
        (Quantity("atom_economy", "triphenylmethanol"), datum("45", "%"), "atom economy 45\u00a0%"),
        (Quantity("portions", "triphenylmethanol"), datum("8", "1"), "number of whole units 8"),
        (
            Quantity("concentration", "methyl-benzoate", Role.DILUTED, stage=2),
            datum("0.120", "mol/L"),
            "after two dilutions: 0.120\u00a0mol/L",
        ),
        (
            Quantity("mass", "methyl-benzoate", Role.UNEXTRACTED, stage=1),
            datum("0.31", "g"),
            "left after one portion: 0.31\u00a0g",
        ),
    ],
)
def test_no_kind_and_no_role_is_printed_without_words(quantity: Quantity, value: Datum, text: str) -> None:
    assert printed_value(shipped(GRIGNARD), quantity, value) == text


def test_a_new_kind_of_quantity_is_printed_with_its_label(monkeypatch: pytest.MonkeyPatch) -> None:
    new = Kind("viscosity", "η", "1", "viscosity")
    for module in (quantity_module, given_words, prompts, symbols):
        monkeypatch.setattr(module, "KINDS", {**KINDS, new.name: new})
    template, quantity = shipped(GRIGNARD), Quantity("viscosity", "methyl-benzoate")
    part = replace(template.parts[0], asked=Asked(quantity, "1"), prompt="")
    assert printed_value(template, quantity, datum("2.07", "1")) == "viscosity 2.07"
    assert symbols.symbol(template.scene, quantity).letter == "η"
    assert template.scene.words_of(quantity) == "viscosity of methyl benzoate"
    assert prompts.prompt_of(template, part) == (Prose("The viscosity of methyl benzoate"),)


@for_every(NAMES)
def test_every_given_value_is_told_once_from_a_session_on(name: str) -> None:
    template = shipped(name)
    told = told_values(template)
    each = [quantity for one in told for quantity in (one.quantity, one.second) if quantity is not None]
    assert sorted(each) == sorted(template.scene.given)
    assert {one.column for one in told} <= set(get_args(Column))
    assert all(1 <= one.session <= template.sessions for one in told)


@for_every(NAMES)
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


def test_what_was_obtained_of_a_liquid_is_not_dried() -> None:
    template, variant = shipped(LIQUID), variant_of(LIQUID)
    *_, obtained = numbers_blocks(template.scene.species, told_values(template), variant.given)
    (told,) = text_lines([obtained])
    assert told.startswith("Obtained: ")
    assert told.endswith("\u00a0g of 3-methylbutyl acetate (C₇H₁₄O₂).")


def test_a_value_that_is_not_known_is_left_out() -> None:
    template, variant = shipped(GRIGNARD), variant_of(GRIGNARD)
    given = {name: one for name, one in variant.given.items() if "bromobenzene" not in name and "actual" not in name}
    (table,) = numbers_blocks(template.scene.species, told_values(template), given)
    assert not any("bromobenzene" in line for line in text_lines([table]))
    assert list(numbers_blocks(template.scene.species, told_values(template), {})) == []


def test_a_sample_is_told_by_its_name() -> None:
    variant = variant_of("gravimetry/rock-salt")
    told = [printed_value(variant.template, q, variant.given[q.id]) for q in variant.template.scene.given]
    assert [text for text in told if text.endswith("g of rock salt")] != []


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
