"""Expressions taken apart for print: sums of products, each product a list of factors over another."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import TypeAlias

from problemgen.model.expression import Expression

__all__ = ["Factor", "Product", "products"]

Factor: TypeAlias = str | Fraction | tuple[str, Expression]
"""A quantity's id, a plain number, or ("whole", expression): what is worked out as one number."""


@dataclass(frozen=True)
class Product:
    """Factors above and below the bar; `negative` is the sign in front."""

    top: tuple[Factor, ...]
    bottom: tuple[Factor, ...] = ()
    negative: bool = False

    @property
    def expression(self) -> Expression:
        """The product as an expression, without its sign."""
        top: Expression = ("mul", ("num", "1"), *map(_expressed, self.top))
        return ("div", top, ("mul", ("num", "1"), *map(_expressed, self.bottom))) if self.bottom else top

    def over(self, other: Product) -> Product:
        """The quotient."""
        sign = self.negative != other.negative
        return Product((*self.top, *other.bottom), (*self.bottom, *other.top), sign)

    def times(self, other: Product) -> Product:
        """The product."""
        return self.over(Product(other.bottom, other.top, other.negative))


def _expressed(factor: Factor) -> Expression:
    if isinstance(factor, Fraction):
        return ("num", str(factor))
    return factor if isinstance(factor, str) else factor[1]


@lru_cache(maxsize=4096)  # the steps of some hundred plans
def products(expression: Expression) -> tuple[Product, ...]:
    """The terms of a sum, those that are added before those that are taken away; one term for anything else."""
    terms = _terms(expression)
    return tuple(sorted(terms, key=lambda term: term.negative))


def _terms(expression: Expression) -> tuple[Product, ...]:
    if not isinstance(expression, str):
        if expression[0] == "add":
            return tuple(term for operand in expression[1:] for term in _terms(operand))
        if expression[0] == "neg":
            return tuple(Product(t.top, t.bottom, not t.negative) for t in _terms(expression[1]))
    return (_without_ones(_product(expression)),)


def _without_ones(term: Product) -> Product:
    """The product without factors of 1, which nobody writes; a lone 1 stays."""
    top, bottom = (tuple(f for f in side if f != 1) for side in (term.top, term.bottom))
    return Product(top if top or bottom else (Fraction(1),), bottom, term.negative)


def _product(expression: Expression) -> Product:
    if isinstance(expression, str):
        return Product((expression,))
    match expression:
        case ("num", text):
            number = Fraction(text)
            return Product((Fraction(number.numerator),), (Fraction(number.denominator),))
        case ("mul", *factors):
            whole = Product(())
            for factor in factors:
                whole = whole.times(_product(factor))
            return whole
        case ("div", top, bottom):
            return _product(top).over(_product(bottom))
        case ("neg", inner):
            plain = _product(inner)
            return Product(plain.top, plain.bottom, not plain.negative)
        case ("pow", base, power):
            plain = _product(base)
            negative = plain.negative and power % 2 == 1
            repeated = Product(plain.top * abs(power), plain.bottom * abs(power), negative)
            return repeated if power > 0 else Product(()).over(repeated)
    return Product((("whole", expression),))
