"""One given value of a template: fixed, chosen from a list, or drawn from a range on a scale."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from problemgen.chemistry.units import read_unit
from problemgen.exact.digits import Written
from problemgen.load.fault_log import FaultLog
from problemgen.load.templates.document import ValueDocument
from problemgen.model.banks import Glassware
from problemgen.model.quantity import KINDS, Quantity
from problemgen.model.template import Draw, Fixed

__all__ = ["read_value"]

_MOST_VALUES = 1_000_000
"""More values than any scale has between its ends (a 200 g balance reading to 0.001 g: 200,000): a slip of a step."""


@dataclass(frozen=True)
class _Scale:
    """The step to which a value is read, and the instrument with what it holds, where there is one."""

    step: Written
    instrument: str = ""
    capacity: Fraction | None = None


def read_value(
    faults: FaultLog, quantity: Quantity, value: ValueDocument, glassware: Mapping[str, Glassware]
) -> Draw | Fixed | None:
    """The value at the log's place; None, with a fault kept, for one that cannot be."""
    kind = KINDS[quantity.kind]
    if read_unit(value.unit).dimension != kind.dimension:
        faults.add("unit", repr(value.unit), f"a unit of {kind.words}, such as {kind.unit}")
        return None
    is_range = value.start is not None or value.to is not None
    if is_range + bool(value.choose) + (value.value is not None) != 1:
        faults.add("", "no single way to get a value", "either `from` and `to`, or `choose`, or `value`")
        return None
    if not _is_possible(faults, quantity, value):
        return None
    if value.value is not None:
        return Fixed(quantity, value.value, value.unit)
    if value.choose:
        return Draw(quantity, value.unit, value.choose[0], 0, len(value.choose), value.choose)
    return _drawn(faults, quantity, value, glassware)


def _is_possible(faults: FaultLog, quantity: Quantity, value: ValueDocument) -> bool:
    """Whether every number written can be a value of its kind: above 0, and a share at most the whole."""
    unit = read_unit(value.unit)
    written = [one for one in (value.start, value.to, value.value, *value.choose) if one is not None]
    least, most = (pick(written, key=lambda one: one.value) for pick in (min, max))
    if unit.to_engine(least.value) <= 0:
        faults.add("", f"{least.text} {value.unit}", "a number above 0")
    elif KINDS[quantity.kind].at_most_whole and unit.to_engine(most.value) > 1:
        faults.add("", f"{most.text} {value.unit}", "at most 100 %")
    else:
        return True
    return False


def _drawn(
    faults: FaultLog, quantity: Quantity, value: ValueDocument, glassware: Mapping[str, Glassware]
) -> Draw | None:
    """A draw from a range that rises, fits the instrument and stands on its scale."""
    low, high = value.start, value.to
    if low is None or high is None:
        faults.add("to" if high is None else "from", "nothing", "both ends of the range")
        return None
    scale = _scale(faults, value, glassware)
    if scale is None:
        return None
    found = f"from {low.text} to {high.text}"
    first, last = low.value / scale.step.value, high.value / scale.step.value
    count = int(last - first) + 1
    if first >= last:
        faults.add("", found, "a range that rises")
    elif scale.capacity is not None and high.value > scale.capacity:
        faults.add("to", high.text, f"no more than the {scale.instrument} holds", "Take a larger one.")
    elif first.denominator != 1 or last.denominator != 1:
        faults.add("", found, f"ends that stand on the scale: multiples of {scale.step.text} {value.unit}")
    elif count > _MOST_VALUES:
        faults.add("", f"{count} values", f"no more than {_MOST_VALUES}", "Take a coarser scale.")
    else:
        return Draw(quantity, value.unit, scale.step, int(first), count, (), scale.instrument)
    return None


def _scale(faults: FaultLog, value: ValueDocument, glassware: Mapping[str, Glassware]) -> _Scale | None:
    """The scale of a range; its numbers are in the value's unit."""
    if (value.read is None) == (value.step is None):
        faults.add("", "no single scale", "either `read` (a piece of glassware or a balance) or `step`")
    elif value.read is not None:
        return _read_off(faults, value.unit, value.read, glassware)
    elif value.step is not None and value.step.value <= 0:
        faults.add("step", value.step.text, "a step above 0")
    elif value.step is not None:
        return _Scale(value.step)
    return None


def _read_off(faults: FaultLog, unit: str, name: str, glassware: Mapping[str, Glassware]) -> _Scale | None:
    """The scale of an instrument, which has to be in the value's own unit."""
    glass = glassware.get(name)
    if glass is None:
        faults.unknown("read", name, glassware, "an id in banks/glassware.toml")
        return None
    ours, theirs = read_unit(unit), read_unit(glass.unit)
    if ours.dimension != theirs.dimension or ours.factor != theirs.factor:
        faults.add("unit", repr(unit), f"the unit of the {glass.name}: {glass.unit}")
        return None
    return _Scale(glass.step, glass.name, glass.capacity.value)
