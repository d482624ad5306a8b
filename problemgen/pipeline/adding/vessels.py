"""How much room a reaction takes: molar masses, volumes of reagents as they are poured, the flasks that suit them."""

from __future__ import annotations

from collections.abc import Iterable

from problemgen.model.banks import Banks
from problemgen.plan.laws.scaling import FLASK_SHARE, FLASKS

__all__ = ["flasks_for", "molar_mass"]

_LIQUID = 2
"""mL of liquid, solvent and all, for a mmol of product: of the organic preparations in the bank that tell scale and
flasks, the largest flask holds 2.9 mL for a mmol at the upper end in the middle, and is filled to two thirds."""


def molar_mass(banks: Banks, name: str) -> float:
    """The molar mass of a substance of the banks, g/mol."""
    counts = banks.substances[name].formula.composition
    return float(sum(banks.weights[symbol].value * count for symbol, count in counts.items()))


def flasks_for(banks: Banks, reagents: Iterable[tuple[float, str]], low: float, high: float) -> list[int]:
    """The capacities in mL that suit a scale in mmol of product: from that for its lower end to that for its upper.

    `reagents` are mmol for a mmol of product, and ids.
    """
    liquid = max(sum(number * _millilitres(banks, name) for number, name in reagents), _LIQUID)
    ends = [next((size for size in FLASKS if size * FLASK_SHARE >= end * liquid), FLASKS[-1]) for end in (low, high)]
    return [size for size in FLASKS if ends[0] <= size <= ends[1]]


def _millilitres(banks: Banks, name: str) -> float:
    """The volume of a mmol of a reagent as it is poured, neat or out of a bottle that is sold by its concentration."""
    one = banks.substances[name]
    if one.state == "liquid" and one.density is not None:
        return molar_mass(banks, name) / 1000 / float(one.density.value.value)
    sold = (bottle.concentration for bottle in banks.bottles.values() if bottle.of == name and not bottle.mass_percent)
    strength = next(filter(None, sold), None)
    return 1 / float(strength.value.value) if strength is not None and one.state is None else 0.0
