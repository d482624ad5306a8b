"""Hazards on paper: one box a student, a line elsewhere, and what a solution's hazards depend on."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from problemgen.model.blocks import Caution, Line, Note, Prose, Strong
from problemgen.model.problem_set import Sheet
from problemgen.render.sheet.cautions import EXERCISE, caution_of
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


def told(box: Caution) -> dict[str, list[str]]:
    """What stands behind each of the box's headings, entry by entry; the sentences of the codes behind "codes"."""
    rows = {}
    for line in box.lines[1:]:
        head, text = (line[0].text, line[1].text) if len(line) == 2 else ("codes: ", line[0].text)  # type: ignore[union-attr]
        rows[head.removesuffix(": ")] = text.removesuffix(".").split(". " if head == "codes: " else "; ")
    return rows


def test_the_first_sheet_has_the_box_with_the_hazards_of_all_sheets() -> None:
    box = box_of(GRIGNARD, ASPIRIN)
    assert words(box.lines[0]) == EXERCISE
    rows = told(box)
    assert rows["Warning"] == ["bromobenzene H226 H315 H411", "methyl benzoate H302", "acetylsalicylic acid H302"]
    assert rows["Danger"][0] == "magnesium H228 H252 H261"
    assert "acetic anhydride H226 H302 H314 H331" in rows["Danger"]
    assert rows["In water, by mass"][0] == "hydrogen chloride from 25 % H290 H314 H335, from 10 % H290 H315 H319 H335"


def test_the_box_has_what_stands_at_the_arrow() -> None:
    assert "diethyl ether H224 H302 H336 EUH019 EUH066" in told(box_of(GRIGNARD))["Danger"]
    assert "sulfuric acid H290 H314" in told(box_of(ASPIRIN))["Danger"]
    assert [row.split(" from")[0] for row in told(box_of(ASPIRIN))["In water, by mass"]] == [
        "sulfuric acid",
        "phosphoric acid",
    ]


def test_each_code_has_its_sentence_once() -> None:
    box = box_of(GRIGNARD, ASPIRIN)
    used = {code for line in box.lines[1:-1] for code in re.findall(r"\b(?:EU)?H[0-9]{3}[A-Za-z]*", words(line))}
    sentences = told(box)["codes"]
    assert [text.split()[0] for text in sentences] == sorted(used, key=lambda code: (code.startswith("EUH"), code))
    assert "EUH019 May form explosive peroxides" in sentences


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        ("gases/impure-marble", None),  # carbon dioxide, which is no hazard but in a cylinder
        ("gases/zinc-for-a-gas-tube", "hydrogen (set free) H220"),
        ("sequences/benzil-from-benzaldehyde", "nitrogen dioxide (set free) H270 H330 H314"),
        ("gases/three-gases-in-a-vessel", "oxygen H270 H280"),
        ("gases/weighing-a-gas", "butane H220 H280"),
    ],
)
def test_a_gas_is_under_pressure_only_in_a_cylinder(name: str, expected: str | None) -> None:
    gases = {row for row in told(box_of(name)).get("Danger", []) if "(set free)" in row or "H2" in row}
    assert (expected in gases) == (expected is not None)
    assert "carbon dioxide (set free) " not in gases


@pytest.mark.parametrize(
    ("name", "row"),
    [
        ("gases/gases-of-bakers-ammonia", "ammonia (set free) H221 H314 H331 H400"),
        ("gases/cracked-ammonia", "ammonia H221 H280 H314 H331 H400"),
    ],
)
def test_ammonia_among_gases_is_in_no_solution(name: str, row: str) -> None:
    rows = told(box_of(name))
    assert row in rows["Danger"]
    assert not {"In water, by mass", "In solution here"} & set(rows)


def test_the_other_sheets_have_one_line_that_names_the_box() -> None:
    block = caution_of(SHEETS[1], SHEETS, [variant_of(GRIGNARD)])
    line = "A calculation exercise, not a procedure. For the hazards see the box on the sheet “Before”."
    assert block == Note((Prose(line),))


def test_the_box_waits_for_the_first_sheet_with_hazards() -> None:
    assert shipped(PLATE).parts_of(1) == ()
    assert told(box_of(SALT, PLATE, session=2))["Danger"] == [
        "ferrocene H228 H302 H332 H360FD H373 H410",
        "acetylferrocene H300",
    ]
    before = caution_of(SHEETS[0], SHEETS, [variant_of(SALT), variant_of(PLATE)])
    assert isinstance(before, Note)


@pytest.mark.parametrize("sheet", SHEETS)
def test_sheets_without_hazards_have_no_box(sheet: Sheet) -> None:
    assert caution_of(sheet, SHEETS, [variant_of(SALT)]) == Note((Prose(EXERCISE),))


@pytest.mark.source("un-ghs 1.3.3: a mixture is classified by the content of its ingredients")
def test_the_hazards_of_a_solution_depend_on_its_concentration() -> None:
    rows = told(box_of(GRIGNARD))
    (solvent,) = (row for head, row in rows.items() if head.startswith("In solution here"))
    assert "In solution here: methyl benzoate" in rows
    assert "depends on its concentration (UN GHS)" in solvent[0]


@pytest.mark.parametrize("name", ["gases/nitrogen-at-standard-conditions", "mole-ratios/iron-wanted"])
def test_what_is_weighed_is_no_solution(name: str) -> None:
    assert not [head for head in told(box_of(name)) if head.startswith("In ")]


@for_every(NAMES)
def test_a_reagent_in_solution_is_told_to_be_one(name: str) -> None:
    template, variant = shipped(name), variant_of(name)
    sheets = tuple(Sheet(n, f"Sheet {n}") for n in range(1, template.sessions + 1))
    boxes = [block for sheet in sheets if isinstance(block := caution_of(sheet, sheets, [variant]), Caution)]
    dissolved = {q.of for q in template.scene.given if (q.kind, q.role) == ("volume", "solution")}
    lines = " ".join(words(line) for box in boxes for line in box.lines if words(line).startswith("In "))
    for substance in dissolved & set(template.hazards):
        if template.hazards[substance].codes:
            assert template.substances[substance].name in lines


def test_of_what_is_not_on_file_the_box_says_so() -> None:
    variant = variant_of(ASPIRIN)
    hazards = {name: one for name, one in variant.template.hazards.items() if name != "salicylic-acid"}
    box = caution_of(SHEETS[0], SHEETS, [replace(variant, template=replace(variant.template, hazards=hazards))])
    assert isinstance(box, Caution)
    rows = told(box)
    assert rows["No hazard statements on file"] == ["read the safety data sheet of salicylic acid"]
    assert not any("salicylic acid H" in row for row in rows["Danger"])


def test_where_nothing_is_on_file_the_box_says_only_that() -> None:
    variant = variant_of("yield/salen")
    box = caution_of(SHEETS[0], SHEETS, [replace(variant, template=replace(variant.template, hazards={}))])
    assert isinstance(box, Caution)
    substances = variant.template.substances
    told_of = [substances[name].name for name in ("salicylaldehyde", "ethylenediamine", "salen")]
    others = [one.name for one in variant.template.auxiliaries.values()]
    names = [*told_of, *others]
    text = f"No hazard statements on file: read the safety data sheet of {', '.join(names[:-1])} and {names[-1]}."
    assert [words(line) for line in box.lines] == [EXERCISE, text]
