"""Which candidates may be handed out.

The rules, in the order in which they are tried; a candidate is counted under the first that turns it away:

flask         the liquids fill the largest flask of the preparation to two thirds at most
excess        what the template declares in excess is
limiting      the runner-up's window lies clear of the limiting reagent's, by at least MARGIN; who limits is who was
              drawn to, or who the template says
conditioning  no answer's window is wider than the data justify (a small difference of large numbers)
coincidence   no two answers in the same unit can be taken for each other
mistake       every usual mistake that the numbers owe to show, alone and together with any other, lands outside of what
              is accepted of at least one part, clear by MARGIN
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np
import numpy.typing as npt

from problemgen.make.candidates import Candidates, Stream, draw_candidates
from problemgen.make.duties import Duties, duties_of, revealed_by
from problemgen.make.excess import compared
from problemgen.make.limiting import Places, competing, limiting_at, turns_of
from problemgen.make.mistakes import Kept, Mask, Shown, shown_by
from problemgen.make.pairs import PairsOwed
from problemgen.make.rules import broken
from problemgen.model.plan import Mistake, Plan
from problemgen.model.template import Template
from problemgen.plan.arithmetic import Window

__all__ = ["RULES", "Judge", "Judgement"]

RULES = ("flask", "excess", "limiting", "conditioning", "coincidence", "mistake")

_TRIAL = (512, 4096)
"""Candidates of the trial draw, in which is seen what the ranges of a template can show; more where few will do."""

_ENOUGH = 200
"""Candidates of it that keep all rules but those on mistakes: one in twenty is told from one in forty."""

_PAIRS = "pairs of mistakes"
"""The share told of what only two mistakes together hide."""


@dataclass(frozen=True)
class Judgement:
    """`turned_away` holds, a candidate, the index of the first rule in RULES that it breaks; −1 for none.

    `revealed` tells for each mistake which of the candidates that pass all other rules reveal it, `hidden` how many of
    all candidates each mistake that they owe turned away (the first that did), `answers` the windows of all
    candidates' answers by part, in the units asked for.
    """

    turned_away: npt.NDArray[np.int64]
    revealed: Mapping[str, Mask]
    hidden: Mapping[str, int] = field(default_factory=dict)
    answers: Mapping[str, Window] = field(default_factory=dict)

    @property
    def admitted(self) -> Mask:
        """The candidates that may be handed out."""
        return self.turned_away < 0


@dataclass(frozen=True)
class Judge:
    """Judges candidates of one template; what its ranges can show is found out once, in a trial draw."""

    template: Template

    @cached_property
    def duties(self) -> Duties:
        """Which mistakes the variants owe to show."""
        with np.errstate(all="ignore"):
            return duties_of(self.template, self._trial, self._extents)

    @cached_property
    def turns(self) -> tuple[float, ...]:
        """In which share of a class each reagent limits, in the order of the plan's sources; empty for no draw."""
        if not self._extents:
            return ()
        return turns_of(self.template, limiting_at(self._extents, self._unhidden.windows))

    @property
    def competing(self) -> bool:
        """Whether reagents are compared."""
        return bool(self._extents)

    @cached_property
    def limiting(self) -> Mapping[str, float]:
        """In which share of the admissible candidates of the trial draw each reagent limits, by its id."""
        if not self._extents or not self._unhidden.rows:
            return {}
        places = limiting_at(self._extents, self._unhidden.windows)
        often = np.bincount(places, minlength=len(self._extents)) / places.size
        return dict(zip(self.template.plan.sources, often.tolist(), strict=True))

    def share_of_class(self, mistake: Mistake) -> float | None:
        """Which share of a class shows a mistake about the reagent at least; None where every variant has to."""
        if not self.duties.by_turn or not mistake.is_about_the_reagent or mistake in self.duties.owed:
            return None
        weights = self.turns or tuple(self.limiting.values())
        return sum(weight for weight, turn in zip(weights, self.duties.by_turn, strict=False) if mistake in turn)

    def judge(self, candidates: Candidates, turns: Places | None = None) -> Judgement:
        """Judge all candidates at once; `turns` are the places of who is to limit, a candidate each."""
        with np.errstate(all="ignore"):
            rules, everything = broken(self.template, candidates, self._excess)
            rules["limiting"] = rules["limiting"] | self._another(everything, candidates.rows, turns)
            kept = everything.taken(np.flatnonzero(~_any(rules, candidates.rows)))
            shown = self._shown(kept)
            revealed = self._revealed(shown)
            lacking = self.duties.lacking(revealed, self._limiting(kept), kept.rows)
            hidden = _any(lacking, kept.rows)
            left = np.flatnonzero(~hidden)
            by_pairs = self._pairs.hidden(kept, shown, left, self._limiting(kept))
        hidden[left] = by_pairs
        return Judgement(
            self._turned_away(rules, hidden, candidates.rows),
            revealed,
            {**_first(lacking), _PAIRS: int(np.count_nonzero(by_pairs))},
            everything.answers,
        )

    def _turned_away(self, rules: Mapping[str, Mask], hidden: Mask, rows: int) -> npt.NDArray[np.int64]:
        last = np.zeros(rows, dtype=np.bool_)
        last[~_any(rules, rows)] = hidden
        turned_away = np.full(rows, -1, dtype=np.int64)
        for index, rule in reversed([*enumerate([*(rules[name] for name in RULES[:-1]), last])]):
            turned_away[rule] = index
        return turned_away

    def _another(self, kept: Kept, rows: int, turns: Places | None) -> Mask:
        """Where another reagent limits than is to."""
        if not self._extents:
            return np.zeros(rows, dtype=np.bool_)
        limiting = limiting_at(self._extents, kept.windows)
        if self.template.always_limits:
            return np.asarray(limiting != self.template.plan.sources.index(self.template.always_limits))
        return np.asarray(limiting != turns) if turns is not None else np.zeros(rows, dtype=np.bool_)

    def _shown(self, kept: Kept) -> dict[str, Shown]:
        return {one.id: shown_by(self.template, [one], kept) for one in self._mistakes}

    def _revealed(self, shown: Mapping[str, Shown]) -> dict[str, Mask]:
        return {one.id: revealed_by(one, shown[one.id]) for one in self._mistakes}

    def _limiting(self, kept: Kept) -> Places | None:
        return limiting_at(self._extents, kept.windows) if self._extents and self.duties.by_turn else None

    @cached_property
    def _mistakes(self) -> tuple[Mistake, ...]:
        """What is looked for: all that the laws list, and what is owed beside it."""
        return tuple(dict.fromkeys((*self.template.plan.mistakes, *self.duties.all)))

    @cached_property
    def _pairs(self) -> PairsOwed:
        """Judges pairs of the listed mistakes that every variant shows."""
        owed = [one for one in self.template.plan.mistakes if one in self.duties.owed]
        return PairsOwed(self.template, owed, lambda: (self._unhidden, self._limiting(self._unhidden)))

    @cached_property
    def _extents(self) -> tuple[str, ...]:
        return competing(self.template)

    @cached_property
    def _excess(self) -> Plan | None:
        return compared(self.template.scene)

    @cached_property
    def _trial(self) -> Kept:
        """Candidates of a trial draw that keep all rules but those on mistakes: the same ones each time."""
        stream = Stream(b"trial", "duties", self.template.id, "trial")
        for size in _TRIAL:
            candidates = draw_candidates(self.template, stream, ["trial"], 0, size)
            with np.errstate(all="ignore"):
                rules, everything = broken(self.template, candidates, self._excess)
                rules["limiting"] = rules["limiting"] | self._another(everything, size, None)
                kept = everything.taken(np.flatnonzero(~_any(rules, size))[:_ENOUGH])
            if kept.rows == _ENOUGH:
                break
        return kept

    @cached_property
    def _unhidden(self) -> Kept:
        """Those of the trial draw that hide no single mistake."""
        trial = self._trial
        with np.errstate(all="ignore"):
            lacking = self.duties.lacking(self.duties.seen, self._limiting(trial), trial.rows)
        return trial.taken(np.flatnonzero(~_any(lacking, trial.rows)))


def _any(masks: Mapping[str, Mask], rows: int) -> Mask:
    return np.asarray(np.logical_or.reduce([np.zeros(rows, dtype=np.bool_), *masks.values()]))


def _first(lacking: Mapping[str, Mask]) -> dict[str, int]:
    """How many candidates each mistake turned away, each candidate under the first."""
    counts: dict[str, int] = {}
    seen: Mask | None = None
    for name, mask in lacking.items():
        counts[name] = int(np.count_nonzero(mask if seen is None else mask & ~seen))
        seen = mask if seen is None else seen | mask
    return counts
