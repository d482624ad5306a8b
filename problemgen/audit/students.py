"""Simulated students at work on the variants of one template: what is refused, and what is rewarded."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import count
from typing import Any

import numpy as np

from problemgen.audit.acceptance import NARROW, WIDE, Acceptance, by_windows
from problemgen.audit.calculators import Columns
from problemgen.audit.columns import measured_columns
from problemgen.audit.exactly import exactly_accepted
from problemgen.audit.habits import Habits
from problemgen.audit.worker import Worker
from problemgen.make.admissible import judge, worked
from problemgen.make.candidates import Candidates, Stream, draw_candidates
from problemgen.make.mistakes import Kept, Mask, shown_by
from problemgen.make.pairs import led_to, pairs_of
from problemgen.model.expression import Expression
from problemgen.model.plan import Mistake, Plan, Step
from problemgen.model.template import Template

__all__ = ["Found", "Group", "Way", "admitted_groups", "drawn_groups", "examined", "no_odds", "some_of", "ways_of"]

_BLOCK = 4096
"""Candidates that are drawn and judged at once: columns of this length stay in the processor's cache."""

_MOST_BLOCKS = 400  # 1.6 million candidates: a template with fewer admissible ones than are wanted is told as it is
_EXAMPLES = 3  # of each fault: more say nothing new


@dataclass(frozen=True)
class Way:
    """Usual mistakes made together: one, or two."""

    mistakes: tuple[Mistake, ...]
    rewrites: Mapping[str, Expression]
    steps: tuple[Step, ...]

    @property
    def id(self) -> str:
        """The mistakes' ids."""
        return " + ".join(mistake.id for mistake in self.mistakes)

    @property
    def single(self) -> bool:
        """Whether one mistake is made alone."""
        return len(self.mistakes) == 1


def ways_of(plan: Plan) -> list[Way]:
    """Every usual mistake alone, and every two that can be made together."""
    singles = []
    for mistake in plan.mistakes:
        rewrites = dict(mistake.rewrites)
        singles.append(Way((mistake,), rewrites, plan.stale(rewrites)))
    return [*singles, *(Way((pair.first, pair.second), pair.rewrites, pair.steps) for pair in pairs_of(plan))]


@dataclass(frozen=True)
class Group:
    """Some students with a variant each: their numbers, the keys, and how they work."""

    template: Template
    candidates: Candidates
    kept: Kept
    worker: Worker

    @property
    def students(self) -> int:
        """How many students these are."""
        return self.candidates.rows


def admitted_groups(template: Template, students: int, seed_words: str) -> Iterator[Group]:
    """Students with variants that are admitted, group after group; fewer where the ranges leave too little room."""
    left = students
    for block in count():
        candidates = _drawn(template, block, seed_words)
        rows = np.flatnonzero(judge(template, candidates).admitted)[:left]
        if rows.size:
            yield _group(template, candidates.taken(rows), students, students - left, seed_words)
        left -= rows.size
        if not left or block > _MOST_BLOCKS:
            return


def drawn_groups(template: Template, students: int, seed_words: str) -> Iterator[Group]:
    """Students with variants as they are drawn, admitted or not."""
    for block, start in enumerate(range(0, students, _BLOCK)):
        candidates = _drawn(template, block, seed_words)
        rows = np.arange(min(_BLOCK, students - start))
        yield _group(template, candidates.taken(rows), students, start, seed_words)


def _drawn(template: Template, block: int, seed_words: str) -> Candidates:
    stream = Stream(seed_words.encode(), "audit", template.id, "audit")
    return draw_candidates(template, stream, ["simulated"], block, _BLOCK)


def _group(template: Template, candidates: Candidates, students: int, start: int, seed_words: str) -> Group:
    habits = Habits(seed_words, template.id, students).picked(slice(start, start + candidates.rows))
    worker = Worker(template.plan, measured_columns(template, candidates), habits, Columns())
    return Group(template, candidates, worked(template, candidates), worker)


def some_of(group: Group, rows: Sequence[int]) -> Group:
    """Some of a group's students."""
    candidates = group.candidates.taken(np.array(rows))
    habits = group.worker.habits.picked(rows)
    worker = Worker(group.template.plan, measured_columns(group.template, candidates), habits, Columns())
    return Group(group.template, candidates, worked(group.template, candidates), worker)


def no_odds(group: Group) -> dict[str, Mask]:
    """For each mistake, for whom its step comes out as it should all the same, so that nothing is rewarded."""
    nobody = np.zeros(group.students, dtype=np.bool_)
    return {
        mistake.id: ~shown_by(group.template, [mistake], group.kept).differs if mistake.harmless else nobody
        for mistake in group.template.plan.mistakes
    }


@dataclass
class Found:
    """What was found of one template, added up over groups of students."""

    students: int = 0
    refused: int = 0
    made: Counter[str] = field(default_factory=Counter)  # by way: students who made it
    rewarded: Counter[str] = field(default_factory=Counter)
    no_odds: int = 0
    exactly_right: Counter[str] = field(default_factory=Counter)  # by way: students with every number exactly right
    rechecked: int = 0
    refusals: list[str] = field(default_factory=list)  # the numbers of the first honest ones
    first: dict[str, str] = field(default_factory=dict)  # by way: the numbers of the first who was rewarded

    def undone(self, ways: Sequence[Way]) -> tuple[str, ...]:
        """The pairs of which one mistake undoes the other for every student."""
        return tuple(way.id for way in ways if not way.single and self.exactly_right[way.id] == self.students)

    def examples(self, undone: Collection[str]) -> tuple[str, ...]:
        """A few of those who were refused, and of those who were rewarded."""
        rewarded = [f"{way} was rewarded: {numbers}" for way, numbers in self.first.items() if way not in undone]
        refused = [f"an honest worker was refused: {numbers}" for numbers in self.refusals]
        return (*refused[:_EXAMPLES], *rewarded[:_EXAMPLES])


def examined(group: Group, ways: Sequence[Way], found: Found) -> None:
    """Let a group work honestly and in every mistaken way, and count what the windows make of it."""
    acceptance = by_windows(group.template, group.kept)
    with np.errstate(all="ignore"):
        _honest(group, acceptance, found)
        nothing = no_odds(group)
        for way in ways:
            made = ~np.logical_and.reduce([nothing[mistake.id] for mistake in way.mistakes])
            found.no_odds += int(np.count_nonzero(~made))
            found.made[way.id] += int(np.count_nonzero(made))
            _mistaken(group, acceptance, way, made, found)
    found.students += group.students


def _honest(group: Group, acceptance: Acceptance, found: Found) -> None:
    accepted = acceptance.of_all(group.worker, group.worker.paper)
    refused = ~accepted[WIDE]
    for row in np.flatnonzero(accepted[WIDE] & ~accepted[NARROW]).tolist():
        found.rechecked += 1
        refused[row] = not exactly_accepted(group.template, group.candidates, group.worker.habits, row, {}, ())
    found.refusals.extend(_numbers(group, row) for row in np.flatnonzero(refused)[:_EXAMPLES].tolist())
    found.refused += int(np.count_nonzero(refused))


def _mistaken(group: Group, acceptance: Acceptance, way: Way, made: Mask, found: Found) -> None:
    accepted = acceptance.of_changed(group.worker, way.rewrites, way.steps)
    rewarded = accepted[WIDE] & made
    if not way.single and rewarded.any():
        found.exactly_right[way.id] += _exactly_right(group, way)
    for row in np.flatnonzero(rewarded & ~accepted[NARROW]).tolist():
        found.rechecked += 1
        rewarded[row] = exactly_accepted(
            group.template, group.candidates, group.worker.habits, row, way.rewrites, way.steps
        )
    for row in np.flatnonzero(rewarded)[:1].tolist():
        found.first.setdefault(way.id, _numbers(group, row))
    found.rewarded[way.id] += int(np.count_nonzero(rewarded))


def _exactly_right(group: Group, way: Way) -> int:
    """For how many students two mistakes lead to exactly the right numbers in all parts."""
    pair = next(one for one in pairs_of(group.template.plan) if (one.first, one.second) == way.mistakes)
    values: dict[str, Any] = {name: window.value for name, window in group.kept.windows.items()}
    _, same = led_to(group.template, pair, group.kept, values)
    return int(np.count_nonzero(same))


def _numbers(group: Group, row: int) -> str:
    data = {name: group.candidates.datum(group.template, name, row) for name in group.candidates.windows}
    return ", ".join(f"{name} {datum.written.text} {datum.unit}" for name, datum in data.items())
