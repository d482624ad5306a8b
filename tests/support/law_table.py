"""The tests that every file of laws has for its table of cases worked by hand."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, ClassVar

from problemgen.plan.law import Law

__all__ = ["LawTable"]


class LawTable:
    """One file's table: `class TestTable(LawTable)` with its laws and cases.

    A case is (law, scene, letter, values by letter, expected in the unit, unit, what each error gives).
    """

    laws: ClassVar[Sequence[Law]]
    cases: ClassVar[Sequence[tuple[Any, ...]]]

    @staticmethod
    def name(case: tuple[Any, ...]) -> str:
        return f"{case[0]}-{case[2]}"

    def test_the_law_gives_what_is_worked_by_hand(self, bench: Any, case: tuple[Any, ...]) -> None:
        assert bench.solved(case) == case[4]

    def test_a_common_error_gives_what_a_student_gets_who_makes_it(self, bench: Any, case: tuple[Any, ...]) -> None:
        assert bench.mistaken(case) == case[6]

    def test_every_letter_that_has_words_is_worked_above(self, bench: Any) -> None:
        assert bench.letters_told(self.laws) == {(case[0], case[2]) for case in self.cases}
