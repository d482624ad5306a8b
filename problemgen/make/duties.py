"""Which usual mistakes every variant of a template has to show, and which it need not.

What the program draws is the program's duty: a mistake that the drawn numbers could show shows in every variant. What
the instructor fixed (a solution of 1.00 mol/L) or the bench demands (a reagent that is nearly the solvent) may hide
one; then it is told, and nothing is bent for it. All is found out in a trial draw from the template's own ranges.

Owed are the mistakes that the laws list and the commonest that follow from the steps' algebra, but for

- those that the template lets hide (`may_hide`),
- those that fewer than one candidate in twenty could show,
- those that cannot show with the reagent that limits, where the sheet asks how much product each could give (the least
  amount taken as limiting where it does limit): the reasoning is on paper then, and who limits varies. They show
  wherever the limiting reagent lets them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from problemgen.make.limiting import ABLE, Places, limiting_at
from problemgen.make.mistakes import Kept, Mask, Shown, shown_by
from problemgen.model.plan import Mistake
from problemgen.model.template import Template
from problemgen.plan.missteps import commonest

__all__ = ["COULD_SHOW", "Duties", "duties_of", "revealed_by"]

COULD_SHOW = 0.05
"""The share of a template's candidates that have to show a mistake for it to be owed.

A mistake that shows in fewer would decide by itself which numbers are drawn.
"""


@dataclass(frozen=True)
class Duties:
    """What the variants of a template owe.

    `owed` shows in every variant; of `by_turn` each variant shows those at the place of its limiting reagent.
    `seen` tells of every mistake which of the trial candidates show it, `shares` which share of them.
    """

    owed: tuple[Mistake, ...] = ()
    by_turn: tuple[tuple[Mistake, ...], ...] = ()
    shares: Mapping[str, float] = field(default_factory=dict)
    seen: Mapping[str, Mask] = field(default_factory=dict)

    @property
    def all(self) -> tuple[Mistake, ...]:
        """All mistakes that some variant has to show."""
        return tuple(dict.fromkeys((*self.owed, *(one for turn in self.by_turn for one in turn))))

    def owes(self, mistake: Mistake) -> bool:
        """Whether some variant has to show a mistake."""
        return mistake in self.all

    def lacking(self, revealed: Mapping[str, Mask], limiting: Places | None, rows: int) -> dict[str, Mask]:
        """Which candidates hide what they owe, by the mistake's id; `limiting` are the places of who limits."""
        lacking = {one.id: ~revealed[one.id] for one in self.owed}
        for place, turn in enumerate(self.by_turn):
            for one in turn:
                hidden = ~revealed[one.id] & (limiting == place)
                lacking[one.id] = lacking.get(one.id, np.zeros(rows, dtype=np.bool_)) | hidden
        return lacking


def revealed_by(mistake: Mistake, shown: Shown) -> Mask:
    """Which candidates show a mistake, or come out as they should all the same where that harms nothing."""
    return shown.shown | ~shown.differs if mistake.harmless else shown.shown


def duties_of(template: Template, kept: Kept, extents: Sequence[str]) -> Duties:
    """What the variants of a template owe, by the candidates of a trial draw that keep all other rules.

    `extents` are those that are compared; none where no reagents compete.
    """
    listed = template.plan.mistakes
    derived = commonest(template.plan)
    masks = {one.id: revealed_by(one, shown_by(template, [one], kept)) for one in (*listed, *derived)}
    shares = {name: _share(mask) for name, mask in masks.items()}
    could = [one for one in (*listed, *derived) if shares[one.id] >= COULD_SHOW and one.id not in template.may_hide]
    if not template.plan.compares:
        return Duties(tuple(_together(could, masks, kept.rows)), (), shares, masks)
    by_turn = tuple(_by_turn(could, masks, kept, extents))
    turns = [turn for turn in by_turn if turn]
    owed = tuple(one for one in could if turns and all(one in turn for turn in turns))
    rest = tuple(tuple(one for one in turn if one not in owed) for turn in by_turn)
    return Duties(owed, rest, shares, masks)


def _together(mistakes: Iterable[Mistake], masks: Mapping[str, Mask], rows: int) -> Iterator[Mistake]:
    """Of some mistakes, those that enough candidates show all together: listed and most often shown ones go first."""
    shown = np.ones(rows, dtype=np.bool_)
    for one in sorted(mistakes, key=lambda mistake: (not mistake.hint, -_share(masks[mistake.id]))):
        both = shown & masks[one.id]
        if _share(both) >= COULD_SHOW:
            shown = both
            yield one


def _by_turn(
    mistakes: Sequence[Mistake], masks: Mapping[str, Mask], kept: Kept, extents: Sequence[str]
) -> Iterator[tuple[Mistake, ...]]:
    limiting = limiting_at(extents, kept.windows)
    for place in range(len(extents)):
        rows = np.flatnonzero(limiting == place)
        enough = rows.size >= ABLE * kept.rows
        yield tuple(_together(mistakes, {one.id: masks[one.id][rows] for one in mistakes}, rows.size)) if enough else ()


def _share(mask: Mask) -> float:
    return float(np.mean(mask)) if mask.size else 0.0
