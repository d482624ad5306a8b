"""How a step may be worked wrongly, by what it is found to be: written apart from the misuses that the marking knows.

Each is another calculation in the place of the step's own. Where numbers are taken as they are printed on the sheet
(mL, not L), the student reads the result in the unit that the right calculation would have given; a wrong one is then
off by powers of a thousand as well.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

import numpy as np

from problemgen.audit.shapes import Copied, Extreme, Product, Scaled, Shape, Sum, made_up, shape_of, tried
from problemgen.chemistry.units import Unit, read_unit
from problemgen.exact.rounding import figures_text
from problemgen.model.expression import Expression
from problemgen.model.plan import Plan, Step
from problemgen.model.quantity import KINDS, Quantity

__all__ = ["Misuse", "Worksheet", "misuses_of"]

_REMEMBERED: Mapping[str, tuple[str, ...]] = {
    "gas_constant": ("0.08206",),
    "molar_volume": ("22.414", "24.0"),
}
"""Constants that are known by heart, for other conditions or other units than the sheet's, in L atm/(mol K) and L/mol.

Molar volumes at 0 °C and 1 atm and at room temperature: common practice, no source.
"""

_MASS_FIGURES = 5
"""The figures of a molar mass whose digits are exchanged: 126.07 g/mol."""


@dataclass(frozen=True)
class Misuse:
    """One step worked wrongly.

    `sort` is what is done, in words; `whole` what has to be alike in two steps for the same to be done in both, "" for
    what is done in one step alone.
    """

    sort: str
    at: str
    detail: str
    expression: Expression
    whole: str = ""

    @property
    def id(self) -> str:
        """What is done, with what, at which step."""
        return f"{self.sort} ({self.detail}) at {self.at}" if self.detail else f"{self.sort} at {self.at}"


@dataclass(frozen=True)
class Worksheet:
    """What lies before a student: the plan, and the unit of each number on the sheet or in an answer."""

    plan: Plan
    units: Mapping[str, Unit]
    given: Sequence[str]

    @classmethod
    def of(cls, plan: Plan, given: Mapping[str, str]) -> Worksheet:
        """The worksheet with these given values, a unit each."""
        asked = {one.quantity.id: read_unit(one.unit) for one in plan.asked if one.form == "number"}
        return cls(plan, asked | {name: read_unit(unit) for name, unit in given.items()}, tuple(given))

    def factor(self, name: str) -> Fraction:
        """One unit of a number as it stands on paper, in engine units."""
        unit = self.units.get(name)
        return Fraction(1) if unit is None or unit.offset else unit.factor

    def at_hand(self, step: Step) -> Iterator[Quantity]:
        """What a student has when a step is worked: what is given, and the results before it."""
        yield from self.plan.given
        for one in self.plan.steps:
            if one is step:
                return
            yield one.quantity

    def constants(self) -> frozenset[str]:
        """The ids of the constants."""
        return frozenset(one.quantity.id for one in self.plan.constants)


def misuses_of(worksheet: Worksheet, step: Step) -> list[Misuse]:
    """Every way to work a step wrongly, each number but once."""
    shape = shape_of(tried(step.expression), sorted(step.needs))
    quantities = {one.id: one for one in (*worksheet.at_hand(step), *(c.quantity for c in worksheet.plan.constants))}
    numbers = made_up([*quantities])
    seen = {_outcome(step.expression, numbers)}
    kept = []
    for misuse in _every(worksheet, step, shape, quantities):
        outcome = _outcome(misuse.expression, numbers)
        if outcome not in seen:
            seen.add(outcome)
            kept.append(misuse)
    return kept


def _outcome(expression: Expression, numbers: Mapping[str, np.ndarray[tuple[int, ...], np.dtype[np.float64]]]) -> str:
    """What a calculation comes to at made-up numbers, as text that two ways of working it have in common."""
    with np.errstate(all="ignore"):
        return " ".join(f"{value:.9e}" for value in tried(expression)(numbers))


def _every(worksheet: Worksheet, step: Step, shape: Shape, quantities: Mapping[str, Quantity]) -> Iterator[Misuse]:
    if isinstance(shape, Product):
        yield from _of_product(worksheet, step, shape, quantities)
    elif isinstance(shape, Sum):
        yield from (
            _of_weights(worksheet, step, shape) if _is_formula(worksheet, shape) else _of_sum(step, shape, quantities)
        )
    elif isinstance(shape, Scaled):
        yield from _of_scaled(step, shape, quantities)
    elif isinstance(shape, Extreme):
        yield from _of_extreme(step, shape)
    if step.needs <= worksheet.constants() and step.quantity.kind == "molar_mass":
        yield from _digits_exchanged(worksheet, step)
    yield from _of_share(step)
    yield from _taken_for(worksheet, step, shape, quantities)
    yield from _copied(worksheet, step)


# products


def _of_product(
    worksheet: Worksheet, step: Step, shape: Product, quantities: Mapping[str, Quantity]
) -> Iterator[Misuse]:
    like = _likeness(step, shape, quantities)
    if len(shape.powers) > 1:
        for name, power in shape.powers:
            kind = quantities[name].kind
            for sort, other in (("factor inverted", -power), ("factor left out", 0), ("factor twice", 2 * power)):
                changed = replace(shape, powers=_with(shape.powers, name, other))
                yield from _in_both(worksheet, step, shape, Misuse(sort, "", name, "", f"{like} {kind}"), changed)
    if len({power > 0 for _, power in shape.powers}) == 2:
        flipped = Product(shape.ratio if _is_decimal(shape.ratio) else 1 / shape.ratio, _flipped(shape.powers))
        yield from _in_both(worksheet, step, shape, Misuse("upside down", "", "", "", like), flipped)
    if not _is_decimal(shape.ratio):
        name = step.quantity.id
        counted = "coefficients"
        yield Misuse("ratio left out", name, "", _product_of(replace(shape, ratio=Fraction(1))), counted)
        yield Misuse("ratio inverted", name, "", _product_of(replace(shape, ratio=1 / shape.ratio)), counted)


def _in_both(worksheet: Worksheet, step: Step, right: Product, like: Misuse, wrong: Product) -> Iterator[Misuse]:
    """A wrong product in engine units, and with the numbers as they are printed, where it is another number then."""
    made = replace(like, at=step.quantity.id, whole=f"{like.sort} {like.whole}")
    yield replace(made, expression=_product_of(wrong))
    scale, after = Fraction(1), dict(wrong.powers)
    for name, power in right.powers:
        scale *= worksheet.factor(name) ** (power - after.get(name, 0))
    if scale != 1:
        detail = f"{like.detail}, as printed" if like.detail else "as printed"
        printed = replace(wrong, ratio=wrong.ratio * scale)
        yield replace(made, detail=detail, expression=_product_of(printed), whole=f"{made.whole} as printed")


def _with(powers: tuple[tuple[str, int], ...], name: str, power: int) -> tuple[tuple[str, int], ...]:
    changed = ((one, power if one == name else own) for one, own in powers)
    return tuple((one, own) for one, own in changed if own)


def _flipped(powers: tuple[tuple[str, int], ...]) -> tuple[tuple[str, int], ...]:
    return tuple((name, -power) for name, power in powers)


def _likeness(step: Step, shape: Product, quantities: Mapping[str, Quantity]) -> str:
    """The kinds of a product: amount = mass / molar mass is one calculation, whatever it is of."""
    kinds = sorted(f"{quantities[name].kind}^{power}" for name, power in shape.powers)
    return f"{step.quantity.kind} = {' '.join(kinds)}"


def _is_decimal(ratio: Fraction) -> bool:
    """Whether a ratio is a power of ten, which is there for the unit and says nothing of chemistry."""
    return {str(ratio.numerator).rstrip("0"), str(ratio.denominator).rstrip("0")} == {"1"}


def _product_of(shape: Product) -> Expression:
    """A product as a calculation."""
    ratio = [("num", str(shape.ratio))] if shape.ratio != 1 or not shape.powers else []
    factors = [*ratio, *(name if power == 1 else ("pow", name, power) for name, power in shape.powers)]
    return factors[0] if len(factors) == 1 else ("mul", *factors)


# sums


def _total_of(shape: Sum) -> Expression:
    """A sum as a calculation."""
    constant = [("num", str(shape.constant))] if shape.constant or not shape.terms else []
    terms = [*constant, *(name if times == 1 else ("mul", ("num", str(times)), name) for name, times in shape.terms)]
    return terms[0] if len(terms) == 1 else ("add", *terms)


def _sums(shape: Sum) -> Iterator[tuple[str, str, Sum]]:
    """Wrong sums: what is done, to which term."""
    for name, times in shape.terms:
        others = tuple(term for term in shape.terms if term[0] != name)
        if others or shape.constant:
            yield "term left out", name, replace(shape, terms=others)
            yield "term alone", name, Sum(Fraction(0), ((name, abs(times)),))
            yield "sign of a term", name, replace(shape, terms=(*others, (name, -times)))
        if abs(times) != 1:
            yield "ratio left out", name, replace(shape, terms=(*others, (name, times / abs(times))))
    if shape.constant and shape.terms:
        yield "term left out", "constant", replace(shape, constant=Fraction(0))


def _of_sum(step: Step, shape: Sum, quantities: Mapping[str, Quantity]) -> Iterator[Misuse]:
    kinds = " ".join(sorted(f"{quantities[name].kind} {times > 0}" for name, times in shape.terms))
    for sort, name, wrong in _sums(shape):
        kind = quantities[name].kind if name in quantities else ""
        whole = f"{sort} {step.quantity.kind} = {kinds} {kind} {quantities[name].role if kind else ''}"
        yield Misuse(sort, step.quantity.id, name, _total_of(wrong), whole)


def _is_formula(worksheet: Worksheet, shape: Sum) -> bool:
    return all(name in worksheet.constants() and times > 0 for name, times in shape.terms)


def _of_weights(worksheet: Worksheet, step: Step, shape: Sum) -> Iterator[Misuse]:
    """A molar mass: one subscript or one element is left out, or the heaviest element's mass is taken for it."""
    at, weights = step.quantity.id, {one.quantity.id: one.value for one in worksheet.plan.constants}
    for name, times in shape.terms:
        others = tuple(term for term in shape.terms if term[0] != name)
        yield Misuse("element left out", at, name, _total_of(replace(shape, terms=others)), f"element left out {name}")
        if times != 1:
            once = replace(shape, terms=(*others, (name, Fraction(1))))
            yield Misuse("subscript left out", at, name, _total_of(once), f"subscript left out {name}")
    heaviest = max(shape.terms, key=lambda term: term[1] * weights[term[0]])
    yield Misuse("element alone", at, heaviest[0], _total_of(Sum(Fraction(0), (heaviest,))))


def _digits_exchanged(worksheet: Worksheet, step: Step) -> Iterator[Misuse]:
    """Two digits of a molar mass exchanged: 126.07 as 162.07."""
    right = {one.quantity.id: one.value for one in worksheet.plan.constants}
    shape = shape_of(tried(step.expression), sorted(step.needs))
    terms = shape.terms if isinstance(shape, Sum) else ()
    if isinstance(shape, Product):
        terms = tuple((name, shape.ratio) for name, _ in shape.powers)
    digits = list(figures_text(sum((times * right[name] for name, times in terms), Fraction(0)), _MASS_FIGURES))
    for place in range(1, len(digits) - 1):
        first, second = digits[place], digits[place + 1]
        if first != second and "." not in (first, second):
            digits[place], digits[place + 1] = second, first
            yield Misuse("digits exchanged", step.quantity.id, "", ("num", "".join(digits)))
            return


# factors times a sum


def _of_scaled(step: Step, shape: Scaled, quantities: Mapping[str, Quantity]) -> Iterator[Misuse]:
    at, like = step.quantity.id, f"{step.quantity.kind} scaled"

    def scaled(factors: Product, total: Expression, divided: bool) -> Expression:
        top = _product_of(factors)
        return ("div", top, total) if divided else ("mul", top, total)

    for sort, name, wrong in _sums(shape.total):
        kind = quantities[name].kind if name in quantities else ""
        expression = scaled(shape.factors, _total_of(wrong), shape.divided)
        yield Misuse(sort, at, name, expression, f"{sort} {like} {kind}")
    total = _total_of(shape.total)
    for name, power in shape.factors.powers:
        for sort, other in (("factor inverted", -power), ("factor left out", 0)):
            changed = replace(shape.factors, powers=_with(shape.factors.powers, name, other))
            yield Misuse(
                sort, at, name, scaled(changed, total, shape.divided), f"{sort} {like} {quantities[name].kind}"
            )
    yield Misuse("factor left out", at, "sum", _product_of(shape.factors))
    flipped = Product(shape.factors.ratio, _flipped(shape.factors.powers))
    yield Misuse("upside down", at, "", scaled(flipped, total, not shape.divided))
    yield Misuse("factor inverted", at, "sum", scaled(shape.factors, total, not shape.divided))


# the least of some


def _of_extreme(step: Step, shape: Extreme) -> Iterator[Misuse]:
    at = step.quantity.id
    for name in shape.names:
        yield Misuse("another than the least", at, name, name)
    if shape.greatest:  # of what is left over, and nothing is left of the others: their sum is the greatest
        return
    together: Expression = ("add", *shape.names)
    yield Misuse("sum for the least", at, "", together)
    yield Misuse("average for the least", at, "", ("div", together, ("num", str(len(shape.names)))))


# whatever the step is


def _of_share(step: Step) -> Iterator[Misuse]:
    if KINDS[step.quantity.kind].at_most_whole:
        whole: Expression = ("add", ("num", "1"), ("neg", step.expression))
        yield Misuse("complement", step.quantity.id, "", whole, f"complement {step.quantity.kind}")


def _taken_for(worksheet: Worksheet, step: Step, shape: Shape, quantities: Mapping[str, Quantity]) -> Iterator[Misuse]:
    """Another number in the place of one that the step needs: one of the same kind, one not converted, one by heart."""
    at = step.quantity.id
    if isinstance(shape, Extreme):
        return
    for name in sorted(step.needs):
        kind = quantities[name].kind
        if name not in worksheet.constants():
            for other in worksheet.at_hand(step):
                if other.kind == kind and other.id not in step.needs:
                    expression = _put(step.expression, name, other.id)
                    yield Misuse("another at hand", at, f"{other.id} for {name}", expression)
        unit = worksheet.units.get(name) if name in worksheet.given else None
        if unit is not None and (unit.offset or not _is_decimal(unit.factor)) and not isinstance(shape, Copied):
            expression = _put(step.expression, name, _as_printed(name, unit))
            yield Misuse("not converted", at, name, expression, f"not converted {kind}")
        for constant in _REMEMBERED.get(kind, ()):
            expression = _put(step.expression, name, ("num", constant))
            yield Misuse("constant by heart", at, f"{constant} for {name}", expression, f"{constant} for {kind}")


def _as_printed(name: str, unit: Unit) -> Expression:
    """A number as it stands on the sheet, taken for one in engine units."""
    return ("div", ("add", name, ("num", str(-unit.offset))), ("num", str(unit.factor)))


def _copied(worksheet: Worksheet, step: Step) -> Iterator[Misuse]:
    """A given value copied into the blank of a part: one that the step needs, or one of the same kind."""
    unit = next((read_unit(one.unit) for one in worksheet.plan.asked if one.quantity == step.quantity), None)
    if unit is None or unit.offset:
        return
    for quantity in worksheet.plan.given:
        own = worksheet.units.get(quantity.id)
        if own is not None and (quantity.id in step.needs or quantity.kind == step.quantity.kind):
            expression: Expression = ("mul", ("num", str(unit.factor)), _as_printed(quantity.id, own))
            yield Misuse("given value copied", step.quantity.id, quantity.id, expression)


def _put(expression: Expression, name: str, other: Expression) -> Expression:
    """A calculation with something else in the place of one quantity."""
    if isinstance(expression, str):
        return other if expression == name else expression
    head, *rest = expression
    if head == "num":
        return expression
    if head == "least":
        return (head, *(tuple(_put(one, name, other) for one in pair) for pair in rest))
    if head == "pow":
        return (head, _put(rest[0], name, other), rest[1])
    kept = rest[:1] if head == "whole" else []
    return (head, *kept, *(_put(one, name, other) for one in rest[len(kept) :]))
