"""Families of cells that are built from the parts: each part by itself, and in a usual cell."""

from __future__ import annotations

from collections.abc import Iterator

from tests.support.person_cells import Cell, Family
from tests.support.person_parts import APPROXIMATIONS, LABELS, NUMERALS, TAILS, UNITS, Part, composed

__all__ = ["BUILT"]

_NONE, _NUMERAL, _UNIT = Part(""), Part("39.5", "39.5"), Part("mmol", "mmol")


def _numerals() -> Iterator[Cell]:
    for numeral in NUMERALS:
        yield composed(_NONE, _NONE, numeral, _NONE, _NONE)
        yield composed(_NONE, _NONE, numeral, _UNIT, _NONE)
        yield composed(Part("n(NaOH) = "), _NONE, numeral, Part("mol", "mol"), _NONE)


def _labels() -> Iterator[Cell]:
    for label in LABELS:
        yield composed(label, _NONE, _NUMERAL, _NONE, _NONE)
        if not label.meaning:
            yield composed(label, _NONE, _NUMERAL, _UNIT, _NONE)


def _ends() -> Iterator[Cell]:
    """A label's unit and another behind the number: the same, one of the same kind, one of another kind."""
    for label in LABELS:
        if label.meaning:
            other = {"mmol": "mol", "mol": "mmol", "g": "mg"}.get(label.meaning, "g")
            yield composed(label, _NONE, _NUMERAL, Part(label.meaning, label.meaning), _NONE)
            yield composed(label, _NONE, _NUMERAL, Part(other, other), _NONE)


def _approximations() -> Iterator[Cell]:
    for about in APPROXIMATIONS:
        yield composed(_NONE, about, _NUMERAL, _UNIT, _NONE)
        yield composed(_NONE, about, _NUMERAL, _NONE, _NONE)
        yield composed(_NONE, about, Part(".0395", "0.0395"), Part("mol", "mol"), _NONE)


def _tails() -> Iterator[Cell]:
    for tail in TAILS:
        yield composed(_NONE, _NONE, _NUMERAL, _UNIT, tail)
        yield composed(_NONE, _NONE, _NUMERAL, _NONE, tail)


def _said(cells: Iterator[Cell], read: bool) -> tuple[Cell, ...]:
    """Of these cells, those that a person reads, or those that make them ask."""
    return tuple(one for one in cells if bool(one.accepted) is read)


BUILT: tuple[Family, ...] = (
    Family("number", _said(_numerals(), read=True)),
    Family("number that is none", _said(_numerals(), read=False)),
    Family("unit", _said((composed(_NONE, _NONE, _NUMERAL, unit, _NONE) for unit in UNITS), read=True)),
    Family("unit that is none", _said((composed(_NONE, _NONE, _NUMERAL, unit, _NONE) for unit in UNITS), read=False)),
    Family("label", _said(_labels(), read=True)),
    Family("label that changes the meaning", _said(_labels(), read=False)),
    Family("the same unit at both ends", _said(_ends(), read=True)),
    Family("two units that disagree", _said(_ends(), read=False)),
    Family("about", _said(_approximations(), read=True)),
    Family("bound or factor", _said(_approximations(), read=False)),
    Family("word behind", _said(_tails(), read=True)),
    Family("word behind that changes the meaning", _said(_tails(), read=False)),
)
