"""Making variants: for each student the first admissible candidate of their stream that nobody has yet."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import cached_property

import numpy as np

from problemgen.errors import NoRoomError
from problemgen.make.admissible import RULES, judge, liquid_volume
from problemgen.make.candidates import Candidates, Stream, draw_candidates
from problemgen.make.draws import kept_for_practice
from problemgen.model.template import Template
from problemgen.model.variant import Rejections, Variant
from problemgen.plan.answering import datum_windows
from problemgen.plan.arithmetic import Exact, Window
from problemgen.plan.evaluate import window_values
from problemgen.plan.forms import form_of
from problemgen.plan.laws.scaling import FLASK_SHARE

__all__ = ["ADVICE", "Maker", "no_room", "variant_from"]

_BLOCK = 32
"""Candidates in a block of a student's stream."""

_FEW = 8
"""Candidates of the first block that are looked at before its others: one of them will do for most students.

Tried on 19 templates and 300 students: 4, 8 and 16 take within a tenth of the same time, as do blocks of 16, 32 and 64.
"""

_BLOCKS = 40
"""Blocks looked at before a student counts as without a variant: 1280 candidates.

Where one in a hundred is admissible, the least that `check` lets pass, a student in 400,000 is left without (0.99¹²⁸⁰).
"""

_STUDENTS = 250
"""Students judged in one batch: keeps memory flat whatever the size of the class. Tried: 60 take a quarter longer, 1000
no less.
"""


@dataclass
class Maker:
    """Makes the variants of one problem, and counts what each rule turned away.

    Where students bring all that differs between them, `for_all` gives everybody the same variant: an example.
    """

    template: Template
    stream: Stream
    for_all: bool = False
    candidates: int = 0
    turned_away: Counter[str] = field(default_factory=Counter)
    _taken: set[bytes] = field(default_factory=set)  # the steps drawn, as bytes: small, for classes of thousands

    def variants(self, students: Sequence[str]) -> Iterator[Variant]:
        """A variant a student, in order.

        Raises:
            NoRoomError: when a student's stream holds no admissible candidate that nobody has; the message tells
                which rule turned away how many, and what to widen.
        """
        if self.for_all:
            yield from (replace(self._example, student=student) for student in students)
            return
        make = self._some if self.template.is_drawn else self._alike
        for start in range(0, len(students), _STUDENTS):
            yield from make(students[start : start + _STUDENTS])

    @cached_property
    def _example(self) -> Variant:
        """The first admissible candidate of a stream that is nobody's."""
        (variant,) = (self._some if self.template.is_drawn else self._alike)([""])
        return variant

    @property
    def rejections(self) -> Rejections:
        """What was turned away so far."""
        return Rejections(self.candidates, {rule: self.turned_away[rule] for rule in RULES})

    def _alike(self, students: Sequence[str]) -> list[Variant]:
        """The one variant there is, for everybody: an equation to balance has no numbers."""
        self.candidates += len(students)
        candidates = draw_candidates(self.template, self.stream, students, 0, 1)
        made = enumerate(students)
        return [variant_from(self.template, candidates, row, student, self.stream.problem) for row, student in made]

    def _some(self, students: Sequence[str]) -> list[Variant]:
        found: dict[str, Variant] = {}
        for block, start, size in _looks():
            missing = [student for student in students if student not in found]
            if not missing:
                break
            candidates = draw_candidates(self.template, self.stream, missing, block, size, start)
            judgement = judge(self.template, candidates)
            self._count(judgement.turned_away)
            for place, student in enumerate(missing):
                rows = place * size + np.flatnonzero(judgement.admitted[place * size : (place + 1) * size])
                row = self._first_free(candidates, rows.tolist())
                if row is not None:
                    found[student] = variant_from(self.template, candidates, row, student, self.stream.problem)
        if len(found) < len(students):
            raise NoRoomError(no_room(self.template, self.rejections, len(students) - len(found)))
        return [found[student] for student in students]

    def _count(self, turned_away: np.ndarray[tuple[int, ...], np.dtype[np.int64]]) -> None:
        self.candidates += int(turned_away.size)
        for index, rule in enumerate(RULES):
            self.turned_away[rule] += int(np.count_nonzero(turned_away == index))

    def _first_free(self, candidates: Candidates, rows: Sequence[int]) -> int | None:
        for row in rows:
            key = b"".join(steps[row].tobytes() for steps in candidates.steps.values())
            if key not in self._taken and kept_for_practice(key) != self.stream.is_graded:
                self._taken.add(key)
                return row
        return None


def _looks() -> Iterator[tuple[int, int, int]]:
    """Which candidates are looked at in turn: a block, the first of its candidates, and how many."""
    yield 0, 0, _FEW
    yield 0, _FEW, _BLOCK - _FEW
    yield from ((block, 0, _BLOCK) for block in range(1, _BLOCKS))


def variant_from(template: Template, candidates: Candidates, row: int, student: str, problem: str) -> Variant:
    """The variant of one candidate: exact values, windows, figures."""
    given = {name: candidates.datum(template, name, row) for name in candidates.windows}
    measured = datum_windows(given)
    windows = window_values(template.plan, measured, Exact())
    values: dict[str, Fraction] = {name: window.value for name, window in windows.items()}
    plan, scene = template.plan, template.scene
    answers = [form_of(part.asked).answer(plan, scene, part.asked, windows) for part in template.parts]
    figures = {name: window.figures for name, window in windows.items()}
    return Variant(student, problem, template, given, values, figures, tuple(answers), _flask(template, measured))


def _flask(template: Template, measured: dict[str, Window]) -> Fraction | None:
    """The smallest flask that the liquids fill to two thirds at most; None where no liquid is measured."""
    if template.reaction is None or not template.reaction.flasks:
        return None
    volume = liquid_volume(template, measured) * 1000
    fitting = [f.value for f in template.reaction.flasks if volume <= f.value * FLASK_SHARE]
    return fitting[0] if fitting and volume else None


def no_room(template: Template, rejections: Rejections, missing: int) -> str:
    """The refusal of a template that leaves too little room, with what to widen."""
    who = f"{missing} student{'s' if missing > 1 else ''}"
    lines = [
        (
            f"{template.id}: no admissible variant for {who} among {rejections.candidates} candidates; "
            f"{rejections.admitted} were admissible, fewer than needed."
        )
    ]
    for rule, count in sorted(rejections.by_rule.items(), key=lambda item: -item[1]):
        if count:
            share = 100 * count / rejections.candidates
            lines.append(f"  rule {rule!r} turned away {share:.0f} %: {ADVICE[rule]}")
    return "\n".join(lines)


ADVICE = {
    "flask": "lower the volumes, or give the reaction a larger flask in banks/reactions.toml",
    "limiting": "move the reagents' ranges apart, so that one is clearly limiting more often",
    "conditioning": "give more figures, or ask for something other than a small difference",
    "coincidence": "widen the ranges, so that answers differ from each other more often",
    "mistake": "widen the ranges, or ask a part that shows the mistake",
}
