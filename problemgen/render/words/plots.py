"""The points of a standard curve as a plot."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction

from problemgen.chemistry.units import read_unit, unit_text
from problemgen.exact.digits import number_text
from problemgen.exact.rounding import exponent, plain_text
from problemgen.language.messages import _
from problemgen.language.numbers import in_digits
from problemgen.model.blocks import Plot, Tick
from problemgen.model.fixed import Datum
from problemgen.model.quantity import KINDS, Quantity

__all__ = ["plot_of"]

_MOST_TICKS = 6
"""Numbers on an axis: more crowd it."""

_NICE = (1, 2, 5)


def plot_of(
    points: Sequence[tuple[Quantity, Quantity]],
    given: Mapping[str, Datum],
    line: tuple[Fraction, Fraction] | None = None,
) -> Plot:
    """A plot of points: the quantity across, and the one that is read up; both axes begin at 0.

    `line` is slope and intercept of a line through them, in the units of the axes.
    """
    across, up = ([given[q.id] for q in side] for side in zip(*points, strict=True))
    x, y = ([one.written.value for one in side] for side in (across, up))
    x_step, y_step = _step(max(x)), _step(max(y))
    x_end, y_end = _end(max(x), x_step), _end(max(y), y_step)
    ends: tuple[tuple[float, float], ...] = ()
    if line is not None:
        slope, intercept = line
        ends = tuple((_share(at, x_end), _share(slope * at + intercept, y_end)) for at in (Fraction(0), max(x)))
    return Plot(
        across=_axis(points[0][0], across[0]),
        up=_axis(points[0][1], up[0]),
        across_ticks=_ticks(x_step, x_end),
        up_ticks=_ticks(y_step, y_end),
        points=tuple((_share(a, x_end), _share(b, y_end)) for a, b in zip(x, y, strict=True)),
        line=ends,
        alt=_told(points, across, up, fitted=line is not None),
    )


def _step(greatest: Fraction) -> Fraction:
    """The distance of two numbers on an axis: 1, 2 or 5 of a power of ten."""
    power = Fraction(10) ** (exponent(greatest) - 1)
    return next(n * power for n in (*_NICE, *(10 * n for n in _NICE)) if greatest / (n * power) <= _MOST_TICKS - 1)


def _end(greatest: Fraction, step: Fraction) -> Fraction:
    """Where an axis ends: at the next number."""
    return -(-greatest // step) * step


def _ticks(step: Fraction, end: Fraction) -> tuple[Tick, ...]:
    place = min(exponent(step), 0)
    return tuple(
        Tick(_share(n * step, end), in_digits(plain_text(n * step, place))) for n in range(int(end / step) + 1)
    )


def _share(value: Fraction, end: Fraction) -> float:
    """A place on an axis; four decimals are finer than any printer."""
    return float(plain_text(value / end, -4))


def _axis(quantity: Quantity, datum: Datum) -> str:
    unit = unit_text(datum.unit)
    words = _(KINDS[quantity.kind].words)
    # Translators: what stands at an axis: "amount concentration in mol/L".
    return _("{kind} in {unit}").format(kind=words, unit=unit) if unit else words


def _told(
    points: Sequence[tuple[Quantity, Quantity]], across: Sequence[Datum], up: Sequence[Datum], *, fitted: bool
) -> str:
    """The plot read aloud."""
    names = [_(KINDS[q.kind].words) for q in points[0]]
    unit = unit_text(read_unit(across[0].unit).text)
    pairs = zip(*([number_text(one.written.text) for one in side] for side in (across, up)), strict=True)
    told = "; ".join(f"{x} {unit}, {y}" for x, y in pairs)
    words = (
        _("Plot of {up} against {across} with the line of least squares: {points}")
        if fitted
        else _("Plot of {up} against {across}: {points}")
    )
    return words.format(up=names[1], across=names[0], points=told)
