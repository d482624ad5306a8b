"""Reading which given values of a problem are the student's own: measured in the laboratory, not drawn."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import TypeAlias

from problemgen.load.fault_log import FaultLog
from problemgen.load.templates.givens import MIXTURE, SOLUTION
from problemgen.model.banks import Banks, Glassware
from problemgen.model.own_data import OwnValue
from problemgen.model.quantity import KINDS, Quantity, Role, quantity_named
from problemgen.model.template import Draw, Fixed, Obtained, Reading, Template, is_second, second_of
from problemgen.plan.partial import without

__all__ = ["on_one_sheet", "own_values_of", "read_own_values"]

_WIDER = Fraction(1, 4)
"""How far beyond the drawn range a value may lie before it is flagged, as a share of the range's end: no source.

It only flags: a quarter more is a portion that a student may well have taken, ten times is a slip of the point.
"""

_ANY = Fraction(10**12)
"""No instrument shows more: the end of a range that any reading lies in."""
_Given: TypeAlias = Draw | Obtained | Fixed | Reading

_WHOLES = {Role.MIXED: MIXTURE, Role.COMMON: SOLUTION}
"""What a template calls the wholes that its values may be of."""

_UNSAID = (Role.PLAIN, Role.SOLUTION, Role.IMPURE, Role.TOTAL)
"""Roles that a template's keys leave out."""


def own_values_of(template: Template, banks: Banks) -> Mapping[str, OwnValue]:
    """Every value of a template that can be the student's own, by name: the substance and the template's key.

    Reagents: "magnesium.mass", "hydrogen.initial.pressure"; what was obtained: "aspirin.obtained"; a product ratio, two
    numbers in one: "1-methylcyclohexene.ratio"; of a sample: "sample.mass". None for a template with an unknown
    compound: what its analysis gives is drawn with the compound.
    """
    if template.unknown is not None:
        return {}
    values: dict[str, OwnValue] = {}
    read_off = (one for one in template.readings if _glassware(one.instrument, banks) is not None)
    givens: list[_Given] = [*template.draws, *read_off, *template.obtained, *template.fixed]
    for given in givens:
        if isinstance(given, Draw) and is_second(template, given.quantity):
            continue
        second = second_of(template, given.quantity)
        if second is not None and isinstance(given, Draw):
            values[f"{given.quantity.of}.ratio"] = _own_ratio(f"{given.quantity.of}.ratio", given, second)
            continue
        name = _name(template, given)
        if name in values:  # a second mass of one substance is told by its role
            name = _with_role(template, given.quantity)
        values[name] = _own_value(name, given, banks)
    return values


def _name(template: Template, given: _Given) -> str:
    quantity = given.quantity
    masses = [one for one in template.obtained if one.quantity.of == quantity.of]
    if isinstance(given, Obtained) and quantity.of and len(masses) == 1:
        return f"{quantity.of}.obtained"
    if quantity.role in _UNSAID and quantity.of:
        return f"{_substance(template, quantity)}.{quantity.kind}"
    return _with_role(template, quantity)


def _with_role(template: Template, quantity: Quantity) -> str:
    if not quantity.of:
        return f"{_WHOLES.get(quantity.role, quantity.role)}.{quantity.kind}"
    role = quantity.role.replace(" ", ".") or "plain"
    table = f"{role}.{quantity.stage}" if quantity.stage else role
    return f"{_substance(template, quantity)}.{table}.{quantity.kind}"


def _substance(template: Template, quantity: Quantity) -> str:
    """The name under which a template gives a substance: a hydrate stands under what it is weighed for."""
    return template.scene.species[quantity.of].stands_for or quantity.of


def _own_value(name: str, given: _Given, banks: Banks) -> OwnValue:
    match given:
        case Obtained(quantity, unit, step, low, high, theoretical, instrument):
            whole = Fraction(100)
            usual = (low.value, max(high.value, whole))
            return OwnValue(name, quantity, unit, *usual, step, instrument, share_of=theoretical)
        case Draw(quantity, unit) if KINDS[quantity.kind].has_own_scale:
            return OwnValue(name, quantity, unit, Fraction(0), _ANY)
        case Reading(quantity, unit, step, instrument=instrument):
            glass = _glassware(instrument, banks)
            most = glass.capacity.value if glass is not None else Fraction(0)
            return OwnValue(name, quantity, unit, Fraction(0), most, step, instrument, most)
        case Fixed(quantity, written, unit):
            return OwnValue(name, quantity, unit, *_widened(written.value, written.value))
        case Draw(quantity, unit, choices=choices) if choices:
            values = [one.value for one in choices]
            return OwnValue(name, quantity, unit, *_widened(min(values), max(values)))
        case Draw(quantity, unit, step, first, count, instrument=instrument):
            ends = (first * step.value, (first + count - 1) * step.value)
            glass = _glassware(instrument, banks)
            capacity = glass.capacity.value if glass is not None and glass.kind != "balance" else None
            least, most = _widened(*ends)
            most = most if capacity is None else min(most, capacity)
            return OwnValue(name, quantity, unit, least, most, step, instrument, capacity)


def _own_ratio(name: str, first: Draw, second: Draw) -> OwnValue:
    """A product ratio; usual are shares of the first number that are not much beyond those that are drawn."""
    ends = (0, first.count - 1)
    numbers = [((first.first + index) * first.step.value, second.choices[index].value) for index in ends]
    shares = [100 * mine / (mine + rest) for mine, rest in numbers]
    low, high = _widened(min(shares), max(shares))
    return OwnValue(name, first.quantity, first.unit, low, min(high, Fraction(100)), second=second.quantity)


def _widened(low: Fraction, high: Fraction) -> tuple[Fraction, Fraction]:
    return low - abs(low) * _WIDER, high + abs(high) * _WIDER


def _glassware(name: str, banks: Banks) -> Glassware | None:
    return next((glass for glass in banks.glassware.values() if glass.name == name), None)


def read_own_values(faults: FaultLog, names: Sequence[str], template: Template, banks: Banks) -> tuple[OwnValue, ...]:
    """The own values that a set names for a template, in its order; the log stands at the list."""
    known = own_values_of(template, banks)
    expected = f"one of {', '.join(known)}" if known else "no own values: the compound is drawn for each student"
    for name in names:
        if name not in known:
            faults.unknown("", name, known, expected)
        if names.count(name) > 1:
            faults.add("", f"{name!r} twice", "each value once")
    own = tuple(known[name] for name in dict.fromkeys(names) if name in known)
    _check_own(faults, template, own)
    return own


def _check_own(faults: FaultLog, template: Template, own: Sequence[OwnValue]) -> None:
    """Refuse a drawn value that rests on an own one, and an own one without use."""
    mine = {quantity.id for value in own for quantity in value.quantities}
    used = {quantity.id for quantity in template.plan.given}
    for value in own:
        if value.quantity.id not in used:
            faults.add("", f"{value.name}, a value that no part needs", "values that the parts need")
    rest = {step.quantity.id for step in without(template.plan, mine).steps}
    worked_out = {step.quantity.id for step in template.plan.steps} - rest
    read_behind = ((one, quantity_named(name)) for one in template.readings for name in sorted(one.bases & mine))
    bases: list[tuple[Draw | Obtained | Reading, Quantity, str]] = [
        *((one, base, "read behind") for one, base in read_behind),
        *((one, one.follows, "looked up for") for one in template.draws if one.follows and one.follows.id in mine),
        *((one, one.theoretical, "drawn from") for one in template.obtained if one.theoretical.id in worked_out | mine),
    ]
    for drawn, base, how in bases:
        if drawn.quantity.id not in mine:
            found = f"{base.id}, a value that {drawn.quantity.id} is {how}"
            expected = "the other value among the student's own too"
            faults.add("", found, expected, f"Add {_name(template, drawn)!r}.")


def on_one_sheet(template: Template, session: int) -> Template:
    """The template with all its parts and data on one session's sheet: a report written when all is done."""
    parts = tuple(replace(part, session=session) for part in template.parts)
    return replace(template, parts=parts, sessions=session, session_of=dict.fromkeys(template.session_of, session))
