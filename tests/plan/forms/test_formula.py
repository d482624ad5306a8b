from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import numpy as np

from problemgen.model.blocks import Chemical, Paragraph, Prose
from problemgen.model.truths import TextTruth
from problemgen.plan.forms.form import Cells, Ending
from problemgen.plan.forms.formula import FORMULA
from tests.support.shipped import shipped, variant_of

NAME = "formulas/manganese-oxide"


def test_a_formula_is_printed_without_bounds() -> None:
    template, variant = shipped(NAME), variant_of(NAME)
    (asked,) = [asked for asked in template.plan.asked if asked.form == "formula"]
    (truth,) = [one for one in variant.answers if isinstance(one, TextTruth)]
    assert FORMULA.cells(template.scene, asked, truth) == Cells((Chemical(truth.text),))
    assert FORMULA.text(template.scene, asked, truth) == truth.text == FORMULA.kind(truth)


def test_a_formula_is_told_last() -> None:
    (asked,) = [asked for asked in shipped(NAME).plan.asked if asked.form == "formula"]
    told = Paragraph((Prose("The formula is "), Chemical("C3H7NO3"), Prose(".")))
    assert FORMULA.ending(asked, TextTruth("C3H7NO3")) == Ending(blocks=(told,))


def test_what_was_not_found_is_left_out_of_what_is_handed_in() -> None:
    template = shipped(NAME)
    (asked,) = [asked for asked in template.plan.asked if asked.form == "formula"]
    names = [step.quantity.id for step in template.plan.steps if step.quantity.kind == "subscript"]
    written = dict(zip(names, (Decimal(1), Decimal(0)), strict=True))
    assert FORMULA.handed_in(template.scene, template.plan, asked, written, str) == "Mn"


def test_a_formula_is_accepted_by_its_subscripts() -> None:
    plan = shipped(NAME).plan
    (asked,) = [asked for asked in plan.asked if asked.form == "formula"]
    first, second = [step.quantity.id for step in plan.steps if step.quantity.kind == "subscript"]
    right = {first: Fraction(1), second: Fraction(2)}
    written = {first: np.array([1.0, 1.0, 2.0]), second: np.array([2.0, 3.0, 2.0])}
    assert FORMULA.accepts(plan, asked, written, {n: float(v) for n, v in right.items()}, bool).tolist() == [
        True,
        False,
        False,
    ]
    assert FORMULA.accepts(plan, asked, dict(right), right, bool)
