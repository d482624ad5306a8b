"""Hints of every shipped template: three a part, none of which gives the answer away."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from problemgen.exact.rounding import exponent
from problemgen.load.banks.banks import load_weights
from problemgen.load.resources import banks_folder, layouts
from problemgen.make.candidates import Stream
from problemgen.make.variants import Maker
from problemgen.model.blocks import Calculation
from problemgen.model.template import label_of
from problemgen.model.truths import NumberTruth
from problemgen.model.variant import Variant
from problemgen.plan.constants import GAS_CONSTANT
from problemgen.practice.hints import hints_of
from problemgen.practice.spoken import with_names
from problemgen.render.key.variant_key import numbers_of
from problemgen.render.printers.html import fragment
from problemgen.render.printers.terminal import text_lines
from problemgen.render.worked.solution import SolvedPart, WorkedPart, worked_solution
from tests.support.every_row import for_every
from tests.support.shipped import NAMES, shipped

LAYOUTS = layouts()
WEIGHTS = [weight.value for weight in load_weights(banks_folder())[0].values()]


def variant_of(name: str) -> Variant:
    (variant,) = Maker(shipped(name), Stream(b"hints", "hints", "p1", "practice")).variants(["1"])
    return variant


def worked(variant: Variant) -> tuple[WorkedPart, ...]:
    template = variant.template
    parts = [SolvedPart(part.id, label_of(i), part.asked) for i, part in enumerate(template.parts)]
    return worked_solution(template.scene, template.plan, parts, numbers_of(variant))


@for_every(NAMES)
def test_three_hints_a_part_and_no_result_in_them(name: str) -> None:
    variant = variant_of(name)
    hints = hints_of(variant, worked(variant))
    assert [len(one) for one in hints] == [3] * len(variant.template.parts)
    assert all(blocks for one in hints for blocks in one)
    for one in hints:
        for blocks in one:
            lines = [block for block in blocks if isinstance(block, Calculation)]
            assert all(line.result.number == "?" for line in lines)


FACTORS = {"100", "1000"}  # of a percentage, of a prefix


def numbers_in(text: str) -> Iterator[Fraction]:
    for found in re.findall(r"(?<![\w.,])\d+(?:\.\d+)?(?![\w.])", text):
        if len(found.replace(".", "").lstrip("0")) >= 3 and found not in FACTORS:
            yield Fraction(found)


def digits(value: Fraction) -> float:
    return float(value / Fraction(10) ** exponent(value))


@for_every(NAMES)
def test_no_hint_tells_an_answer(name: str) -> None:
    """Of any part, in any unit: no number but what is given or of the periodic table has the digits of an answer."""
    variant = variant_of(name)
    known = [*(datum.written.value for datum in variant.given.values()), *WEIGHTS, GAS_CONSTANT]
    truths = [Fraction(one.value) for one in variant.answers if isinstance(one, NumberTruth)]
    answers = [digits(abs(value)) for value in truths if value]
    for hint in (blocks for hints in hints_of(variant, worked(variant)) for blocks in hints):
        for number in numbers_in("\n".join(text_lines(hint))):
            if all(abs(number - one) > one / 10**4 for one in known):
                assert not [one for one in answers if abs(one / digits(number) - 1) < 0.002], (number, hint)


@for_every(NAMES)
def test_no_hint_names_the_reagent_that_limits(name: str) -> None:
    variant = variant_of(name)
    names = [variant.template.scene.species[one].name for one in variant.template.plan.sources]
    for hint in (blocks for hints in hints_of(variant, worked(variant)) for blocks in hints):
        told = " ".join(text_lines(hint))
        assert not [one for one in names if re.search(rf"limit\w*(?: reagent)?[^.]*\b{re.escape(one)}", told)], told


def test_what_was_found_before_stands_as_its_letter_or_its_part() -> None:
    variant = variant_of("preparations/isopentyl-acetate")
    hints = hints_of(variant, worked(variant))
    assert "/ M\N{NO-BREAK SPACE}g" in "".join(text_lines(hints[0][2])) or " / M g" in "".join(text_lines(hints[0][2]))
    assert "(d) g" in "".join(text_lines(hints[4][2])).replace("\N{NO-BREAK SPACE}", " ")


def test_which_limits_has_three_hints_of_its_own() -> None:
    variant = variant_of("preparations/isopentyl-acetate")
    steps = ["\n".join(text_lines(hint)) for hint in hints_of(variant, worked(variant))[2]]
    assert len(set(steps)) == 3
    assert "your answer to (a)" in steps[1]


def test_the_hints_of_an_amount_go_from_the_law_to_the_set_up() -> None:
    variant = variant_of("yield/zinc-iodide")
    relation, numbers, setup = (fragment(blocks, LAYOUTS) for blocks in hints_of(variant, worked(variant))[0])
    mass = variant.given["mass(zinc)"].written.text
    assert "The mass divided by the molar mass gives the amount." in relation
    assert mass not in relation
    assert f"{mass}\N{NO-BREAK SPACE}g, from the data" in numbers
    assert "the atomic weights, from the periodic table" in numbers
    assert mass in setup
    assert "65.38" in setup


def test_a_later_part_is_told_to_take_the_answer_to_an_earlier_one() -> None:
    variant = variant_of("yield/zinc-iodide")
    last = hints_of(variant, worked(variant))[-1]
    assert re.search(r", your answer to \([a-z]\)", fragment(last[1], LAYOUTS))


def test_a_line_is_read_aloud_by_names() -> None:
    variant = variant_of("yield/zinc-iodide")
    names = {s.formula.text: s.name for s in variant.template.scene.species.values() if s.formula}
    lines = [block for block in with_names(worked(variant)[0].blocks, names) if isinstance(block, Calculation)]
    assert lines[-1].alt.startswith("amount of zinc equals ")
    bare = [replace(line, alt="") for line in lines]
    (*_, told) = with_names(bare, names)
    assert isinstance(told, Calculation)
    assert told.alt.startswith("n of zinc equals m of zinc over M of zinc equals ")


@for_every([name for name in NAMES if name.startswith("formulas/")])
def test_no_hint_shows_the_subscripts_of_a_formula_that_is_asked_for(name: str) -> None:
    """The line that adds up the formula's own mass would show them: each element's weight times its subscript."""
    variant = variant_of(name)
    for part, blocks in zip(variant.template.parts, hints_of(variant, worked(variant)), strict=True):
        if part.asked.form == "formula":
            lines = [block for block in blocks[2] if isinstance(block, Calculation)]
            assert not [line for line in lines if len(line.terms) > 1 and line.symbol.letter == "M"]


@for_every(["titrations/tap-water-hardness", "formulas/gas-by-its-density", "dilutions/permanganate-series"])
def test_what_only_looks_like_a_result_is_shown(name: str) -> None:
    """1000 mmol are 1 mol, whatever an answer's digits are; and an atomic weight is no mass."""
    variant = variant_of(name)
    for blocks in (blocks for hints in hints_of(variant, worked(variant)) for blocks in hints):
        for line in (block for block in blocks if isinstance(block, Calculation)):
            for term in line.terms:
                sides = [one.number for one in (*term.top, *term.bottom)]
                assert not ("1" in sides and any(side.startswith("(") for side in sides)), line
