"""Gases in two states: one portion of a gas before and after a change of pressure, volume, temperature or amount."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction

from problemgen.language.messages import N_
from problemgen.model.problem import Scene
from problemgen.model.quantity import Quantity, Role
from problemgen.plan.law import Instance, Law
from problemgen.plan.laws.gases import CELSIUS, LETTERS, has_states, state
from problemgen.plan.table import by, error, law

__all__ = ["LAWS"]

_PAIRS = {letter: (f"{letter}1", f"{letter}2") for letter in LETTERS}


def _changes(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in scene.species.values():
        if has_states(scene, species):
            first, second = state(scene, species, Role.INITIAL), state(scene, species, Role.FINAL)
            changing = [letter for letter in LETTERS if first[letter] != second[letter]]
            if len(changing) > 1:
                yield _change(law, first, second, changing)


def _change(law: Law, first: Mapping[str, Quantity], second: Mapping[str, Quantity], changing: list[str]) -> Instance:
    """The law over what changes: what does not change is put in as 1, and drops out of it."""
    binding = {f"{letter}1": first[letter] for letter in changing}
    binding |= {f"{letter}2": second[letter] for letter in changing}
    ones = {one: Fraction(1) for pair in _PAIRS.values() for one in pair if one not in binding}
    in_kelvin = dict.fromkeys((CELSIUS.id, letter) for letter in binding) if "T" not in changing else {}
    return Instance(law, binding, mistaken=in_kelvin, extra=ones)


CHANGE_OF_STATE = law(
    "change-of-state", N_("Two states of one gas"), "p1 V1 n2 T2 = p2 V2 n1 T1",
    instances=_changes,
    says=dict.fromkeys(
        (one for pair in _PAIRS.values() for one in pair),
        N_("Before and afterwards pV/(nT) has one value; what does not change drops out. Temperatures are in kelvin."),
    ),
    source="green-book-2007 2.11: pV = nRT; derived: the same amount in two states",
    errors=[
        by(CELSIUS, "p1 V1 n2 (T2 in °C) = p2 V2 n1 (T1 in °C)"),
        error("pressure-ratio-inverted", "p2 V1 n2 T2 = p1 V2 n1 T1", N_("the ratio of pressures upside down"),
              N_("A higher pressure: does it go with less room or more, with a lower temperature or a higher one?"),
              at="V1 V2 n1 n2 T1 T2"),
        error("volume-ratio-inverted", "p1 V2 n2 T2 = p2 V1 n1 T1", N_("the ratio of volumes upside down"),
              N_("More room: does it go with a lower pressure or a higher one, with a lower temperature or a "
                 "higher one?"), at="p1 p2 n1 n2 T1 T2"),
        error("temperature-ratio-inverted", "p1 V1 n2 T1 = p2 V2 n1 T2", N_("the ratio of temperatures upside down"),
              N_("A higher temperature: does it go with less room or more, with a lower pressure or a higher one?"),
              at="p1 p2 V1 V2 n1 n2"),
        error("amount-ratio-inverted", "p1 V1 n1 T2 = p2 V2 n2 T1", N_("the ratio of amounts upside down"),
              N_("More gas: does it go with less room or more, with a lower pressure or a higher one?"),
              at="p1 p2 V1 V2 T1 T2"),
    ],
)  # fmt: skip

LAWS = (CHANGE_OF_STATE,)
