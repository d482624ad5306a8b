"""Judging formulas and balanced equations."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from problemgen.chemistry.equation import read_equation
from problemgen.chemistry.formula import Formula, read_formula
from problemgen.grade.judging.findings import FOLLOWS, RIGHT, Finding
from problemgen.grade.judging.mistakes import MOST_TOLD, Found
from problemgen.grade.judging.naming import named
from problemgen.grade.judging.notation import (
    equation_finding,
    formula_mass,
    read_equation_answer,
    read_formula_answer,
    subscripts,
)
from problemgen.grade.judging.paper import Paper
from problemgen.language.messages import _
from problemgen.model.answers import PartKey
from problemgen.model.truths import TextTruth
from problemgen.model.verdict import PartResult
from problemgen.plan.arithmetic import Window
from problemgen.plan.programs import worked
from problemgen.plan.tries import RANK

__all__ = ["RULES", "judge_equation", "judge_formula"]

_SAME = 1e-9
"""How far apart, relatively, two sums of one formula's mass come out in floats; an atom is a thousandth at least."""


RULES: Mapping[str, object] = {"same": _SAME}
"""What the practice page reads of this: `problemgen.practice.rules` carries it into the page."""


def judge_formula(paper: Paper, part: PartKey, truth: TextTruth, wrote: str) -> PartResult:
    """The result of a part that asks for a formula."""
    reading = read_formula_answer(wrote)
    if reading.formula is None:
        assert reading.unread is not None
        return paper.result(part, wrote, "", reading.unread)
    finding = _finding(paper, part, truth, reading.formula)
    if finding.verdict != "right":
        _carry(paper, part, reading.formula)
    return paper.result(part, wrote, reading.formula.text, finding)


def _finding(paper: Paper, part: PartKey, truth: TextTruth, formula: Formula) -> Finding:
    if formula.composition == read_formula(truth.text).composition:
        return RIGHT
    quantity, plan = part.asked.quantity.id, paper.template.plan
    mass = formula_mass(formula, plan)
    carried = paper.carried_to(part)
    if carried is not None and carried[quantity].value == mass:
        return Finding("follows", "follow-through", _(FOLLOWS), paper.policy_of(part.asked).follow_through)
    found = _mistakes(paper, quantity, mass)
    if found:
        return named(paper, part.asked, found)
    return Finding.not_right(
        _("Turn masses into amounts, and compare them with the least."), paper.unconfirmed([quantity])
    )


def _mistakes(paper: Paper, quantity: str, mass: Fraction | None) -> tuple[Found, ...]:
    """The ways to a formula of this molar mass."""
    values, found = paper.right_floats, []
    for way in paper.ways(quantity, carrying=False).alone:
        if mass is None or way.rank > RANK["common"]:
            continue
        value = worked(way.steps, values)[quantity]
        fits = abs(value - float(mass)) <= _SAME * float(mass) < abs(value - values[quantity])
        paper.tried_way(
            "mistake", way, None, _("leads to this formula") if fits else _("leads to another formula"), fits=fits
        )
        if fits:
            found.append(Found(way, values, 0.0))
    listed = [one for one in found if one.way.rank == RANK["listed"]]
    return tuple((listed or found)[:MOST_TOLD])


def _carry(paper: Paper, part: PartKey, formula: Formula) -> None:
    plan, quantity = paper.template.plan, part.asked.quantity
    values = subscripts(formula, plan, quantity.role)
    mass = formula_mass(formula, plan)
    for name, value in {**values, **({quantity.id: mass} if mass else {})}.items():
        paper.carried[name] = Window(value, value, value)


def judge_equation(paper: Paper, part: PartKey, truth: TextTruth, wrote: str) -> PartResult:
    """The result of a part that asks for a balanced equation."""
    reading = read_equation_answer(wrote)
    if reading.equation is None:
        assert reading.unread is not None
        return paper.result(part, wrote, "", reading.unread)
    finding, remark = equation_finding(reading.equation, read_equation(truth.text))
    return paper.result(part, wrote, reading.equation.text, finding, (remark,) if remark else ())
