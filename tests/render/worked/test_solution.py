"""Worked solutions of every template, and how one part refers to another."""

from __future__ import annotations

import random
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path

import pytest

from problemgen.chemistry.formula import read_formula
from problemgen.chemistry.units import read_unit
from problemgen.exact.digits import Written, read_written, written_steps
from problemgen.load.templates.template import load_template
from problemgen.model.banks import Banks
from problemgen.model.blocks import Amount, Block, Calculation, Paragraph, Prose, Strong, Symbol, Table
from problemgen.model.plan import Plan
from problemgen.model.problem import Asked, Scene, Species
from problemgen.model.problem_set import Method
from problemgen.model.quantity import Quantity, Role
from problemgen.model.template import Template
from problemgen.plan.arithmetic import Exact
from problemgen.plan.chain import chain
from problemgen.plan.constants import constants
from problemgen.plan.evaluate import evaluate
from problemgen.render.worked.printed import Numbers
from problemgen.render.worked.solution import SolvedPart, WorkedPart, rounding_note, worked_solution
from tests.support.shipped import NAMES, shipped
from tests.support.worked_values import run_steps

ROOT = Path(__file__).parents[3]
Given = dict[Quantity, tuple[Written, str]]
Check = Callable[[Scene, Plan, Given, Method], tuple[WorkedPart, ...]]


def drawn(template: Template, seed: int) -> Given:
    rng = random.Random(f"{template.id} {seed}")  # noqa: S311  # a test's draws, no student's
    given = {fixed.quantity: (fixed.written, fixed.unit) for fixed in template.fixed}
    for draw in template.draws:
        chosen = rng.choice(draw.choices) if draw.choices else None
        given[draw.quantity] = (chosen or written_steps(draw.first + rng.randrange(draw.count), draw.step), draw.unit)
    behind = {
        draw.quantity.id: read_unit(draw.unit).to_engine((draw.first + rng.randrange(draw.count)) * draw.step.value)
        for draw in template.hidden
    }
    for read in template.readings:
        known = {q.id: read_unit(unit).to_engine(w.value) for q, (w, unit) in given.items()} | behind
        exact = read_unit(read.unit).from_engine(evaluate(read.expression, known, Exact()))
        steps = round(exact / read.step.value) + rng.randint(read.least, read.most)
        given[read.quantity] = (written_steps(steps, read.step), read.unit)
    hidden = rng.randrange(len(template.unknown.formulas)) if template.unknown else 0
    for analysed in template.unknown.analysed if template.unknown else ():
        known = {q.id: read_unit(unit).to_engine(w.value) for q, (w, unit) in given.items()}
        base = read_unit(analysed.unit).from_engine(evaluate(analysed.times, known, Exact())) if analysed.times else 1
        steps = round(analysed.factors[hidden] * base / analysed.step.value)
        given[analysed.quantity] = (written_steps(steps, analysed.step), analysed.unit)
    for one in template.obtained:
        known = {q.id: read_unit(unit).to_engine(w.value) for q, (w, unit) in given.items()}
        known |= {c.quantity.id: c.value for c in template.plan.constants}
        for step in template.plan.steps:
            if step.quantity in theoretical_chain(template.plan, one.theoretical):
                known = run_steps([step], known, Exact())
        share = Fraction(rng.randrange(int(one.low.value * 10), int(one.high.value * 10)), 1000)
        best = read_unit(one.unit).from_engine(known[one.theoretical.id]) * share
        given[one.quantity] = (written_steps(max(int(best / one.step.value), 1), one.step), one.unit)
    return given


def theoretical_chain(plan: Plan, target: Quantity) -> set[Quantity]:
    return {step.quantity for step in plan.steps_to(target.id)}


@pytest.mark.parametrize("method", ["product", "extent", "ratios"])
@pytest.mark.parametrize("name", NAMES)
def test_every_template_is_worked_line_by_line(name: str, method: Method, checked: Check) -> None:
    template = shipped(name)
    for seed in range(5):
        worked = checked(template.scene, template.plan, drawn(template, seed), method)
        assert len(worked) == len(template.parts)


def plain(block: Block) -> str:
    """A block in plain letters, units that cancel in tildes."""
    match block:
        case Paragraph(line):
            return inline(line)
        case Table(_, header, rows):
            return " // ".join(" | ".join(inline(cell) for cell in row) for row in (header, *rows))
        case Calculation(head, relation, terms, operators, result):
            worked = ""
            for sign, term in zip(("", *operators), terms, strict=False):
                top, bottom = (" × ".join(amount(a) for a in side) for side in (term.top, term.bottom))
                worked += f" {sign} " * bool(sign) + (f"({top} / {bottom})" if bottom else top)
            return " = ".join(filter(None, (inline((head,)), inline(relation), worked, amount(result))))
    raise AssertionError(block)


def inline(line: tuple[object, ...]) -> str:
    texts = []
    for piece in line:
        if isinstance(piece, Symbol):
            texts.append(piece.letter + f"[{piece.sub}]" * bool(piece.sub) + f"({piece.of})" * bool(piece.of))
        else:
            assert isinstance(piece, Prose | Strong)
            texts.append(piece.text)
    return "".join(texts)


def amount(one: object) -> str:
    assert isinstance(one, Amount)
    units = [("~" if p.cancelled else "") + p.text + ("" if p.exponent == 1 else str(p.exponent)) for p in one.unit]
    return " ".join(filter(None, (one.number, *units, one.of)))


COMPARED = """\
The reagent that allows the least reaction is used up first: it is the limiting reagent.
{allowed}: the smallest is 9.9944 mmol. {verdict}"""

THEORETICAL = """\
As found in (c), n[from C₆H₆O₂](C20H12O5) = 9.9944 mmol.
The molar mass is the sum over the atoms of the formula.
M(C20H12O5) = 20 × 12.011 g mol-1 + 12 × 1.0080 g mol-1 + 5 × 15.999 g mol-1 = 332.311 g mol-1
The limiting reagent, resorcinol, decides how far the reaction goes.
n[theoretical](C20H12O5) = {ratio} = 9.9944 mmol
The amount times the molar mass gives the mass.
m[theoretical](C20H12O5) = n[theoretical](C20H12O5) × M(C20H12O5) = {chain} = 3.321 g"""


def test_a_preparation_reads_from_each_reagent_to_the_product(banks: Banks, checked: Check) -> None:
    template = load_template(ROOT / "templates/yield/fluorescein.toml", "fluorescein", banks)
    worked = checked(template.scene, template.plan, resorcinol(template), "product")
    compared, theoretical = ("\n".join(plain(block) for block in worked[i].blocks) for i in (4, 5))
    assert compared == COMPARED.format(
        allowed="Resorcinol would allow 9.9944 mmol of fluorescein and phthalic anhydride 13.503 mmol",
        verdict="Resorcinol is the limiting reagent.",
    )
    assert theoretical == THEORETICAL.format(
        ratio="n[from C₆H₆O₂](C20H12O5)",
        chain="9.9944 ~mmol × 332.311 g ~mol-1 × (1 ~mol / 1000 ~mmol)",
    )


def resorcinol(template: Template) -> Given:
    given = drawn(template, 0)
    for name, text in (("resorcinol", "2.201"), ("phthalic-anhydride", "2.000")):
        given[Quantity("mass", name)] = (read_written(text), "g")
    return given


def test_the_rounding_is_told_once_and_truly() -> None:
    assert inline(rounding_note().line) == (
        "Intermediate results are written with one figure more than the data support; "
        "nothing is rounded before the end."
    )


def oxide_and_acid(banks: Banks, *asked: Asked) -> tuple[Scene, Plan, Given]:
    given = {Quantity("amount", "oxide"): (read_written("15.66"), "mmol")}
    given[Quantity("amount", "acid")] = (read_written("39.98"), "mmol")
    species = (
        Species("oxide", "iron(III) oxide", read_formula("Fe2O3"), -1),
        Species("acid", "hydrogen chloride", read_formula("HCl"), -6),
        Species("salt", "iron(III) chloride", read_formula("FeCl3"), 2),
        Species("water", "water", read_formula("H2O"), 3),
    )
    scene = Scene({s.id: s for s in species}, frozenset(given), banks.weights)
    return scene, chain(scene, asked, constants()), given


SALT = Asked(Quantity("amount", "salt", Role.THEORETICAL), "mmol")
LIMITING = Asked(Quantity("extent", ""), "mol", form="species")
VERDICT = (
    "Iron(III) oxide would allow 15.660 mmol of reaction and hydrogen chloride 6.6633 mmol: "
    "the smallest is 6.6633 mmol. Hydrogen chloride is the limiting reagent."
)


def test_a_comparison_that_an_earlier_part_needed_is_referred_to(banks: Banks, checked: Check) -> None:
    scene, plan, given = oxide_and_acid(banks, SALT, LIMITING)
    first, second = checked(scene, plan, given, "product")
    assert VERDICT in [plain(block) for block in first.blocks]
    assert [plain(block) for block in second.blocks] == [f"As found in (a): {VERDICT}"]


def test_a_given_amount_that_is_asked_comes_from_the_data(banks: Banks, checked: Check) -> None:
    scene, plan, given = oxide_and_acid(banks, Asked(Quantity("amount", "oxide"), "mol"))
    assert [plain(block) for block in checked(scene, plan, given, "product")[0].blocks] == [
        "From the data:",
        "n(Fe2O3) = 15.66 ~mmol × (1 mol / 1000 ~mmol) = 0.01566 mol",
    ]


def test_by_extents_the_extent_is_worked_out_and_recalled(banks: Banks, checked: Check) -> None:
    scene, plan, given = oxide_and_acid(banks, LIMITING, SALT)
    first, second = checked(scene, plan, given, "extent")
    assert [plain(block) for block in first.blocks][1::2] == [
        "ξ(Fe2O3) = n(Fe2O3)/ν(Fe2O3) = (15.66 mmol / 1) = 15.660 mmol",
        "ξ(HCl) = n(HCl)/ν(HCl) = (39.98 mmol / 6) = 6.6633 mmol",
        "ξ = ξ(HCl) = 6.6633 mmol",
    ]
    assert plain(second.blocks[0]) == "As found in (a), ξ = 6.6633 mmol."


def test_a_part_without_an_answer_is_refused(banks: Banks) -> None:
    oxide = Asked(Quantity("amount", "oxide"), "mmol")
    scene, plan, _ = oxide_and_acid(banks, oxide)
    with pytest.raises(KeyError, match=r"^'1'$"):
        worked_solution(scene, plan, [SolvedPart("1", "a", oxide)], Numbers({}, {}, {}, {}))
