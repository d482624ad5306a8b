"""Chemical equations: reading, balancing exactly, comparing.

equation = side arrow side
side     = term ("+" term)*
term     = [coefficient] formula       "2H2O" and "2 H2O"; coefficients are whole, 1 when left out
arrow    = "->" | "-->" | "→" | "⟶" | "=" | "<=>" | "⇌"

Formulas are read by `problemgen.chemistry.formula`. A plus sign is taken as a charge where it stands
directly behind a formula and before a space, the end, a state or another plus ("Na+ + Cl-", "Na++Cl-").
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from problemgen.chemistry.formula import Formula, read_formula
from problemgen.chemistry.linear import has_positive_solution, null_space
from problemgen.errors import EquationError, ImpossibleError, UnbalancedError, UnderdeterminedError
from problemgen.language.messages import _

__all__ = [
    "CHARGE",
    "RULES",
    "Equation",
    "Term",
    "balance",
    "check_balanced",
    "imbalance",
    "read_equation",
    "same_equation",
]

CHARGE = "charge"

_ARROW = re.compile("<=>|-->|->|→|⟶|⇌|=")
_PLUS = re.compile(r"(?<=\s)\+|(?<!\^)(?<!\^[0-9])\+(?!\s|$|\+|\((?:s|l|g|aq)\))")
_TERM = re.compile(r"([0-9]*)\s*(.*)", re.DOTALL)
_FRACTION = re.compile(r"[0-9]+\s*[/.,]\s*[0-9]|[½⅓¼]")
# No equation of the laboratory comes near: they keep a hostile text from stalling the reader.
_LONGEST = 1000
_MOST_TERMS = 24
_GREATEST_COEFFICIENT = 999_999

RULES: Mapping[str, object] = {
    "arrow": _ARROW,
    "plus": _PLUS,
    "term": _TERM,
    "fraction": _FRACTION,
    "longest": _LONGEST,
    "most_terms": _MOST_TERMS,
    "greatest_coefficient": _GREATEST_COEFFICIENT,
}
"""What the practice page reads of this: `problemgen.practice.rules` carries it into the page."""


@dataclass(frozen=True)
class Term:
    """A species of an equation with its coefficient, a whole number from 1."""

    coefficient: int
    formula: Formula

    @property
    def text(self) -> str:
        """The term in ASCII: "2 H2O(l)", without a coefficient of 1."""
        number = f"{self.coefficient} " if self.coefficient > 1 else ""
        return number + self.formula.with_state


@dataclass(frozen=True)
class Equation:
    """A chemical equation: the terms of both sides as they were written."""

    left: tuple[Term, ...]
    right: tuple[Term, ...]

    @property
    def text(self) -> str:
        """The equation in ASCII: "2 H2 + O2 -> 2 H2O"."""
        sides = (" + ".join(term.text for term in side) for side in (self.left, self.right))
        return " -> ".join(sides)

    def coefficient(self, formula: str) -> int:
        """The coefficient of a species, given in any spelling; the left side is searched first.

        Raises FormulaError, and EquationError where the species does not occur.
        """
        sought = read_formula(formula)
        for term in (*self.left, *self.right):
            if term.formula.text == sought.text and sought.state in {None, term.formula.state}:
                return term.coefficient
        raise EquationError(f"{sought.with_state} does not occur in {self.text}")


def read_equation(text: str) -> Equation:
    """Read an equation, balanced or not; the grammar is in the module's docstring.

    Raises EquationError, and FormulaError for a formula that cannot be read.

    >>> read_equation("2H2 + O2 = 2H2O").text
    '2 H2 + O2 -> 2 H2O'
    """
    if len(text) > _LONGEST:
        raise EquationError(
            _("an equation of {n} characters; at most {most} are read").format(n=len(text), most=_LONGEST)
        )
    sides = _ARROW.split(text)
    if len(sides) != 2:
        told = (
            _("{text} has no arrow; an equation has one, written ->")
            if len(sides) == 1
            else _("{text} has {n} arrows; an equation has one, written ->")
        )
        raise EquationError(told.format(text=repr(text), n=len(sides) - 1))
    left, right = (_read_side(side, text) for side in sides)
    if len(left) + len(right) > _MOST_TERMS:
        told = _("an equation of {n} terms; at most {most} are read")
        raise EquationError(told.format(n=len(left) + len(right), most=_MOST_TERMS))
    return Equation(left, right)


def _read_side(side: str, whole: str) -> tuple[Term, ...]:
    """The terms of one side, each species once."""
    terms = tuple(_read_term(part, whole) for part in _PLUS.split(side))
    seen: set[str] = set()
    for term in terms:
        species = term.formula.with_state
        if species in seen:
            told = _("{species} stands twice on one side of {text}")
            raise EquationError(told.format(species=species, text=repr(whole)))
        seen.add(species)
    return terms


def _read_term(part: str, whole: str) -> Term:
    """A coefficient and a formula."""
    stripped = part.strip()
    if not stripped:
        raise EquationError(_("a term is missing in {text}").format(text=repr(whole)))
    if _FRACTION.match(stripped):
        told = _("{text}: coefficients are whole numbers; multiply the equation through")
        raise EquationError(told.format(text=repr(stripped)))
    match = _TERM.match(stripped)
    number, formula = match.groups() if match else ("", stripped)
    if number.startswith("0") or len(number) > len(str(_GREATEST_COEFFICIENT)):
        told = _("{text}: a coefficient is a whole number from 1 to {most}")
        raise EquationError(told.format(text=repr(stripped), most=_GREATEST_COEFFICIENT))
    return Term(int(number or "1"), read_formula(formula))


def imbalance(equation: Equation) -> Mapping[str, int]:
    """What does not balance: element, or "charge", to right minus left; empty when balanced."""
    left, right = _totals(equation.left), _totals(equation.right)
    differences = {key: right.get(key, 0) - left.get(key, 0) for key in _keys(equation)}
    return {key: difference for key, difference in differences.items() if difference}


def _contents(formula: Formula) -> dict[str, int]:
    """Atoms and charge of a formula: charge is part of the composition."""
    return {**formula.composition, CHARGE: formula.charge}


def _totals(terms: Iterable[Term]) -> dict[str, int]:
    """Atoms and charge of one side."""
    total: dict[str, int] = {}
    for term in terms:
        for key, count in _contents(term.formula).items():
            total[key] = total.get(key, 0) + count * term.coefficient
    return total


def _keys(equation: Equation) -> list[str]:
    """The elements in order of first appearance, then the charge."""
    terms = (*equation.left, *equation.right)
    elements = dict.fromkeys(symbol for term in terms for symbol, _ in term.formula.counts)
    return [*elements, CHARGE]


def balance(equation: Equation) -> Equation:
    """The equation with the least whole coefficients that balance atoms and charge.

    The coefficients given are ignored. Exact: the null space of the matrix of compositions. Raises
    ImpossibleError where no positive coefficients exist, UnderdeterminedError where several
    independent sets of them do.

    >>> balance(read_equation("MnO4- + Fe^2+ + H+ -> Mn^2+ + Fe^3+ + H2O")).text
    'MnO4- + 5 Fe^2+ + 8 H+ -> Mn^2+ + 5 Fe^3+ + 4 H2O'
    """
    matrix = _matrix(equation)
    basis = null_space(matrix)
    if len(basis) > 1 and has_positive_solution(matrix):
        raise UnderdeterminedError(
            f"{_species(equation)} is balanced by {len(basis)} independent sets of coefficients: "
            "it is more than one reaction"
        )
    coefficients = basis[0] if len(basis) == 1 else []
    if not coefficients or min(coefficients) < 1:
        raise ImpossibleError(f"no positive coefficients balance {_species(equation)}{_one_sided(equation)}")
    return _with_coefficients(equation, coefficients)


def _matrix(equation: Equation) -> list[list[int]]:
    """Elements and charge by species; the right side counts negative."""
    columns = [(_contents(term.formula), 1) for term in equation.left]
    columns += [(_contents(term.formula), -1) for term in equation.right]
    return [[sign * counts.get(key, 0) for counts, sign in columns] for key in _keys(equation)]


def _one_sided(equation: Equation) -> str:
    """The elements that stand on one side only, as a hint."""
    left, right = _totals(equation.left), _totals(equation.right)
    alone = [key for key in _keys(equation) if key != CHARGE and (key in left) != (key in right)]
    if not alone:
        return ""
    verb = "stands" if len(alone) == 1 else "stand"
    return f": {', '.join(alone)} {verb} on one side only"


def _with_coefficients(equation: Equation, coefficients: list[int]) -> Equation:
    """The same species with other coefficients, in the order of the terms."""
    terms = [
        Term(number, term.formula) for number, term in zip(coefficients, (*equation.left, *equation.right), strict=True)
    ]
    split = len(equation.left)
    return Equation(tuple(terms[:split]), tuple(terms[split:]))


def _species(equation: Equation) -> str:
    """The equation without coefficients."""
    return _with_coefficients(equation, [1] * (len(equation.left) + len(equation.right))).text


def check_balanced(equation: Equation) -> None:
    """Raise UnbalancedError, with the balanced equation where there is one, unless it balances."""
    wrong = imbalance(equation)
    if not wrong:
        return
    left, right = _totals(equation.left), _totals(equation.right)
    counts = [(key, _number(key, left), _number(key, right)) for key in wrong]
    first, *others = counts
    text = f"{first[0]} {first[1]} on the left, {first[2]} on the right"
    text += "".join(f"; {key} {before}, {after}" for key, before, after in others)
    raise UnbalancedError(f"{equation.text} is not balanced: {text}. {_remedy(equation)}")


def _number(key: str, totals: Mapping[str, int]) -> str:
    """A count of atoms, or a charge with its sign."""
    number = totals.get(key, 0)
    return f"{number:+d}" if key == CHARGE and number else str(number)


def _remedy(equation: Equation) -> str:
    """The balanced equation, or why there is none."""
    try:
        return f"Balanced: {balance(equation).text}"
    except ImpossibleError:
        return f"No positive coefficients balance it{_one_sided(equation)}"
    except UnderdeterminedError:
        return "Several independent sets of coefficients balance it"


def same_equation(first: Equation, second: Equation) -> bool:
    """Whether two equations say the same: the same species on each side in the same proportions.

    The order of the terms is irrelevant. States are compared only where every term of both has one.
    """
    terms = [*first.left, *first.right, *second.left, *second.right]
    states = all(term.formula.state for term in terms)
    a, b = _amounts(first, states=states), _amounts(second, states=states)
    if a.keys() != b.keys():
        return False
    key = next(iter(a))
    return all(a[other] * b[key] == b[other] * a[key] for other in a)


def _amounts(equation: Equation, *, states: bool) -> dict[tuple[str, str], int]:
    """Side and species to coefficient."""
    amounts: dict[tuple[str, str], int] = {}
    for side, terms in (("left", equation.left), ("right", equation.right)):
        for term in terms:
            key = side, term.formula.with_state if states else term.formula.text
            amounts[key] = amounts.get(key, 0) + term.coefficient
    return amounts
