"""A standard curve as a template gives it: equally spaced standards, absorbances scattered about a hidden line."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from problemgen.load.fault_log import FaultLog
from problemgen.load.templates.document import CalibrationDocument, ValueDocument
from problemgen.load.templates.values import read_value
from problemgen.model.banks import Glassware
from problemgen.model.expression import Expression
from problemgen.model.quantity import Quantity, Role
from problemgen.model.template import Draw, Reading, Series
from problemgen.plan.laws.absorbance import intercept_of, slope_of

__all__ = ["read_calibration"]


def read_calibration(
    faults: FaultLog, species: str, document: CalibrationDocument, glassware: Mapping[str, Glassware]
) -> Series | None:
    """The standards of one substance; None, with a fault kept, for what is no curve."""
    quantities = {
        "spacing": Quantity("concentration", species, Role.STANDARD, stage=1),
        "slope": slope_of(species),
        "intercept": intercept_of(species),
    }
    found = {
        key: _drawn(faults, key, quantity, getattr(document, key), glassware) for key, quantity in quantities.items()
    }
    drawn = {key: one for key, one in found.items() if one is not None}
    steps = document.spread.value / document.step.value
    if steps.denominator != 1 or steps < 1:
        faults.add("spread", document.spread.text, f"a whole number of steps of {document.step.text}")
    elif len(drawn) == len(quantities):
        line = (drawn["slope"], drawn["intercept"])
        return Series(
            (drawn["spacing"],), line, tuple(_readings(species, document, drawn["spacing"], line, int(steps)))
        )
    return None


def _drawn(
    faults: FaultLog, key: str, quantity: Quantity, value: ValueDocument, glassware: Mapping[str, Glassware]
) -> Draw | None:
    found = read_value(faults.at(key), quantity, value, glassware)
    if isinstance(found, Draw) and not found.choices:
        return found
    if found is not None:
        faults.add(key, "no range", "`from`, `to` and `step`: everybody has another curve")
    return None


def _readings(
    species: str, document: CalibrationDocument, first: Draw, line: tuple[Draw, Draw], spread: int
) -> Iterator[Reading]:
    """What each standard holds and absorbs; each holds as much more as the first."""
    slope, intercept = (one.quantity.id for one in line)
    for number in range(1, document.standards + 1):
        held, absorbed = (
            Quantity(kind, species, Role.STANDARD, stage=number) for kind in ("concentration", "absorbance")
        )
        times: Expression = ("mul", ("num", str(number)), first.quantity.id)
        if number > 1:
            yield Reading(held, first.unit, first.step, times)
        along: Expression = ("add", ("mul", slope, times), intercept)
        yield Reading(absorbed, "1", document.step, along, -spread, spread)
