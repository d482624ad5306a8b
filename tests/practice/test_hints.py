"""Hints of every shipped template: three a part, none of which gives the answer away."""

from __future__ import annotations

import re
from dataclasses import replace

from problemgen.load.resources import layouts
from problemgen.make.candidates import Stream
from problemgen.make.variants import Maker
from problemgen.model.blocks import Calculation
from problemgen.model.template import label_of
from problemgen.model.variant import Variant
from problemgen.practice.hints import hints_of
from problemgen.practice.spoken import with_names
from problemgen.render.key.variant_key import numbers_of
from problemgen.render.printers.html import fragment
from problemgen.render.worked.solution import SolvedPart, WorkedPart, worked_solution
from tests.support.every_row import for_every
from tests.support.shipped import NAMES, shipped

LAYOUTS = layouts()


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
            assert all(not line.alt or line.alt.endswith(" equals what?") for line in lines)


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
