"""An equation in words: read, its substances found, its one unknown product worked out, balanced."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from problemgen.chemistry.equation import Equation, Term, balance, imbalance
from problemgen.chemistry.formula import Formula
from problemgen.chemistry.salts import hill_formula
from problemgen.errors import EquationError, Fault, FaultsError, ImpossibleError, UnderdeterminedError
from problemgen.load.fault_log import FaultLog

__all__ = ["WordTerm", "balanced", "left_over", "read_words", "words_text"]

_ARROW = re.compile(r"\s*(?:<=>|-->|->|→|⟶|⇌|=>)\s*")
_PLUS = re.compile(r"\s\+(?=\s|$)")
_TERM = re.compile(r"(?:([1-9][0-9]{0,2})\s+)?(\S.*)")

_LOST = (
    "water", "hydrogen-chloride", "hydrogen-bromide", "acetic-acid", "methanol", "ethanol", "carbon-dioxide", "ammonia",
    "hydrogen", "nitrogen", "sulfur-dioxide", "sodium-chloride", "sodium-bromide", "potassium-chloride",
    "potassium-bromide", "lithium-chloride", "lithium-hydroxide", "triphenylphosphine-oxide",
)  # fmt: skip
"""What is often lost in a reaction, and left out when it is written down."""


@dataclass(frozen=True)
class WordTerm:
    """A term: its coefficient as written, and what it is called."""

    coefficient: int
    name: str


def read_words(text: str) -> tuple[tuple[WordTerm, ...], tuple[WordTerm, ...]]:
    """The two sides of an equation in words. Raises FaultsError with all faults.

    >>> read_words("2 benzaldehyde + acetone -> dibenzalacetone + 2 water")[1]
    (WordTerm(coefficient=1, name='dibenzalacetone'), WordTerm(coefficient=2, name='water'))
    """
    faults = FaultLog("add")
    sides = _ARROW.split(text.strip())
    if len(sides) != 2 or not all(sides):
        expected = "reagents, an arrow written ->, and products"
        faults.refuse("equation", repr(text), expected, 'For example: "2-methylfuran + maleic anhydride -> adduct".')
    read = tuple(tuple(_read_term(faults, term) for term in _PLUS.split(side)) for side in sides)
    for name, times in Counter(term.name.lower() for side in read for term in side).items():
        if times > 1:
            faults.add("equation", f"{name!r} {times} times", "each substance once")
    faults.stop()
    return read[0], read[1]


def _read_term(faults: FaultLog, text: str) -> WordTerm:
    match = _TERM.fullmatch(text.strip())
    if match is None:
        faults.refuse("equation", f"the term {text!r}", "a coefficient, where it is not 1, a space, and a name")
    return WordTerm(int(match[1] or 1), match[2].strip())


def left_over(left: Iterable[tuple[int, Formula]], right: Iterable[tuple[int, Formula]], product: WordTerm) -> str:
    """The formula of the one product that is not known, from the atoms left over; coefficients count as written.

    Raises FaultsError where nothing is left, or other atoms are on the right than on the left.
    """
    atoms: Counter[str] = Counter()
    for number, formula in left:
        atoms.update({symbol: number * count for symbol, count in formula.composition.items()})
    for number, formula in right:
        atoms.subtract({symbol: number * count for symbol, count in formula.composition.items()})
    rest = {symbol: count for symbol, count in atoms.items() if count}
    split = [symbol for symbol, count in rest.items() if count % product.coefficient]
    if not rest or min(rest.values()) < 0 or split:
        lacking = ", ".join(f"{-count} {symbol}" for symbol, count in rest.items() if count < 0)
        found = f"more on the right than on the left: {lacking}" if lacking else f"{_shown(rest)} left over"
        expected = f"the atoms of {product.coefficient} {product.name} left over from the reagents"
        hint = (
            "Write all coefficients that are not 1 and what else forms, or say `--product-formula` or "
            "`--product-smiles`."
        )
        raise FaultsError([Fault("add", "equation", found, expected, hint)])
    return hill_formula({symbol: count // product.coefficient for symbol, count in rest.items()})


def _shown(rest: Mapping[str, int]) -> str:
    return hill_formula(rest) if rest else "no atom is"


def balanced(
    left: Sequence[tuple[WordTerm, Formula]], right: Sequence[tuple[WordTerm, Formula]], others: Mapping[str, Formula]
) -> tuple[int, ...]:
    """The coefficients, left side first: those written where they balance, else the least that do.

    `others` are the formulas of the banks by id: where one of them on the right would balance it, the hint says so.
    Raises FaultsError where there are none, or several sets.
    """
    written = _equation(left, right)
    if not imbalance(written):
        return tuple(term.coefficient for term in (*written.left, *written.right))
    try:
        found = balance(written)
    except UnderdeterminedError as error:
        hint = "Write the coefficients that you mean."
        raise FaultsError([Fault("add", "equation", str(error), "one reaction, balanced", hint)]) from None
    except ImpossibleError as error:
        lost = _lost(written, others)
        hint = f"It balances with {' or with '.join(lost)} on the right." if lost else "Write all that forms."
        raise FaultsError([Fault("add", "equation", str(error), "an equation that can be balanced", hint)]) from None
    return tuple(term.coefficient for term in (*found.left, *found.right))


def _equation(left: Sequence[tuple[WordTerm, Formula]], right: Sequence[tuple[WordTerm, Formula]]) -> Equation:
    sides = (tuple(Term(word.coefficient, formula) for word, formula in side) for side in (left, right))
    return Equation(*sides)


def _lost(equation: Equation, others: Mapping[str, Formula]) -> list[str]:
    """The usual small products that would balance an equation, alone on the right beside what is there."""
    found = []
    for name in _LOST:
        if name in others and others[name].text not in {term.formula.text for term in equation.right}:
            try:
                balance(Equation(equation.left, (*equation.right, Term(1, others[name]))))
            except EquationError:
                continue
            found.append(name)
    return found


def words_text(left: Sequence[tuple[int, str]], right: Sequence[tuple[int, str]]) -> str:
    """An equation of ids or names with their coefficients.

    >>> words_text([(2, "hydrogen"), (1, "oxygen")], [(2, "water")])
    '2 hydrogen + oxygen -> 2 water'
    """
    sides = (" + ".join(f"{number} {name}" if number > 1 else name for number, name in side) for side in (left, right))
    return " -> ".join(sides)
