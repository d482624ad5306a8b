"""The numbers of a worked solution as they are printed: which unit, and how many figures.

Given values stand as they were given. An intermediate result has one guard figure more than the data support,
and at least four figures; a sum or difference stops where its terms stop. Nothing is rounded but for print.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property

from problemgen.chemistry.units import Unit, read_unit
from problemgen.exact.rounding import exponent, figures_text, plain_text
from problemgen.model.expression import Expression, names_in
from problemgen.model.plan import Plan, Step
from problemgen.model.problem import Scene
from problemgen.model.quantity import KINDS, Quantity
from problemgen.plan.arithmetic import EXACT_FIGURES, Exact
from problemgen.plan.evaluate import evaluate
from problemgen.plan.forms import form_of
from problemgen.plan.forms.form import Ending
from problemgen.render.worked.chains import exact_text
from problemgen.render.worked.products import Product, products

__all__ = ["LEAST_SHOWN", "Numbers", "Printed"]

LEAST_SHOWN = 4
"""An intermediate result is printed with at least so many figures: one more than an honest worker has to keep."""
_CONSTANT_FIGURES = 5
"""Figures of a constant that is printed: more than those of usual data."""
_THOUSANDTHS = -3
_SMALL = Fraction(1)
"""Below this, in the unit of the kind, a result is told in the unit that the parts ask for."""
_LARGE = Fraction(1)
"""From this on, in engine units, a result is told in the large unit of its kind, where it has one."""


@dataclass(frozen=True)
class Numbers:
    """A variant's numbers, by quantity id.

    `values`: exact, in engine units. `data`: a given's number and unit as printed. `figures`: the significant
    figures that the data support, EXACT_FIGURES for no limit. `endings`: by part id, how the working ends.
    """

    values: Mapping[str, Fraction]
    data: Mapping[str, tuple[str, str]]
    figures: Mapping[str, int]
    endings: Mapping[str, Ending]


@dataclass(frozen=True)
class Printed:
    """How the quantities of one variant are printed."""

    scene: Scene
    plan: Plan
    numbers: Numbers

    @cached_property
    def quantities(self) -> Mapping[str, Quantity]:
        """All quantities of the plan by id."""
        steps = (step.quantity for step in self.plan.steps)
        constants = (constant.quantity for constant in self.plan.constants)
        return {q.id: q for q in (*self.plan.given, *constants, *steps)}

    @cached_property
    def steps(self) -> Mapping[str, Step]:
        """The plan's steps by quantity id."""
        return {step.quantity.id: step for step in self.plan.steps}

    @cached_property
    def asked_units(self) -> Mapping[str, str]:
        """The unit of each quantity whose value is asked for."""
        return {name: unit for asked in self.plan.asked for name, unit in form_of(asked).told_in(asked).items()}

    @cached_property
    def usual_units(self) -> Mapping[str, str]:
        """By kind, the unit in which the parts ask most often."""
        counted: dict[str, Counter[str]] = {}
        for asked in self.plan.asked:
            counted.setdefault(asked.quantity.kind, Counter()).update(form_of(asked).told_in(asked).values())
        counted = {kind: counter for kind, counter in counted.items() if counter}
        return {kind: counter.most_common(1)[0][0] for kind, counter in counted.items()}

    def value(self, expression: Expression) -> Fraction:
        """The exact value of an expression, in engine units."""
        return Fraction(evaluate(expression, self.numbers.values, Exact()))

    @cached_property
    def _units(self) -> dict[str, str]:
        """What `unit` has found out, by quantity id."""
        return {}

    def unit(self, quantity: Quantity) -> str:
        """The unit in which a quantity is printed."""
        if quantity.id not in self._units:
            self._units[quantity.id] = self._unit(quantity)
        return self._units[quantity.id]

    def _unit(self, quantity: Quantity) -> str:
        if quantity.id in self.numbers.data:
            return self.numbers.data[quantity.id][1]
        if quantity.id in self.asked_units:
            return self.asked_units[quantity.id]
        kind = KINDS[quantity.kind]
        if quantity.id not in self.numbers.values:
            return kind.unit
        value = abs(self.numbers.values[quantity.id])
        if kind.large_unit and value >= _LARGE:
            return kind.large_unit
        asked = self.usual_units.get(kind.unit_like or kind.name, kind.unit)
        small = value / read_unit(kind.unit).factor < _SMALL
        return asked if small and not read_unit(asked).offset else kind.unit

    def kept_figures(self, quantity: Quantity) -> int:
        """The figures of an intermediate result, the guard figure counted in."""
        supported = self.numbers.figures.get(quantity.id, EXACT_FIGURES)
        if supported >= EXACT_FIGURES:
            return max(_CONSTANT_FIGURES, self.guard)
        return max(LEAST_SHOWN, supported + 1)

    @cached_property
    def guard(self) -> int:
        """The figures that no constant or molar mass falls short of: one more than any answer's."""
        asked = [self.numbers.figures.get(a.quantity.id, EXACT_FIGURES) for a in self.plan.asked]
        return max([LEAST_SHOWN, *(figures + 1 for figures in asked if figures < EXACT_FIGURES)])

    @cached_property
    def _texts(self) -> dict[str, str]:
        """What `text` has worked out, by quantity id: a number stands in several lines."""
        return {}

    def text(self, quantity: Quantity) -> str:
        """The number of a quantity in its unit, as it is printed where it is used."""
        if quantity.id not in self._texts:
            self._texts[quantity.id] = self._text(quantity)
        return self._texts[quantity.id]

    def _text(self, quantity: Quantity) -> str:
        name = quantity.id
        if name in self.numbers.data:
            return self.numbers.data[name][0]
        unit = read_unit(self.unit(quantity))
        value = unit.from_engine(self.numbers.values[name])
        step = self.steps.get(name)
        if step is None:
            return self._constant(quantity, value)
        place = self._place(step, unit)
        if place is not None:
            return plain_text(value, place)
        return self.rounded(value, self.kept_figures(quantity), self.numbers.figures.get(name, EXACT_FIGURES))

    def kelvin_text(self, quantity: Quantity) -> str:
        """A temperature in kelvin with a place more than on its own scale."""
        value = self.numbers.values[quantity.id]
        return figures_text(value, max(self.kept_figures(quantity), exponent(value) + 3))

    def rounded(self, value: Fraction, figures: int, supported: int) -> str:
        """A number with so many figures; a whole number that nothing limits stays whole."""
        if supported >= EXACT_FIGURES and value.denominator == 1:
            return exact_text(value) or figures_text(value, figures)
        return figures_text(value, figures)

    @cached_property
    def _tabled(self) -> Mapping[str, str]:
        """The constants with the digits of their tables, by quantity id."""
        return {one.quantity.id: one.written for one in self.plan.constants if one.written}

    def _constant(self, quantity: Quantity, value: Fraction) -> str:
        if quantity.id in self._tabled:
            return self._tabled[quantity.id]
        whole = exact_text(value) if quantity.kind in ("atomic_weight", "density") else None
        return whole or figures_text(value, max(_CONSTANT_FIGURES, self.guard + 1))

    def _place(self, step: Step, unit: Unit) -> int | None:
        """The last decimal place of a sum: none of its terms is printed further; None for anything else."""
        terms = products(step.expression)
        if step.rounding == "molar mass":
            return self._molar_mass_place(step)
        if len(terms) == 1:
            return None
        places = [self._term_place(term, unit) for term in terms]
        derived = [place for place in places if place is not None]
        return min(max(derived), 0) if derived else None

    def _molar_mass_place(self, step: Step) -> int:
        """The last place of the coarsest weight; where the guard figure lies further, as far as there is a digit."""
        value = self.numbers.values[step.quantity.id]
        coarsest = max(self._weight_place(name) for name in names_in(step.expression))
        end = _last_place(exact_text(value))
        return min(coarsest, max(exponent(value) - self.guard + 1, end))

    def _weight_place(self, name: str) -> int:
        return _last_place(self._tabled.get(name) or exact_text(self.numbers.values[name]))

    def _term_place(self, term: Product, unit: Unit) -> int | None:
        """The last place of a worked-out term of a sum, in a unit; None where it is a given value."""
        value = abs(self.value(term.expression))
        derived = [self.quantities[name] for name in names_in(term.expression) if name not in self.numbers.data]
        if not derived or not value:
            return None
        return exponent(unit.from_engine(value)) - min(map(self.kept_figures, derived)) + 1


def _last_place(written: str | None) -> int:
    """The place of a number's last digit; thousandths for one without an end."""
    return -len(written.partition(".")[2]) if written and "e" not in written else _THOUSANDTHS
