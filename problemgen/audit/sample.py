"""A sample of the simulated students, marked by the marking itself: who is refused, what is rewarded, named and paid.

Named rightly: the first answer that is wrong has the verdict `mistake`, and a step that is told to have gone astray is
one that was worked wrongly, or one at which a mistake gives the same number. Named wrongly: some answer has that
verdict, and only other steps are told. All else is not named.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from itertools import pairwise

import numpy as np

from problemgen.audit.acceptance import VISIBLE
from problemgen.audit.credit import random_numbers, upside_down
from problemgen.audit.exactly import decimal_worker, mistaken_workings
from problemgen.audit.marked import PROBLEM, Marking, marking_of
from problemgen.audit.records import Credit, Marked, Sort
from problemgen.audit.students import Group, some_of
from problemgen.audit.ways import Way
from problemgen.audit.worker import Worker, Workings
from problemgen.make.variants import variant_from
from problemgen.model.template import Part, Template
from problemgen.model.variant import Variant
from problemgen.model.verdict import PartResult
from problemgen.plan.forms import form_of

__all__ = ["HONEST", "VARIANTS", "marked_sample"]

VARIANTS = 4
"""Students in the sample who go wrong: each in every way, one after the other."""

HONEST = 16
"""Students in it who work honestly, and cut their answers another time."""

_SAME = Decimal("0.003")
"""How far apart, relatively, two numbers may be to be told by one name: what three figures cannot tell apart."""

_EXCHANGED, _FRACTION = "answer of another part", "fraction for percent"


@dataclass(frozen=True)
class _HandedIn:
    """What one student hands in: the answers by part as they are written, and those that are numbers."""

    texts: dict[str, str]
    numbers: dict[str, Decimal]

    def differs(self, other: _HandedIn, part: str) -> bool:
        """Whether an answer is to be seen to differ from another paper's."""
        if part not in self.numbers:
            return self.texts[part] != other.texts[part]
        right = other.numbers[part]
        return abs(self.numbers[part] - right) > Decimal(str(VISIBLE)) * abs(right)


@dataclass(frozen=True)
class _Mistaken:
    """One student's mistaken paper: what was done, and the quantities whose step or blank is wrong."""

    sort: str
    wrong: frozenset[str]
    paper: _HandedIn
    single: bool = False
    owed: bool = False


@dataclass
class _Sample:
    """The students of a sample, each in decimal digits."""

    template: Template
    workers: Sequence[Worker]
    marking: Marking
    sorts: dict[str, Counter[str]] = field(default_factory=dict)
    unnamed: Counter[str] = field(default_factory=Counter)  # by verdict

    def honest(self, row: int, *, cut: bool = False) -> _HandedIn:
        """What a student hands in who makes no mistake."""
        worker = self.workers[row]
        return self._handed_in(worker, worker.workings, cut=cut)

    def _handed_in(self, worker: Worker, workings: Workings, *, cut: bool = False) -> _HandedIn:
        texts, numbers = {}, {}
        for part in self.template.parts:

            def number(part: Part = part) -> str:
                numbers[part.id] = worker.answer(part.asked, workings, cut=cut)
                return f"{numbers[part.id] or 0}"

            form = form_of(part.asked)
            plan, scene = self.template.plan, self.template.scene
            texts[part.id] = form.handed_in(scene, plan, part.asked, workings.written, number)
        return _HandedIn(texts, numbers)

    def accepted(self, row: int, paper: _HandedIn) -> bool:
        """Whether every answer is right."""
        results = self.marking.mark(row, paper.texts)
        return all(result.verdict == "right" for result in results.values())

    def mistaken(self, row: int, ways: Sequence[Way]) -> None:
        """Let a student go wrong in every way, and count what is made of it."""
        honest = self.honest(row)
        papers = [one for one in self._each_once(row, ways, honest) if _to_be_seen(one.paper, honest)]
        alone = [one for one in papers if one.single]
        for one in papers:
            results = self.marking.mark(row, one.paper.texts)
            tally = self.sorts.setdefault(one.sort, Counter())
            tally["made"] += 1
            full = all(result.points == result.of for result in results.values())
            tally["rewarded" if one.owed else "by_chance"] += full
            tally["paid_again"] += _times_paid(results) > len(one.wrong)
            verdict = _named(results, one, honest, alone)
            tally[verdict if verdict in ("rightly", "wrongly") else "unnamed"] += 1
            if verdict not in ("rightly", "wrongly"):
                self.unnamed[verdict] += 1

    def _each_once(self, row: int, ways: Sequence[Way], honest: _HandedIn) -> Iterator[_Mistaken]:
        """Every mistaken paper, but once where two ways through the same step lead to the same answers."""
        seen = set()
        for one in self._mistaken(row, ways, honest):
            answers = (one.wrong, tuple(one.paper.texts.values()))
            if answers not in seen:
                seen.add(answers)
                yield one

    def _mistaken(self, row: int, ways: Sequence[Way], honest: _HandedIn) -> Iterator[_Mistaken]:
        worker = self.workers[row]
        for way in ways:
            paper = mistaken_workings(worker, way.rewrites, way.steps)
            if paper is not None:
                yield _Mistaken(way.sort, way.wrong, self._handed_in(worker, paper), way.single, way.owed)
        yield from self._in_the_blanks(honest)

    def _in_the_blanks(self, honest: _HandedIn) -> Iterator[_Mistaken]:
        """Right results in wrong blanks: two neighbours exchanged, a fraction where a percentage is asked."""
        parts = [part for part in self.template.parts if part.id in honest.numbers]
        for one, two in pairwise(parts):
            if one.asked.unit == two.asked.unit:
                wrong = frozenset({one.asked.quantity.id, two.asked.quantity.id})
                yield _Mistaken(_EXCHANGED, wrong, _with(honest, {one.id: two.id, two.id: one.id}))
        for part in parts:
            if part.asked.unit == "%":
                number = honest.numbers[part.id] / 100
                told = _HandedIn(
                    honest.texts | {part.id: f"{number} {part.asked.unit}"}, honest.numbers | {part.id: number}
                )
                yield _Mistaken(_FRACTION, frozenset({part.asked.quantity.id}), told)


def _with(paper: _HandedIn, exchanged: Mapping[str, str]) -> _HandedIn:
    texts = {part: paper.texts[exchanged.get(part, part)] for part in paper.texts}
    return _HandedIn(texts, {part: paper.numbers[exchanged.get(part, part)] for part in paper.numbers})


def _to_be_seen(paper: _HandedIn, honest: _HandedIn) -> bool:
    """Whether a mistake shows, and no number warns the student.

    One that is not finite or of the other sign does, and so does nought; not where something else is named as well:
    nothing is left over of the reagent that is taken for the limiting one.
    """
    otherwise = any(paper.differs(honest, part) for part in paper.texts.keys() - paper.numbers.keys())
    for part, number in paper.numbers.items():
        right = honest.numbers[part]
        if not number.is_finite() or number * right < 0 or (not number and right and not otherwise):
            return False
    return otherwise or any(paper.differs(honest, part) for part in paper.numbers)


def _times_paid(results: Mapping[str, PartResult]) -> int:
    """In how many parts an error costs points, those apart that follow from an earlier answer."""
    return sum(result.points < result.of and result.verdict != "follows" for result in results.values())


def _named(results: Mapping[str, PartResult], one: _Mistaken, honest: _HandedIn, alone: Sequence[_Mistaken]) -> str:
    """ "rightly", "wrongly", or the verdict of the first answer that is wrong."""
    first = ""
    for part, result in results.items():
        if result.verdict == "mistake" and not _is_meant(result, one, alone):
            return "wrongly"
        if not first and result.verdict != "right" and one.paper.differs(honest, part):
            first = "rightly" if result.verdict == "mistake" else result.verdict
    return first or "right"


def _is_meant(result: PartResult, one: _Mistaken, alone: Sequence[_Mistaken]) -> bool:
    if one.wrong & set(result.at):
        return True
    number = one.paper.numbers.get(result.part)
    return any(
        other.wrong & set(result.at)
        and (
            other.paper.texts[result.part] == one.paper.texts[result.part]
            or (number is not None and abs(other.paper.numbers[result.part] - number) <= _SAME * abs(number))
        )
        for other in alone
    )


def marked_sample(group: Group, ways: Sequence[Way], seed_words: str) -> Marked:
    """Mark the first students of a group, honest, mistaken and guessing, and count what the marking makes of them."""
    few = some_of(group, range(min(HONEST, group.students)))
    variants = [variant_from(few.template, few.candidates, row, "", PROBLEM) for row in range(few.students)]
    workers = [decimal_worker(variant, few.worker.habits.picked(row)) for row, variant in enumerate(variants)]
    with marking_of(few.template, variants) as marking, np.errstate(all="ignore"):
        sample = _Sample(few.template, workers, marking)
        refused = sum(not sample.accepted(row, sample.honest(row)) for row in range(few.students))
        cut = sum(not sample.accepted(row, sample.honest(row, cut=True)) for row in range(few.students))
        mistaken = range(min(VARIANTS, few.students))
        for row in mistaken:
            sample.mistaken(row, ways)
        credit = _credit(marking, variants[: len(mistaken)], seed_words)
    sorts = tuple(Sort(name, **tally) for name, tally in sorted(sample.sorts.items()))
    return Marked(few.students, refused, cut, sorts, dict(sample.unnamed), credit)


def _credit(marking: Marking, variants: Sequence[Variant], seed_words: str) -> Credit:
    found = Credit()
    for row, variant in enumerate(variants):
        found += upside_down(marking, row, variant)
        found += random_numbers(marking, row, variant, seed_words)
    return found
