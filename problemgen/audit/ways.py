"""The ways in which simulated students go wrong: in one step, with the same misuse in every step, in two steps.

In one step comes in two: the step is worked wrongly wherever it counts; or all earlier parts that rest on it are right,
and it goes wrong where the last one needs it again. Whoever makes a mistake goes on from their own value.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal, TypeAlias

import numpy as np

from problemgen.audit.misuses import Misuse, Worksheet, misuses_of
from problemgen.make.admissible import Judge
from problemgen.make.candidates import Stream, draw_candidates
from problemgen.make.rules import work
from problemgen.model.expression import Expression
from problemgen.model.plan import Step, stale_steps
from problemgen.model.template import Analysed, Draw, Fixed, Obtained, Template
from problemgen.plan.batch import Batch
from problemgen.plan.evaluate import evaluate

__all__ = ["PAIRS", "Mode", "Way", "ways_of"]

PAIRS = 24
"""Pairs of misuses in two steps that are tried, spread over all pairs of a template."""

_STRIDE = 7
"""From one pair to the next the partners move so much nearer together, so that they do not stay at two steps."""

_TRIED = 16
"""Candidates by which it is seen that two calculations are one: two that are not agree for none by chance."""

_SAME = 1e-9
"""How far apart, relatively, one number may come out in floats when it is worked in two ways."""

Mode: TypeAlias = Literal["one step", "last part", "every step", "two steps"]
"""Where: in one step, for the last part that needs it alone, in every step that is worked alike, in two steps."""


@dataclass(frozen=True)
class Way:
    """Misuses made together: the calculations in the place of the steps' own, and what is worked again, in order."""

    misuses: tuple[Misuse, ...]
    rewrites: Mapping[str, Expression]
    steps: tuple[Step, ...]
    mode: Mode = "one step"
    owed: bool = False  # whether every variant has to show it: a usual mistake, by the numbers it leads to

    @property
    def id(self) -> str:
        """What is done, where."""
        return " + ".join(misuse.id for misuse in self.misuses) + (
            ", in the last part alone" if self.mode == "last part" else ""
        )

    @property
    def single(self) -> bool:
        """Whether one step is worked wrongly, wherever it counts."""
        return self.mode == "one step"

    @property
    def sort(self) -> str:
        """What is done, in words."""
        return "in two steps" if self.mode == "two steps" else self.misuses[0].sort

    @property
    def wrong(self) -> frozenset[str]:
        """The ids of the quantities whose step is worked wrongly."""
        return frozenset(self.rewrites)


def ways_of(template: Template) -> list[Way]:
    """All ways in which students of a template go wrong."""
    worksheet = Worksheet.of(template.plan, _units(template))
    misuses = [misuse for step in template.plan.steps for misuse in misuses_of(worksheet, step)]
    late = [way for misuse in misuses for way in _in_the_last_part(template, misuse)]
    duties = _Duties(template)
    return [
        *(replace(_together(template, (misuse,), "one step"), owed=duties.include(misuse)) for misuse in misuses),
        *late,
        *(_together(template, alike, "every step") for alike in _in_every_step(misuses)),
        *(_together(template, pair, "two steps") for pair in _in_two_steps(misuses)),
    ]


class _Duties:
    """Tells which misuses lead to the numbers of mistakes that the template's variants have to show."""

    def __init__(self, template: Template) -> None:
        """Works some candidates of the template."""
        stream = Stream(b"audit", "duties", template.id, "audit")
        candidates = draw_candidates(template, stream, ["simulated"], 0, _TRIED)
        self._values = {name: window.value for name, window in work(template, candidates).windows.items()}
        self._owed: dict[str, list[Expression]] = defaultdict(list)
        for mistake in Judge(template).duties.all:
            for name, expression in mistake.rewrites:
                self._owed[name].append(expression)

    def include(self, misuse: Misuse) -> bool:
        """Whether a misuse comes to the same numbers as a mistake that is owed, at the same step."""
        return any(self._same(misuse.expression, expression) for expression in self._owed[misuse.at])

    def _same(self, one: Expression, other: Expression) -> bool:
        with np.errstate(all="ignore"):
            first, second = (evaluate(expression, self._values, Batch()) for expression in (one, other))
            return bool(np.all(np.abs(first - second) <= _SAME * np.abs(second)))


def _units(template: Template) -> dict[str, str]:
    """The units of the given values, by quantity id."""
    told: list[Fixed | Draw | Obtained | Analysed] = [*template.fixed, *template.draws, *template.obtained]
    if template.unknown is not None:
        told.extend(template.unknown.analysed)
    return {one.quantity.id: one.unit for one in told}


def _together(template: Template, misuses: tuple[Misuse, ...], mode: Mode) -> Way:
    rewrites = {misuse.at: misuse.expression for misuse in misuses}
    return Way(misuses, rewrites, template.plan.stale(rewrites), mode)


def _in_the_last_part(template: Template, misuse: Misuse) -> Iterator[Way]:
    plan = template.plan
    changed = {step.quantity.id for step in plan.stale([misuse.at])}
    asked = [part.asked.quantity.id for part in template.parts if part.asked.quantity.id in changed]
    if misuse.at in asked or len(asked) < 2:
        return
    right = set(asked[:-1])
    steps = stale_steps([step for step in plan.steps if step.quantity.id not in right], [misuse.at])
    again = {step.quantity.id for step in steps} - {misuse.at}
    worked_rightly = {step.quantity.id for name in right for step in plan.steps_to(name)}
    if asked[-1] in again and not again & worked_rightly:
        yield Way((misuse,), {misuse.at: misuse.expression}, steps, "last part")


def _in_every_step(misuses: Sequence[Misuse]) -> Iterator[tuple[Misuse, ...]]:
    alike: dict[tuple[str, str], dict[str, Misuse]] = defaultdict(dict)
    for misuse in misuses:
        if misuse.whole:
            alike[misuse.sort, misuse.whole].setdefault(misuse.at, misuse)
    yield from (tuple(at.values()) for at in alike.values() if len(at) > 1)


def _in_two_steps(misuses: Sequence[Misuse]) -> Iterator[tuple[Misuse, ...]]:
    count = len(misuses)
    for place in range(min(PAIRS, count)):
        first = misuses[place * count // PAIRS]
        second = misuses[(place * count // PAIRS + count // 2 - _STRIDE * place) % count]
        if first.at != second.at and (first.whole != second.whole or not first.whole):
            yield first, second
