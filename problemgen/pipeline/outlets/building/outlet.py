"""The shape of what a build writes, and what all of it is given."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from contextlib import ExitStack
from dataclasses import dataclass, replace
from functools import cached_property

from problemgen.model.page_code import build_mark
from problemgen.model.problem_set import HandIn, ProblemSet, SetProblem, Student
from problemgen.model.variant import Variant
from problemgen.pipeline.earlier import Entry
from problemgen.pipeline.making import Made, Making
from problemgen.pipeline.outlets.building.choice import Choice
from problemgen.pipeline.progress import Progress
from problemgen.write.binding.bindery import Bindery
from problemgen.write.files import Staging
from problemgen.write.pdf import Job

__all__ = ["BuildingOutlet", "BuildingRun"]


@dataclass(frozen=True)
class BuildingRun:
    """One build: where it writes, for whom, and what it is made from.

    `inputs` are the digests of what went in, `layouts` the texts of the layout folder; files that are written piece by
    piece are closed by `stack`. `wanted` is what of the class is printed: what marking needs is written for all.
    `more` has the ways of handing answers in, beside the printed sheet, for which files are written.
    `sets` has the set in every language that somebody's sheets are in, by the language; `problem_set` is that in its
    own.
    """

    staging: Staging
    stack: ExitStack
    problem_set: ProblemSet
    sets: Mapping[str, ProblemSet]
    students: Sequence[Student]
    making: Making
    inputs: Mapping[str, str]
    layouts: Mapping[str, str]
    progress: Progress
    wanted: Choice
    made_from: str
    more: frozenset[HandIn] = frozenset()

    @cached_property
    def _printed(self) -> frozenset[str]:
        return frozenset(student.id for student in self.students if self.wanted.holds(student))

    @cached_property
    def mark(self) -> str:
        """The mark of the build, for the codes on its pages."""
        issued = self.making.issued
        return build_mark(issued.secret, issued.term, self.problem_set.id)

    def prints(self, student: str) -> bool:
        """Whether a student's sheets, by id, are among what is printed; of one who has left, whether all are."""
        return self.wanted.section is None or student in self._printed

    def language_of(self, student: Student) -> str:
        """The language of a student's sheets."""
        return student.language or self.problem_set.language

    def spoken(self, made: Made) -> tuple[ProblemSet, tuple[Variant, ...]]:
        """The set and an attempt's variants in the language of the student's sheets."""
        problem_set = self.sets[self.language_of(made.student)]
        if problem_set is self.problem_set:
            return problem_set, made.variants
        problems = {one.id: one for one in problem_set.problems}
        return problem_set, tuple(_as_in(problems[one.problem], one) for one in made.variants)

    def whose(self, made: Made) -> str:
        """Whose an attempt is, as far as its sheets tell: the id, or the code where they have no name."""
        return made.code if self.problem_set.printing.head == "code" else made.stem

    def bindery(self) -> Bindery:
        """What binds sheets into files, with room on the disk that is given back when the run ends."""
        return Bindery(self.stack.enter_context(self.staging.shelf()))

    @property
    def attempts(self) -> range:
        """The numbers of the attempts."""
        return range(1, self.problem_set.attempts.number + 1)


def _as_in(problem: SetProblem, variant: Variant) -> Variant:
    """A variant with the texts of its problem in another language."""
    template = next(one for one in problem.templates if one.id == variant.template.id)
    return replace(variant, template=template, own=problem.own)


class BuildingOutlet:
    """One thing that a build writes: it takes every student's attempt once, and closes when all have been taken.

    `files` are its files as the finishing message lists them: a name, or a folder with a slash behind it. `private`
    tells whether they are the instructor's alone.
    """

    files: tuple[str, ...] = ()
    private: bool = False

    def names(self, _entries: Sequence[Entry]) -> Iterable[str]:
        """The names of its files for these students' attempts."""
        return self.files

    def take(self, _made: Made) -> Iterable[Job]:
        """Take one attempt; gives what of it is to be printed."""
        return ()

    def last(self) -> Iterable[Job]:
        """What is printed when all attempts have been taken."""
        return ()

    def printed(self, _name: str, _pdf: bytes) -> None:
        """Take one of those as PDF, by its job's name; they come in the order in which they were given."""

    def close(self) -> None:
        """Write what needs the whole class."""

    def notes(self) -> Iterable[str]:
        """What the instructor should know of its files, a line each."""
        return ()
