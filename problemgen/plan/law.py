"""What a law is: a relation between quantities, its usual errors, and the words of its worked solution.

A law is written once, over letters, in the notation of `problemgen.plan.notation`. An `Instance` binds the letters to
the quantities of one problem. An error is another relation over the same letters: the one that a student who makes this
mistake works with. `problemgen.plan.table` declares them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property, lru_cache
from math import prod
from typing import Any

from problemgen.late import late
from problemgen.model.expression import Expression, names_in
from problemgen.model.plan import Rounding
from problemgen.model.problem import Scene
from problemgen.model.quantity import Quantity
from problemgen.plan.notation import are_formulas, formulas_of, letters_of, relation_of
from problemgen.remembered import Table

__all__ = [
    "CommonError",
    "Instance",
    "Law",
    "as_expression",
    "difference",
    "scaled",
    "solved",
]

sympy, solveset = late("sympy"), late("sympy.solvers.solveset")

_NU = "nu"
"""The stoichiometric number of an instance's species, in relations: its value is put in before a law is solved."""


@dataclass(frozen=True)
class CommonError:
    """A usual mistake with a law.

    `relation` replaces the law's, as an equation or as formulas; None where the instances bring their own. `hint` tells
    the student what to look at and gives no answer away.
    `everywhere`: a student who makes it makes it in every instance of the law along a plan.
    `only_for`: the letters that the error can be solved for, where not for all.
    """

    id: str
    title: str
    hint: str
    relation: str | None
    everywhere: bool = False
    harmless: bool = False  # where the step comes out as it should all the same, nothing needs to show it
    only_for: frozenset[str] = frozenset()


@dataclass(frozen=True)
class Instance:
    """A law bound to the quantities of one problem.

    `direct` holds an expression a letter where the number of terms varies by problem (a sum over elements, the
    least of several extents): it stands for the law's relation. `mistaken` holds, likewise, the expressions of
    errors, by error and letter. `extra` binds letters that only formulas and errors use, to quantities by their ids,
    to expressions, or to plain numbers.
    """

    law: Law
    binding: Mapping[str, Quantity]
    nu: int = 1
    direct: Mapping[str, Expression] = field(default_factory=dict)
    mistaken: Mapping[tuple[str, str], Expression | None] = field(default_factory=dict)
    extra: Mapping[str, Expression | Fraction] = field(default_factory=dict)

    @cached_property
    def ids(self) -> tuple[tuple[str, str], ...]:
        """The letters with their quantities' ids."""
        return tuple((letter, quantity.id) for letter, quantity in self.binding.items())

    def solution(self, letter: str) -> Expression | None:
        """The law solved for a letter, over quantity ids; None where it cannot be."""
        if self.direct:
            return self.direct.get(letter)
        if self.law.formulas:
            return self._worked(self.law.formulas.get(letter))
        return self._solved(self.law.relation, letter)

    def error(self, error: CommonError, letter: str) -> Expression | None:
        """The error solved for a letter; None where it does not apply to that letter."""
        if (error.id, letter) in self.mistaken:
            return self.mistaken[error.id, letter]
        if error.relation is None or (error.only_for and letter not in error.only_for):
            return None
        if are_formulas(error.relation):
            return self._worked(formulas_of(error.relation).get(letter))
        return self._solved(error.relation, letter)

    def _solved(self, relation: str | None, letter: str) -> Expression | None:
        if relation is None:
            return None
        nu = self.nu if _NU in letters_of(relation) else 1
        return self._worked(_over_letters(relation, letter, nu))

    @cached_property
    def _names(self) -> Mapping[str, Expression | Fraction]:
        return {**dict(self.ids), **self.extra, _NU: Fraction(self.nu)}

    def _worked(self, formula: Expression | None) -> Expression | None:
        """A formula over letters as one over quantity ids; None for none, and where a letter stands for nothing."""
        if formula is None or any(name not in self._names for name in names_in(formula)):
            return None
        return _expression(_bound(formula, self._names))


@dataclass(frozen=True, eq=False)
class Law:
    """A law of the plan. `words` holds a sentence a letter that the law may be solved for.

    `formulas` hold the law solved for a letter, where they are told: then it is solved for no other letter.
    """

    id: str
    title: str
    relation: str | None
    instances: Callable[[Law, Scene], Iterable[Instance]]
    words: Mapping[str, str]
    source: str
    errors: tuple[CommonError, ...] = ()
    rounding: Rounding = "figures"
    formulas: Mapping[str, Expression] = field(default_factory=dict)


@lru_cache(maxsize=4096)
def solved(relation: Any, letter: Any, nu: int) -> Any | None:
    """A relation solved for a letter, the stoichiometric number put in; None where it has no single solution.

    A relation is a sympy expression that is zero where it holds, `letter` a symbol. What is divided by stands for
    something positive, so that a relation may be brought to one denominator first.
    """
    bound = relation.subs(sympy.Symbol(_NU, positive=True), nu)
    solutions = _linear(bound, letter)
    if solutions is None:
        solutions = _linear(sympy.fraction(sympy.together(bound))[0], letter)
    if solutions is None:
        solutions = sympy.solve(bound, letter)
    return sympy.factor(solutions[0]) if len(solutions) == 1 else None


def _linear(relation: Any, letter: Any) -> list[Any] | None:
    """The solutions for a letter in which a relation is linear; None where it is not.

    Nearly all are linear in every letter, and then sympy's general way takes ten times as long.
    """
    try:
        slope, rest = solveset.linear_coeffs(relation, letter)
    except solveset.NonlinearError:
        return None
    return [-rest / slope] if slope else []


def _tuples(data: Any) -> Expression | None:
    return tuple(map(_tuples, data)) if isinstance(data, list) else data


@lru_cache(maxsize=4096)
@Table[Expression | None]("algebra", plain=lambda found: found, read=_tuples, most=4096).remembering
def _over_letters(relation: str, letter: str, nu: int) -> Expression | None:
    """The relation solved for a letter, as data over its letters: the same for every problem that the law is met in."""
    solution = solved(relation_of(relation), sympy.Symbol(letter, positive=True), nu)
    return None if solution is None else as_expression(solution, {one.name: one.name for one in solution.free_symbols})


def _bound(formula: Expression, names: Mapping[str, Expression | Fraction]) -> Expression | Fraction:
    """A formula with quantity ids, expressions or numbers in the place of its letters."""
    if isinstance(formula, str):
        return names[formula]
    head, *operands = formula
    if head == "num":
        return formula
    if head == "pow":
        base, power = operands
        number = names[power] if isinstance(power, str) else power
        assert isinstance(number, int | Fraction)
        return ("pow", _bound(base, names), int(number))
    parts = [_bound(one, names) for one in operands]
    if head in ("mul", "div"):
        return _multiplied(head, parts)
    return (head, *map(_expression, parts))


def _multiplied(head: str, parts: Sequence[Expression | Fraction]) -> Expression | Fraction:
    """A product or quotient; the numbers in it are worked out first."""
    if not any(isinstance(one, Fraction) for one in parts):
        return (head, *parts)
    if head == "div":
        top, bottom = parts
        if isinstance(bottom, Fraction):
            return scaled(top, 1 / bottom) if not isinstance(top, Fraction) else top / bottom
        return ("div", _expression(top), bottom)
    ratio = prod((one for one in parts if isinstance(one, Fraction)), start=Fraction(1))
    factors = [one for one in parts if not isinstance(one, Fraction)]
    if not factors:
        return ratio
    return scaled(factors[0] if len(factors) == 1 else ("mul", *factors), ratio)


def _expression(value: Expression | Fraction) -> Expression:
    return ("num", str(value)) if isinstance(value, Fraction) else value


def as_expression(relation: Any, names: Mapping[str, Expression]) -> Expression:
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


def scaled(one: Expression, ratio: Fraction) -> Expression:
    """A quantity, by id, or an expression times a ratio of whole numbers: `2 n / 3`."""
    top: Expression = one if ratio.numerator == 1 else ("mul", ("num", str(ratio.numerator)), one)
    return top if ratio.denominator == 1 else ("div", top, ("num", str(ratio.denominator)))


def difference(whole: Quantity, part: Quantity) -> Expression:
    """What is left of a quantity when another is taken away, in the order in which a person writes it."""
    return ("add", whole.id, ("neg", part.id))


def _product(relation: Any, names: Mapping[str, Expression]) -> Expression:
    if relation.could_extract_minus_sign():
        return ("neg", as_expression(-relation, names))
    top, bottom = sympy.fraction(relation)
    if bottom == 1:
        return _factors(top, names)
    return ("div", _factors(top, names), _factors(bottom, names))


def _factors(product: Any, names: Mapping[str, Expression]) -> Expression:
    if product.is_Pow:
        return ("pow", as_expression(product.base, names), int(product.exp))
    if not product.is_Mul:
        return as_expression(product, names)
    return ("mul", *(_factors(factor, names) for factor in product.as_ordered_factors()))
