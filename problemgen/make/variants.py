"""Making variants: for each student the first admissible candidate of their stream that nobody has yet."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import cached_property

import numpy as np

from problemgen.errors import NoRoomError
from problemgen.make.admissible import RULES, Judge, Judgement
from problemgen.make.candidates import Candidates, Stream, draw_candidates
from problemgen.make.draws import kept_for_practice
from problemgen.make.limiting import drawn_turn
from problemgen.make.refusal import no_room
from problemgen.make.rules import liquid_volume
from problemgen.model.fixed import Datum
from problemgen.model.template import Template
from problemgen.model.variant import Rejections, Variant
from problemgen.plan.answering import datum_windows
from problemgen.plan.arithmetic import Exact, Window
from problemgen.plan.evaluate import window_values
from problemgen.plan.forms import form_of
from problemgen.plan.laws.scaling import FLASK_SHARE

__all__ = ["Maker", "variant_from", "variant_of"]

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

_TURN = "limiting reagent"
"""The name of the draw that picks who limits."""

_STUDENTS = 250
"""Students judged in one batch: keeps memory flat whatever the size of the class. Tried: 60 take a quarter longer, 1000
no less.
"""


@dataclass
class Maker:
    """Makes the variants of one problem, and counts what each rule turned away.

    Where students bring all that differs between them, `for_all` gives everybody the same variant: an example. Nobody
    gets what somebody else has on paper: `printed` are the given values of those, by quantity id. `judged_by` is a
    judge of the same template that has judged before: its trial draw need not be made again.
    """

    template: Template
    stream: Stream
    for_all: bool = False
    printed: Sequence[Mapping[str, Datum]] = ()
    judged_by: Judge | None = None
    candidates: int = 0
    turned_away: Counter[str] = field(default_factory=Counter)
    hidden: Counter[str] = field(default_factory=Counter)  # by mistake
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
        return Rejections(self.candidates, {rule: self.turned_away[rule] for rule in RULES}, dict(self.hidden))

    def _alike(self, students: Sequence[str]) -> list[Variant]:
        """The one variant there is, for everybody: an equation to balance has no numbers."""
        self.candidates += len(students)
        candidates = draw_candidates(self.template, self.stream, students, 0, 1)
        made = enumerate(students)
        return [variant_from(self.template, candidates, row, student, self.stream.problem) for row, student in made]

    @cached_property
    def judge(self) -> Judge:
        """What judges the candidates."""
        return self.judged_by or Judge(self.template)

    def _some(self, students: Sequence[str]) -> list[Variant]:
        found: dict[str, Variant] = {}
        turns = self._turns(students)
        self._look(students, turns, found)
        if turns is not None:  # who finds nothing with the reagent that was drawn takes what limits
            self._look(students, None, found)
        if len(found) < len(students):
            raise NoRoomError(no_room(self.template, self.rejections, len(students) - len(found)))
        return [found[student] for student in students]

    def _turns(self, students: Sequence[str]) -> Mapping[str, int] | None:
        """Which reagent is to limit for each student, by its place; None where it is not drawn."""
        turns = self.judge.turns
        if not turns:
            return None
        numbers = self.stream.numbers(students, _TURN, 0, 1)
        return dict(zip(students, drawn_turn(turns, numbers).tolist(), strict=True))

    def _look(self, students: Sequence[str], turns: Mapping[str, int] | None, found: dict[str, Variant]) -> None:
        """Look through the streams of those who have no variant yet."""
        for block, start, size in _looks():
            missing = [student for student in students if student not in found]
            if not missing:
                return
            candidates = draw_candidates(self.template, self.stream, missing, block, size, start)
            to_limit = np.repeat([turns[student] for student in missing], size) if turns is not None else None
            judgement = self.judge.judge(candidates, to_limit)
            self._count(judgement)
            admitted = judgement.admitted
            for place, student in enumerate(missing):
                rows = place * size + np.flatnonzero(admitted[place * size : (place + 1) * size])
                row = self._first_free(candidates, rows.tolist())
                if row is not None:
                    found[student] = variant_from(self.template, candidates, row, student, self.stream.problem)

    def _count(self, judgement: Judgement) -> None:
        self.candidates += int(judgement.turned_away.size)
        for index, rule in enumerate(RULES):
            self.turned_away[rule] += int(np.count_nonzero(judgement.turned_away == index))
        self.hidden.update(judgement.hidden)

    def _first_free(self, candidates: Candidates, rows: Sequence[int]) -> int | None:
        for row in rows:
            key = b"".join(steps[row].tobytes() for steps in candidates.steps.values())
            if key in self._taken or kept_for_practice(key) == self.stream.is_graded:
                continue
            if self.printed and self._is_printed(candidates, row):
                continue
            self._taken.add(key)
            return row
        return None

    def _is_printed(self, candidates: Candidates, row: int) -> bool:
        return _texts({n: candidates.datum(self.template, n, row) for n in candidates.windows}) in self._on_paper

    @cached_property
    def _on_paper(self) -> frozenset[tuple[tuple[str, str], ...]]:
        return frozenset(map(_texts, self.printed))


def _texts(given: Mapping[str, Datum]) -> tuple[tuple[str, str], ...]:
    """What tells two variants apart: their given values as they are written."""
    return tuple(sorted((name, datum.written.text) for name, datum in given.items()))


def _looks() -> Iterator[tuple[int, int, int]]:
    """Which candidates are looked at in turn: a block, the first of its candidates, and how many."""
    yield 0, 0, _FEW
    yield 0, _FEW, _BLOCK - _FEW
    yield from ((block, 0, _BLOCK) for block in range(1, _BLOCKS))


def variant_from(template: Template, candidates: Candidates, row: int, student: str, problem: str) -> Variant:
    """The variant of one candidate."""
    given = {name: candidates.datum(template, name, row) for name in candidates.windows}
    return variant_of(template, given, student, problem)


def variant_of(template: Template, given: Mapping[str, Datum], student: str, problem: str) -> Variant:
    """The variant with these given values, by quantity id: exact values, windows, figures."""
    measured = datum_windows(given)
    windows = window_values(template.plan, measured, Exact())
    values: dict[str, Fraction] = {name: window.value for name, window in windows.items()}
    plan, scene = template.plan, template.scene
    answers = [form_of(part.asked).answer(plan, scene, part.asked, windows) for part in template.parts]
    figures = {name: window.figures for name, window in windows.items()}
    return Variant(student, problem, template, given, values, figures, tuple(answers), _flask(template, measured))


_NEAR = Fraction(1, 5)
"""How full of its liquids the smallest flask is at least, so that something is said of it: half a millilitre fits any
flask of a laboratory, and nobody who pours it wonders whether it does (own choice)."""


def _flask(template: Template, measured: dict[str, Window]) -> Fraction | None:
    """The smallest flask that the liquids fill to two thirds at most; None where they fill hardly any of it."""
    if template.reaction is None or not template.reaction.flasks:
        return None
    liquids = liquid_volume(template, measured) * 1000
    flasks = [one.value for one in template.reaction.flasks]
    if liquids <= flasks[0] * _NEAR:
        return None
    return next((flask for flask in flasks if liquids <= flask * FLASK_SHARE), None)
