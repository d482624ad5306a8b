"""The habits of simulated students: every liberty that honest work leaves, drawn by name for each student."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np
import numpy.typing as npt

from problemgen.make.draws import draw_numbers, indices

__all__ = ["Habits"]


@dataclass(frozen=True)
class Habits:
    """The habits of `students` students, drawn from the bytes of SHAKE-256 over the seed words and the habit's name.

    `rows` picks some of them; one row alone is a single student.
    """

    seed_words: str
    whose: str
    students: int
    rows: Any = field(default_factory=lambda: slice(None))
    _drawn: dict[str, npt.NDArray[np.int64]] = field(default_factory=dict, compare=False)

    def picked(self, rows: Any) -> Habits:
        """The habits of some of these students, in columns; of one alone, where `rows` is a single number."""
        return Habits(
            self.seed_words, self.whose, self.students, np.arange(self.students)[self.rows][rows], self._drawn
        )

    def index(self, habit: str, count: int) -> Any:
        """Which of `count` ways each student goes in one habit, evenly spread."""
        if habit not in self._drawn:
            numbers = draw_numbers(self.seed_words.encode(), (self.whose, habit), self.students)
            self._drawn[habit] = indices(numbers, count)
        return self._drawn[habit][self.rows]

    def pick(self, habit: str, ways: Sequence[Any]) -> Any:
        """Each student's way in one habit."""
        return np.asarray(ways)[self.index(habit, len(ways))]

    def pick_or_own(self, habit: str, ways: Sequence[Any], one: str) -> Any:
        """Each student's way in one habit: half of the students go the same way at all occasions, half vary.

        `habit` names what is done everywhere, `one` the occasion.
        """
        varies = self.index(f"{habit}: varies", 2) == 1
        return np.where(varies, self.pick(f"{habit}: {one}", ways), self.pick(habit, ways))
