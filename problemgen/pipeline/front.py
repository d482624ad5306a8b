"""The front door: what notebooks and scripts call, and what the command line calls too.

`problemgen` hands these names on. Paths may be text, everything else goes by keyword, and what a user can get wrong
raises an error of `problemgen.errors`.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from os import PathLike
from pathlib import Path
from typing import Any, Literal, TypeAlias, overload

from problemgen.pipeline.answer_book import AnswerBook
from problemgen.pipeline.build import BuildReport, BuildRequest
from problemgen.pipeline.build import build as build_set
from problemgen.pipeline.mark import MarkingReport, MarkingRequest
from problemgen.pipeline.mark import mark as mark_set
from problemgen.pipeline.outlets.marking.outlet import FeedbackChoices
from problemgen.pipeline.progress import Progress, silent
from problemgen.pipeline.reading import AnswerReading, reading_of
from problemgen.pipeline.sample import Sample, samples
from problemgen.pipeline.solve import SolvedProblem, solve_problems, solved

__all__ = ["build", "mark", "open_answers", "read_answer", "sample", "solve"]

AnyPath: TypeAlias = str | PathLike[str]

_GRADES, _ANONYMOUS_GRADES = "grades", "grades-anonymous"
"""Where a marking lies in the folder of its set, unless another place is asked for."""


def read_answer(text: str, *, unit: str | None = None, decimal_mark: Literal[".", ","] = ".") -> AnswerReading:
    """How the grader reads an answer: number, unit, figures, or why not. No text raises an error.

    `unit` is the unit asked for, by which the dimension is judged; without it, the unit written will do.
    `decimal_mark` is that of the sheet, and decides about "1,234".

    Raises:
        UnitError: for a unit asked for that is not in the list.

    >>> read_answer("m = 3,95 x 10^1 g", unit="mg")
    AnswerReading(text='m = 3,95 x 10^1 g', status='number', number='39.5', unit='g', figures=3, reason=None)
    >>> print(read_answer("about a spoonful", unit="g"))
    "about a spoonful": unreadable; No number is found in "about a spoonful".
    """
    return reading_of(text, unit, decimal_mark)


def sample(template: AnyPath, n: int = 3, *, secret: str | None = None) -> tuple[Sample, ...]:
    """Some variants of a template, with their answers; printed, each shows its sheet and its worked solution.

    `template` is a file, or an id such as "titrations/borax". Another `secret` gives other numbers. None of them is a
    graded variant's.

    Raises:
        FaultsError: for a template that is not there or has faults.
        NoRoomError: for one that leaves too little room.

    >>> (one,) = sample("amounts/four-ways", n=1)
    >>> print(one.problem.given["mass(salicylic-acid)"], one.problem.parts[0].answer, one.problem.parts[0].unit)
    4.976 g 36.03 mmol
    """
    return tuple(samples(str(template), n) if secret is None else samples(str(template), n, secret))


@overload
def solve(problems: Mapping[str, Any]) -> SolvedProblem: ...


@overload
def solve(problems: AnyPath | Sequence[Mapping[str, Any]]) -> tuple[SolvedProblem, ...]: ...


def solve(
    problems: Mapping[str, Any] | AnyPath | Sequence[Mapping[str, Any]],
) -> SolvedProblem | tuple[SolvedProblem, ...]:
    """Solve problems with fixed numbers: one, as a mapping; several, as a list or the path of a JSON file.

    README.md shows a problem, `problemgen.load.fixed_problems` tells every key. A problem that cannot be solved has an
    `error`, and the others are solved all the same. Answers that come with a problem are judged as a student's are.

    Raises:
        FaultsError: for a file that cannot be read, or problems that cannot be told apart.

    >>> asked = [{"quantity": "amount", "of": "NaCl", "unit": "mmol", "answer": "34.2"}]
    >>> given = [{"quantity": "mass", "of": "NaCl", "value": "2.00", "unit": "g"}]
    >>> found = solve({"given": given, "asked": asked}).answers[0]
    >>> found.value, found.accepted
    ('34.2231348392', True)
    """
    if isinstance(problems, Mapping):
        return solved(*solve_problems(problems))
    source = Path(problems) if isinstance(problems, str | PathLike) else problems
    return tuple(map(solved, solve_problems(source)))


def build(
    folder: AnyPath,
    out: AnyPath,
    *,
    roster: AnyPath | None = None,
    count: int | None = None,
    replace: bool = False,
    progress: Progress = silent,
) -> BuildReport:
    """Build a set into `out`: sheets, key, answers.json and the table of responses, for its roster.

    `roster` is another one than the set's; `count` makes so many variants without names. Files of an earlier build are
    replaced only with `replace`. `progress` is told what is being done, how much of it is, and how much there is.

    Raises:
        FaultsError: for faults of the banks, the set, its templates and the roster, all at once.
        NoRoomError: for a template that leaves too few admissible variants.
        OutputError: for an output folder that cannot be written, or holds files that would be replaced.
    """
    request = BuildRequest(Path(folder), Path(out), None if roster is None else Path(roster), count, replace)
    return build_set(request, progress)


def open_answers(folder: AnyPath) -> AnswerBook:
    """Open a built set: who has which problem, what is right, and what an answer would be marked as. Confidential.

    Raises:
        FaultsError: for an answers.json that is missing, is not of this format, or was changed since it was built.

    >>> import tempfile
    >>> place = tempfile.TemporaryDirectory()
    >>> report = build("templates/sets/first-week", f"{place.name}/built", count=1)
    >>> report.files
    ('sheets/', 'class.pdf', 'key.pdf', 'answers.json', 'responses.csv', 'summary.pdf')
    >>> book = open_answers(report.out)
    >>> book.students
    ('v001',)
    >>> problem = book.problems("v001")[0]
    >>> print(problem.label, problem.template, problem.given["mass(salicylic-acid)"])
    1 amounts/four-ways 6.459 g
    >>> problem.parts[2]
    Part(label='c', form='number', unit='mmol', answer='10.0', low=Decimal('9.9495'), high=Decimal('10.055'))
    >>> book.judge("v001", {"1a": "0.0468 mol", "1c": "0.01"}).parts[:3:2]
    (<PartResult 1a: right (in-window), 1 of 1>, <PartResult 1c: slip (power-of-ten:-3), 1/2 of 1>)
    >>> book.close()
    >>> place.cleanup()
    """
    return AnswerBook(Path(folder))


def mark(
    folder: AnyPath,
    responses: AnyPath,
    out: AnyPath | None = None,
    *,
    overrides: AnyPath | None = None,
    columns: AnyPath | None = None,
    anonymous: bool = False,
    solutions: bool = True,
    pdf: bool = True,
    replace: bool = False,
    progress: Progress = silent,
) -> MarkingReport:
    """Mark the responses to the built set of a folder: grades, gradebook, feedback, class report.

    `responses` is a CSV file or a workbook. `out` is "grades" in the folder, "grades-anonymous" with `anonymous`, which
    writes codes in the place of names. `overrides` holds the instructor's own decisions (without it, overrides.csv of
    the folder), `columns` tells how a form's export names the columns. Feedback goes without worked solutions or PDF
    where these are not wanted.

    Raises:
        FaultsError: for faults of answers.json, the responses, the decisions or the mapping of columns.
        OutputError: for an output folder that cannot be written, or holds grades that would be replaced.
    """
    default = Path(folder) / (_ANONYMOUS_GRADES if anonymous else _GRADES)
    request = MarkingRequest(
        folder=Path(folder),
        responses=Path(responses),
        out=default if out is None else Path(out),
        replace=replace,
        feedback=FeedbackChoices(pdf=pdf, solutions=solutions),
        overrides=None if overrides is None else Path(overrides),
        columns=None if columns is None else Path(columns),
        anonymous=anonymous,
    )
    return mark_set(request, progress)
