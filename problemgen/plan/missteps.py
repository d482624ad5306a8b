"""What can go wrong in one step, derived from the step's own algebra.

No list of mistakes is ever complete; the expression of a step is. In a product a factor may be inverted, left out or
taken twice, or the whole stand upside down; in a sum a term may be left out, stand alone or have the other sign; of
several, one picks another than the least, adds them up, or takes their average. What the law's file lists as an error
has a sentence of its own and goes first; these are the rest.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import TypeAlias

from problemgen.model.expression import Expression, names_in
from problemgen.model.plan import Mistake, Plan, Step
from problemgen.model.quantity import quantity_named

__all__ = ["COMMONEST", "Misstep", "commonest", "factors_of", "missteps_of", "product_of", "replaced"]

COMMONEST = frozenset(
    {
        "upside-down",
        "inverted",
        "left-out",
        "coefficient-left-out",
        "coefficient-inverted",
        "ratio-left-out",
        "sum",
        "average",
    }
)
"""Those that every instructor meets in every class: common practice, no source."""

_MOST_NAMES = 7
"""Quantities of an expression that is worked term by term: of the shipped ones none has more than six.

A line through five points looks up twelve, and a calculator's own program works it: what goes wrong there is listed
with its law.
"""

_Factor: TypeAlias = tuple[Expression, int]
"""A factor of a product and its exponent."""

_ONE: Expression = ("num", "1")


@dataclass(frozen=True)
class Misstep:
    """One way in which a step goes wrong: how, by a code; which operands (ids); and what is worked then."""

    how: str
    what: tuple[str, ...]
    expression: Expression


@lru_cache(maxsize=8192)
def missteps_of(expression: Expression) -> tuple[Misstep, ...]:
    """All ways in which an expression goes wrong, each result once, the commoner way first."""
    found: dict[Expression, Misstep] = {}
    if len(set(names_in(expression))) > _MOST_NAMES:
        return ()
    for misstep in sorted(_missteps(expression), key=lambda one: one.how not in COMMONEST):
        if misstep.expression != expression and not _is_reciprocal(misstep.expression):
            found.setdefault(misstep.expression, misstep)
    return tuple(found.values())


def _missteps(expression: Expression) -> Iterator[Misstep]:
    if isinstance(expression, str):
        return
    head = expression[0]
    if head in ("mul", "div", "pow", "neg"):
        yield from _of_product(expression)
    elif head == "add":
        yield from _of_sum(expression[1:])
    elif head in ("min", "max"):
        yield from _of_least(expression[1:])
    elif head == "least":
        yield from _of_least([value for _, value in expression[1:]])
    elif head in ("round", "floor"):
        yield from (Misstep(one.how, one.what, (head, one.expression)) for one in _missteps(expression[1]))


# products


def _of_product(expression: Expression) -> Iterator[Misstep]:
    number, factors = factors_of(expression)
    for index, (factor, power) in enumerate(factors):
        others = [*factors[:index], *factors[index + 1 :]]
        what = _whole(factor)
        if len(factors) > 1:
            yield Misstep("inverted", what, product_of(number, [*others, (factor, -power)]))
            yield Misstep("left-out", what, product_of(number, others))
        yield Misstep("twice", what, product_of(number, [*factors, (factor, 1 if power > 0 else -1)]))
        for inner in _missteps(factor):
            yield Misstep(inner.how, inner.what, product_of(number, [*others, (inner.expression, power)]))
    if len(factors) > 1:
        flipped = [(factor, -power) for factor, power in factors]
        yield Misstep("upside-down", (), product_of(1 / number, flipped))
        yield Misstep("upside-down", (), product_of(number, flipped))
        yield from _of_ratios(number, factors)
    yield from _of_coefficients(number, factors)


def _of_ratios(number: Fraction, factors: Sequence[_Factor]) -> Iterator[Misstep]:
    """Of two factors of one kind, one over the other: the ratio left out, or upside down."""
    for over in factors:
        for under in factors:
            if over[1] > 0 > under[1] and _kind(over[0]) and _kind(over[0]) == _kind(under[0]):
                rest = [one for one in factors if one not in (over, under)]
                what = (*_whole(over[0]), *_whole(under[0]))
                if rest:
                    yield Misstep("ratio-left-out", what, product_of(number, rest))
                    flipped = [(over[0], -over[1]), (under[0], -under[1])]
                    yield Misstep("ratio-inverted", what, product_of(number, [*rest, *flipped]))


def _of_coefficients(number: Fraction, factors: Sequence[_Factor]) -> Iterator[Misstep]:
    """Of the whole numbers in front: left out, one of them left out, the other way round."""
    size = abs(number)
    if size == 1:
        return
    sign = 1 if number > 0 else -1
    yield Misstep("coefficient-left-out", (), product_of(Fraction(sign), factors))
    yield Misstep("coefficient-inverted", (), product_of(1 / number, factors))
    yield Misstep("coefficient-twice", (), product_of(number * size, factors))
    if size.numerator != 1 and size.denominator != 1:
        for part in (Fraction(size.numerator), Fraction(1, size.denominator)):
            yield Misstep("coefficient-left-out", (), product_of(sign * part, factors))


def factors_of(expression: Expression) -> tuple[Fraction, list[_Factor]]:
    """A product taken apart: the number in front of a product, and its other factors with their exponents."""
    if _is_number(expression):
        return Fraction(expression[1]), []
    if isinstance(expression, str) or expression[0] not in ("mul", "div", "pow", "neg"):
        return Fraction(1), [(expression, 1)]
    if expression[0] == "neg":
        number, factors = factors_of(expression[1])
        return -number, factors
    if expression[0] == "pow":
        number, factors = factors_of(expression[1])
        return number ** expression[2], [(factor, power * expression[2]) for factor, power in factors]
    number, factors = Fraction(1), []
    for index, operand in enumerate(expression[1:]):
        inner, more = factors_of(operand)
        sign = -1 if expression[0] == "div" and index else 1
        number *= inner**sign
        factors += [(factor, power * sign) for factor, power in more]
    return number, factors


def product_of(number: Fraction, factors: Iterable[_Factor]) -> Expression:
    """The product of a number and factors with their exponents, written as a quotient where some are negative."""
    powers: dict[Expression, int] = {}
    for factor, power in factors:
        powers[factor] = powers.get(factor, 0) + power
    over = [_raised(factor, power) for factor, power in powers.items() if power > 0]
    under = [_raised(factor, -power) for factor, power in powers.items() if power < 0]
    if abs(number.numerator) != 1:
        over.insert(0, ("num", str(abs(number.numerator))))
    if number.denominator != 1:
        under.insert(0, ("num", str(number.denominator)))
    top = _times(over)
    whole: Expression = ("div", top, _times(under)) if under else top
    return ("neg", whole) if number < 0 else whole


def _raised(factor: Expression, power: int) -> Expression:
    return factor if power == 1 else ("pow", factor, power)


def _times(factors: Sequence[Expression]) -> Expression:
    return ("mul", *factors) if len(factors) > 1 else factors[0] if factors else _ONE


# sums


def _of_sum(terms: Sequence[Expression]) -> Iterator[Misstep]:
    for index, term in enumerate(terms):
        others = [*terms[:index], *terms[index + 1 :]]
        what = _whole(term)
        yield Misstep("term-alone", what, _positive(term))
        yield Misstep("term-left-out", what, _positive(_plus(others)))
        yield Misstep("sign", what, _plus([*others, _negative(term)]))
        for inner in _missteps(term):
            yield Misstep(inner.how, inner.what, _plus([*terms[:index], inner.expression, *terms[index + 1 :]]))


def _plus(terms: Sequence[Expression]) -> Expression:
    return ("add", *terms) if len(terms) > 1 else terms[0]


def _negative(term: Expression) -> Expression:
    return term[1] if term[0] == "neg" else ("neg", term)


def _positive(term: Expression) -> Expression:
    """A term as it is written alone: nobody hands in a negative mass."""
    return term[1] if term[0] == "neg" else term


# the least of several


def _of_least(values: Sequence[Expression]) -> Iterator[Misstep]:
    if len(values) < 2:
        return
    for value in values:
        yield Misstep("another", _whole(value), value)
    total = ("add", *values)
    yield Misstep("sum", (), total)
    yield Misstep("average", (), ("div", total, ("num", str(len(values)))))


# words of expressions


def _whole(expression: Expression) -> tuple[str, ...]:
    return tuple(dict.fromkeys(names_in(expression)))


def _kind(expression: Expression) -> str:
    return quantity_named(expression).kind if isinstance(expression, str) else ""


def _is_number(expression: Expression) -> bool:
    return not isinstance(expression, str) and expression[0] == "num"


def _is_reciprocal(expression: Expression) -> bool:
    """Whether nothing stands above the line: nobody works 1 over two measured values, or answers with a coefficient."""
    return _is_number(expression) or (expression[0] == "div" and _is_number(expression[1]))


def replaced(expression: Expression, name: str, by: Expression) -> Expression:
    """An expression with another one in the place of a quantity (by id)."""
    if isinstance(expression, str):
        return by if expression == name else expression
    return tuple(
        part if index == 0 or isinstance(part, int) or expression[0] == "num" else replaced(part, name, by)
        for index, part in enumerate(expression)
    )


# as mistakes of a plan


@lru_cache(maxsize=512)
def commonest(plan: Plan) -> tuple[Mistake, ...]:
    """The commonest of them along a plan, each at one step; none that the laws list, no molar mass and no count."""
    listed = {rewrite for mistake in plan.mistakes for rewrite in mistake.rewrites}
    return tuple(
        _derived(step, misstep)
        for step in plan.steps
        if step.rounding not in ("molar mass", "whole")
        for misstep in missteps_of(step.expression)
        if misstep.how in COMMONEST and (step.quantity.id, misstep.expression) not in listed
    )


def _derived(step: Step, misstep: Misstep) -> Mistake:
    """A misstep as a mistake of a plan, by an id of its own: `upside-down:amount(acetone)`."""
    name = ":".join((misstep.how, step.quantity.id, *misstep.what))
    return Mistake(name, misstep.how.replace("-", " "), "", ((step.quantity.id, misstep.expression),))
