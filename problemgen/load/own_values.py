"""Reading which given values of a problem are the student's own: measured in the laboratory, not drawn."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from problemgen.errors import Fault
from problemgen.load.documents import nearest
from problemgen.model.banks import Banks, Glassware
from problemgen.model.own_data import OwnValue
from problemgen.model.quantity import Quantity
from problemgen.model.template import Draw, Fixed, Obtained, Template
from problemgen.plan.partial import without

__all__ = ["check_own_values", "on_one_sheet", "own_values_of"]

_WIDER = Fraction(1, 4)
"""How far beyond the drawn range a value may lie before it is flagged, as a share of the range's end: no source."""

_UNSAID = ("", "solution", "impure", "total")
"""Roles that a template's keys leave out."""


def own_values_of(template: Template, banks: Banks) -> Mapping[str, OwnValue]:
    """Every value of a template that can be the student's own, by name: the substance and the template's key.

    Reagents: "magnesium.mass", "hydrogen.initial.pressure"; what was obtained: "aspirin.obtained"; of a sample:
    "sample.mass". None for a template with an unknown compound: what its analysis gives is drawn with the compound.
    """
    if template.unknown is not None:
        return {}
    values: dict[str, OwnValue] = {}
    givens: list[Draw | Obtained | Fixed] = [*template.draws, *template.obtained, *template.fixed]
    for given in givens:
        name = _name(template, given)
        if name in values:  # a second mass of one substance is told by its role
            name = _with_role(template, given.quantity)
        values[name] = _own_value(name, given, banks)
    return values


def _name(template: Template, given: Draw | Obtained | Fixed) -> str:
    quantity = given.quantity
    masses = [one for one in template.obtained if one.quantity.of == quantity.of]
    if isinstance(given, Obtained) and quantity.of and len(masses) == 1:
        return f"{quantity.of}.obtained"
    if quantity.role in _UNSAID and quantity.of:
        return f"{_substance(template, quantity)}.{quantity.kind}"
    return _with_role(template, quantity)


def _with_role(template: Template, quantity: Quantity) -> str:
    if not quantity.of:
        return f"{'mixture' if quantity.role == 'mixed' else quantity.role}.{quantity.kind}"
    return f"{_substance(template, quantity)}.{quantity.role.replace(' ', '.') or 'plain'}.{quantity.kind}"


def _substance(template: Template, quantity: Quantity) -> str:
    """The name under which a template gives a substance: a hydrate stands under what it is weighed for."""
    return template.scene.species[quantity.of].stands_for or quantity.of


def _own_value(name: str, given: Draw | Obtained | Fixed, banks: Banks) -> OwnValue:
    match given:
        case Obtained(quantity, unit, step, low, high, theoretical, instrument):
            whole = Fraction(100)
            usual = (low.value, max(high.value, whole))
            return OwnValue(name, quantity, unit, *usual, step, instrument, share_of=theoretical)
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


def _widened(low: Fraction, high: Fraction) -> tuple[Fraction, Fraction]:
    return low - abs(low) * _WIDER, high + abs(high) * _WIDER


def _glassware(name: str, banks: Banks) -> Glassware | None:
    return next((glass for glass in banks.glassware.values() if glass.name == name), None)


@dataclass(frozen=True)
class _Checker:
    """The own values of one problem under examination."""

    file: str
    key: str
    template: Template
    own: tuple[OwnValue, ...]

    def faults(self) -> Iterator[Fault]:
        """Everything that would leave a drawn value beside an own one that it rests on, or an own one without use."""
        mine = {value.quantity.id for value in self.own}
        used = {quantity.id for quantity in self.template.plan.given}
        for value in self.own:
            if value.quantity.id not in used:
                yield self.fault(value.name, "a value that no part needs")
        for draw in self.template.draws:
            if draw.follows is not None and draw.follows.id in mine and draw.quantity.id not in mine:
                yield self.fault(draw.follows.id, f"a value that {draw.quantity.id} is looked up for", draw)
        stale = {step.quantity.id for step in self.template.plan.steps} - {
            step.quantity.id for step in without(self.template.plan, mine).steps
        }
        for one in self.template.obtained:
            if one.theoretical.id in stale | mine and one.quantity.id not in mine:
                yield self.fault(one.theoretical.id, f"a value that {one.quantity.id} is drawn from", one)

    def fault(self, found: str, why: str, other: Draw | Obtained | None = None) -> Fault:
        """A fault of the list; `other` is what has to be the student's own as well."""
        expected = "values that the parts need" if other is None else "the other value among the student's own too"
        hint = "" if other is None else f"Add {_name(self.template, other)!r}."
        return Fault(self.file, self.key, f"{found}, {why}", expected, hint)


def check_own_values(
    file: str, key: str, names: Sequence[str], template: Template, banks: Banks
) -> tuple[tuple[OwnValue, ...], list[Fault]]:
    """The own values that a set names for a template, in its order, and the faults of the list."""
    known = own_values_of(template, banks)
    expected = f"one of {', '.join(known)}" if known else "no own values: the compound is drawn for each student"
    faults = [Fault(file, key, repr(name), expected, nearest(name, known)) for name in names if name not in known]
    faults += [Fault(file, key, f"{name!r} twice", "each value once") for name in set(names) if names.count(name) > 1]
    own = tuple(known[name] for name in dict.fromkeys(names) if name in known)
    return own, [*faults, *_Checker(file, key, template, own).faults()]


def on_one_sheet(template: Template, session: int) -> Template:
    """The template with all its parts and data on one session's sheet: a report written when all is done."""
    parts = tuple(replace(part, session=session) for part in template.parts)
    return replace(template, parts=parts, sessions=session, session_of=dict.fromkeys(template.session_of, session))
