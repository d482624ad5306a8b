"""A simulated student, who works a plan step by step with a calculator and writes results down, rounded.

This is written apart from the intervals that windows are made of: it reads the plan's steps as a student reads the
worked solution, does each in decimals, and rounds what is written down by one of the customs that honest work allows:

- atomic weights from this edition's table, with two or three decimals or all, or the least or greatest of the earlier
  tables; a usual value of each constant; 0 °C as 273.15 K or 273 K;
- a molar mass with two decimals or more, or with as many figures as the data have (three at least), or more;
- any other result with as many figures as its data support (three at least), one more, two more, four more, or all
  that the calculator shows;
- the answer from what was written down or from what the calculator still shows, with the figures that the data
  support, one more, two more or five more;
- half-way cases rounded up, or to the even digit.

An answer may also be cut behind the figures that the data support. Who makes a mistake has the same habits.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any

import numpy as np

from problemgen.audit.calculators import Calculator
from problemgen.audit.habits import Habits
from problemgen.chemistry.units import Unit, read_unit
from problemgen.model.expression import Expression
from problemgen.model.plan import Plan, Step
from problemgen.model.problem import Asked, Constant
from problemgen.model.quantity import KINDS, Kind, kind_named

__all__ = ["Measured", "Worker", "Workings", "key_in"]

UNLIMITED = 99
"""The figures of a number that limits nothing: a count, a coefficient, an atomic weight."""

LEAST = 3
"""The figures that are kept of any result at least."""

ALL = 12
"""The figures that a calculator shows."""

OF_A_CONSTANT = 4
"""The figures of an answer that no measured value limits."""

# Habits from tidy to careless: the figures of the data, one or two guard figures, four, all that the display has.
_FURTHER = (0, 1, 2, 4, ALL)
_FURTHER_AT_LAST = (0, 1, 2, 5)  # the same for an answer; nobody copies twelve figures
_ATMOSPHERE = Fraction("101.325")
_USUAL: Mapping[str, tuple[Fraction, ...]] = {
    "gas_constant": (
        Fraction("8.31446261815324"),
        Fraction("8.31"),
        Fraction("8.314"),
        Fraction("8.3145"),
        Fraction("0.0821") * _ATMOSPHERE,
        Fraction("0.08206") * _ATMOSPHERE,
    ),
    "avogadro": (Fraction("6.02214076e23"), Fraction("6.02e23"), Fraction("6.022e23")),
    "density": (Fraction(1000), Fraction(998), Fraction(997)),
}
"""The values of constants in use, in kPa·L/(mol·K), 1/mol and g/L: common practice, no source."""


@dataclass(frozen=True)
class Measured:
    """A given value as printed: a number in its unit, and the decimal place of its last digit."""

    value: Any
    place: Any
    unit: str


@dataclass(frozen=True)
class Workings:
    """What stands on a student's paper, by quantity id: results as written down, and as the calculator showed them."""

    written: dict[str, Any]
    shown: dict[str, Any]


@dataclass(frozen=True)
class Worker:
    """A student, or a column of them, at work on one plan."""

    plan: Plan
    data: Mapping[str, Measured]
    habits: Habits
    calculator: Calculator
    figures: dict[str, Any] = field(default_factory=dict)  # those that the data support, by quantity id
    workings: Workings = field(default_factory=lambda: Workings({}, {}))
    _memo: dict[str, Any] = field(default_factory=dict)  # habits at each step: the same each time it is worked

    def __post_init__(self) -> None:
        """Work the plan honestly."""
        self._count_figures()
        written, shown = self.workings.written, self.workings.shown
        for constant in self.plan.constants:
            written[constant.quantity.id] = self._looked_up(constant)
        for name, measured in self.data.items():
            written[name] = shown[name] = self._converted(name, measured)
        for step in self.plan.steps:
            self._work(step, step.expression, self.workings)

    # the two ways to work

    def mistaken(self, rewrites: Mapping[str, Expression], steps: Iterable[Step]) -> Iterator[tuple[str, Workings]]:
        """Work again what mistakes change: the rewritten steps and all that follow, a step at a time.

        Yields the quantity's id and the paper so far, one paper that is filled in as it goes.
        """
        workings = Workings(dict(self.workings.written), dict(self.workings.shown))
        for step in steps:
            self._work(step, rewrites.get(step.quantity.id, step.expression), workings)
            yield step.quantity.id, workings

    def answer(self, asked: Asked, workings: Workings, *, cut: bool = False) -> Any:
        """The number that is handed in for a part, in the unit asked for; cut behind the figures due, or rounded."""
        name = asked.quantity.id
        step = self.plan.step(asked.quantity)
        if step is not None and step.rounding == "whole":
            return self._in_unit(workings.written[name], read_unit(asked.unit))
        from_shown = self.habits.index(f"from shown: {name}", 2) == 1
        value = self._either(from_shown, workings.shown[name], workings.written[name])
        supported = self.figures[name]
        due = np.where(np.asarray(supported) < UNLIMITED, supported, OF_A_CONSTANT)
        number = self._in_unit(value, read_unit(asked.unit))
        if cut:
            return self.calculator.cut(number, self.calculator.leading(number) - due + 1)
        return self._to_figures(number, due + self.habits.pick_or_own("answer", _FURTHER_AT_LAST, name))

    # steps

    def _work(self, step: Step, expression: Expression, workings: Workings) -> None:
        name = step.quantity.id
        value = key_in(expression, workings.written, self.calculator)
        workings.shown[name] = value
        workings.written[name] = self._written_down(step, value)

    def _written_down(self, step: Step, value: Any) -> Any:
        if step.rounding in ("none", "whole"):
            return value
        if step.rounding == "molar mass":
            return self._molar_mass(value, step.quantity.id)
        own = self.figures[step.quantity.id]
        limited = np.where(np.asarray(own) < UNLIMITED, own, self._fewest)
        return self._to_figures(value, self._kept(step.quantity.id, limited))

    def _kept(self, name: str, supported: Any) -> Any:
        """The figures that are kept of a result whose data support so many."""
        if name not in self._memo:
            further = self.habits.pick_or_own("figures", _FURTHER, name)
            self._memo[name] = np.minimum(np.maximum(supported, LEAST) + further, ALL)
        return self._memo[name]

    def _molar_mass(self, value: Any, name: str) -> Any:
        by_decimals = self.habits.index("molar mass by decimals", 2) == 1
        decimals = self.habits.pick("decimals of molar masses", (2, 3, 4, 5))
        leading = self.calculator.leading(value)
        place = leading - self._kept(name, self._fewest) + 1
        # No molar mass is below 1 g/mol: a wrong one that is would lose all its figures by decimals.
        place = np.where(by_decimals & (np.asarray(leading) >= 0), -decimals, place)
        return self.calculator.to_place(value, place, self._to_even)

    def _to_figures(self, value: Any, figures: Any) -> Any:
        place = self.calculator.leading(value) - figures + 1
        return self.calculator.to_place(value, place, self._to_even)

    @property
    def _to_even(self) -> Any:
        return self.habits.index("half-way to even", 2) == 1

    @property
    def _fewest(self) -> Any:
        """The fewest figures among the data."""
        return self.figures[""]

    # what is given and looked up

    def _looked_up(self, constant: Constant) -> Any:
        number, kind = self.calculator.number, constant.quantity.kind
        if constant.low == constant.high:
            return number(constant.value)
        if kind in _USUAL:
            return self._one_of(f"value of {kind}", _USUAL[kind])
        exact = number(constant.value)
        tables = [
            exact,
            self.calculator.to_place(exact, -2, self._to_even),
            self.calculator.to_place(exact, -3, self._to_even),
            number(constant.low),
            number(constant.high),
        ]
        return self._chosen(self.habits.index("table of atomic weights", len(tables)), tables)

    def _one_of(self, habit: str, values: tuple[Fraction, ...]) -> Any:
        return self._chosen(self.habits.index(habit, len(values)), [self.calculator.number(one) for one in values])

    def _converted(self, name: str, measured: Measured) -> Any:
        """A given value in engine units; rounded where converting does more than move the decimal point."""
        unit = read_unit(measured.unit)
        calculator = self.calculator
        value = calculator.multiply(measured.value, calculator.number(unit.factor))
        if _moves_point(unit):
            return value
        if unit.offset == Fraction("273.15"):
            offset = self._one_of("0 °C in kelvin", (unit.offset, Fraction(273)))
            value = calculator.add(value, offset)
        elif unit.offset:
            value = calculator.add(value, calculator.number(unit.offset))
        return self._to_figures(value, self._kept(name, self.figures[name]))

    def _in_unit(self, value: Any, unit: Unit) -> Any:
        calculator = self.calculator
        if unit.offset:
            value = calculator.add(value, calculator.number(-unit.offset))
        return value if unit.factor == 1 else calculator.divide(value, calculator.number(unit.factor))

    def _either(self, condition: Any, one: Any, other: Any) -> Any:
        return self._chosen(np.asarray(condition).astype(np.int64), [other, one])

    def _chosen(self, which: Any, ways: list[Any]) -> Any:
        """Each student's own of several columns."""
        if np.ndim(which):
            return np.choose(which, np.broadcast_arrays(which, *ways)[1:])
        return ways[int(which)]

    # figures

    def _count_figures(self) -> None:
        """The significant figures that the data support, by the usual rules, from exact values."""
        calculator = self.calculator
        exact = {constant.quantity.id: calculator.number(constant.value) for constant in self.plan.constants}
        self.figures.update(dict.fromkeys(exact, UNLIMITED))
        for name, measured in self.data.items():
            unit = read_unit(measured.unit)
            value = calculator.multiply(measured.value, calculator.number(unit.factor))
            exact[name] = calculator.add(value, calculator.number(unit.offset)) if unit.offset else value
            counted = exact[name] if unit.offset else measured.value
            shown = np.maximum(calculator.leading(counted) - measured.place + 1, 1)
            self.figures[name] = _supported(KINDS[kind_named(name)], shown)
        self.figures[""] = UNLIMITED
        for name in self.data:
            self.figures[""] = np.minimum(self.figures[""], self.figures[name])
        for step in self.plan.steps:
            name = step.quantity.id
            exact[name] = key_in(step.expression, exact, calculator)
            self.figures[name] = _figures_of(step.expression, exact, self.figures, calculator)


def _supported(kind: Kind, shown: Any) -> Any:
    """The figures that a given value supports: no limit for a count, fewer than it shows for some readings."""
    if kind.is_counted:
        return UNLIMITED
    return shown if kind.most_figures is None else np.minimum(shown, kind.most_figures)


def _moves_point(unit: Unit) -> bool:
    """Whether converting a unit only moves the decimal point."""
    whole = {str(unit.factor.numerator).rstrip("0"), str(unit.factor.denominator).rstrip("0")}
    return whole == {"1"} and not unit.offset


def key_in(expression: Expression, known: Mapping[str, Any], calculator: Calculator) -> Any:
    """One calculation, keyed in as it stands."""
    if isinstance(expression, str):
        return known[expression]
    head, *rest = expression
    if head == "num":
        return calculator.number(Fraction(rest[0]))
    if head == "pow":
        return _power(key_in(rest[0], known, calculator), int(rest[1]), calculator)
    if head == "whole":
        return calculator.least_whole(int(rest[0]), [key_in(one, known, calculator) for one in rest[1:]])
    if head == "least":
        return _with_least([[key_in(one, known, calculator) for one in pair] for pair in rest], calculator)
    return _ARITHMETIC[head]([key_in(one, known, calculator) for one in rest], calculator)


def _folded(operation: str) -> Any:
    def work(operands: list[Any], calculator: Any) -> Any:
        result = operands[0]
        for operand in operands[1:]:
            result = getattr(calculator, operation)(result, operand)
        return result

    return work


_ARITHMETIC: Mapping[str, Any] = {
    "add": _folded("add"),
    "mul": _folded("multiply"),
    "div": _folded("divide"),
    "min": _folded("lesser"),
    "max": _folded("greater"),
    "neg": lambda operands, calculator: calculator.multiply(operands[0], calculator.number(Fraction(-1))),
    "floor": lambda operands, calculator: calculator.down(operands[0]),
    "round": lambda operands, calculator: calculator.to_place(operands[0], 0, False),
}


def _power(base: Any, exponent: int, calculator: Calculator) -> Any:
    product = base
    for _ in range(abs(exponent) - 1):
        product = calculator.multiply(product, base)
    return product if exponent > 0 else calculator.divide(calculator.number(Fraction(1)), product)


def _with_least(pairs: list[list[Any]], calculator: Calculator) -> Any:
    key, value = pairs[0]
    for other_key, other in pairs[1:]:
        value = calculator.beside_lesser(key, value, other_key, other)
        key = calculator.lesser(key, other_key)
    return value


def _figures_of(expression: Expression, exact: Mapping[str, Any], figures: Mapping[str, Any], c: Calculator) -> Any:
    """The figures of a result: the fewest of a product's factors; a sum keeps the last place that all its terms have.

    Source: NIST SP 811 (2008), appendix B.7, and general-chemistry courses.
    """
    if isinstance(expression, str):
        return figures[expression]
    head, *rest = expression
    if head in ("num", "whole", "floor", "round"):
        return UNLIMITED
    if head in ("pow", "neg"):
        return _figures_of(rest[0], exact, figures, c)
    if head == "least":
        return _with_least([[key_in(key, exact, c), _figures_of(one, exact, figures, c)] for key, one in rest], c)
    values = [key_in(one, exact, c) for one in rest]
    counts = [_figures_of(one, exact, figures, c) for one in rest]
    if head == "add":
        return _figures_of_sum(values, counts, key_in(expression, exact, c), c)
    if head in ("min", "max"):
        keys = values if head == "min" else [c.multiply(value, c.number(Fraction(-1))) for value in values]
        return _with_least([list(pair) for pair in zip(keys, counts, strict=True)], c)
    fewest = counts[0]
    for count in counts[1:]:
        fewest = np.minimum(fewest, count)
    return fewest


def _figures_of_sum(values: list[Any], counts: list[Any], total: Any, calculator: Calculator) -> Any:
    # A term that is 0 limits nothing: 22.40 − 0.00 is known to hundredths.
    places = [
        np.where(np.asarray(value) == 0, -UNLIMITED, calculator.leading(value) - count + 1)
        for value, count in zip(values, counts, strict=True)
    ]
    last = places[0]
    for place in places[1:]:
        last = np.maximum(last, place)
    return np.clip(calculator.leading(total) - last + 1, 1, UNLIMITED)
