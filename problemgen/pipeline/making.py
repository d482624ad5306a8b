"""The variants of a class, made in the order in which they are printed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from problemgen.make.candidates import Stream
from problemgen.make.draws import draw_numbers, drawn_for, indices, sheet_code
from problemgen.make.refusal import unshown
from problemgen.make.tolerances import Tolerances
from problemgen.make.variants import Maker
from problemgen.model.problem_set import ProblemSet, SetProblem, Student
from problemgen.model.variant import Rejections, Variant
from problemgen.pipeline.earlier import file_stem
from problemgen.render.text import clean_text
from problemgen.write.fonts import missing_glyphs

__all__ = ["Made", "Making"]

_CHUNK = 100
"""Students made at a time: keeps memory flat."""


@dataclass(frozen=True)
class Made:
    """One student's attempt, with the sheet code, the name and section that can be printed, and the variants."""

    student: Student
    code: str
    name: str
    variants: tuple[Variant, ...]
    attempt: int
    section: str = ""

    @property
    def shown(self) -> Student:
        """The student with the section as it can be printed."""
        return replace(self.student, section=self.section)

    @property
    def stem(self) -> str:
        """What its files are called."""
        return file_stem(self.student.id, self.attempt)


class Making:
    """Makes the variants of a class; tells afterwards what was turned away, and what should be known."""

    def __init__(self, problem_set: ProblemSet, secret: bytes) -> None:
        """The set and its secret decide every number."""
        self._set, self._secret = problem_set, secret
        self._makers: dict[tuple[str, str], Maker] = {}
        self._tolerances = Tolerances()
        self._names: list[str] = []

    def all(self, students: Sequence[Student]) -> Iterator[Made]:
        """The first attempts of all students, then the second ones: one attempt more leaves those before as they are.

        Raises:
            NoRoomError: for a template that leaves too few admissible variants.
        """
        for attempt in range(1, self._set.attempts.number + 1):
            for start in range(0, len(students), _CHUNK):
                yield from self._made(students[start : start + _CHUNK], attempt)

    def rejections(self) -> Mapping[tuple[str, str], Rejections]:
        """What the rules turned away, by problem and template."""
        return {key: maker.rejections for key, maker in sorted(self._makers.items())}

    def notes(self) -> tuple[str, ...]:
        """What the instructor should know, a line each."""
        return (*self._names, *self._tolerances.notes(), *self._unshown())

    def _unshown(self) -> Iterator[str]:
        """The usual mistakes that the numbers of a problem cannot show."""
        for (problem, name), maker in sorted(self._makers.items()):
            if maker.template.is_drawn and not maker.for_all:
                for one in unshown(maker.template, maker.judge.duties):
                    yield f"Problem {problem.removeprefix('p')} ({name}): {one.found}."

    def _made(self, students: Sequence[Student], attempt: int) -> Iterator[Made]:
        by_name: dict[str, list[Variant]] = {drawn_for(student.id, attempt): [] for student in students}
        for problem in self._set.problems:
            for variant in self._variants(problem, list(by_name)):
                by_name[variant.student].append(self._tolerances.applied(variant, problem.policies))
        for student, variants in zip(students, by_name.values(), strict=True):
            yield self._one(student, tuple(replace(variant, student=student.id) for variant in variants), attempt)

    def _variants(self, problem: SetProblem, students: Sequence[str]) -> Iterator[Variant]:
        """Each student's variant of a problem; where the problem offers several templates, one is drawn."""
        chosen: dict[int, list[str]] = {}
        for student in students:
            numbers = draw_numbers(self._secret, ("template", self._set.id, problem.id, student), 1)
            chosen.setdefault(int(indices(numbers, len(problem.templates))[0]), []).append(student)
        for index, ones in sorted(chosen.items()):
            template = problem.templates[index]
            stream = Stream(self._secret, self._set.id, problem.id)
            made = Maker(template, stream, for_all=problem.same_for_all)
            maker = self._makers.setdefault((problem.id, template.id), made)
            yield from (replace(variant, own=problem.own) for variant in maker.variants(ones))

    def _one(self, student: Student, variants: tuple[Variant, ...], attempt: int) -> Made:
        name, section = clean_text(student.name), clean_text(student.section)
        missing, unshown_section = missing_glyphs(name), missing_glyphs(section)
        if missing and attempt == 1:
            note = f"{student.id}: the name has characters that no font at hand shows; the id is printed instead."
            self._names.append(note)
        if unshown_section and attempt == 1:
            note = f"{student.id}: the section has characters that no font at hand shows; it is left off the sheets."
            self._names.append(note)
        code = sheet_code(self._secret, self._set.id, drawn_for(student.id, attempt))
        shown = "" if unshown_section else section
        return Made(student, code, student.id if missing else name, variants, attempt, shown)
