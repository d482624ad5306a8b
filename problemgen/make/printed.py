"""Numbers that are on paper already: whether a template still says the same of them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction

from problemgen.model.fixed import Datum
from problemgen.model.template import Analysed, Draw, Fixed, Obtained, Reading, Template

__all__ = ["changed_numbers"]


def changed_numbers(template: Template, printed: Mapping[str, Datum], own: frozenset[str]) -> Iterator[str]:
    """What a template says otherwise than a sheet that is printed, by the given values on it; nothing where it fits.

    `own` are the ids of what the student measures: no sheet prints it. A mass obtained and a reading may be any: what
    they were drawn from may have been corrected since.
    """
    units = _units(template)
    for name in units.keys() - own - printed.keys():
        yield f"{name}, which is not on the sheets"
    for name, datum in printed.items():
        if name not in units or name in own:
            yield f"no {name} any more, which is on the sheets"
        elif units[name] != datum.unit:
            yield f"{name} in {units[name]}, which is in {datum.unit} on the sheets"
    same = {name: datum for name, datum in printed.items() if units.get(name) == datum.unit}
    yield from _fixed_otherwise(template.fixed, same)
    for draw in template.draws:
        told = same.get(draw.quantity.id)
        if told is not None and not _could_be_drawn(draw, told):
            yield f"{draw.quantity.id} {_range(draw)}, which is another on the sheets"


def _fixed_otherwise(values: tuple[Fixed, ...], printed: Mapping[str, Datum]) -> Iterator[str]:
    for fixed in values:
        datum, now = printed.get(fixed.quantity.id), Datum(fixed.written, fixed.unit)
        if datum is not None and datum != now:
            yield f"{fixed.quantity.id} = {_shown(now)}, which is {_shown(datum)} on the sheets"


def _units(template: Template) -> dict[str, str]:
    """The units of all given values, by quantity id."""
    values: list[Fixed | Draw | Obtained | Reading | Analysed] = [*template.fixed, *template.draws, *template.obtained]
    values += [*template.readings, *(template.unknown.analysed if template.unknown is not None else ())]
    return {one.quantity.id: one.unit for one in values}


def _could_be_drawn(draw: Draw, datum: Datum) -> bool:
    if draw.choices:
        return datum.written in draw.choices
    steps: Fraction = datum.written.value / draw.step.value
    on_scale = steps.denominator == 1 and datum.written.place == draw.step.place
    return on_scale and draw.first <= steps < draw.first + draw.count


def _range(draw: Draw) -> str:
    if draw.choices:
        return f"of {', '.join(choice.text for choice in draw.choices)} {draw.unit}"
    first, last = (steps * draw.step.value for steps in (draw.first, draw.first + draw.count - 1))
    return f"from {float(first):g} to {float(last):g} {draw.unit} in steps of {draw.step.text}"


def _shown(datum: Datum) -> str:
    return datum.written.text if datum.unit == "1" else f"{datum.written.text} {datum.unit}"
