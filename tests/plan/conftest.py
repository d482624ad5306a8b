"""What the tests of plans share: problems written as text, and an honest worker who knows nothing of windows."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import ROUND_FLOOR, ROUND_HALF_EVEN, ROUND_HALF_UP, Context, Decimal
from fractions import Fraction
from pathlib import Path
from random import Random
from typing import Any

import numpy as np
import pytest

from problemgen.chemistry.equation import read_equation
from problemgen.chemistry.formula import read_formula
from problemgen.chemistry.units import read_unit
from problemgen.exact.digits import read_written
from problemgen.load.banks import load_weights
from problemgen.model.expression import Expression
from problemgen.model.fixed import Datum
from problemgen.model.plan import Plan
from problemgen.model.problem import Asked, Constant, FurtherEquation, Scene, Species
from problemgen.model.quantity import Quantity, read_quantity
from problemgen.plan.arithmetic import Base, Batch, Exact, Window
from problemgen.plan.chain import chain
from problemgen.plan.constants import constants
from problemgen.plan.evaluate import exact_values, mistaken_values, window_values
from problemgen.plan.forms import form_of
from problemgen.plan.windows import given_window

BANKS = Path(__file__).parents[2] / "banks"

EXACT = Exact()
UNLIMITED = 99
"""Figures of a number that sets no limit: a count, a coefficient, an atomic weight."""

MOST = 8
"""The most figures that the worker keeps."""

WIDE = Context(prec=40)
GAS_CONSTANTS = (
    Decimal("8.31446261815324"),
    Decimal("8.31"),
    Decimal("8.314"),
    Decimal("8.3145"),
    Decimal("0.0821") * Decimal("101.325"),
    Decimal("0.08206") * Decimal("101.325"),
)
AVOGADRO_CONSTANTS = (Decimal("6.02214076e23"), Decimal("6.02e23"), Decimal("6.022e23"))


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
        driven_off: Iterable[str] = (),
    ) -> Scene:
        """A scene; the product of a further equation is the first species on its right."""
        species = self.species(equation, others, stands_for or {})
        equations = []
        for text in (*then, *([beside] if beside else ())):
            found = self.species(text, (), {})
            coefficients = {name: one.coefficient for name, one in found.items()}
            first = next(name for name, nu in coefficients.items() if nu > 0)
            equations.append(FurtherEquation(text, coefficients, first, text == beside))
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
            driven_off=frozenset(driven_off),
        )

    def plan(self, given: Iterable[str], asked: Mapping[str, str], equation: str = "", **about: Any) -> Plan:
        """The plan of a problem: ids of the given quantities, asked quantities with their units."""
        scene = self.scene(given, equation, **about)
        return chain(scene, [Asked(quantity(text), unit) for text, unit in asked.items()], constants())

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
            n: given_window(number(d.written.value), d.written.place, read_unit(d.unit), base) for n, d in data.items()
        }
        return window_values(plan, given, base)

    def batch_windows(self, plan: Plan, rows: Sequence[Mapping[str, Datum]]) -> dict[str, Window]:
        """All windows in engine units, a candidate a row; the units are those of the first row."""
        base = Batch()
        given = {}
        for name, first in rows[0].items():
            values = np.array([float(row[name].written.value) for row in rows])
            places = np.array([row[name].written.place for row in rows])
            given[name] = given_window(values, places, read_unit(first.unit), base)
        with np.errstate(all="ignore"):
            return window_values(plan, given, base)

    def answer_windows(self, plan: Plan, data: Mapping[str, Datum], base: Base = EXACT) -> dict[str, Window]:
        """The acceptance windows, in the units asked for."""
        windows = self.windows(plan, data, base)
        found = {asked.quantity.id: form_of(asked).window(plan, asked, windows, base) for asked in plan.asked}
        return {name: window for name, window in found.items() if window is not None}


def decimal(value: Fraction) -> Decimal:
    return WIDE.divide(Decimal(value.numerator), Decimal(value.denominator))


def leading(value: Decimal) -> int:
    return value.adjusted() if value else 0


@dataclass(frozen=True)
class Known:
    """A value with the figures that its data support."""

    value: Decimal
    figures: int


def worked(expression: Expression, known: Mapping[str, Known]) -> Known:
    """An expression in decimal arithmetic, with the significant figures of the textbook rules.

    Products and quotients keep the fewest figures, sums and differences the last common decimal place.
    """
    if isinstance(expression, str):
        return known[expression]
    head, *rest = expression
    if head == "num":
        return Known(decimal(Fraction(rest[0])), UNLIMITED)
    if head == "whole":
        return Known(least_whole(rest[0], [worked(amount, known).value for amount in rest[1:]]), UNLIMITED)
    if head == "pow":
        base = worked(rest[0], known)
        power = product([base.value] * abs(rest[1]))
        return Known(power if rest[1] > 0 else WIDE.divide(Decimal(1), power), base.figures)
    return worked_of(head, [worked(operand, known) for operand in rest])


def worked_of(head: str, operands: Sequence[Known]) -> Known:
    """An operation on numbers that are worked out."""
    fewest = min(one.figures for one in operands)
    values = [one.value for one in operands]
    if head == "mul":
        return Known(product(values), fewest)
    if head == "div":
        return Known(WIDE.divide(*values), fewest)
    if head == "add":
        return total(operands)
    if head == "neg":
        return Known(-values[0], fewest)
    if head in ("floor", "round"):
        mode = {"floor": ROUND_FLOOR, "round": ROUND_HALF_UP}[head]
        return Known(values[0].to_integral_value(mode), UNLIMITED)
    return {"min": min, "max": max}[head](operands, key=lambda one: one.value)


def least_whole(index: int, amounts: Sequence[Decimal]) -> Decimal:
    """One of the least whole numbers in a ratio: all divided by the least, then multiplied until all are near whole."""
    ratios = [WIDE.divide(amount, min(amounts)) for amount in amounts]
    for times in range(1, 9):
        whole = [(times * ratio).to_integral_value(ROUND_HALF_UP) for ratio in ratios]
        if all(abs(times * ratio - near) <= Decimal("0.1") for ratio, near in zip(ratios, whole, strict=True)):
            return whole[index]
    return ratios[index].to_integral_value(ROUND_HALF_UP)


def product(values: Sequence[Decimal]) -> Decimal:
    result = values[0]
    for value in values[1:]:
        result = WIDE.multiply(result, value)
    return result


def total(terms: Sequence[Known]) -> Known:
    place = max(leading(term.value) - term.figures + 1 for term in terms)
    value = Decimal(0)
    for term in terms:
        value = WIDE.add(value, term.value)
    return Known(value, min(UNLIMITED, max(1, leading(value) - place + 1)))


def started(plan: Plan, data: Mapping[str, Datum]) -> dict[str, Known]:
    """Constants and data in engine units, as told."""
    known = {constant.quantity.id: Known(decimal(constant.value), UNLIMITED) for constant in plan.constants}
    for name, datum in data.items():
        unit = read_unit(datum.unit)
        value = decimal(unit.to_engine(datum.written.value))
        figures = leading(value) - datum.written.place + 1 if unit.offset else datum.written.figures
        known[name] = Known(value, figures)
    return known


def supported(plan: Plan, data: Mapping[str, Datum]) -> dict[str, int]:
    """The figures that the data support, of every quantity of a plan."""
    known = started(plan, data)
    for step in plan.steps:
        known[step.quantity.id] = worked(step.expression, known)
    return {name: one.figures for name, one in known.items()}


class HonestWorker:
    """Works a plan as a student may, with every liberty that the product promises, drawn from one random stream.

    Atomic weights with two, three or all decimals; a usual value of each constant; a molar mass with two decimals
    or more, or with the figures of the data; every other step with three figures or those of the data, or more;
    half up or half to even; the answer from the rounded step or from what the calculator still shows, rounded to
    the figures that the data support, or more.
    """

    def __init__(self, seed: int) -> None:
        """Choose the habits: the rounding rule and the decimals of the atomic weights."""
        self.random = Random(seed)  # noqa: S311 - habits of a made-up worker, no secret
        self.mode = self.random.choice((ROUND_HALF_UP, ROUND_HALF_EVEN))
        self.decimals = self.random.choice((2, 3, None))

    def answers(self, plan: Plan, data: Mapping[str, Datum]) -> dict[str, Decimal]:
        """The answers to all asked quantities that are numbers, in their units."""
        figures = supported(plan, data)
        known = self.start(plan, data, figures)
        least = min((figures[name] for name in data), default=UNLIMITED)
        shown: dict[str, Decimal] = {name: one.value for name, one in known.items()}
        for step in plan.steps:
            name = step.quantity.id
            value = shown[name] = worked(step.expression, known).value
            if step.rounding == "molar mass":
                value = self.molar_mass(value, least)
            elif step.rounding == "figures":
                limited = figures[name] if figures[name] < UNLIMITED else least
                value = self.to_figures(value, self.kept(limited, 3))
            known[name] = Known(value, UNLIMITED)
        return {
            asked.quantity.id: self.answer(asked, known, shown, figures)
            for asked in plan.asked
            if asked.form in ("number", "formula")
        }

    def start(self, plan: Plan, data: Mapping[str, Datum], figures: Mapping[str, int]) -> dict[str, Known]:
        known = started(plan, data)
        for constant in plan.constants:
            known[constant.quantity.id] = Known(self.constant(constant), UNLIMITED)
        for name, datum in data.items():
            factor = read_unit(datum.unit).factor
            moved = str(factor.numerator).rstrip("0") + str(factor.denominator).rstrip("0") == "11"
            if read_unit(datum.unit).offset or not moved:
                value = self.to_figures(known[name].value, self.kept(figures[name], 3))
                known[name] = Known(value, UNLIMITED)
        return known

    def constant(self, constant: Constant) -> Decimal:
        if constant.quantity.kind == "gas_constant":
            return self.random.choice(GAS_CONSTANTS)
        if constant.quantity.kind == "avogadro":
            return self.random.choice(AVOGADRO_CONSTANTS)
        weight = decimal(constant.value)
        return weight if self.decimals is None else self.to_place(weight, -self.decimals)

    def molar_mass(self, value: Decimal, least: int) -> Decimal:
        if self.random.random() < 0.5:
            return self.to_place(value, -self.random.randint(2, 5))
        return self.to_figures(value, self.kept(least, 3))

    def kept(self, figures: int, least: int) -> int:
        """How many figures to keep: no fewer than so many, nor than `least`."""
        return self.random.randint(min(MOST, max(least, figures)), MOST)

    def answer(
        self, asked: Asked, known: Mapping[str, Known], shown: Mapping[str, Decimal], figures: Mapping[str, int]
    ) -> Decimal:
        name = asked.quantity.id
        value = self.random.choice((known[name].value, shown[name]))
        unit = read_unit(asked.unit)
        in_unit = WIDE.divide(WIDE.subtract(value, decimal(unit.offset)), decimal(unit.factor))
        supports = 4 if figures[name] >= UNLIMITED else figures[name]
        return self.to_figures(in_unit, self.kept(supports, 1))

    def to_figures(self, value: Decimal, figures: int) -> Decimal:
        return self.to_place(value, leading(value) - figures + 1) if value else value

    def to_place(self, value: Decimal, place: int) -> Decimal:
        return value.quantize(Decimal(1).scaleb(place), rounding=self.mode, context=WIDE)


@pytest.fixture(scope="session")
def problems() -> Problems:
    """Problems with the bank's atomic weights."""
    return Problems(load_weights(BANKS)[0])


@pytest.fixture(scope="session")
def honest_worker() -> type[HonestWorker]:
    """Called with a number, a worker with habits of their own."""
    return HonestWorker


@pytest.fixture(scope="session")
def supported_figures() -> Any:
    """The figures that the data support, by the textbook rules: plan and data to figures by quantity id."""
    return supported


@pytest.fixture(scope="session")
def after_mistake(problems: Problems) -> Any:
    """The exact answers of a plan after one mistake, in the units asked for."""

    def answers(plan: Plan, given: Mapping[str, str], mistake: str) -> dict[str, Fraction]:
        (made,) = [one for one in plan.mistakes if one.id == mistake]
        values = mistaken_values(plan, [made], problems.exact(plan, given), EXACT)
        return {a.quantity.id: read_unit(a.unit).from_engine(values[a.quantity.id]) for a in plan.asked}

    return answers
