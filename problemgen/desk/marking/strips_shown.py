"""Strips as they are drawn: answers as marks over an axis, each verdict in a shape of its own, and said in words."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from problemgen.grade.classes.strips import FARTHEST, REACH, Mass, Strip, StripPoint
from problemgen.language.messages import N_, _, ngettext
from problemgen.language.numbers import in_digits

__all__ = ["CALLED", "SHAPES", "Dot", "StripShown", "factor_words", "ratio_words", "strip_shown"]

CALLED: Mapping[str, str] = {
    "right": N_("right"),
    "follows": N_("follows from an earlier answer"),
    "slip": N_("slip of a unit, sign or power of ten"),
    "rounded": N_("rounded too early"),
    "mistake": N_("named mistake"),
    "wrong": N_("wrong"),
    "unit": N_("another kind of unit"),
    "unread": N_("not readable"),
    "unjudged": N_("not judged"),
}
"""The verdicts as an instructor is told them, in the order in which marks are stacked."""

SHAPES: Mapping[str, str] = {
    "right": "M-3.2 0a3.2 3.2 0 1 0 6.4 0a3.2 3.2 0 1 0-6.4 0",
    "follows": "M0-4.2 4.2 0 0 4.2-4.2 0z",
    "slip": "M0-3.8 4 3.2H-4z",
    "rounded": "M0 3.8-4-3.2H4z",
    "mistake": "M-3.2-3.2 3.2 3.2M3.2-3.2-3.2 3.2",
    "wrong": "M-3-3H3V3H-3z",
    "unit": "M-2.6-2.6H2.6V2.6H-2.6z",
    "unread": "M-3 0a3 3 0 1 0 6 0a3 3 0 1 0-6 0",
    "unjudged": "M-3.6 0H3.6M0-3.6V3.6",
}
"""The shape of each: round for right, pointed for right in part, angular for wrong, open where nothing was read."""

_AXIS = 43.0
"""Percent from the middle of the axis to either end; right of it stands what has no place on it."""

_MIDDLE, _NOWHERE = 45.0, 95.0

_BIN = 0.9
"""Percent of a strip that a pile of marks has: they touch on a page of 80 rem, and lap over on a narrow one."""


@dataclass(frozen=True)
class Dot:
    """A mark: where, in percent from the left and pixels from the top, in which shape, and whose answer it is."""

    x: str
    y: str
    point: StripPoint

    @property
    def shape(self) -> str:
        """The verdict, by which it is drawn."""
        return self.point.result.verdict


@dataclass(frozen=True)
class StripShown:
    """A strip of some height: its marks; the window and the axis in percent; what it says, in words.

    `ticks` are the factor in words, its place, and whether there is room for it on a narrow page too; where a part asks
    for no number, the verdicts.
    """

    strip: Strip
    height: int
    dots: Sequence[Dot]
    words: str
    masses: Sequence[tuple[Mass, str]]
    ticks: Sequence[tuple[str, str, bool]]

    @property
    def window(self) -> tuple[str, str]:
        """The left side of the window, and its width."""
        return f"{_MIDDLE - _AXIS / REACH:g}", f"{2 * _AXIS / REACH:g}"

    @property
    def base(self) -> int:
        """Where the marks stand."""
        return self.height - 6


def strip_shown(strip: Strip, height: int) -> StripShown:
    """Lay a strip out, so many pixels high."""
    piles: defaultdict[float, list[StripPoint]] = defaultdict(list)
    order = {verdict: place for place, verdict in enumerate(CALLED)}
    for point in sorted(strip.points, key=lambda one: order.get(one.result.verdict, len(order))):
        piles[_x(strip, point)].append(point)
    most = max((len(pile) for pile in piles.values()), default=0)
    step = min(8.0, (height - 14) / max(most - 1, 1))  # a mark is 8 pixels high at most
    dots = [
        Dot(f"{x:g}", f"{height - 8 - place * step:.4g}", point)
        for x, pile in sorted(piles.items())
        for place, point in enumerate(pile)
    ]
    ticks = [(factor_words(one.factor), _place_x(one.place), _is_main(one.factor)) for one in strip.ticks]
    ticks = ticks or [(_(CALLED[verdict]), _x_of(strip, verdict), False) for verdict in strip.verdicts]
    masses = [(mass, _mass_words(mass, len(strip.points))) for mass in strip.masses]
    return StripShown(
        strip,
        height,
        dots,
        _words(strip),
        masses,
        [(words, f"{x:g}", is_main) for words, x, is_main in ticks],
    )


def _is_main(factor: float) -> bool:
    """Whether a factor is far enough from its neighbours on the axis to be told on a narrow page."""
    return max(factor, 1 / factor) > FARTHEST / 2 or 1.05 < max(factor, 1 / factor) < 1.5


def _x(strip: Strip, point: StripPoint) -> float:
    if not strip.ticks:  # no axis: the verdicts side by side
        return _x_of(strip, point.result.verdict)
    if point.place is None:
        return _NOWHERE
    return round(round(_place_x(point.place) / _BIN) * _BIN, 1)


def _x_of(strip: Strip, verdict: str) -> float:
    """Where a verdict stands, where all stand side by side."""
    found = [one for one in CALLED if one in strip.verdicts]
    return round(100 * (found.index(verdict) + 0.5) / len(found), 1)


def _place_x(place: float) -> float:
    return _MIDDLE + _AXIS * place / REACH


def factor_words(factor: float) -> str:
    """A factor as it is told beside an axis: "×1.1" for more than the key, "÷1.1" for less."""
    sign, told = ("×", factor) if factor >= 1 else ("÷", 1 / factor)
    return f"{sign}{in_digits(f'{told:.4g}')}"


def ratio_words(ratio: float) -> str:
    """A ratio with three figures."""
    return in_digits(f"{ratio:.3g}")


def _mass_words(mass: Mass, of: int) -> str:
    told = ngettext(
        "{count} of {of} answer is {ratio} times the key",
        "{count} of {of} answers are {ratio} times the key",
        of,
    ).format(count=mass.count, of=of, ratio=ratio_words(mass.ratio))
    why = mass.title or _(CALLED[mass.verdict])
    look = " " + _("So many at one place: look at the key and its window.") if mass.is_suspicious else ""
    return f"{told}: {why}.{look}"


def _words(strip: Strip) -> str:
    """What the strip shows: how many answers have which verdict."""
    pieces = [f"{_(CALLED[verdict])} {strip.verdicts[verdict]}" for verdict in CALLED if verdict in strip.verdicts]
    if strip.blank:
        pieces.append(_("blank {count}").format(count=strip.blank))
    return " · ".join(pieces)
