"""Simulated students at work on the variants of one template: what is refused, and what is rewarded."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import count
from typing import Any

import numpy as np
import numpy.typing as npt

from problemgen.audit.acceptance import NARROW, WIDE, Acceptance, by_windows
from problemgen.audit.calculators import Columns
from problemgen.audit.columns import measured_columns
from problemgen.audit.exactly import exactly_accepted
from problemgen.audit.habits import Habits
from problemgen.audit.ways import Way
from problemgen.audit.worker import Worker
from problemgen.make.admissible import Judge
from problemgen.make.candidates import Candidates, Stream, draw_candidates
from problemgen.make.limiting import competing, limiting_at
from problemgen.make.mistakes import Kept
from problemgen.make.rules import work
from problemgen.model.template import Template
from problemgen.plan.forms.species import chosen_source

__all__ = ["Found", "Group", "admitted_groups", "drawn_groups", "examined", "limits", "some_of"]

_BLOCK = 4096
"""Candidates that are drawn and judged at once: columns of this length stay in the processor's cache."""

_MOST_BLOCKS = 400  # 1.6 million candidates: a template with fewer admissible ones than are wanted is told as it is
_EXAMPLES = 3  # of each fault: more say nothing new


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
    left, judge = students, Judge(template)
    wanted = _wanted(judge.turns, students)
    for block in count():
        candidates = _drawn(template, block, seed_words)
        rows = _picked(judge, candidates, wanted)[:left]
        if rows.size:
            yield _group(template, candidates.taken(rows), students, students - left, seed_words)
        left -= rows.size
        if not left or block > _MOST_BLOCKS:
            return


def _wanted(turns: Sequence[float], students: int) -> Counter[int]:
    """How many students are to have each reagent as the limiting one, by its place, as in a class."""
    wanted = Counter({place: round(turn * students) for place, turn in enumerate(turns)})
    if turns:
        wanted[int(np.argmax(turns))] += students - wanted.total()
    return wanted


def _picked(judge: Judge, candidates: Candidates, wanted: Counter[int]) -> npt.NDArray[np.int64]:
    """The candidates that are admitted, of each limiting reagent as many as are still wanted."""
    rows = np.flatnonzero(judge.judge(candidates).admitted)
    if not judge.turns or not rows.size:
        return rows
    kept = work(judge.template, candidates.taken(rows))
    places = limiting_at(competing(judge.template), kept.windows)
    picked = []
    for row, place in zip(rows.tolist(), places.tolist(), strict=True):
        if wanted[place] > 0:
            wanted[place] -= 1
            picked.append(row)
    return np.array(picked, dtype=np.int64)


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
    return Group(template, candidates, work(template, candidates), worker)


def some_of(group: Group, rows: Sequence[int]) -> Group:
    """Some of a group's students."""
    candidates = group.candidates.taken(np.array(rows))
    habits = group.worker.habits.picked(rows)
    worker = Worker(group.template.plan, measured_columns(group.template, candidates), habits, Columns())
    return Group(group.template, candidates, work(group.template, candidates), worker)


def limits(group: Group) -> Counter[str]:
    """How many students have each competing reagent as the limiting one, by the reagents' ids; empty without any."""
    sources = group.template.plan.sources
    if len(sources) < 2:
        return Counter()
    right = {name: window.value for name, window in group.kept.windows.items()}
    chosen = np.broadcast_to(chosen_source(group.template.plan, right), group.students)
    return Counter({source: int(np.count_nonzero(chosen == place)) for place, source in enumerate(sources)})


@dataclass
class Found:
    """What was found of one template, added up over groups of students."""

    students: int = 0
    refused: int = 0
    made: Counter[str] = field(default_factory=Counter)  # by way: students in whose answers it is to be seen
    rewarded: Counter[str] = field(default_factory=Counter)  # by way, of those that variants have to show
    by_chance: Counter[str] = field(default_factory=Counter)  # by way, of the others
    rechecked: int = 0
    limits: Counter[str] = field(default_factory=Counter)  # by reagent
    refusals: list[str] = field(default_factory=list)  # the numbers of the first honest ones
    first: dict[str, str] = field(default_factory=dict)  # by way: the numbers of the first who was rewarded

    @property
    def examples(self) -> tuple[str, ...]:
        """A few of those who were refused, and of those who were rewarded."""
        rewarded = [f"{way} was rewarded: {numbers}" for way, numbers in self.first.items()]
        refused = [f"an honest worker was refused: {numbers}" for numbers in self.refusals]
        return (*refused[:_EXAMPLES], *rewarded[:_EXAMPLES])


def examined(group: Group, ways: Sequence[Way], found: Found) -> None:
    """Let a group work honestly and in every mistaken way, and count what the windows make of it."""
    acceptance = by_windows(group.template, group.kept)
    with np.errstate(all="ignore"):
        _honest(group, acceptance, found)
        honest = acceptance.honest(group.worker)
        for way in ways:
            _mistaken(group, acceptance, way, honest, found)
    found.limits.update(limits(group))
    found.students += group.students


def _honest(group: Group, acceptance: Acceptance, found: Found) -> None:
    accepted = acceptance.of_all(group.worker, group.worker.workings)
    refused = ~accepted[WIDE]
    for row in np.flatnonzero(accepted[WIDE] & ~accepted[NARROW]).tolist():
        found.rechecked += 1
        refused[row] = not exactly_accepted(group.template, group.candidates, group.worker.habits, row, {}, ())
    found.refusals.extend(_numbers(group, row) for row in np.flatnonzero(refused)[:_EXAMPLES].tolist())
    found.refused += int(np.count_nonzero(refused))


def _mistaken(group: Group, acceptance: Acceptance, way: Way, honest: Mapping[str, Any], found: Found) -> None:
    accepted, made = acceptance.of_mistaken(group.worker, way.rewrites, way.steps, honest)
    rewarded = accepted[WIDE] & made
    for row in np.flatnonzero(rewarded & ~accepted[NARROW]).tolist():
        found.rechecked += 1
        rewarded[row] = exactly_accepted(
            group.template, group.candidates, group.worker.habits, row, way.rewrites, way.steps
        )
    for row in np.flatnonzero(rewarded)[: int(way.owed)].tolist():
        found.first.setdefault(way.id, _numbers(group, row))
    found.made[way.id] += int(np.count_nonzero(made))
    (found.rewarded if way.owed else found.by_chance)[way.id] += int(np.count_nonzero(rewarded))


def _numbers(group: Group, row: int) -> str:
    data = {name: group.candidates.datum(group.template, name, row) for name in group.candidates.windows}
    return ", ".join(f"{name} {datum.written.text} {datum.unit}" for name, datum in data.items())
