"""Between which amounts each reagent is taken, from the ends of its ranges."""

from __future__ import annotations

import math
from collections.abc import Iterator
from fractions import Fraction
from itertools import product

from problemgen.chemistry.units import read_unit
from problemgen.errors import UnderivableError
from problemgen.exact.digits import Written, written_steps
from problemgen.language.numbers import in_digits
from problemgen.model.plan import Plan
from problemgen.model.preview import AmountRange
from problemgen.model.problem import Asked
from problemgen.model.quantity import Quantity
from problemgen.model.template import Draw, Template
from problemgen.plan.arithmetic import Exact
from problemgen.plan.chain import chain
from problemgen.plan.constants import constants
from problemgen.plan.evaluate import evaluate

__all__ = ["amounts_of"]

_MOST_ENDS = 5
"""Drawn values behind one amount whose ends are all combined: volume, density, percentage, pressure, temperature."""


def amounts_of(template: Template) -> tuple[AmountRange, ...]:
    """The reagents that are measured out, in the order of the equation; without those whose amount is told nowhere."""
    ends = [(one.id, found) for one in template.scene.reagents if (found := _ends(template, one.id)) is not None]
    if not ends:
        return ()
    middles = [math.sqrt(low * high) for _, (low, high) in ends]
    return tuple(
        AmountRange(name, _millimoles(low), _millimoles(high), in_digits(f"{middle / middles[0]:.2f}"))
        for (name, (low, high)), middle in zip(ends, middles, strict=True)
        if low > 0
    )


def _ends(template: Template, name: str) -> tuple[float, float] | None:
    """The least and the greatest amount of a reagent, in mol; None where it is not told how much is taken."""
    quantity = Quantity("amount", name)
    plan = _plan(template, quantity)
    if plan is None:
        return None
    steps = plan.steps_to(quantity.id)
    needed = {name for step in steps for name in step.needs} | {quantity.id}
    draws = [one for one in template.draws if one.quantity.id in needed and one.follows is None]
    if not draws or len(draws) > _MOST_ENDS:
        return None
    fixed = {one.quantity.id: _in_engine(one.written, one.unit) for one in template.fixed}
    fixed |= {one.quantity.id: one.value for one in plan.constants}
    found = []
    for ends in product(*map(_of_draw, draws)):
        values = {**fixed, **{one.quantity.id: value for one, value in zip(draws, ends, strict=True)}}
        try:
            for step in steps:
                values[step.quantity.id] = evaluate(step.expression, values, Exact())
        except KeyError:  # it hangs on what is read off a line or a burette, which has no ends of its own
            return None
        found.append(float(values[quantity.id]))
    return (min(found), max(found)) if min(found) > 0 else None


def _plan(template: Template, quantity: Quantity) -> Plan | None:
    """A plan that leads to an amount: the template's own, where it does."""
    if quantity in template.scene.given or any(step.quantity == quantity for step in template.plan.steps):
        return template.plan
    try:
        return chain(template.scene, [Asked(quantity, "mol")], constants())
    except UnderivableError:
        return None


def _of_draw(draw: Draw) -> tuple[Fraction, Fraction]:
    ends = list(_written(draw))
    values = [_in_engine(one, draw.unit) for one in ends]
    return min(values), max(values)


def _written(draw: Draw) -> Iterator[Written]:
    if draw.choices:
        yield from draw.choices
    else:
        yield written_steps(draw.first, draw.step)
        yield written_steps(draw.first + draw.count - 1, draw.step)


def _in_engine(written: Written, unit: str) -> Fraction:
    return read_unit(unit).to_engine(written.value)


def _millimoles(amount: float) -> str:
    """An amount in mmol, to three figures."""
    number = 1000 * amount
    decimals = max(0, 2 - math.floor(math.log10(number)))
    return in_digits(f"{number:.{decimals}f}")
