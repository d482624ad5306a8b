"""A sample of the simulated students, marked by the marking itself: which mistakes it names, and whether it agrees.

A mistake counts as named where the first answer that is not right is put down to it, alone or beside others that lead
to the same; or where that answer is right but for a power of ten, which is then what is said. Of two mistakes together
both have to be named, in whichever parts.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from problemgen.audit.acceptance import NARROW, WIDE, Masks, by_windows
from problemgen.audit.exactly import decimal_worker, mistaken_paper
from problemgen.audit.marked import PROBLEM, Marking, marking_of
from problemgen.audit.records import Naming
from problemgen.audit.students import Group, Way, no_odds, some_of
from problemgen.audit.worker import Paper, Worker
from problemgen.make.variants import variant_from
from problemgen.model.template import Part, Template
from problemgen.model.verdict import PartResult
from problemgen.plan.forms import form_of

__all__ = ["PAIRS", "VARIANTS", "named_in_sample"]

VARIANTS = 4
"""Students in the sample: each makes every mistake, one after the other."""

PAIRS = 16
"""Pairs of mistakes in the sample, spread over all pairs of a template."""


@dataclass(frozen=True)
class _Sample:
    """The students of a sample: in columns, and each in decimal digits."""

    group: Group
    workers: Sequence[Worker]
    marking: Marking

    def answers(self, row: int, paper: Paper) -> dict[str, str]:
        """What one student hands in, by part."""
        template = self.group.template
        return {part.id: _told(template, part, self.workers[row], paper) for part in template.parts}


def named_in_sample(group: Group, ways: Sequence[Way], undone: Collection[str]) -> Naming:
    """Mark the first students of a group, honest and mistaken, and count what is named and where verdicts differ."""
    few = some_of(group, range(min(VARIANTS, group.students)))
    variants = [variant_from(few.template, few.candidates, row, "", PROBLEM) for row in range(few.students)]
    workers = [decimal_worker(variant, few.worker.habits.picked(row)) for row, variant in enumerate(variants)]
    tally: Counter[str] = Counter()
    with marking_of(few.template, variants) as marking, np.errstate(all="ignore"):
        sample = _Sample(few, workers, marking)
        accepted = by_windows(few.template, few.kept)
        each = accepted.of_each(few.worker, few.worker.paper)
        for row, worker in enumerate(workers):
            tally["honest"] += 1
            _compare(sample.marking.mark(row, sample.answers(row, worker.paper)), each, row, tally)
        for way, row in _dealt(few, ways, undone):
            *_, (_, columns) = few.worker.mistaken(way.rewrites, way.steps)
            paper = mistaken_paper(workers[row], way.rewrites, way.steps)
            if paper is not None:
                results = marking.mark(row, sample.answers(row, paper))
                _compare(results, accepted.of_each(few.worker, columns), row, tally)
                _name(results, way, tally)
    return Naming(**tally)


def _dealt(group: Group, ways: Sequence[Way], undone: Collection[str]) -> Iterator[tuple[Way, int]]:
    """Who makes which mistakes: each alone by every student, and some pairs by one student each."""
    nothing = no_odds(group)
    pairs = [way for way in ways if not way.single and way.id not in undone]
    singles = [(way, row) for way in ways if way.single for row in range(group.students)]
    spread = pairs[:: max(1, len(pairs) // PAIRS)][:PAIRS]
    for way, row in (*singles, *((way, place % group.students) for place, way in enumerate(spread))):
        if not any(nothing[mistake.id][row] for mistake in way.mistakes):
            yield way, row


def _compare(results: Mapping[str, PartResult], each: Mapping[str, Masks], row: int, tally: Counter[str]) -> None:
    """Compare the verdicts of the marking with those of the columns, but for answers at the very edge of a window."""
    for part, masks in each.items():
        if masks[WIDE][row] == masks[NARROW][row]:
            tally["compared"] += 1
            tally["disagreements"] += bool(masks[WIDE][row]) != (results[part].verdict == "right")


def _name(results: Mapping[str, PartResult], way: Way, tally: Counter[str]) -> None:
    wrong = [result for result in results.values() if result.verdict != "right"]
    if way.single:
        tally["mistakes"] += 1
        first = wrong[0] if wrong else None
        tally["named"] += first is not None and (way.mistakes[0].id in first.mistakes or first.verdict == "slip")
    else:
        tally["pairs"] += 1
        named = {name for result in wrong for name in result.mistakes}
        tally["pairs_named"] += all(mistake.id in named for mistake in way.mistakes)


def _told(template: Template, part: Part, worker: Worker, paper: Paper) -> str:
    """An answer as a student writes it."""

    def number() -> str:
        return f"{worker.answer(part.asked, paper)}"

    return form_of(part.asked).handed_in(template.scene, template.plan, part.asked, paper.written, number)
