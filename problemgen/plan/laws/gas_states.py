"""Gases in two states: one portion of a gas before and after a change of pressure, volume, temperature or amount."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from problemgen.model.expression import Expression
from problemgen.model.problem import Scene
from problemgen.model.quantity import Quantity, Role
from problemgen.plan.law import Instance, Law, Misuse, Relation, as_expression, letters, solved
from problemgen.plan.laws.gases import CELSIUS, CELSIUS_WORDS, LETTERS, ZERO, has_states, state

__all__ = ["LAWS"]

p1, V1, n1, T1, p2, V2, n2, T2 = letters("p1 V1 n1 T1 p2 V2 n2 T2")

UNCHANGED = p1 * V1 * n2 * T2 - p2 * V2 * n1 * T1
"""pV/(nT) before less pV/(nT) afterwards, cleared of fractions."""

PAIRS = {"p": (p1, p2), "V": (V1, V2), "n": (n1, n2), "T": (T1, T2)}

INVERTED = {
    "p": "pressure-ratio-inverted",
    "V": "volume-ratio-inverted",
    "n": "amount-ratio-inverted",
    "T": "temperature-ratio-inverted",
}
"""The misuse that turns a pair of letters round."""

WORDS = "Before and afterwards pV/(nT) has one value; what does not change drops out. Temperatures are in kelvin."


def _changes(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in scene.species.values():
        if has_states(scene, species):
            first, second = state(scene, species, Role.INITIAL), state(scene, species, Role.FINAL)
            changing = [letter for letter in LETTERS if first[letter] != second[letter]]
            if len(changing) > 1:
                yield _change(law, first, second, changing)


def _change(law: Law, first: Mapping[str, Quantity], second: Mapping[str, Quantity], changing: list[str]) -> Instance:
    """The law over what changes: what does not change drops out of it."""
    binding = {f"{letter}1": first[letter] for letter in changing}
    binding |= {f"{letter}2": second[letter] for letter in changing}
    ones = {symbol: 1 for letter in LETTERS if letter not in changing for symbol in PAIRS[letter]}
    direct = dict(_solutions(UNCHANGED.subs(ones), binding))
    mistaken = {
        (misuse, name): expression
        for misuse, of, relation in _mistaken(changing)
        for name, expression in _solutions(relation.subs(ones), binding)
        if name[0] != of
    }
    return Instance(law, binding, direct=direct, mistaken=mistaken)


def _mistaken(changing: Iterable[str]) -> Iterator[tuple[str, str, Relation]]:
    """The misuses, with the letter of the pair that each turns round: its own quantities do not show it."""
    for letter in changing:
        one, other = PAIRS[letter]
        yield INVERTED[letter], letter, UNCHANGED.subs({one: other, other: one}, simultaneous=True)
    if "T" in changing:
        yield CELSIUS, "", UNCHANGED.subs({T1: T1 - ZERO, T2: T2 - ZERO}, simultaneous=True)


def _solutions(relation: Relation, binding: Mapping[str, Quantity]) -> Iterator[tuple[str, Expression]]:
    names = {name: quantity.id for name, quantity in binding.items()}
    for pair in PAIRS.values():
        for symbol in pair:
            solution = solved(relation, symbol, 1) if symbol.name in binding else None
            if solution is not None:
                yield symbol.name, as_expression(solution, names)


CHANGE_OF_STATE = Law(
    id="change-of-state",
    title="Two states of one gas",
    relation=None,
    instances=_changes,
    words=dict.fromkeys((symbol.name for pair in PAIRS.values() for symbol in pair), WORDS),
    source="green-book-2007 2.11: pV = nRT; derived: the same amount in two states",
    misuses=(
        Misuse(CELSIUS, *CELSIUS_WORDS, None, everywhere=True),
        Misuse(
            "pressure-ratio-inverted",
            "the ratio of pressures upside down",
            "A higher pressure: does it go with less room or more, with a lower temperature or a higher one?",
            None,
        ),
        Misuse(
            "volume-ratio-inverted",
            "the ratio of volumes upside down",
            "More room: does it go with a lower pressure or a higher one, with a lower temperature or a higher one?",
            None,
        ),
        Misuse(
            "temperature-ratio-inverted",
            "the ratio of temperatures upside down",
            "A higher temperature: does it go with less room or more, with a lower pressure or a higher one?",
            None,
        ),
        Misuse(
            "amount-ratio-inverted",
            "the ratio of amounts upside down",
            "More gas: does it go with less room or more, with a lower pressure or a higher one?",
            None,
        ),
    ),
)


LAWS = (CHANGE_OF_STATE,)
