"""What a law is: a relation between quantities, its usual misuses, and the words of its worked solution.

A law is written once, in sympy, over letters. An `Instance` binds the letters to the quantities of one problem.
A misuse is another relation over the same letters: the one that a student who makes this mistake works with.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property, lru_cache
from typing import Any, TypeAlias

import sympy
from sympy.solvers.solveset import NonlinearError, linear_coeffs

from problemgen.model.expression import Expression, names_in
from problemgen.model.plan import Rounding
from problemgen.model.problem import Scene
from problemgen.model.quantity import Quantity

__all__ = [
    "Instance",
    "Law",
    "Misuse",
    "Relation",
    "as_expression",
    "coefficient_letter",
    "difference",
    "letters",
    "scaled",
    "solved",
]

Relation: TypeAlias = Any
"""A sympy expression that is zero when the law holds."""


def letters(names: str) -> tuple[Any, ...]:
    """Positive sympy symbols, one a name."""
    return tuple(sympy.Symbol(name, positive=True) for name in names.split())


coefficient_letter = sympy.Symbol("nu", positive=True)
"""The stoichiometric number of an instance's species; its value is put in before the law is solved."""


@dataclass(frozen=True)
class Misuse:
    """A usual mistake with a law.

    `relation` replaces the law's; `hint` tells the student what to look at and gives no answer away.
    `everywhere`: a student who makes it makes it in every instance of the law along a plan.
    `only_for`: the letters that the misuse can be solved for, where not for all.
    """

    id: str
    title: str
    hint: str
    relation: Relation
    everywhere: bool = False
    harmless: bool = False  # where the step comes out as it should all the same, nothing needs to show it
    only_for: frozenset[str] = frozenset()


@dataclass(frozen=True)
class Instance:
    """A law bound to the quantities of one problem.

    `direct` holds an expression a letter where the number of terms varies by problem (a sum over elements, the
    least of several extents): it stands for the law's relation. `mistaken` holds, likewise, the expressions of
    misuses, by misuse and letter. `extra` binds letters that only misuses use.
    """

    law: Law
    binding: Mapping[str, Quantity]
    nu: int = 1
    direct: Mapping[str, Expression] = field(default_factory=dict)
    mistaken: Mapping[tuple[str, str], Expression] = field(default_factory=dict)
    extra: Mapping[str, Expression] = field(default_factory=dict)

    @cached_property
    def ids(self) -> tuple[tuple[str, str], ...]:
        """The letters with their quantities' ids."""
        return tuple((letter, quantity.id) for letter, quantity in self.binding.items())

    def solution(self, letter: str) -> Expression | None:
        """The law solved for a letter, over quantity ids; None where it cannot be."""
        if self.direct:
            return self.direct.get(letter)
        return self._solved(self.law.relation, letter)

    def misuse(self, misuse: Misuse, letter: str) -> Expression | None:
        """The misuse solved for a letter; None where it does not apply to that letter."""
        if (misuse.id, letter) in self.mistaken:
            return self.mistaken[misuse.id, letter]
        if misuse.relation is None or (misuse.only_for and letter not in misuse.only_for):
            return None
        return self._solved(misuse.relation, letter)

    def _solved(self, relation: Relation, letter: str) -> Expression | None:
        solution = _over_letters(relation, letter, self.nu)
        names: dict[str, Expression] = {**dict(self.ids), **self.extra}
        if solution is None or any(name not in names for name in names_in(solution)):
            return None
        return _bound(solution, names)


@dataclass(frozen=True, eq=False)
class Law:
    """A law of the plan. `words` holds a sentence a letter that the law may be solved for."""

    id: str
    title: str
    relation: Relation
    instances: Callable[[Law, Scene], Iterable[Instance]]
    words: Mapping[str, str]
    source: str
    misuses: tuple[Misuse, ...] = ()
    rounding: Rounding = "figures"


@lru_cache(maxsize=4096)
def solved(relation: Relation, letter: Any, nu: int) -> Relation | None:
    """The relation solved for a letter, the stoichiometric number put in; None where it has no single solution.

    What is divided by stands for something positive, so that a relation may be brought to one denominator first.
    """
    bound = relation.subs(coefficient_letter, nu)
    solutions = _linear(bound, letter)
    if solutions is None:
        solutions = _linear(sympy.fraction(sympy.together(bound))[0], letter)
    if solutions is None:
        solutions = sympy.solve(bound, letter)
    return sympy.factor(solutions[0]) if len(solutions) == 1 else None


def _linear(relation: Relation, letter: Any) -> list[Relation] | None:
    """The solutions for a letter in which a relation is linear; None where it is not.

    Nearly all are linear in every letter, and then sympy's general way takes ten times as long.
    """
    try:
        slope, rest = linear_coeffs(relation, letter)
    except NonlinearError:
        return None
    return [-rest / slope] if slope else []


@lru_cache(maxsize=4096)
def _over_letters(relation: Relation, letter: str, nu: int) -> Expression | None:
    """The relation solved for a letter, as data over its letters: the same for every problem that the law is met in."""
    solution = solved(relation, sympy.Symbol(letter, positive=True), nu)
    return None if solution is None else as_expression(solution, {one.name: one.name for one in solution.free_symbols})


def _bound(expression: Expression, names: Mapping[str, Expression]) -> Expression:
    """An expression with quantity ids, or expressions, in the place of its letters."""
    if isinstance(expression, str):
        return names[expression]
    if expression[0] == "num":
        return expression
    return tuple(
        part if index == 0 or isinstance(part, int) else _bound(part, names) for index, part in enumerate(expression)
    )


def as_expression(relation: Relation, names: Mapping[str, Expression]) -> Expression:
    """A sympy expression as data, its symbols replaced by quantity ids or expressions.

    Quotients stay quotients (numerator over denominator), so that a step reads as it is worked.
    """
    if relation.is_Symbol:
        return names[relation.name]
    if relation.is_Rational:
        return ("num", str(relation))
    if relation.is_Add:
        return ("add", *(as_expression(term, names) for term in relation.as_ordered_terms()))
    if relation.is_Mul or relation.is_Pow:
        return _product(relation, names)
    heads = {sympy.Min: "min", sympy.Max: "max", sympy.floor: "floor"}
    return (heads[relation.func], *(as_expression(a, names) for a in sorted(relation.args, key=str)))


def scaled(name: str, ratio: Fraction) -> Expression:
    """A quantity, by id, times a ratio of whole numbers: `2 n / 3`."""
    top: Expression = name if ratio.numerator == 1 else ("mul", ("num", str(ratio.numerator)), name)
    return top if ratio.denominator == 1 else ("div", top, ("num", str(ratio.denominator)))


def difference(whole: Quantity, part: Quantity) -> Expression:
    """What is left of a quantity when another is taken away, in the order in which a person writes it."""
    return ("add", whole.id, ("neg", part.id))


def _product(relation: Relation, names: Mapping[str, Expression]) -> Expression:
    if relation.could_extract_minus_sign():
        return ("neg", as_expression(-relation, names))
    top, bottom = sympy.fraction(relation)
    if bottom == 1:
        return _factors(top, names)
    return ("div", _factors(top, names), _factors(bottom, names))


def _factors(product: Relation, names: Mapping[str, Expression]) -> Expression:
    if product.is_Pow:
        return ("pow", as_expression(product.base, names), int(product.exp))
    if not product.is_Mul:
        return as_expression(product, names)
    return ("mul", *(_factors(factor, names) for factor in product.as_ordered_factors()))
