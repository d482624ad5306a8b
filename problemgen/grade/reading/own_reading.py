"""Reading what a student filled in for a value of their own. Nothing is refused for being unlikely: it is flagged."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction

from problemgen.chemistry.units import read_unit, unit_text
from problemgen.exact.digits import Written
from problemgen.exact.rounding import exponent, figures_text, plain_text
from problemgen.grade.reading.cell import Reading, read_answer
from problemgen.grade.reading.ratios import GREATEST_POWER, read_ratio
from problemgen.language.messages import _
from problemgen.language.numbers import in_digits
from problemgen.model.fixed import Datum
from problemgen.model.own_data import Flag, OwnKey, OwnReading, OwnValue
from problemgen.model.quantity import KINDS, Quantity
from problemgen.plan.arithmetic import Window

__all__ = ["read_own", "share_flagged", "whole_flagged"]

_PROTONS = re.compile(r"(?<=[0-9])\s*H\.?\s*$")
"""What stands behind an integral in many a notebook: "2.00 H"."""

_THOUSAND = (Fraction(1000), Fraction(1, 1000))
"""What a value is off by that was written in mg for g, or in L for mL: the usual slip, and the only one proposed."""

_WHOLE, _FAR_TOO_MUCH = Fraction(100), Fraction(200)
"""Percent of what can be obtained: wet product weighs somewhat more than it should, not twice as much."""

_SHARE_FIGURES = 3
"""Figures of a percentage that is told: as a balance at the paper supports; one more where it has a figure more."""


def read_own(keys: Iterable[OwnKey], cells: Mapping[str, str], decimal_mark: str) -> tuple[OwnReading, ...]:
    """A student's own values of one problem, read and looked at one by one; `cells` by column."""
    return tuple(_read(key, cells.get(key.column, ""), decimal_mark) for key in keys)


def _read(key: OwnKey, wrote: str, decimal_mark: str) -> OwnReading:
    if key.value.second is not None:
        return _read_ratio(key, wrote, decimal_mark)
    reading, remark = _likely(key.value, wrote, decimal_mark)
    if reading.written is None or reading.value_in_unit is None:
        return OwnReading(key, wrote, None, _unread(key.value, reading))
    if not reading.counts_figures:
        return OwnReading(
            key, wrote, None, _("A fraction has no figures to count; write the reading as a decimal number.")
        )
    if reading.value_in_unit and abs(exponent(reading.value_in_unit)) > GREATEST_POWER:
        return OwnReading(key, wrote, None, _("No instrument shows a number of this size."))
    unit = reading.unit.text if reading.unit is not None else key.value.unit
    flags = [Flag("doubtful-spelling", remark)] if remark else []
    flags += _flags(key.value, reading.value_in_unit, reading.written, unit)
    return OwnReading(key, wrote, Datum(reading.written, unit), "", tuple(flags))


def _read_ratio(key: OwnKey, wrote: str, decimal_mark: str) -> OwnReading:
    """A ratio, its two numbers as two values; flagged where the first product's part is not usual."""
    ratio = read_ratio(wrote, decimal_mark)
    if ratio.first is None or ratio.second is None:
        return OwnReading(key, wrote, None, ratio.reason)
    value, flags = key.value, [Flag("doubtful-spelling", ratio.remark)] if ratio.remark else []
    percent = 100 * ratio.first.value / (ratio.first.value + ratio.second.value)
    if not value.low <= percent <= value.high:
        exchanged = value.low <= 100 - percent <= value.high
        told = (
            _(
                "{ratio} is {share} of the first product; usual are {low} % to {high} %: check the ratio and the order "
                "of the two numbers."
            )
            if exchanged
            else _("{ratio} is {share} of the first product; usual are {low} % to {high} %: check the ratio.")
        )
        sentence = told.format(
            ratio=f"{in_digits(ratio.first.text)} : {in_digits(ratio.second.text)}",
            share=_percent(percent),
            low=_number(value.low),
            high=_number(value.high),
        )
        flags.append(Flag("range", sentence))
    first, second = (Datum(number, value.unit) for number in (ratio.first, ratio.second))
    return OwnReading(key, wrote, first, "", tuple(flags), second)


def _unread(value: OwnValue, reading: Reading) -> str:
    """Why a value cannot be used."""
    if reading.status == "wrong_dimension" and reading.unit is not None:
        return _("It is written in {given}; {asked} is asked for.").format(given=reading.unit.text, asked=value.unit)
    return reading.reason


def _likely(value: OwnValue, wrote: str, decimal_mark: str) -> tuple[Reading, str]:
    """What was filled in, and a remark on how it was read.

    Where a mark can be a decimal mark or group thousands, the set's mark decides, unless only the other reading is
    likely: a usual value, or for what was obtained one that can be read off the balance. A likely value whose spelling
    has one reading by the set's mark is no matter for a remark.
    """
    unit = read_unit(value.unit)
    if value.quantity.kind == "integral":
        wrote = _PROTONS.sub("", wrote)
    reading = read_answer(wrote, unit, decimal_mark=decimal_mark)
    if reading.status == "number" and _is_likely(value, reading):
        return reading, ""
    if reading.status != "ambiguous" or _is_likely(value, reading):
        return reading, reading.reason
    other = read_answer(wrote, unit, decimal_mark="," if decimal_mark == "." else ".")
    if other.written is None or not _is_likely(value, other):
        return reading, reading.reason
    told = _("{text} is read as {number}, the likelier of two readings.")
    return other, told.format(text=wrote.strip(), number=in_digits(other.written.text))


def _is_likely(value: OwnValue, reading: Reading) -> bool:
    if reading.written is None or reading.value_in_unit is None:
        return False
    if value.share_of is None:
        return value.low <= reading.value_in_unit <= value.high
    unit = reading.unit.text if reading.unit is not None else value.unit
    return value.step is not None and _shown(value, reading.written, unit) == Fraction(10) ** value.step.place


def _shown(value: OwnValue, written: Written, unit: str) -> Fraction:
    """One unit of the last digit written, in the unit of the value."""
    return Fraction(10) ** written.place * read_unit(unit).factor / read_unit(value.unit).factor


def _flags(value: OwnValue, number: Fraction, written: Written, unit: str) -> Iterator[Flag]:
    """What wants a second look: an unusual value, more than the vessel holds, figures that are not the instrument's."""
    told = f"{in_digits(written.text)} {unit_text(unit)}".rstrip()
    if value.capacity is not None and number > value.capacity:
        holds = f"{_number(value.capacity)} {value.unit}"
        sentence = _("{value} is more than the {instrument} holds ({capacity}): check the reading.")
        yield Flag("capacity", sentence.format(value=told, instrument=value.instrument, capacity=holds))
    elif value.share_of is None and not value.low <= number <= value.high:
        sentence = (
            _(
                "{value} is outside the usual range, {low} to {high} {unit}: check the reading and its unit, it is "
                "about a thousand times too large or too small."
            )
            if _is_thousandfold(value, number)
            else _("{value} is outside the usual range, {low} to {high} {unit}: check the reading.")
        )
        bounds = {"low": _number(value.low), "high": _number(value.high), "unit": value.unit}
        yield Flag("range", sentence.format(value=told, **bounds))
    if KINDS[value.quantity.kind].has_own_scale and number <= 0:
        yield Flag("range", _("{value}: no signal? Check the reading.").format(value=told))
    if value.share_of is not None and number <= 0:
        yield Flag("range", _("{value}: nothing was obtained? Check the reading.").format(value=told))
    yield from _digits_flag(value, written, unit, told)


def _number(value: Fraction) -> str:
    """A bound, without zeros at the end."""
    text = figures_text(value, 4)
    return in_digits(text.rstrip("0").rstrip(".") if "." in text and "e" not in text else text)


def _is_thousandfold(value: OwnValue, number: Fraction) -> bool:
    """Whether a value would be usual if its unit were a thousand times another."""
    return any(value.low <= number * times <= value.high for times in _THOUSAND)


def _digits_flag(value: OwnValue, written: Written, unit: str, told: str) -> Iterator[Flag]:
    """A reading that shows more or fewer decimals than the instrument."""
    if value.step is None:
        return
    shown, possible = _shown(value, written, unit), Fraction(10) ** value.step.place
    least = f"{in_digits(plain_text(possible, value.step.place))} {value.unit}"
    if shown < possible:
        yield Flag(
            "more-digits",
            _("{value} has more digits than can be read off, to {least}.").format(value=told, least=least),
        )
    elif shown > possible:
        sentence = _("{value} has fewer digits than can be read off: write every digit, to {least}.")
        yield Flag("fewer-digits", sentence.format(value=told, least=least))


def share_flagged(readings: Sequence[OwnReading], windows: Mapping[str, Window]) -> tuple[OwnReading, ...]:
    """The readings with a flag on what was obtained where it is more than there can be, or less than is usual.

    `windows` are those of the plan by this student's data.
    """
    return tuple(_share_flagged(one, windows) for one in readings)


def _share_flagged(reading: OwnReading, windows: Mapping[str, Window]) -> OwnReading:
    value, whole = reading.key.value, None
    if value.share_of is not None:
        whole = windows.get(value.share_of.id)
    mine = windows.get(value.quantity.id)
    if reading.datum is None or whole is None or mine is None or whole.value <= 0 or mine.value <= 0:
        return reading
    percent = 100 * mine.value / whole.value
    if percent > _FAR_TOO_MUCH:
        told = _("{value} is {share} of the {quantity}, far more than there can be: check the values and their units.")
    elif percent > _WHOLE:
        told = _(
            "{value} is {share} of the {quantity}, more than there can be: is the product dry and pure? Check the "
            "weighing."
        )
    elif percent < value.low:
        told = _(
            "{value} is {share} of the {quantity}, less than is usual ({least} % or more): check the weighing and its "
            "unit."
        )
    else:
        return reading
    sentence = told.format(
        value=f"{in_digits(reading.datum.written.text)} {reading.datum.unit}",
        share=_percent(percent),
        quantity=reading.key.share_words,
        least=_number(value.low),
    )
    flag = Flag("over-100" if percent > _WHOLE else "low-share", sentence)
    return replace(reading, flags=(*reading.flags, flag))


def whole_flagged(
    readings: Sequence[OwnReading], rests: Mapping[Quantity, frozenset[str]], windows: Mapping[str, Window]
) -> tuple[OwnReading, ...]:
    """The readings with a flag where an answer that they lead to is a share of more than the whole.

    `rests` tells for each asked quantity the given values, by id, that it rests on. The last of the student's own is
    flagged, unless one of them is flagged for this already.
    """
    flagged = list(readings)
    for asked, names in rests.items():
        mine = [index for index, one in enumerate(flagged) if one.key.value.quantity.id in names and one.datum]
        told = any(flag.code == "over-100" for index in mine for flag in flagged[index].flags)
        if (
            mine
            and not told
            and KINDS[asked.kind].at_most_whole
            and asked.id in windows
            and windows[asked.id].value > 1
        ):
            sentence = _("With these values there is a {kind} of {share}, more than there can be: check them.")
            share = _percent(100 * windows[asked.id].value)
            flag = Flag("over-100", sentence.format(kind=_(KINDS[asked.kind].words), share=share))
            flagged[mine[-1]] = replace(flagged[mine[-1]], flags=(*flagged[mine[-1]].flags, flag))
    return tuple(flagged)


def _percent(percent: Fraction) -> str:
    if percent > _FAR_TOO_MUCH:
        return f"{plain_text(percent, 0)} %"
    return f"{in_digits(figures_text(percent, _SHARE_FIGURES + (percent > _WHOLE)))} %"
