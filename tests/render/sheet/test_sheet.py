"""A student's sheets: every number that is needed, every part once, a caution at the foot of each."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from problemgen.model.blocks import (
    AnswerBox,
    Block,
    Caution,
    Chemical,
    Document,
    Heading,
    Line,
    NewSheet,
    Note,
    Paragraph,
    Part,
    Prose,
    Scheme,
    Strong,
    Table,
)
from problemgen.model.problem_set import Layout, Printing, ProblemSet, Sheet, Student
from problemgen.model.variant import Variant
from problemgen.render.printers.typst import sheet_data
from problemgen.render.sheet.cautions import EXERCISE
from problemgen.render.sheet.sheet import sheet_document
from problemgen.render.words.prompts import quantity_text
from tests.support.every_row import for_every
from tests.support.shipped import NAMES, set_of, shipped, variant_of
from tests.support.small_set import CHROMATE, ROOT, banks, made, small_set

STUDENT = Student("s1", "Ada", "A")


def words(line: Line) -> str:
    return "".join(
        p.formula if isinstance(p, Chemical) else p.text for p in line if isinstance(p, Prose | Strong | Chemical)
    )


def texts(block: Block) -> Iterator[str]:
    """All lines of a block as text."""
    if isinstance(block, Paragraph | Note):
        yield words(block.line)
    elif isinstance(block, Table):
        yield from (words(cell) for row in block.rows for cell in row)
    elif isinstance(block, Part):
        yield words(block.prompt)
        yield from (words(choice) for choice in block.choices)
    elif isinstance(block, Heading):
        yield block.text
    elif isinstance(block, Caution):
        yield from (words(line) for line in block.lines)


def sheets(document: Document) -> list[list[Block]]:
    """The blocks of each sheet."""
    found: list[list[Block]] = []
    for block in document.blocks:
        if isinstance(block, NewSheet):
            found.append([])
        found[-1].append(block)
    return found


def sheet(folder: Path, text: str, sessions: int = 1) -> tuple[ProblemSet, tuple[Variant, ...], Document]:
    titles = "".join(f'[[sheet]]\nsession = {n}\ntitle = "Sheet {n}"\n' for n in range(1, sessions + 1))
    head = f'title = "Small"\ncourse = "C"\n{titles}[[problem]]\ntemplate = "t"\n'
    problem_set = small_set(folder, templates={"t": text}, head=head)
    variants = made(problem_set, "s1")
    return problem_set, variants, sheet_document(problem_set, STUDENT, "Ada", "ABCD-EFGH", variants)


def test_a_sheet_says_whose_it_is(tmp_path: Path) -> None:
    _, _, document = sheet(tmp_path, CHROMATE)
    assert (document.title, document.course, document.student) == ("Small: s1", "C", "Ada")
    assert (document.code, document.paper, document.language) == ("ABCD-EFGH", "a4", "en")
    assert (document.about, document.name_line, document.leaves) == ("s1, section A", True, True)
    assert not document.confidential


def test_the_numbers_stand_in_a_table_with_what_they_are(tmp_path: Path) -> None:
    _, _, document = sheet(tmp_path, CHROMATE)
    (table,) = (block for block in document.blocks if isinstance(block, Table))
    assert [[words(cell) for cell in row] for row in table.rows] == [
        ["silver nitrate (AgNO3)", "25.00\u00a0mL of solution", "0.1000\u00a0mol/L"],
        ["potassium chromate (K2CrO4)", "20.00\u00a0mL of solution", "0.1000\u00a0mol/L"],
    ]


def test_the_scheme_has_the_coefficients_of_the_equation(tmp_path: Path) -> None:
    _, _, document = sheet(tmp_path, CHROMATE)
    (scheme,) = (block for block in document.blocks if isinstance(block, Scheme))
    assert [(item.coefficient, item.formula) for item in scheme.left] == [(2, "AgNO3"), (1, "K2CrO4")]
    assert [(item.coefficient, item.formula) for item in scheme.right] == [(1, "Ag2CrO4"), (2, "KNO3")]


def test_parts_have_letters_points_units_and_boxes(tmp_path: Path) -> None:
    _, _, document = sheet(tmp_path, CHROMATE)
    parts = [block for block in document.blocks if isinstance(block, Part)]
    assert [part.label for part in parts] == list("abcdefg")
    assert [part.points for part in parts] == ["1 point"] * 5 + ["2 points", "1 point"]
    assert [part.unit for part in parts] == ["mmol"] * 4 + ["", "mg", "mmol"]
    assert [words(choice) for choice in parts[4].choices] == [
        "A\u2002silver nitrate (AgNO3)",
        "B\u2002potassium chromate (K2CrO4)",
    ]
    assert len({part.id for part in parts}) == len(parts)


def test_a_later_session_continues_the_problem(tmp_path: Path) -> None:
    text = (ROOT / "templates" / "preparations" / "triphenylmethanol.toml").read_text(encoding="utf-8")
    _, variants, document = sheet(tmp_path, text, sessions=2)
    first, second = sheets(document)
    assert [block.text for block in first if isinstance(block, Heading)] == [
        "Problem 1: Triphenylmethanol from bromobenzene and methyl benzoate"
    ]
    assert [block.text for block in second if isinstance(block, Heading)] == [
        "Problem 1: Triphenylmethanol from bromobenzene and methyl benzoate (continued)"
    ]
    obtained = quantity_text(variants[0].given["mass(triphenylmethanol,actual)"])
    assert not any(obtained in line for block in first for line in texts(block))
    assert any(line.startswith(f"Obtained, dry: {obtained} of triphenylmethanol") for b in second for line in texts(b))
    acid = "hydrogen chloride"
    assert not any(acid in line for block in first if isinstance(block, Table) for line in texts(block))
    assert any(acid in line for block in second if isinstance(block, Table) for line in texts(block))
    assert any("In the first session" in line for block in first for line in texts(block))


def compact(problem_set: ProblemSet, **more: str) -> ProblemSet:
    return replace(problem_set, printing=Printing(layout="compact", **more))  # type: ignore[arg-type]  # by name


def test_a_compact_sheet_tells_scheme_and_table_once(tmp_path: Path) -> None:
    text = (ROOT / "templates" / "preparations" / "triphenylmethanol.toml").read_text(encoding="utf-8")
    problem_set, variants, _ = sheet(tmp_path, text, sessions=2)
    document = sheet_document(compact(problem_set), STUDENT, "Ada", "ABCD-EFGH", variants)
    first, second = sheets(document)
    (drawn,) = (block for block in first if isinstance(block, Scheme))
    (written,) = (block for block in second if isinstance(block, Scheme))
    assert (drawn.drawn, written.drawn, written.above) == (True, False, "")
    (table,) = (block for block in second if isinstance(block, Table))
    assert [words(row[0]) for row in table.rows] == ["hydrogen chloride (HCl)"]
    told = [line for block in second if isinstance(block, Paragraph) for line in texts(block)]
    (before,) = (line for line in told if line.startswith("Your numbers from before: "))
    by_now = {
        q.id for q in variants[0].template.scene.given if q.of in ("bromobenzene", "magnesium", "methyl-benzoate")
    }
    assert all(quantity_text(variants[0].given[name]) in before for name in by_now)
    assert document.compact


def test_a_problem_that_begins_on_a_later_compact_sheet_has_its_table_there() -> None:
    name = "chromatography/ferrocene-spots"
    variant = variant_of(name)
    later = tuple(replace(part, session=2) for part in variant.template.parts)
    late = replace(variant, template=replace(variant.template, parts=later, sessions=2))
    problem_set = compact(replace(set_of(name), sheets=(Sheet(1, "One"), Sheet(2, "Two"))))
    first, second = sheets(sheet_document(problem_set, STUDENT, "Ada", "ABCD-EFGH", (late,)))
    told = [line for block in second for line in texts(block)]
    assert not any(line.startswith("Your numbers from before") for line in told)
    assert [block for block in second if isinstance(block, Table)]
    assert not [block for block in first if isinstance(block, Part)]


def test_a_compact_sheet_has_its_short_caution_first(tmp_path: Path) -> None:
    problem_set, variants, _ = sheet(tmp_path, CHROMATE)
    blocks = sheet_document(compact(problem_set), STUDENT, "Ada", "ABCD-EFGH", variants).blocks
    caution = blocks[1]
    assert isinstance(caution, Caution)
    assert [words(line) for line in caution.lines] == [
        (
            "A calculation exercise, not a procedure. In the laboratory follow your instructor, the local rules and "
            "the current safety data sheets; there and on the labels stands what the codes say."
        ),
        f"Danger: silver nitrate {' '.join(banks().hazards['silver-nitrate'].codes)}.",
        "In solution: silver nitrate, potassium chromate; the labels differ with the concentration.",
    ]


@pytest.mark.parametrize("layout", ["roomy", "compact"])
def test_answers_may_stand_in_one_box_a_sheet(tmp_path: Path, layout: Layout) -> None:
    problem_set, variants, beside = sheet(tmp_path, CHROMATE)
    boxed = replace(problem_set, printing=Printing(layout=layout, answers="box"))
    document = sheet_document(boxed, STUDENT, "Ada", "ABCD-EFGH", variants)
    (box,) = (block for block in document.blocks if isinstance(block, AnswerBox))
    assert [(row.label, row.unit) for row in box.rows] == [
        *(("1a", "mmol"), ("1b", "mmol"), ("1c", "mmol"), ("1d", "mmol"), ("1e", ""), ("1f", "mg"), ("1g", "mmol")),
    ]
    parts = [block for block in document.blocks if isinstance(block, Part)]
    assert not any(part.blank for part in parts)
    assert words(parts[4].prompt) == "Which reagent is the limiting reagent?"
    assert len(parts[4].choices) == 2
    told = next(line for block in document.blocks if isinstance(block, Paragraph) for line in texts(block))
    assert told.startswith("Write your answers into the box, in the units that stand there; of several options, the ")
    assert not [block for block in beside.blocks if isinstance(block, AnswerBox)]


def test_a_sheet_by_code_names_nobody(tmp_path: Path) -> None:
    problem_set, variants, _ = sheet(tmp_path, CHROMATE)
    by_code = replace(problem_set, printing=Printing(head="code"))
    for student in (STUDENT, replace(STUDENT, anonymous=True)):
        document = sheet_document(by_code, student, "Ada", "ABCD-EFGH", variants)
        assert (document.title, document.student, document.about) == ("Small: ABCD-EFGH", "", "section A")
        assert (document.course, document.name_line, document.code) == ("C", False, "ABCD-EFGH")


def test_one_session_can_be_printed_alone(tmp_path: Path) -> None:
    text = (ROOT / "templates" / "preparations" / "triphenylmethanol.toml").read_text(encoding="utf-8")
    problem_set, variants, both = sheet(tmp_path, text, sessions=2)
    alone = sheet_document(problem_set, STUDENT, "Ada", "ABCD-EFGH", variants, session=2)
    assert list(alone.blocks) == sheets(both)[1]


def test_a_measured_ratio_waits_for_its_session() -> None:
    name = "two-products/glucose-pentaacetates"
    variant = variant_of(name)
    first, second = sheets(sheet_document(set_of(name), STUDENT, "Ada", "ABCD-EFGH", (variant,)))
    told = [
        [line for block in one for line in texts(block) if line.startswith("Product ratio")] for one in (first, second)
    ]
    assert told[0] == []
    assert len(told[1]) == 1


@for_every(NAMES)
def test_every_shipped_template_prints_every_number_and_part_once(name: str) -> None:
    template, variant = shipped(name), variant_of(name)
    document = sheet_document(set_of(name), STUDENT, "Ada", "ABCD-EFGH", (variant,))
    parts = [block for block in document.blocks if isinstance(block, Part)]
    assert [part.id for part in parts] == [f"p1-{part.id}" for part in sorted(template.parts, key=lambda p: p.session)]
    lines = [line for block in document.blocks if not isinstance(block, Part) for line in texts(block)]
    for quantity in template.plan.given:
        told = quantity_text(variant.given[quantity.id])
        assert any(told in line for line in lines), quantity.id
    assert all(isinstance(blocks[-1], Caution | Note) for blocks in sheets(document))
    boxes = [block for block in document.blocks if isinstance(block, Caution)]
    assert len(boxes) <= 1
    for box in boxes:
        assert words(box.lines[0]) == EXERCISE
        heads = [words(line).split(":")[0] for line in box.lines[1:]]
        assert len(heads) == len(set(heads))


def test_hazards_are_those_of_the_substances_in_use(tmp_path: Path) -> None:
    _, _, document = sheet(tmp_path, CHROMATE)
    (caution,) = (block for block in document.blocks if isinstance(block, Caution))
    told = " ".join(words(line) for line in caution.lines[1:])
    assert f"silver nitrate {' '.join(banks().hazards['silver-nitrate'].codes)}" in told
    assert "potassium chromate from 25 % " in told
    assert "potassium nitrate" not in told
    used = {code for name in ("silver-nitrate", "potassium-chromate") for code in banks().hazards[name].codes}
    assert all(f"{code} {banks().hazard_statements[code]}." in told for code in used)


def test_a_story_and_a_title_are_literal_text(tmp_path: Path) -> None:
    text = CHROMATE.replace('title = "Silver chromate"', 'title = "#x $y$ *z*"\nstory = "A #let *strong* $x$."')
    _, _, document = sheet(tmp_path, text)
    assert any(isinstance(b, Heading) and b.text == "Problem 1: #x $y$ *z*" for b in document.blocks)
    assert any(isinstance(b, Paragraph) and words(b.line) == "A #let strong $x$." for b in document.blocks)


@pytest.mark.parametrize(
    ("name", "products"),
    [
        ("sequences/quinoxaline-in-three-steps", ["benzoin", "benzil", "2,3-diphenylquinoxaline"]),
        ("titrations/antacid-tablet", ["calcium chloride", "sodium chloride"]),
        ("mixtures/soda-and-bicarbonate", ["sodium chloride", "sodium chloride"]),
    ],
)
def test_each_equation_has_its_scheme(name: str, products: list[str]) -> None:
    problem_set = set_of(name)
    document = sheet_document(problem_set, STUDENT, "Ada", "ABCD-EFGH", (variant_of(name),))
    schemes = [block for block in document.blocks if isinstance(block, Scheme)]
    assert [scheme.right[0].name for scheme in schemes] == products


def test_what_is_left_after_heating_is_told() -> None:
    name = "mixtures/caked-bicarbonate"
    variant = variant_of(name)
    document = sheet_document(set_of(name), STUDENT, "Ada", "ABCD-EFGH", (variant,))
    heated = quantity_text(variant.given["mass(,heated)"])
    assert f"After heating: {heated}." in [text for block in document.blocks for text in texts(block)]


def test_a_student_without_a_name_finds_a_line_for_it(tmp_path: Path) -> None:
    problem_set, variants, named = sheet(tmp_path, CHROMATE)
    nameless = Student("v001", "Variant 1", "", anonymous=True)
    document = sheet_document(problem_set, nameless, "Variant 1", "ABCD-EFGH", variants)
    assert (document.student, document.course, document.about) == ("", "C, Variant 1", "v001")
    assert document.name_line
    assert document.blocks == named.blocks
    data = sheet_data(document)
    assert (data["student"], data["confidential"], data["words"]["name"]) == ("", False, "Name")


def test_what_belongs_to_a_plate_is_told_as_the_plates() -> None:
    name = "chromatography/ferrocene-spots"
    document = sheet_document(set_of(name), STUDENT, "Ada", "ABCD-EFGH", (variant_of(name),))
    (table,) = (block for block in document.blocks if isinstance(block, Table))
    rows = {words(row[0]): words(row[2]) for row in table.rows}
    assert list(rows) == ["ferrocene (C10H10Fe)", "acetylferrocene (C12H12FeO)", "the plate"]
    assert "front" not in rows["ferrocene (C10H10Fe)"] + rows["acetylferrocene (C12H12FeO)"]
    assert "solvent front, from the edge: distance" in rows["the plate"]
    assert "starting line, from the edge: distance" in rows["the plate"]


def test_a_mixture_of_isomers_has_no_isomers_name() -> None:
    name = "isomers/methylcyclohexenes"
    variant = variant_of(name)
    document = sheet_document(set_of(name), STUDENT, "Ada", "ABCD-EFGH", (variant,))
    lines = [text for block in document.blocks for text in texts(block)]
    mass = quantity_text(variant.given["mass(1-methylcyclohexene,isomers)"])
    assert f"All isomers together: {mass}." in lines
    assert "The percent yield of all isomers together" in lines
    (table,) = (block for block in document.blocks if isinstance(block, Table))
    assert words(table.rows[-1][0]) == "other isomers"


@pytest.mark.source("iupac-periodic-table-2022: names of the elements")
def test_elements_are_named() -> None:
    name = "formulas/combustion"
    template = shipped(name)
    document = sheet_document(set_of(name), STUDENT, "Ada", "ABCD-EFGH", (variant_of(name),))
    lines = [text for block in document.blocks for text in texts(block)]
    assert [template.scene.species[symbol].name for symbol in "CHO"] == ["carbon", "hydrogen", "oxygen"]
    assert not [line for line in lines if "of C (C)" in line or "of H (H)" in line]
    assert "The mass of carbon (C)" in lines


def test_formulas_without_drawings_have_names_below() -> None:
    name = "equations/ethanol-and-dichromate"
    document = sheet_document(set_of(name), STUDENT, "Ada", "ABCD", (variant_of(name),))
    notes = [words(block.line) for block in document.blocks if isinstance(block, Note)]
    assert (
        "In words: potassium dichromate + ethanol + sulfuric acid → "
        "chromium(III) sulfate + acetic acid + potassium sulfate + water."
    ) in notes


def test_a_racemate_is_told_under_its_drawing() -> None:
    name = "preparations/camphor"
    document = sheet_document(set_of(name), STUDENT, "Ada", "ABCD", (variant_of(name),))
    scheme = next(block for block in document.blocks if isinstance(block, Scheme))
    assert [item.name for item in (*scheme.left, *scheme.right)][:1] == ["(±)-borneol"]
    assert scheme.right[0].name == "(±)-camphor"
