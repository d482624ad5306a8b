"""What the tests of plans share: problems written as text."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from problemgen.chemistry.equation import read_equation
from problemgen.chemistry.formula import read_formula
from problemgen.chemistry.units import read_unit
from problemgen.exact.digits import read_written
from problemgen.load.banks.banks import load_weights
from problemgen.model.fixed import Datum
from problemgen.model.plan import Plan
from problemgen.model.problem import Asked, Constant, FurtherEquation, Scene, Species
from problemgen.model.quantity import Quantity, kind_named, read_quantity
from problemgen.plan.arithmetic import Base, Exact, Window
from problemgen.plan.batch import Batch
from problemgen.plan.chain import chain
from problemgen.plan.constants import constants
from problemgen.plan.evaluate import window_values
from problemgen.plan.forms import form_of
from problemgen.plan.windows import given_window
from tests.support.worked_values import exact_values, mistaken_values

BANKS = Path(__file__).parents[2] / "banks"

EXACT = Exact()


def quantity(text: str) -> Quantity:
    """A quantity from its id: `mass(HCl,solution)`."""
    kind, _, inside = text.partition("(")
    of, _, role = inside[:-1].partition(",")
    return read_quantity(kind, of, role)


class Problems:
    """Problems from text. A quantity is written as its id, a value with its unit behind a space."""

    def __init__(self, weights: Mapping[str, Constant]) -> None:
        """Work with these atomic weights."""
        self.weights = weights
        self.plans: dict[str, Plan] = {}

    def species(self, equation: str, others: Iterable[str], stands_for: Mapping[str, str]) -> dict[str, Species]:
        found: dict[str, Species] = {}
        if equation:
            read = read_equation(equation)
            for sign, terms in ((-1, read.left), (1, read.right)):
                for term in terms:
                    name = term.formula.text
                    found[name] = Species(name, name, term.formula, sign * term.coefficient)
        for text in others:
            formula = read_formula(text)
            found[formula.text] = Species(formula.text, formula.text, formula, 0, stands_for.get(text, ""))
        return found

    def scene(
        self,
        given: Iterable[str],
        equation: str = "",
        *,
        others: Iterable[str] = (),
        stands_for: Mapping[str, str] | None = None,
        product: str = "",
        in_excess: Iterable[str] = (),
        wanted: Iterable[str] = (),
        sources: Iterable[str] = (),
        solvent: str = "",
        then: Iterable[str] = (),
        beside: str = "",
        parallel: str = "",
        standard: str = "",
        driven_off: Iterable[str] = (),
    ) -> Scene:
        """A scene; the product of a further equation is the first species on its right."""
        species = self.species(equation, others, stands_for or {})
        equations = []
        for text in (*then, *filter(None, (beside, parallel))):
            found = self.species(text, (), {})
            coefficients = {name: one.coefficient for name, one in found.items()}
            first = next(name for name, nu in coefficients.items() if nu > 0)
            equations.append(FurtherEquation(text, coefficients, first, text == beside, text == parallel))
            later = {name: replace(one, coefficient=0) for name, one in found.items()}
            species = {**species, **{name: one for name, one in later.items() if name not in species}}
        return Scene(
            species,
            frozenset(quantity(text) for text in given),
            self.weights,
            product=product,
            wanted=frozenset(quantity(text) for text in wanted),
            in_excess=frozenset(in_excess),
            sources=tuple(sources),
            solvent=solvent,
            further=tuple(equations),
            standard=standard,
            driven_off=frozenset(driven_off),
        )

    def plan(self, given: Iterable[str], asked: Mapping[str, str], equation: str = "", **about: Any) -> Plan:
        """The plan of a problem: ids of the given quantities, asked quantities with their units.

        Chained once: a property asks for the same plan with each of its examples.
        """
        names = tuple(given)
        told = repr((names, asked, equation, about))
        if told not in self.plans:
            scene = self.scene(names, equation, **about)
            wanted = [Asked(quantity(text), unit) for text, unit in asked.items()]
            self.plans[told] = chain(scene, wanted, constants())
        return self.plans[told]

    @staticmethod
    def data(given: Mapping[str, str]) -> dict[str, Datum]:
        pairs = {name: text.split(" ", 1) for name, text in given.items()}
        return {name: Datum(read_written(number), unit) for name, (number, unit) in pairs.items()}

    def exact(self, plan: Plan, given: Mapping[str, str]) -> dict[str, Fraction]:
        """All values in engine units."""
        data = self.data(given)
        return exact_values(plan, {n: read_unit(d.unit).to_engine(d.written.value) for n, d in data.items()})

    @staticmethod
    def values(plan: Plan, given: Mapping[str, Fraction]) -> dict[str, Fraction]:
        """All values in engine units, from exact numbers in engine units."""
        return exact_values(plan, given)

    def answers(self, plan: Plan, given: Mapping[str, str]) -> dict[str, Fraction]:
        """The exact answers in the units asked for."""
        values = self.exact(plan, given)
        return {a.quantity.id: read_unit(a.unit).from_engine(values[a.quantity.id]) for a in plan.asked}

    def windows(self, plan: Plan, data: Mapping[str, Datum], base: Base = EXACT) -> dict[str, Window]:
        """All windows in engine units."""
        number = base.number
        given = {
            n: given_window(number(d.written.value), d.written.place, read_unit(d.unit), base, kind_named(n))
            for n, d in data.items()
        }
        return window_values(plan, given, base)

    def batch_windows(self, plan: Plan, rows: Sequence[Mapping[str, Datum]]) -> dict[str, Window]:
        """All windows in engine units, a candidate a row; the units are those of the first row."""
        base = Batch()
        given = {}
        for name, first in rows[0].items():
            values = np.array([float(row[name].written.value) for row in rows])
            places = np.array([row[name].written.place for row in rows])
            given[name] = given_window(values, places, read_unit(first.unit), base, kind_named(name))
        with np.errstate(all="ignore"):
            return window_values(plan, given, base)

    def answer_windows(self, plan: Plan, data: Mapping[str, Datum], base: Base = EXACT) -> dict[str, Window]:
        """The acceptance windows, in the units asked for."""
        windows = self.windows(plan, data, base)
        found = {asked.quantity.id: form_of(asked).window(plan, asked, windows, base) for asked in plan.asked}
        return {name: window for name, window in found.items() if window is not None}


@pytest.fixture(scope="session")
def problems() -> Problems:
    """Problems with the bank's atomic weights."""
    return Problems(load_weights(BANKS)[0])


@pytest.fixture(scope="session")
def after_mistake(problems: Problems) -> Any:
    """The exact answers of a plan after one mistake, in the units asked for."""

    def answers(plan: Plan, given: Mapping[str, str], mistake: str) -> dict[str, Fraction]:
        (made,) = [one for one in plan.mistakes if one.id == mistake]
        values = mistaken_values(plan, [made], problems.exact(plan, given), EXACT)
        return {a.quantity.id: read_unit(a.unit).from_engine(values[a.quantity.id]) for a in plan.asked}

    return answers
