"""How a reagent is measured out, when nobody says it: by what it is at hand as, on glassware that its range suits."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from typing import Any

from problemgen.model.banks import Banks, Bottle, Glassware, Reaction
from problemgen.pipeline.adding.reactions import molar_mass

__all__ = ["Measure", "balance_for", "measures_of"]

_POURED = (
    "micropipette-200", "micropipette-1000", "pipette-graduated-2", "pipette-graduated-5", "pipette-graduated-10",
    "burette-25", "pipette-graduated-25", "cylinder-50", "cylinder-100", "cylinder-250", "cylinder-500",
)  # fmt: skip
"""What liquids are measured with, the smallest first."""

_UNDER_GAS = ("syringe-2", "syringe-20", *_POURED)
"""The same for solutions in another solvent than water: most of them must not meet air. Syringes whose scale gives three
figures stand first; a reading of two figures would make every answer as coarse."""

_FIGURES = 3
"""The least figures of a reading: with two, windows become wider than most usual mistakes are large."""

_LITRE = 1000.0  # mL; also mmol in a mole

_ASSAYS = ("0.97", "1", "1.03")
"""What bottles of one label hold, in parts of what the label says, when they have stood for a while (own choice)."""

_WATER = "water"


@dataclass(frozen=True)
class Measure:
    """A reagent's keys in a template, each with its value and "" or a remark; none of a reagent in excess.

    `how` says it in words: "weighed", "poured", "in solution", "in excess".
    """

    name: str
    values: Mapping[str, Any]
    how: str
    remark: str = ""


def measures_of(reaction: Reaction, banks: Banks, extent: float, spread: tuple[float, float]) -> tuple[Measure, ...]:
    """The reagents of a reaction, each over the same range of what it allows: parts of an extent in mmol.

    Water, and gases for which there is no bottle, are in excess where another reagent is measured.
    """
    reagents = [name for name, nu in reaction.coefficients.items() if nu < 0]
    passed = [name for name in reagents if _is_abundant(name, banks)]
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


def _is_abundant(name: str, banks: Banks) -> bool:
    """Whether nobody measures a reagent: water, and a gas that comes out of a cylinder."""
    return name == _WATER or (banks.substances[name].state == "gas" and _bottle(name, banks) is None)


def _bottle(name: str, banks: Banks) -> Bottle | None:
    """The bottle of a substance: the last that is on file, for a course's own stand behind ours."""
    bottles = [one for one in banks.bottles.values() if one.of == name]
    own = [one for one in bottles if one.mass_percent is None]
    return own[-1] if own else bottles[0] if bottles else None


def _measure(name: str, banks: Banks, amounts: tuple[float, float]) -> Measure:
    """A reagent by volume, where it is a solution or a liquid with a density, else by mass; amounts in mmol."""
    substance, bottle = banks.substances[name], _bottle(name, banks)
    neat = substance.state in ("solid", "liquid")
    if bottle is not None and (not neat or bottle.mass_percent is None):
        return _from_bottle(name, bottle, banks, amounts)
    if substance.state == "gas":
        return _of_gas(name, amounts)
    grams = tuple(one * molar_mass(banks, name) / 1000 for one in amounts)
    density = substance.density
    if density is None or substance.state != "liquid":
        return Measure(name, {"mass": _mass(grams[0], grams[1], banks)}, "weighed")
    volumes = tuple(one / float(density.value.value) for one in grams)
    return Measure(name, {"volume": _volume(volumes[0], volumes[1], banks, _POURED)}, "poured")


def _from_bottle(name: str, bottle: Bottle, banks: Banks, amounts: tuple[float, float]) -> Measure:
    """A volume of a bottle's solution: by mass percent and density, or by the concentration that it is sold by."""
    kinds = _UNDER_GAS if bottle.solvent is not None else _POURED
    if bottle.mass_percent is not None and bottle.density is not None:
        per_litre = 10 * float(bottle.mass_percent.value) * float(bottle.density.value.value) / molar_mass(banks, name)
        volumes = [one / per_litre for one in amounts]
        return Measure(
            name, {"volume": _volume(volumes[0], volumes[1], banks, kinds), "bottle": bottle.id}, "in solution"
        )
    assert bottle.concentration is not None  # a loaded bottle has a strength
    label = Decimal(bottle.concentration.value.text)
    volumes = [one / float(label) for one in amounts]
    assays = [_to_figures(label * Decimal(part)) for part in _ASSAYS]
    values = {
        "volume": _volume(volumes[0], volumes[1], banks, kinds),
        "bottle": bottle.id,
        "concentration": {"choose": assays, "unit": "mol/L"},
    }
    return Measure(name, values, "in solution", "the assays of bottles with this label: own choice")


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
    fitting = [found for found in _fitting(low, high, banks, kinds) if found is not None]
    precise = [one for one in fitting if _figures(one["from"]) >= _FIGURES]
    return (precise or fitting)[0]


def _fitting(low: float, high: float, banks: Banks, kinds: tuple[str, ...]) -> Iterator[Mapping[str, Any]]:
    """The range on each piece of glassware that holds it; on the largest, cut off, where none does."""
    last: Mapping[str, Any] = {}
    for name in kinds:
        glass = banks.glassware[name]
        part = _LITRE if glass.unit == "µL" else 1.0
        ends = _ends(low * part, high * part, Decimal(glass.step.text))
        last = _reading(glass, *ends)
        if ends[1] <= Decimal(glass.capacity.text):
            yield last
    capacity = Decimal(banks.glassware[kinds[-1]].capacity.text)
    yield {**last, "from": (capacity * Decimal("0.6")).quantize(Decimal(1)), "to": capacity}


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
