"""The answers of a built set, opened: who has which problem, what is right, and what an answer would be marked as."""

from __future__ import annotations

import weakref
from collections.abc import Iterable, Mapping
from numbers import Number
from pathlib import Path
from types import TracebackType
from typing import Any, Self

from problemgen.errors import Fault, FaultsError
from problemgen.grade.judging.judge import judge_student
from problemgen.grade.judging.own_data import with_own_data
from problemgen.language.messages import speaking
from problemgen.load.answers.answers import ANSWERS_FILE, Answers
from problemgen.load.documents import shown
from problemgen.load.fault_log import nearest
from problemgen.model.answers import StudentKey
from problemgen.model.verdict import StudentResult
from problemgen.pipeline.arguments import AnyPath, checked
from problemgen.pipeline.built import open_built
from problemgen.pipeline.problems import Problem, key_problem
from problemgen.pipeline.set_rules import mark_by_set

__all__ = ["AnswerBook", "open_answers", "student_key", "unknown"]

_RESPONSES = 'cells by their columns, such as {"1a": "39.5 g"}'


class AnswerBook:
    """A built set, opened: `with open_answers(folder) as book`, or closed when nobody holds it any more.

    What it tells is the key: confidential.
    """

    def __init__(self, folder: Path) -> None:
        """Open answers.json of a set's folder.

        Raises:
            FaultsError: for a file that is missing, is not of this format, or was changed since it was built; for
                faults of the set.toml that it was built from, whose policies hold.
        """
        self._path = folder / ANSWERS_FILE
        self._answers = open_built(folder).answers
        mark_by_set(self._answers, folder, None)
        self._close = weakref.finalize(self, self._answers.__exit__)

    def __enter__(self) -> Self:
        """The book itself."""
        return self

    def __exit__(self, _kind: type[BaseException] | None, _: BaseException | None, __: TracebackType | None) -> None:
        """Close the file."""
        self.close()

    def close(self) -> None:
        """Close the file; once is enough."""
        self._close()

    def __repr__(self) -> str:
        """The set's title and how many students it has; no key."""
        return f"<AnswerBook {self.title!r}: {len(self.students)} students>"

    @property
    def title(self) -> str:
        """The title of the set."""
        return self._answers.head.title

    @property
    def students(self) -> tuple[str, ...]:
        """The students' ids, in the order of the roster."""
        return self._answers.students

    @property
    def attempts(self) -> int:
        """How many attempts each student has."""
        return self._answers.head.attempts.number

    @property
    def columns(self) -> tuple[str, ...]:
        """The columns of the responses: the parts ("1a", "1b", …), and the data that students measure."""
        return self._answers.head.response_columns

    def problems(
        self, student: str, *, attempt: int = 1, responses: Mapping[str, object] | None = None
    ) -> tuple[Problem, ...]:
        """A student's problems with their numbers and right answers.

        Of a set in which students measure values of their own, `responses` may hold these by column, as in `judge`.

        Raises:
            FaultsError: for a student or an attempt that is not in the set, or a column that it does not have.
        """
        head, key = self._answers.head, self._key(student, attempt)
        worked = with_own_data(head, key, self._cells(responses or {}))
        with speaking(head.language):
            return tuple(key_problem(head.templates[one.template], one) for one in worked.problems)

    def judge(self, student: str, responses: Mapping[str, object], *, attempt: int = 1) -> StudentResult:
        """What a student's responses are marked as, by column: {"1a": "39.5 g"}; what is left out is blank.

        Text counts as typed. A number or None, as a data frame holds them, counts as its text, which may show fewer
        figures than were written. The instructor's decisions of overrides.csv are left out.

        Raises:
            FaultsError: for a student or an attempt that is not in the set, a column that it does not have, or a
                cell that is no text and no number.
        """
        return judge_student(self._answers.head, self._key(student, attempt), self._cells(responses))

    def _key(self, student: str, attempt: int) -> StudentKey:
        if not self._close.alive:
            hint = "Call open_answers again, or stay inside its `with`."
            raise FaultsError([Fault(str(self._path), "", "a book that is closed", "an open one", hint)])
        return student_key(self._answers, self._path, str(student), attempt)

    def _cells(self, responses: Mapping[str, object]) -> dict[str, str]:
        known = {column.casefold(): column for column in self.columns}
        if not isinstance(responses, Mapping):
            raise FaultsError([Fault("responses", "", shown(responses), _RESPONSES)])
        for column in map(str, responses):
            if column.casefold() not in known:
                raise unknown(self._path, "column", column, self.columns)
        return {known[str(column).casefold()]: _text(str(column), cell) for column, cell in responses.items()}


def _text(column: str, cell: Any) -> str:
    """A cell as it would be typed. Raises FaultsError for what is no text and no number."""
    if isinstance(cell, str):
        return cell
    # Not a number, which is what a data frame has for nothing, is the one that differs from itself.
    if cell is None or (isinstance(cell, Number) and cell != cell):
        return ""
    if isinstance(cell, bool) or not isinstance(cell, Number):
        raise FaultsError([Fault("responses", column, shown(cell), "text, a number or None")])
    return str(cell)


@checked
def open_answers(folder: AnyPath) -> AnswerBook:
    """Open a built set: who has which problem, what is right, and what an answer would be marked as. Confidential.

    Raises:
        FaultsError: for an answers.json that is missing, is not of this format, or was changed since it was built.

    >>> import tempfile
    >>> from problemgen import build
    >>> place = tempfile.TemporaryDirectory()
    >>> report = build("templates/sets/first-week", f"{place.name}/built", count=1)
    >>> report.files
    ('sheets/', 'class.pdf', 'class/', 'key.pdf', 'answers.json', 'responses.csv', 'summary.pdf')
    >>> book = open_answers(report.out)
    >>> book.students
    ('v001',)
    >>> problem = book.problems("v001")[0]
    >>> print(problem.label, problem.template, problem.given["mass(salicylic-acid)"])
    1 amounts/four-ways 4.879 g
    >>> problem.parts[2]
    Part(label='c', form='number', unit='mmol', answer='45.0', low=Decimal('44.945'), high=Decimal('45.055'))
    >>> book.judge("v001", {"1a": "0.03532 mol", "1c": "0.045"}).parts[:3:2]
    (<PartResult 1a: right (in-window), 1 of 1>, <PartResult 1c: mistake (other-unit:mol), 1/2 of 1>)
    >>> book.close()
    >>> place.cleanup()
    """
    return AnswerBook(Path(folder))


def student_key(answers: Answers, path: Path, student: str, attempt: int) -> StudentKey:
    """A student's keys for an attempt, by the id in capital or small letters.

    Raises:
        FaultsError: for a student or an attempt that is not in the set; `path` is the file of answers.
    """
    known = {one.casefold(): one for one in answers.students}
    if student.casefold() not in known:
        raise unknown(path, "student", student, answers.students)
    attempts = {str(number): number for number in range(1, answers.head.attempts.number + 1)}
    if str(attempt) not in attempts:
        raise unknown(path, "attempt", str(attempt), attempts)
    return answers.student(known[student.casefold()], attempts[str(attempt)])


def unknown(file: Path, what: str, found: str, known: Iterable[str]) -> FaultsError:
    """The fault of a student, part, attempt or column that is not in the set."""
    hint = nearest(found, list(known))
    return FaultsError([Fault(str(file), what, repr(found), f"one of the set's {what}s", hint)])
