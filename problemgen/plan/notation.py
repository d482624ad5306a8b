"""The notation of relations: `m = rho V`, as a textbook prints it.

    equation = sum "=" sum
    formulas = letter ":=" sum { ";" letter ":=" sum }
    sum      = ["-"] product { ("+" | "-") product }
    product  = power { power } [ "/" power ]              what stands side by side is multiplied
    power    = atom [ "^" (whole number | letter) ]
    atom     = number | letter | "(" sum ")" | "(" letter "in" unit ")" | function "(" sum { "," sum } ")"
    function = "min" | "max" | "round"

An equation is solved for whichever of its letters is sought. A formula is worked as it is written, in its order.
`(V in mL)` is the bare number that a student has who works in that unit. Nothing is guessed: `a / b c` is refused,
since some read it as `a / (b c)`. The texts are this program's own, and none is evaluated as code.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction
from functools import lru_cache
from typing import Any

from problemgen.chemistry.units import read_unit
from problemgen.late import late
from problemgen.model.expression import Expression, names_in

__all__ = ["NotationError", "are_formulas", "formulas_of", "letters_of", "relation_of"]

sympy = late("sympy")

_TOKEN = re.compile(
    r"\s*(?:(?P<number>\d+(?:\.\d+)?)|(?P<letter>[A-Za-z_][A-Za-z_0-9]*)|(?P<sign>:=|[-+/^()=,;]))", re.ASCII
)
_UNIT = re.compile(r"\s*([^\s()]+)\s*\)")
_FUNCTIONS = ("min", "max", "round")


class NotationError(ValueError):
    """A relation of this program's own that cannot be read: what was found, where, and what was expected."""


def are_formulas(text: str) -> bool:
    """Whether a text holds formulas, each worked as it is written, and not an equation to be solved."""
    return ":=" in text


@lru_cache(maxsize=1024)
def formulas_of(text: str) -> Mapping[str, Expression]:
    """The formulas of a text by the letter that each is for, as expressions over letters. Raises NotationError.

    >>> formulas_of("net := more - less")
    {'net': ('add', 'more', ('neg', 'less'))}
    """
    reader = _Reader(text)
    found: dict[str, Expression] = {}
    while True:
        letter = reader.letter()
        reader.expect(":=")
        found[letter] = reader.sum()
        if not reader.take(";"):
            reader.end()
            return found


@lru_cache(maxsize=1024)
def _sides(text: str) -> tuple[Expression, Expression]:
    reader = _Reader(text)
    left = reader.sum()
    reader.expect("=")
    right = reader.sum()
    reader.end()
    return left, right


@lru_cache(maxsize=1024)
def letters_of(text: str) -> tuple[str, ...]:
    """The letters of an equation, each once, in the order written. Raises NotationError.

    >>> letters_of("m = rho V")
    ('m', 'rho', 'V')
    """
    left, right = _sides(text)
    return tuple(dict.fromkeys((*names_in(left), *names_in(right))))


@lru_cache(maxsize=1024)
def relation_of(text: str) -> Any:
    """An equation as a sympy expression that is zero when it holds. Raises NotationError.

    >>> relation_of("m = rho V")
    V*rho - m
    """
    left, right = _sides(text)
    return _symbolic(right) - _symbolic(left)


def _symbolic(expression: Expression) -> Any:
    if isinstance(expression, str):
        return sympy.Symbol(expression, positive=True)
    head, *operands = expression
    if head == "num":
        return sympy.Rational(operands[0])
    if head == "pow":
        power = operands[1]
        return _symbolic(operands[0]) ** (_symbolic(power) if isinstance(power, str) else power)
    parts = [_symbolic(one) for one in operands]
    match head:
        case "add":
            return sympy.Add(*parts)
        case "mul":
            return sympy.Mul(*parts)
        case "div":
            return parts[0] / parts[1]
        case "neg":
            return -parts[0]
    raise NotationError(f"{head} stands in formulas (:=) only: no equation with it is solved")


class _Reader:
    """One text, read from left to right."""

    def __init__(self, text: str) -> None:
        self.text, self.place = text, 0

    def _next(self) -> tuple[str, str]:
        """The next token's kind and text; ("", "") at the end."""
        found = _TOKEN.match(self.text, self.place)
        if found is None:
            if self.text[self.place :].strip():
                raise self._error("a number, a letter or an operation")
            return "", ""
        kind = found.lastgroup or ""
        return kind, found[kind]

    def _error(self, expected: str) -> NotationError:
        rest = self.text[self.place :].strip()
        return NotationError(f"{self.text!r}: {rest!r} where {expected} was expected")

    def _skip(self) -> None:
        found = _TOKEN.match(self.text, self.place)
        assert found is not None
        self.place = found.end()

    def take(self, token: str) -> bool:
        """Whether the next token is this one; then it is read."""
        is_it = self._next()[1] == token
        if is_it:
            self._skip()
        return is_it

    def expect(self, token: str) -> None:
        """Read this token."""
        if not self.take(token):
            raise self._error(repr(token))

    def end(self) -> None:
        """Nothing may be left."""
        if self._next()[1]:
            raise self._error("the end")

    def letter(self) -> str:
        """Read a letter."""
        kind, text = self._next()
        if kind != "letter":
            raise self._error("a letter")
        self._skip()
        return text

    def sum(self) -> Expression:
        """Read a sum."""
        terms: list[Expression] = [("neg", self._product()) if self.take("-") else self._product()]
        while True:
            if self.take("+"):
                terms.append(self._product())
            elif self.take("-"):
                terms.append(("neg", self._product()))
            else:
                return terms[0] if len(terms) == 1 else ("add", *terms)

    def _product(self) -> Expression:
        factors = [self._power()]
        while self._starts_factor():
            factors.append(self._power())
        top: Expression = factors[0] if len(factors) == 1 else ("mul", *factors)
        if not self.take("/"):
            return top
        quotient: Expression = ("div", top, self._power())
        if self._starts_factor() or self._next()[1] == "/":
            raise self._error("brackets around what is divided by")
        return quotient

    def _starts_factor(self) -> bool:
        kind, text = self._next()
        return kind in ("number", "letter") or text == "("

    def _power(self) -> Expression:
        base = self._atom()
        if not self.take("^"):
            return base
        kind, text = self._next()
        if kind == "letter":
            return ("pow", base, self.letter())
        if kind != "number" or not text.isdigit():
            raise self._error("a whole number or a letter")
        self._skip()
        return ("pow", base, int(text))

    def _atom(self) -> Expression:
        kind, text = self._next()
        if kind == "number":
            self._skip()
            return ("num", str(Fraction(text)))
        if kind == "letter":
            self._skip()
            return self._called(text) if text in _FUNCTIONS else text
        self.expect("(")
        inside = self.sum() if self._next()[0] != "letter" or not self._is_in_unit() else self._in_unit()
        self.expect(")")
        return inside

    def _called(self, name: str) -> Expression:
        self.expect("(")
        operands = [self.sum()]
        while self.take(","):
            operands.append(self.sum())
        self.expect(")")
        return (name, *operands)

    def _is_in_unit(self) -> bool:
        return re.match(r"\s*\w+\s+in\s", self.text[self.place :], re.ASCII) is not None

    def _in_unit(self) -> Expression:
        """The bare number of a quantity in a unit: a factor, and an offset for degrees Celsius."""
        letter = self.letter()
        self.expect("in")
        found = _UNIT.match(self.text, self.place)
        if found is None:
            raise self._error("a unit and a closing bracket")
        unit = read_unit(found[1])
        self.place = found.end(1)
        offset = unit.from_engine(Fraction(0))
        factor = unit.from_engine(Fraction(1)) - offset
        scaled: Expression = letter if factor == 1 else ("mul", ("num", str(factor)), letter)
        return scaled if not offset else ("add", scaled, ("num", str(offset)))
