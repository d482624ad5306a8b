"""Which reagent limits: beyond doubt in each variant, and not the same one for a whole class.

A class in which the limiting reagent is always the same learns to tick it. Who limits is therefore drawn before the
amounts are: half of the students get the one, half the other; of three or more reagents the two that limit most often
by themselves share nearly all students. A template says `always_limits` where the chemistry leaves no choice.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
import numpy.typing as npt

from problemgen.make.draws import shares
from problemgen.make.mistakes import MARGIN, Mask
from problemgen.model.quantity import Quantity
from problemgen.model.template import Template
from problemgen.plan.arithmetic import Window

__all__ = ["ABLE", "Places", "competing", "doubtful", "drawn_turn", "limiting_at", "turns_of"]

Places = npt.NDArray[np.int64]

ABLE = 0.05
"""The share of the candidates in which a reagent has to limit to be drawn as the limiting one.

With fewer, each of its students costs twenty looks and more, and their numbers lie in a corner of the ranges.
"""

_REST = 0.12
"""The share of a class in which a third reagent limits, or a fourth, all of them together.

The first two keep 44 % each: in a class of thirty each of them is then above a third, all but surely.
"""


def competing(template: Template) -> tuple[str, ...]:
    """The ids of the extents that are compared, in the order of the plan's sources; fewer than two for none."""
    reached = {step.quantity.id for step in template.plan.steps}
    extents = [Quantity("extent", source).id for source in template.plan.sources]
    return tuple(extents) if len(extents) > 1 and reached.issuperset(extents) else ()


def limiting_at(extents: Sequence[str], windows: Mapping[str, Window]) -> Places:
    """Which of the reagents limits, by its place, a candidate each."""
    values = np.broadcast_arrays(*(windows[name].value for name in extents))
    return np.asarray(np.argmin(np.stack(values), axis=0), dtype=np.int64)


def doubtful(extents: Sequence[str], windows: Mapping[str, Window]) -> Mask:
    """Where a runner-up's window comes within the margin of the limiting reagent's."""
    winner = limiting_at(extents, windows)
    highs = np.stack(np.broadcast_arrays(*(windows[name].high for name in extents)))
    lows = np.stack(np.broadcast_arrays(*(windows[name].low for name in extents)))
    high = np.take_along_axis(highs, winner[None], axis=0)[0]
    np.put_along_axis(lows, winner[None], np.inf, axis=0)
    return np.asarray(lows.min(axis=0) <= high * (1.0 + MARGIN))


def turns_of(template: Template, limiting: Places) -> tuple[float, ...]:
    """In which share of a class each reagent is to limit, by what limits in admissible candidates of a trial draw.

    Empty where nothing is to be drawn: no reagents compete, one always limits, or only one of them can.
    """
    if template.always_limits or not limiting.size:
        return ()
    often = np.bincount(limiting, minlength=len(template.plan.sources)) / limiting.size
    able = [int(place) for place in np.argsort(-often, kind="stable") if often[place] >= ABLE]
    if len(able) < 2:
        return ()
    turns = np.zeros(len(often))
    rest = able[2:]
    turns[able[:2]] = (1.0 - (_REST if rest else 0.0)) / 2.0
    turns[rest] = _REST / max(len(rest), 1)
    return tuple(turns.tolist())


def drawn_turn(turns: Sequence[float], number: npt.NDArray[np.uint64]) -> Places:
    """Which reagent is to limit, by its place, for each of some drawn numbers."""
    return np.searchsorted(np.cumsum(turns)[:-1], shares(number), side="right").astype(np.int64)
