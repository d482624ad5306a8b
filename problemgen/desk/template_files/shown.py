"""A template's text as the page shows it: its substances with all ways to measure them out, its parts."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from problemgen.chemistry.units import read_unit, unit_text
from problemgen.desk.template_files.simple import left_alone, simple_values, single_yield
from problemgen.errors import Fault, FaultsError, UnitError
from problemgen.language.messages import N_, _, spoken
from problemgen.language.numbers import in_digits
from problemgen.model.banks import Banks, Glassware, Names, Reaction, Substance
from problemgen.model.quantity import KINDS
from problemgen.pipeline.adding.measures import way_of, ways_of
from problemgen.pipeline.adding.templates import SPREAD, middle_of
from problemgen.render.sheet.structures import has_skeleton

__all__ = [
    "FieldShown",
    "PartShown",
    "SubstanceShown",
    "TemplateText",
    "WayShown",
    "called",
    "names_spoken",
    "shown",
    "units_like",
]

Values = Mapping[str, Any]

_WAYS = {
    "weighed": N_("weighed"),
    "poured": N_("by volume, through its density"),
    "solution": N_("as a solution of known concentration"),
    "gas": N_("as a gas, by volume"),
    "excess": N_("not measured: in excess"),
    "": N_("as the file says"),
}

_UNITS = (("g", "mg", "kg"), ("mol", "mmol", "µmol"), ("mL", "L", "µL"), ("mol/L", "mmol/L"))
"""Units that a part may be asked in, beside its own; those of one kind in a row."""

_AROUND = 3
"""A slider goes from a third of where the range begins to three times where it ends, as far as the scale does."""


@dataclass(frozen=True)
class Scale:
    """A piece of glassware or a balance that a value may be read on."""

    id: str
    name: str
    unit: str
    step: str
    capacity: str

    @property
    def words(self) -> str:
        """Its name, and the smallest step that is read off it."""
        return f"{self.name} · {in_digits(self.step)}\u00a0{self.unit}"


@dataclass(frozen=True)
class FieldShown:
    """A value of a way: `keys` are its own ("from", "choose", "unit", …) as they are written.

    `least`, `most` and `step` are those of the sliders; "" where nothing slides. `scales`: what else it may be read on.
    """

    kind: str
    label: str
    keys: Mapping[str, str]
    unit: str
    step: str = ""
    least: str = ""
    most: str = ""
    scales: Sequence[Scale] = ()


@dataclass(frozen=True)
class WayShown:
    """A way to measure a substance out: `chosen` is the one that the file has."""

    way: str
    label: str
    fields: Sequence[FieldShown]
    bottle: str = ""
    weighed_as: str = ""
    chosen: bool = False


@dataclass(frozen=True)
class SubstanceShown:
    """A substance of the problem. `left`: the keys that stay as the file has them. `obtained`: two ends in percent."""

    id: str
    name: str
    formula: str
    is_drawn: bool
    coefficient: int
    ways: Sequence[WayShown]
    left: Sequence[str]
    in_excess: bool = False
    obtained: tuple[str, str] | None = None


@dataclass(frozen=True)
class PartShown:
    """A part of the file; `units` that it may be asked in, and how each is shown."""

    was: int
    keys: Mapping[str, str]
    unit: str
    units: Sequence[tuple[str, str]]
    points: str
    prompt: str
    session: int


@dataclass(frozen=True)
class TemplateText:
    """A template's text, read for the page; `reaction` is None where it has none, or one that the banks lack."""

    text: str
    head: Mapping[str, Any]
    reaction: Reaction | None
    substances: Sequence[SubstanceShown]
    parts: Sequence[PartShown]


def shown(text: str, banks: Banks, file: str) -> TemplateText:
    """Read a template's text for the page. Raises FaultsError for a text that is no TOML."""
    try:
        data = tomllib.loads(text, parse_float=Decimal)
        reaction = banks.reactions.get(str(data.get("reaction", "")))
        given = data.get("given", {})
        names = dict.fromkeys((*(reaction.coefficients if reaction is not None else ()), *given))
        substances = [_substance(name, given.get(name, {}), reaction, banks) for name in names]
        parts = [_part(place, one) for place, one in enumerate(data.get("part", ()))]
    except (tomllib.TOMLDecodeError, AttributeError, TypeError, ValueError) as error:
        raise FaultsError([Fault(file, "", str(error), "a template")]) from None
    return TemplateText(text, data, reaction, substances, parts)


def _substance(name: str, given: Values, reaction: Reaction | None, banks: Banks) -> SubstanceShown:
    coefficient = reaction.coefficients.get(name, 0) if reaction is not None else 0
    substance = banks.substances.get(name)
    percent = (single_yield(given) or {}).get("percent_yield")
    return SubstanceShown(
        id=name,
        name=called(substance, banks) if substance is not None else str(given.get("called", name)),
        formula=substance.formula.text if substance is not None else "",
        is_drawn=substance is not None and substance.smiles is not None and has_skeleton(substance.smiles),
        coefficient=coefficient,
        ways=list(_ways(name, given, coefficient, reaction, banks)),
        left=left_alone(given),
        in_excess=given.get("in_excess") is True,
        obtained=(str(percent[0]), str(percent[1])) if percent is not None else None,
    )


def _ways(name: str, given: Values, coefficient: int, reaction: Reaction | None, banks: Banks) -> Iterator[WayShown]:
    """The way that the file has first; for a reagent all others behind it."""
    simple = simple_values(given)
    own = way_of({**simple, **{key: given[key] for key in ("bottle", "weighed_as", "in_excess") if key in given}})
    if simple or own:
        yield _way(own, {**given, **simple}, simple, banks, chosen=True)
    if coefficient >= 0 or reaction is None or name not in banks.substances:
        return
    if not simple and not own:
        yield WayShown("", _(_WAYS[""]) if given else _("nothing is told of it"), [], chosen=True)
    extent = middle_of(reaction) * -coefficient
    for measure in ways_of(name, banks, (extent * SPREAD[0], extent * SPREAD[1])):
        if measure.way != own:
            values = {key: value for key, value in measure.values.items() if isinstance(value, Mapping)}
            yield _way(measure.way, measure.values, values, banks, chosen=False)


def _way(way: str, told: Values, values: Mapping[str, Values], banks: Banks, *, chosen: bool) -> WayShown:
    bottle, weighed_as = str(told.get("bottle", "")), str(told.get("weighed_as", ""))
    if bottle:
        english = banks.bottles[bottle].name if bottle in banks.bottles else bottle
        label = _("from a bottle: {name}").format(name=names_spoken(banks).bottles.get(bottle, english))
    elif weighed_as:
        known = banks.substances.get(weighed_as)
        label = _("weighed as {name}").format(name=called(known, banks) if known is not None else weighed_as)
    else:
        label = _(_WAYS[way])
    fields = [_field(kind, value, banks) for kind, value in values.items()]
    return WayShown(way, label, fields, bottle, weighed_as, chosen)


def _field(kind: str, value: Values, banks: Banks) -> FieldShown:
    words = _(KINDS[kind].words) if kind in KINDS else _("share of the substance in the sample")
    unit = str(value.get("unit", ""))
    keys = {key: _text(one) for key, one in value.items() if key != "source"}
    label = words[:1].upper() + words[1:]
    glass = banks.glassware.get(str(value.get("read", "")))
    step = Decimal(glass.step.text) if glass is not None else value.get("step")
    if "from" not in value or "to" not in value or step is None:
        return FieldShown(kind, label, keys, unit_text(unit))
    step = Decimal(step)
    low, high = Decimal(value["from"]) / _AROUND, Decimal(value["to"]) * _AROUND
    least = max(low // step * step, step) if low > 0 else low // step * step
    most = min(high // step * step, Decimal(glass.capacity.text)) if glass is not None else high // step * step
    if kind in ("temperature", "pressure"):
        least, most = low * _AROUND - 20 * step, high / _AROUND + 20 * step
    scales = [_scale(one, banks) for one in banks.glassware.values() if glass is not None and _suits(one, glass)]
    return FieldShown(kind, label, keys, unit_text(unit), str(step), str(least), str(most), scales)


def names_spoken(banks: Banks) -> Names:
    """What the entries of the banks are called in the language spoken."""
    return banks.names.get(spoken(), Names())


def called(substance: Substance, banks: Banks) -> str:
    """What a substance is called in the language spoken."""
    return names_spoken(banks).substances.get(substance.id, substance.name)


def _scale(glass: Glassware, banks: Banks) -> Scale:
    name = names_spoken(banks).glassware.get(glass.id, glass.name)
    return Scale(glass.id, name, glass.unit, glass.step.text, glass.capacity.text)


def _suits(one: Glassware, glass: Glassware) -> bool:
    """Whether something else may be read in a glass's place: of the same dimension."""
    return read_unit(one.unit).dimension == read_unit(glass.unit).dimension


def _text(value: Any) -> str:
    return "; ".join(map(str, value)) if isinstance(value, list | tuple) else str(value)


def _part(place: int, part: Values) -> PartShown:
    keys = {key: str(part[key]) for key in ("quantity", "of", "from", "role", "stage") if key in part}
    unit = str(part.get("unit", ""))
    points, prompt = str(part.get("points", "")), str(part.get("prompt", ""))
    return PartShown(place, keys, unit, units_like(unit, keys["quantity"]), points, prompt, int(part.get("session", 1)))


def units_like(unit: str, quantity: str) -> list[tuple[str, str]]:
    """The units that a part may be asked in and how they are shown, its own first; none where it has none.

    One that says no unit is asked in the quantity's usual one.

    >>> units_like("", "mass"), units_like("", "equivalents")
    ([('', 'g'), ('mg', 'mg'), ('kg', 'kg')], [])
    """
    usual = unit or (KINDS[quantity].unit if quantity in KINDS else "")
    try:
        row = next((row for row in _UNITS if read_unit(row[0]).dimension == read_unit(usual).dimension), ())
        called = unit_text(usual)
    except UnitError:
        row, called = (), usual
    others = [(one, unit_text(one)) for one in row if one != usual]
    return [(unit, called), *others] if called else []
