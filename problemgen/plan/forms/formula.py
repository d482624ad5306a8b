"""A formula: the empirical or molecular formula of an unknown compound.

The quantity behind it is the molar mass that its subscripts make, so that windows, mistakes and follow-through need no
path of their own.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Any, ClassVar

import numpy as np

from problemgen.chemistry.units import read_unit
from problemgen.language.messages import N_, _
from problemgen.model.blocks import Chemical, Line, Paragraph, Prose
from problemgen.model.lines import filled
from problemgen.model.plan import Plan
from problemgen.model.problem import Asked, Scene
from problemgen.model.quantity import Quantity, Role
from problemgen.model.truths import TextTruth
from problemgen.plan.arithmetic import Base, Window
from problemgen.plan.forms.form import Cells, Ending, TextForm, Values, ValueWindows
from problemgen.plan.laws.formulas import COMPOUND, formula_text
from problemgen.plan.windows import whole_window

__all__ = ["FORMULA", "FormulaForm"]

_NEARLY = 1e-9
"""How far from a whole number, as a float, one may come out that was worked in floats."""


def _asked(role: Role) -> Asked:
    return Asked(Quantity("molar_mass", COMPOUND, role), "g/mol", "formula")


def _subscripts(plan: Plan, asked: Asked) -> Iterator[str]:
    """The ids of the subscripts that make the formula."""
    steps = (step.quantity for step in plan.steps if step.quantity.kind == "subscript")
    return (quantity.id for quantity in steps if quantity.role == asked.quantity.role)


class FormulaForm(TextForm):
    """A formula, right with its elements in any order."""

    name = "formula"
    asks: ClassVar[Mapping[str, Asked]] = {
        "empirical_formula": _asked(Role.EMPIRICAL),
        "molecular_formula": _asked(Role.MOLECULAR),
    }
    to_write = N_("Write a formula where one is asked.")
    rests_on_plan = True

    def answer(self, plan: Plan, _scene: Scene, asked: Asked, windows: ValueWindows) -> TextTruth:
        """The formula by its subscripts."""
        values = {name: one.value for name, one in windows.items()}
        return TextTruth(formula_text(plan, asked.quantity.role, values))

    def window(self, _plan: Plan, asked: Asked, windows: ValueWindows, base: Base) -> Window:
        """The formula's mass, as it is."""
        return whole_window(windows[asked.quantity.id], read_unit(asked.unit), base)

    def is_counted(self, _plan: Plan, _asked: Asked) -> bool:
        """Subscripts are whole numbers."""
        return True

    def accepts(self, plan: Plan, asked: Asked, written: Values, right: Values, _inside: Callable[[], Any]) -> Any:
        """Whether all subscripts are right."""
        names = [*_subscripts(plan, asked)]
        return np.logical_and.reduce([np.abs(written[name] - right[name]) < _NEARLY for name in names])

    def shows(self, _plan: Plan, asked: Asked, _truth: TextTruth, right: ValueWindows, wrong: ValueWindows) -> bool:
        """Whether the mass is another."""
        return bool(wrong[asked.quantity.id].value != right[asked.quantity.id].value)

    def handed_in(self, _scene: Scene, plan: Plan, asked: Asked, written: Values, _number: Callable[[], str]) -> str:
        """The formula by the subscripts that were found."""
        return formula_text(plan, asked.quantity.role, written)

    def prompt(self, asked: Asked) -> Line:
        """Which formula."""
        is_empirical = asked.quantity.role is Role.EMPIRICAL
        words = (
            _("The empirical formula of the compound") if is_empirical else _("The molecular formula of the compound")
        )
        return (Prose(words),)

    def cells(self, _scene: Scene, _asked: Asked, truth: TextTruth) -> Cells:
        """The formula in print."""
        return Cells((Chemical(truth.text),))

    def read_as(self, read: str) -> Line:
        """The formula in print."""
        return (Chemical(read),)

    def told_in(self, asked: Asked) -> dict[str, str]:
        """The mass that the subscripts make is told on the way."""
        return {asked.quantity.id: asked.unit}

    def ending(self, _asked: Asked, truth: TextTruth) -> Ending:
        """The formula in a sentence."""
        return Ending(blocks=(Paragraph(filled(_("The formula is {formula}."), formula=(Chemical(truth.text),))),))


FORMULA = FormulaForm()
