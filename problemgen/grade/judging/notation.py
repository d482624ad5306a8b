"""Answers written in chemical notation: formulas and balanced equations."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from math import gcd

from problemgen.chemistry.equation import CHARGE, Equation, imbalance, read_equation, same_equation
from problemgen.chemistry.formula import Formula, read_formula
from problemgen.errors import EquationError, FormulaError
from problemgen.grade.judging.findings import RIGHT, Finding
from problemgen.grade.reading.spelling import LONGEST, is_blank, plain_characters, quoted
from problemgen.language.messages import _
from problemgen.model.plan import Plan
from problemgen.model.quantity import Role

__all__ = [
    "RULES",
    "Notation",
    "equation_finding",
    "formula_mass",
    "read_equation_answer",
    "read_formula_answer",
    "subscripts",
]

_CHARGE_OR_ARROW = re.compile(r"(?<=\S)-->")
_BEFORE, _BEHIND = "=≈ ", ". "  # what may stand round a formula, and behind an equation

RULES: Mapping[str, object] = {"charge_or_arrow": _CHARGE_OR_ARROW, "before": _BEFORE, "behind": _BEHIND}
"""What the practice page reads of this: `problemgen.practice.rules` carries it into the page."""


@dataclass(frozen=True)
class Notation:
    """What was read: a formula or an equation, or the finding that there is none."""

    formula: Formula | None = None
    equation: Equation | None = None
    unread: Finding | None = None


def _nothing(text: str) -> Notation | None:
    """The reading of a cell that is blank, or too long to be an answer."""
    stripped = text.strip()
    if len(stripped) > LONGEST:
        return Notation(unread=Finding("unread", "unreadable", _("This is too long for an answer."), Fraction(0)))
    if is_blank(plain_characters(stripped)):
        return Notation(unread=Finding("blank", "blank", _("No answer."), Fraction(0)))
    return None


def _refused(reason: str) -> Notation:
    return Notation(unread=Finding("unread", "unreadable", reason, Fraction(0)))


def read_formula_answer(text: str) -> Notation:
    """A cell as a formula: "C5H7N", "C₅H₇N", "= C5H7N.". No text raises an exception."""
    blank = _nothing(text)
    if blank is not None:
        return blank
    plain = text.strip().lstrip(_BEFORE).rstrip(_BEHIND)
    try:
        return Notation(formula=read_formula(plain.replace(" ", "")))
    except FormulaError as error:
        return _refused(_("{text} is not read as a formula: {reason}.").format(text=quoted(plain), reason=error.reason))


def read_equation_answer(text: str) -> Notation:
    """A cell as a chemical equation: "2 H2 + O2 -> 2 H2O", with any usual arrow. No text raises an exception.

    "Cl-->" may be a long arrow, or a charge with an arrow behind it: the reading that is balanced is taken.
    """
    blank = _nothing(text)
    if blank is not None:
        return blank
    plain = text.strip().rstrip(_BEHIND)
    readings = [_equation(plain)]
    if _CHARGE_OR_ARROW.search(plain):
        readings.append(_equation(_CHARGE_OR_ARROW.sub("- ->", plain)))
    readable = [one for one in readings if one.equation]
    balanced = [one for one in readable if one.equation and not imbalance(one.equation)]
    return (balanced or readable or readings)[0]


def _equation(plain: str) -> Notation:
    try:
        return Notation(equation=read_equation(plain))
    except (EquationError, FormulaError) as error:
        return _refused(_("This is not read as an equation: {reason}.").format(reason=error))


def formula_mass(formula: Formula, plan: Plan) -> Fraction | None:
    """A formula's molar mass with the atomic weights of a plan; None for an element that the plan does not have."""
    weights = {c.quantity.of: c.value for c in plan.constants if c.quantity.kind == "atomic_weight"}
    if any(symbol not in weights for symbol, _count in formula.counts):
        return None
    return sum((weights[symbol] * count for symbol, count in formula.counts), Fraction(0))


def subscripts(formula: Formula, plan: Plan, role: Role) -> dict[str, Fraction]:
    """A formula's subscripts as quantities of a plan, by id."""
    steps = (step.quantity for step in plan.steps if step.quantity.kind == "subscript" and step.quantity.role == role)
    return {quantity.id: Fraction(formula.count(quantity.of)) for quantity in steps}


def equation_finding(answer: Equation, key: Equation) -> tuple[Finding, str]:
    """What a balanced equation amounts to, and a remark ("" for none)."""
    if same_equation(answer, key):
        common = gcd(*(term.coefficient for term in (*answer.left, *answer.right)))
        remark = _("The coefficients have a common factor: the least whole numbers are usual.") if common > 1 else ""
        return RIGHT, remark
    if _species(answer) != _species(key):
        sentence = _("These are not the substances of the question: only the coefficients are to be found.")
        return Finding("wrong", "other-substances", sentence, Fraction(0)), ""
    uneven = [_("charge") if one == CHARGE else one for one in sorted(imbalance(answer))]
    if uneven:
        sentence = _("Not balanced: count {elements} on both sides.").format(elements=", ".join(uneven))
        return Finding("wrong", "unbalanced", sentence, Fraction(0)), ""
    sentence = _("Balanced, but not the reaction of the question.")
    return Finding("wrong", "other-reaction", sentence, Fraction(0)), ""


def _species(equation: Equation) -> tuple[frozenset[str], frozenset[str]]:
    left, right = ({term.formula.text for term in side} for side in (equation.left, equation.right))
    return frozenset(left), frozenset(right)
