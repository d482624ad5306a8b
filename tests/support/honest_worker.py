"""A worker who knows nothing of windows and works as a student may: an own way from the data to the answers.

The arithmetic is Decimal, by the usual rules for figures, apart from the product's: a check from outside.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from decimal import ROUND_FLOOR, ROUND_HALF_EVEN, ROUND_HALF_UP, Context, Decimal
from fractions import Fraction
from functools import lru_cache
from random import Random
from typing import NamedTuple

from problemgen.chemistry.units import Unit, read_unit
from problemgen.model.expression import Expression
from problemgen.model.fixed import Datum
from problemgen.model.plan import Plan
from problemgen.model.problem import Asked, Constant

__all__ = ["HonestWorker", "supported"]

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


def decimal(value: Fraction) -> Decimal:
    return WIDE.divide(Decimal(value.numerator), Decimal(value.denominator))


def leading(value: Decimal) -> int:
    return value.adjusted() if value else 0


class Known(NamedTuple):
    """A value with the figures that its data support."""

    value: Decimal
    figures: int


def worked(expression: Expression, known: Mapping[str, Known]) -> Known:
    """An expression in decimal arithmetic, with the significant figures of the usual rules.

    Products and quotients keep the fewest figures, sums and differences the last common decimal place.
    """
    if isinstance(expression, str):
        return known[expression]
    head, *rest = expression
    if head == "num":
        return written(rest[0])
    if head == "whole":
        return Known(least_whole(rest[0], [worked(amount, known).value for amount in rest[1:]]), UNLIMITED)
    if head == "least":
        pairs = [(worked(key, known).value, worked(value, known)) for key, value in rest]
        return min(pairs, key=lambda pair: pair[0])[1]
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


@lru_cache(maxsize=1024)
def written(number: str) -> Known:
    """A number of a law: exact."""
    return Known(decimal(Fraction(number)), UNLIMITED)


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
    places = [leading(term.value) - term.figures + 1 for term in terms if term.value]  # a 0 limits nothing
    place = max(places, default=0)
    value = Decimal(0)
    for term in terms:
        value = WIDE.add(value, term.value)
    return Known(value, min(UNLIMITED, max(1, leading(value) - place + 1)))


@lru_cache(maxsize=64)
def constants_of(plan: Plan) -> Mapping[str, Known]:
    """The constants of a plan, which every worker starts from."""
    return {constant.quantity.id: Known(decimal(constant.value), UNLIMITED) for constant in plan.constants}


@lru_cache(maxsize=256)
def moves_point(unit: Unit) -> bool:
    """Whether a value is converted by moving the decimal point alone."""
    factor = unit.factor
    return not unit.offset and str(factor.numerator).rstrip("0") + str(factor.denominator).rstrip("0") == "11"


def started(plan: Plan, data: Mapping[str, Datum]) -> dict[str, Known]:
    """Constants and data in engine units, as told."""
    known = dict(constants_of(plan))
    for name, datum in data.items():
        unit = read_unit(datum.unit)
        value = decimal(unit.to_engine(datum.written.value))
        figures = leading(value) - datum.written.place + 1 if unit.offset else datum.written.figures
        known[name] = Known(value, UNLIMITED if name.startswith("protons(") else figures)  # counted, not measured
    return known


def supported(plan: Plan, data: Mapping[str, Datum]) -> dict[str, int]:
    """The figures that the data support, of every quantity of a plan."""
    return supported_from(plan, started(plan, data))


def supported_from(plan: Plan, start: Mapping[str, Known]) -> dict[str, int]:
    """The same from constants and data."""
    known = dict(start)
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
        start = started(plan, data)
        figures = supported_from(plan, start)
        known = self.start(plan, data, start, figures)
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

    def start(
        self, plan: Plan, data: Mapping[str, Datum], start: Mapping[str, Known], figures: Mapping[str, int]
    ) -> dict[str, Known]:
        known = dict(start)
        for constant in plan.constants:
            known[constant.quantity.id] = Known(self.constant(constant), UNLIMITED)
        for name, datum in data.items():
            if not moves_point(read_unit(datum.unit)):
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
