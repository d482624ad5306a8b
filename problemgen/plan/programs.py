"""Many ways to work the same steps in plain floats, worked at once: what several of them share is worked once.

The same operations in the same order as in `problemgen.plan.plain`, so that both come to the same numbers to the last
bit. A program is one list of operations on two numbers each, worked from the first to the last.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from fractions import Fraction
from functools import partial, reduce
from operator import add, mul, truediv
from typing import Any, TypeAlias

from problemgen.model.expression import Expression
from problemgen.plan.plain import beside_least, divided, nearest, plain_value, whole_number, whole_part

__all__ = ["Program", "Run", "worked"]

Run: TypeAlias = Sequence[tuple[str, Expression]]
"""Steps in the order in which they are worked: the id of the quantity that each yields, and its expression."""

_Operation: TypeAlias = Callable[[Any, Any], Any]


def _of_one(work: Callable[[Any], float], operand: Any, _: Any) -> float:
    return work(operand)


def _joined(first: tuple[float, ...], last: float) -> tuple[float, ...]:
    return (*first, last)


def _two_by_two(numbers: tuple[float, ...]) -> float:
    return beside_least([*zip(numbers[::2], numbers[1::2], strict=True)])


_FOLDED: Mapping[str, _Operation] = {"add": add, "mul": mul, "min": min, "max": max, "div": divided}
_SINGLE: Mapping[str, _Operation] = {
    "neg": lambda operand, _: -operand,
    "floor": partial(_of_one, whole_part),
    "round": partial(_of_one, nearest),
    "least": partial(_of_one, _two_by_two),
}


def worked(run: Run, values: Mapping[str, float]) -> dict[str, float]:
    """The values after a run: those that it yields in the place of the others; nan for no value."""
    result = dict(values)
    for name, expression in run:
        result[name] = plain_value(expression, result)
    return result


class Program:
    """Some runs that start from the same values; each operation on the same numbers is done once for all of them."""

    def __init__(self, runs: Sequence[Run]) -> None:
        """Take the runs, of a step or more; results come in their order."""
        found = _Operations()
        results = [found.run(run) for run in runs]
        self._letters, self._numbers = tuple(found.letters), tuple(found.numbers)
        places = [*found.letters.values(), *found.numbers.values(), *found.work]
        place_of = {node: place for place, node in enumerate(places)}
        self._work = [(work, place_of[a], place_of[b]) for work, a, b in found.work.values()]
        self._quick = [(truediv if work is divided else work, a, b) for work, a, b in self._work]
        self._results = [[place_of[node] for node in run] for run in results]
        self._lasts = [run[-1] for run in self._results]

    def each(self, values: Mapping[str, float]) -> list[list[float]]:
        """What each step of each run yields; nan for no value. KeyError for a name without a value."""
        numbers = self._worked(values)
        return [[numbers[place] for place in run] for run in self._results]

    def lasts(self, values: Mapping[str, float]) -> list[float]:
        """What the last step of each run yields; nan for no value. KeyError for a name without a value."""
        numbers = self._worked(values)
        return [numbers[place] for place in self._lasts]

    def _worked(self, values: Mapping[str, float]) -> list[Any]:
        try:
            return self._done(self._quick, values)
        except ZeroDivisionError:  # hardly ever: all is worked again, with nan for what cannot be
            return self._done(self._work, values)

    def _done(self, work: Iterable[tuple[_Operation, int, int]], values: Mapping[str, float]) -> list[Any]:
        """What is looked up, the numbers, and behind them the result of each operation."""
        numbers: list[Any] = [values[letter] for letter in self._letters]
        numbers += self._numbers
        take = numbers.append
        for operation, a, b in work:
            take(operation(numbers[a], numbers[b]))
        return numbers


class _Operations:
    """The operations of some runs, numbered as they are met, each once; an operand goes by its number."""

    def __init__(self) -> None:
        self.letters: dict[str, int] = {}  # the quantities that are looked up
        self.numbers: dict[Any, int] = {}
        self.work: dict[int, tuple[_Operation, int, int]] = {}
        self._known: dict[tuple[Any, int, int], int] = {}

    def run(self, run: Run) -> list[int]:
        """The results of the steps of a run."""
        known: dict[str, int] = {}
        for name, expression in run:
            known[name] = self._worked(expression, known)
        return [known[name] for name, _ in run]

    def _next(self) -> int:
        return len(self.letters) + len(self.numbers) + len(self.work)

    def _number(self, number: Any) -> int:
        return self.numbers.setdefault(number, self._next())

    def _done(self, head: Any, work: _Operation, a: int, b: int) -> int:
        """The result of an operation, by what it goes by."""
        place = self._known.setdefault((head, a, b), self._next())
        self.work.setdefault(place, (work, a, b))
        return place

    def _worked(self, expression: Expression, known: Mapping[str, int]) -> int:
        if isinstance(expression, str):
            return known[expression] if expression in known else self.letters.setdefault(expression, self._next())
        head, *rest = expression
        if head == "num":
            return self._number(float(Fraction(rest[0])))
        if head == "pow":
            return self._power(self._worked(rest[0], known), int(rest[1]))
        if head == "least":
            operands = self._together([self._worked(one, known) for pair in rest for one in pair])
        elif head == "whole":
            operands = self._together([self._worked(one, known) for one in rest[1:]])
            index = int(rest[0])
            return self._done((head, index), partial(_of_one, partial(whole_number, index)), operands, operands)
        elif head in _FOLDED:
            return self._folded(head, [self._worked(one, known) for one in rest])
        else:
            operands = self._worked(rest[0], known)
        return self._done(head, _SINGLE[head], operands, operands)

    def _folded(self, head: str, operands: Sequence[int]) -> int:
        return reduce(partial(self._done, head, _FOLDED[head]), operands)

    def _together(self, operands: Sequence[int]) -> int:
        """Some numbers in a row, for what needs all of them."""
        return reduce(partial(self._done, "joined", _joined), operands, self._number(()))

    def _power(self, base: int, exponent: int) -> int:
        product = self._folded("mul", [base] * max(1, abs(exponent)))
        return product if exponent > 0 else self._folded("div", [self._number(1.0), product])
