"""How a reagent is measured out, when nobody says it: by what it is at hand as, on glassware that its range suits."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from typing import Any

from problemgen.model.banks import Banks, Bottle, Glassware, Reaction
from problemgen.pipeline.adding.vessels import molar_mass

__all__ = ["Measure", "balance_for", "measures_of", "way_of", "ways_of"]

_POURED = (
    "micropipette-200", "micropipette-1000", "pipette-graduated-2", "pipette-graduated-5", "pipette-graduated-10",
    "burette-25", "pipette-graduated-25", "cylinder-50", "cylinder-100", "cylinder-250", "cylinder-500",
)  # fmt: skip
"""What liquids are measured with, the smallest first."""

_UNDER_GAS = ("syringe-2", "syringe-20", *_POURED)
"""The same for solutions in another solvent than water: most of them must not meet air.

Only syringes whose scale gives three figures: a reading of two would make every answer as coarse.
"""

_FIGURES = 3
"""The least figures of a reading: with two, windows become wider than most usual mistakes are large."""

_LITRE = 1000.0  # mL; also mmol in a mole

_CUT_OFF = Decimal("0.6")
"""Where a range begins, in parts of the largest cylinder, when even that does not hold what the scale asks for."""

_ASSAYS = ("0.97", "1", "1.03")
"""What bottles of one label hold, in parts of its concentration, when they have stood for a while (own choice)."""

_ASSAYS_BY_MASS = ("0.99", "1", "1.01")
"""The same of its mass percent. Either is written with three figures: a label's "37" would leave answers only two."""

_ASSAYED = "the assays of bottles with this label: own choice"

_WORK_UP = frozenset({"water", "hydrogen-chloride", "sulfuric-acid", "ammonium-chloride"})
"""What sets the product free at the end of a reaction with a reagent that it would destroy."""

_DESTROYED = frozenset({"sodium-borohydride", "magnesium"})
"""Reagents of the banks that acid would destroy, beside those that are sold in another solvent than water."""


@dataclass(frozen=True)
class Measure:
    """A reagent's keys in a template with their values, and a remark on them, or "".

    `how` says it in words: "weighed", "poured", "in solution", "in excess".
    """

    name: str
    values: Mapping[str, Any]
    how: str
    remark: str = ""

    @property
    def way(self) -> str:
        """The way, by which it is known again: `way_of` its keys."""
        return way_of(self.values)


def way_of(values: Mapping[str, Any]) -> str:
    """By which way a template measures a reagent out, from the keys that it gives of it; "" for none of ours.

    >>> way_of({"mass": {}}), way_of({"volume": {}, "bottle": "bromine"}), way_of({"volume": {}, "concentration": {}})
    ('weighed', 'bottle:bromine', 'solution')
    """
    for key in ("bottle", "weighed_as"):
        if key in values:
            return f"{key}:{values[key]}"
    if "volume" in values:
        if values.keys() & {"concentration", "mass_fraction"}:
            return "solution"
        return "gas" if values.keys() & {"pressure", "temperature", "conditions"} else "poured"
    if "mass" in values:
        return "weighed"
    return "excess" if set(values) == {"in_excess"} else ""


def measures_of(reaction: Reaction, banks: Banks, extent: float, spread: tuple[float, float]) -> tuple[Measure, ...]:
    """The reagents of a reaction, each over the same range of what it allows: parts of an extent in mmol.

    Water, gases for which there is no bottle, and what is added in a later session than the first, are in excess where
    another reagent is measured: the sheet before the session does not tell how much of it there will be.
    """
    reagents = [name for name, nu in reaction.coefficients.items() if nu < 0]
    destroyed = [name for name in reagents if name in _DESTROYED or _is_sold_dry(name, banks)]
    later = [name for name in reagents if reaction.sessions.get(name, 1) > 1]
    ends = [name for name in reagents if name in _WORK_UP and len(reagents) > 2 and destroyed]
    passed = [name for name in reagents if _is_abundant(name, banks) or name in (*later, *ends)]
    if len(passed) == len(reagents):
        passed = passed[1:]
    found = []
    for name in reagents:
        amounts = tuple(part * extent * -reaction.coefficients[name] for part in spread)
        if name in passed:
            found.append(Measure(name, {"in_excess": True}, "in excess"))
        else:
            found.append(_measure(name, banks, (amounts[0], amounts[1])))
    return tuple(found)


def ways_of(name: str, banks: Banks, amounts: tuple[float, float]) -> tuple[Measure, ...]:
    """All ways to measure a reagent out, over a range of amounts in mmol; the one that is proposed first."""
    substance = banks.substances[name]
    found = [_measure(name, banks, amounts)]
    if substance.state != "gas":
        found.append(_weighed(name, banks, amounts))
    if substance.state == "liquid" and substance.density is not None:
        found.append(_poured(name, banks, amounts))
    if substance.state == "gas":
        found.append(_of_gas(name, amounts))
    found += [_from_bottle(name, one, banks, amounts) for one in banks.bottles.values() if one.of == name]
    found += [
        Measure(name, {"weighed_as": one.id, **_weighed(one.id, banks, amounts).values}, "weighed")
        for one in banks.substances.values()
        if one.hydrate_of == name
    ]
    if name != "water":
        found.append(_made_up(name, banks, amounts))
    found.append(Measure(name, {"in_excess": True}, "in excess"))
    return tuple({one.way: one for one in reversed(found)}[way] for way in dict.fromkeys(one.way for one in found))


def _made_up(name: str, banks: Banks, amounts: tuple[float, float]) -> Measure:
    """A solution that was made up for the course, so strong that some 20 mL are taken."""
    strength = math.sqrt(amounts[0] * amounts[1]) / _TAKEN
    nice = min(_STRENGTHS, key=lambda one: abs(math.log(float(one) / strength)))
    volume = _volume(amounts[0] / float(nice), amounts[1] / float(nice), banks, _POURED)
    choices = [_to_figures(nice * Decimal(part)) for part in _ASSAYS]
    return Measure(name, {"volume": volume, "concentration": {"choose": choices, "unit": "mol/L"}}, "in solution")


_TAKEN = 20.0
"""mL of a solution made up for a course: what a burette of 25 mL gives out in one go."""

_STRENGTHS = tuple(map(Decimal, ("0.0100", "0.0200", "0.0500", "0.100", "0.200", "0.250", "0.500", "1.00", "2.00")))
"""mol/L: what solutions of a teaching laboratory are made up to (own choice)."""


def _is_abundant(name: str, banks: Banks) -> bool:
    """Whether nobody measures a reagent: water, and a gas that comes out of a cylinder."""
    return name == "water" or (banks.substances[name].state == "gas" and _bottle(name, banks) is None)


def _is_sold_dry(name: str, banks: Banks) -> bool:
    """Whether a reagent is a solution in another solvent than water."""
    bottle = _bottle(name, banks)
    return bottle is not None and bottle.solvent is not None


def _bottle(name: str, banks: Banks) -> Bottle | None:
    """The bottle of a substance, where it has any: the last that is sold by its concentration, for a course's own stand
    behind ours; else the first whose density has three figures."""
    bottles = [one for one in banks.bottles.values() if one.of == name]
    sold = [one for one in bottles if one.mass_percent is None]
    precise = [one for one in bottles if one.density and _figures(Decimal(one.density.value.text)) >= _FIGURES]
    return next(iter((*sold[::-1], *precise, *bottles)), None)


def _measure(name: str, banks: Banks, amounts: tuple[float, float]) -> Measure:
    """A reagent by volume, where it is a solution or a liquid with a density, else by mass; amounts in mmol."""
    substance, bottle = banks.substances[name], _bottle(name, banks)
    neat = substance.state in ("solid", "liquid")
    if bottle is not None and (not neat or bottle.mass_percent is None):
        return _from_bottle(name, bottle, banks, amounts)
    if substance.state == "gas":
        return _of_gas(name, amounts)
    if substance.density is None or substance.state != "liquid":
        return _weighed(name, banks, amounts)
    return _poured(name, banks, amounts)


def _weighed(name: str, banks: Banks, amounts: tuple[float, float]) -> Measure:
    grams = [one * molar_mass(banks, name) / 1000 for one in amounts]
    return Measure(name, {"mass": _mass(grams[0], grams[1], banks)}, "weighed")


def _poured(name: str, banks: Banks, amounts: tuple[float, float]) -> Measure:
    density = banks.substances[name].density
    assert density is not None  # only what has one is poured
    volumes = [one * molar_mass(banks, name) / 1000 / float(density.value.value) for one in amounts]
    return Measure(name, {"volume": _volume(volumes[0], volumes[1], banks, _POURED)}, "poured")


def _from_bottle(name: str, bottle: Bottle, banks: Banks, amounts: tuple[float, float]) -> Measure:
    """A volume of a bottle's solution: by mass percent and density, or by the concentration that it is sold by."""
    kinds = _UNDER_GAS if bottle.solvent is not None else _POURED
    if bottle.mass_percent is not None and bottle.density is not None:
        key, unit, label, parts = "mass_fraction", "%", Decimal(bottle.mass_percent.text), _ASSAYS_BY_MASS
        per_litre = 10 * float(label) * float(bottle.density.value.value) / molar_mass(banks, name)
    else:
        assert bottle.concentration is not None  # a loaded bottle has a strength
        key, unit, label, parts = "concentration", "mol/L", Decimal(bottle.concentration.value.text), _ASSAYS
        per_litre = float(label)
    values = {
        "volume": _volume(amounts[0] / per_litre, amounts[1] / per_litre, banks, kinds),
        "bottle": bottle.id,
        key: {"choose": [_to_figures(label * Decimal(part)) for part in parts], "unit": unit},
    }
    return Measure(name, values, "in solution", _ASSAYED)


def _of_gas(name: str, amounts: tuple[float, float]) -> Measure:
    """A gas by volume at the pressure and temperature of a laboratory, where no other reagent is measured."""
    litres = [one * 24.5 / _LITRE for one in amounts]  # L/mol at 25 °C and 100 kPa is 24.8, at 20 °C 24.4
    step = Decimal("0.01") if litres[0] >= 1 else Decimal("0.001")
    low, high = _ends(litres[0], litres[1], step)
    return Measure(
        name,
        {
            "volume": {"from": low, "to": high, "unit": "L", "step": step},
            "pressure": {"from": Decimal("98.0"), "to": Decimal("102.5"), "unit": "kPa", "step": Decimal("0.1")},
            "temperature": {"from": Decimal(18), "to": Decimal(26), "unit": "°C", "step": Decimal(1)},
        },
        "as a gas",
    )


def _mass(low: float, high: float, banks: Banks) -> Mapping[str, Any]:
    """A range of masses in g on a balance whose readings have enough figures."""
    glass = banks.glassware[balance_for(low)]
    ends = _ends(low, high, Decimal(glass.step.text))
    return {"from": ends[0], "to": ends[1], "unit": "g", "read": glass.id}


def balance_for(grams: float) -> str:
    """The balance for a mass in g: four figures where a teaching laboratory has them."""
    if grams >= 10:
        return "balance-0.01"
    return "balance-0.001" if grams >= 0.2 else "balance-0.0001"


def _volume(low: float, high: float, banks: Banks, kinds: tuple[str, ...]) -> Mapping[str, Any]:
    """A range of volumes in mL on the smallest glassware that holds it and gives three figures, else that holds it."""
    fitting = list(_fitting(low, high, banks, kinds))
    if not fitting:
        capacity = Decimal(banks.glassware[kinds[-1]].capacity.text)
        return _reading(banks.glassware[kinds[-1]], (capacity * _CUT_OFF).quantize(Decimal(1)), capacity)
    precise = [one for one in fitting if _figures(one["from"]) >= _FIGURES]
    return (precise or fitting)[0]


def _fitting(low: float, high: float, banks: Banks, kinds: tuple[str, ...]) -> Iterator[Mapping[str, Any]]:
    """The range on each piece of glassware that holds it."""
    for name in kinds:
        glass = banks.glassware[name]
        part = _LITRE if glass.unit == "µL" else 1.0
        ends = _ends(low * part, high * part, Decimal(glass.step.text))
        if ends[1] <= Decimal(glass.capacity.text):
            yield _reading(glass, *ends)


def _reading(glass: Glassware, low: Decimal, high: Decimal) -> Mapping[str, Any]:
    return {"from": low, "to": high, "unit": glass.unit, "read": glass.id}


def _ends(low: float, high: float, step: Decimal) -> tuple[Decimal, Decimal]:
    """The ends of a range, each to two figures outward where the scale allows, with the scale's decimals."""
    first = max(_to_step(_round(low, ROUND_FLOOR), step, ROUND_FLOOR), step)
    return first, max(_to_step(_round(high, ROUND_CEILING), step, ROUND_CEILING), first + step)


def _round(value: float, rounding: str) -> Decimal:
    place = Decimal(1).scaleb(math.floor(math.log10(value)) - 1)
    return (Decimal(value) / place).to_integral_value(rounding) * place


def _to_step(value: Decimal, step: Decimal, rounding: str) -> Decimal:
    return ((value / step).to_integral_value(rounding) * step).quantize(step)


def _figures(value: Decimal) -> int:
    return len(value.as_tuple().digits)


def _to_figures(value: Decimal) -> Decimal:
    """A number to three figures."""
    return value.quantize(Decimal(1).scaleb(value.adjusted() - _FIGURES + 1))
