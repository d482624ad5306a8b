"""Hazards on paper: one box a student, a line elsewhere, and what a solution's hazards depend on."""

from __future__ import annotations

import pytest

from problemgen.model.blocks import Caution, Line, Note, Prose, Strong
from problemgen.model.problem_set import Sheet
from problemgen.render.cautions import EXERCISE, caution_of
from tests.support.every_row import for_every
from tests.support.shipped import NAMES, shipped, variant_of

SHEETS = (Sheet(1, "Before"), Sheet(2, "After"))
GRIGNARD = "preparations/triphenylmethanol"
SALT = "formulas/salt-of-sulfur"
PLATE = "chromatography/ferrocene-spots"
ASPIRIN = "preparations/aspirin"


def words(line: Line) -> str:
    return "".join(piece.text for piece in line if isinstance(piece, Prose | Strong))


def box_of(*names: str, session: int = 1) -> Caution:
    block = caution_of(SHEETS[session - 1], SHEETS, [variant_of(name) for name in names])
    assert isinstance(block, Caution)
    return block


def test_the_first_sheet_has_the_box_with_the_hazards_of_all_sheets() -> None:
    lines = [words(line) for line in box_of(GRIGNARD, ASPIRIN).lines]
    assert lines[0] == EXERCISE
    named = [line.split(":")[0] for line in lines[1:-1]]
    assert named[:4] == ["bromobenzene", "magnesium", "methyl benzoate", "hydrogen chloride"]
    assert "acetic anhydride" in named
    assert len(named) == len(set(named))


def test_the_other_sheets_have_one_line_that_names_the_box() -> None:
    block = caution_of(SHEETS[1], SHEETS, [variant_of(GRIGNARD)])
    told = "A calculation exercise, not a procedure. For the hazards see the box on the sheet “Before”."
    assert block == Note((Prose(told),))


def test_the_box_waits_for_the_first_sheet_with_hazards() -> None:
    assert shipped(PLATE).parts_of(1) == ()
    assert [words(line).split(":")[0] for line in box_of(SALT, PLATE, session=2).lines[1:]] == [
        "ferrocene",
        "acetylferrocene",
    ]
    before = caution_of(SHEETS[0], SHEETS, [variant_of(SALT), variant_of(PLATE)])
    assert isinstance(before, Note)


@pytest.mark.parametrize("sheet", SHEETS)
def test_sheets_without_hazards_have_no_box(sheet: Sheet) -> None:
    assert caution_of(sheet, SHEETS, [variant_of(SALT)]) == Note((Prose(EXERCISE),))


@pytest.mark.source("un-ghs 1.3.3: a mixture is classified by the content of its ingredients")
def test_the_hazards_of_a_solution_depend_on_its_concentration() -> None:
    last = words(box_of(GRIGNARD).lines[-1])
    assert last.startswith("In solution here: methyl benzoate, hydrogen chloride. The hazards listed are those of the ")
    assert "depend on its concentration (UN GHS)" in last


@pytest.mark.parametrize("name", [ASPIRIN, "gases/impure-marble", "mole-ratios/iron-wanted"])
def test_what_is_weighed_is_no_solution(name: str) -> None:
    assert not [line for line in box_of(name).lines if words(line).startswith("In solution")]


@for_every(NAMES)
def test_a_reagent_in_solution_is_told_to_be_one(name: str) -> None:
    template, variant = shipped(name), variant_of(name)
    sheets = tuple(Sheet(n, f"Sheet {n}") for n in range(1, template.sessions + 1))
    boxes = [block for sheet in sheets if isinstance(block := caution_of(sheet, sheets, [variant]), Caution)]
    dissolved = {q.of for q in template.scene.given if (q.kind, q.role) == ("volume", "solution")}
    told = " ".join(words(line) for box in boxes for line in box.lines if words(line).startswith("In solution here: "))
    for substance in dissolved & set(template.hazards):
        if template.hazards[substance].statements:
            assert template.substances[substance].name in told
