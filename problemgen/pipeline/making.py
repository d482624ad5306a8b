"""The variants of a class, made in the order in which they are printed."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from problemgen.language.messages import N_, _
from problemgen.make.candidates import Stream
from problemgen.make.draws import draw_numbers, drawn_for, fingerprint, indices, sheet_code, within
from problemgen.make.refusal import unshown
from problemgen.make.tolerances import Tolerances
from problemgen.make.variants import Maker, variant_of
from problemgen.model.answers import ProblemKey
from problemgen.model.problem_set import Issued, ProblemSet, SetProblem, Student
from problemgen.model.template import Template, label_of
from problemgen.model.truths import ChoiceTruth, NumberTruth, Truth
from problemgen.model.variant import Rejections, Variant
from problemgen.pipeline.earlier import Entry, file_stem
from problemgen.pipeline.printed import Printed, some
from problemgen.render.words.text import clean_text
from problemgen.write.fonts import unprintable

__all__ = ["Made", "Making"]

_NO_NAME = N_("{student}: the name has characters that no font at hand shows; the id is printed instead.")
_NO_SECTION = N_("{student}: the section has characters that no font at hand shows; it is left off the sheets.")

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

    def __init__(self, problem_set: ProblemSet, secret: bytes, printed: Printed | None = None) -> None:
        """The set and its secret decide every number that is not on paper already."""
        self._set, self.secret, self._printed = problem_set, secret, printed or Printed()
        self._corrected: defaultdict[tuple[str, str], list[str]] = defaultdict(list)
        self._makers: dict[tuple[str, str], Maker] = {}
        self._tolerances = Tolerances()
        self._names: list[tuple[str, str]] = []
        self._unprintable: Callable[[], frozenset[str]] = frozenset

    def all(self, students: Sequence[Student]) -> Iterator[Made]:
        """The first attempts of all students, then the second ones: one attempt more leaves those before as they are.

        Raises:
            NoRoomError: for a template that leaves too few admissible variants.
        """
        texts = (clean_text(text) for student in students for text in (student.name, student.section))
        with unprintable(texts) as self._unprintable:
            for attempt in range(1, self._set.attempts.number + 1):
                for start in range(0, len(students), _CHUNK):
                    yield from self._made(students[start : start + _CHUNK], attempt)

    @property
    def issued(self) -> Issued:
        """What the next build of the folder has to know."""
        return self._printed.issued(self._set, fingerprint(self.secret))

    def rejections(self) -> Mapping[tuple[str, str], Rejections]:
        """What the rules turned away, by problem and template."""
        return {key: maker.rejections for key, maker in sorted(self._makers.items())}

    def notes(self) -> tuple[str, ...]:
        """What the instructor should know, a line each."""
        names = (_(note).format(student=student) for note, student in self._names)
        return (*names, *self._corrections(), *self._tolerances.notes(), *self._unshown())

    def _corrections(self) -> Iterator[str]:
        """The right answers that have changed under numbers that have not."""
        for (problem, letter), students in self._corrected.items():
            number = problem.removeprefix("p")
            told = _(
                "Problem {number}, part {part}: with the same numbers another answer is right now, for {students}."
            )
            yield told.format(number=number, part=letter, students=some(students))

    def _unshown(self) -> Iterator[str]:
        """The usual mistakes that the numbers of a problem cannot show."""
        for (problem, name), maker in sorted(self._makers.items()):
            if maker.template.is_drawn and not maker.for_all:
                for one in unshown(maker.template, maker.judge.duties):
                    # Translators: {name} is the name of a template's file, {found} tells what was found.
                    told = _("Problem {number} ({name}): {found}.")
                    yield told.format(number=problem.removeprefix("p"), name=name, found=one.found)

    def _made(self, students: Sequence[Student], attempt: int) -> Iterator[Made]:
        by_name: dict[str, list[Variant]] = {drawn_for(student.id, attempt): [] for student in students}
        for problem in self._set.problems:
            mine = [student.id for student in students if problem.is_for(student.id)]
            entries = {drawn_for(student, attempt): (student, attempt) for student in mine}
            for variant in self._variants(problem, entries):
                by_name[variant.student].append(self._tolerances.applied(variant, problem.policies))
        for student, variants in zip(students, by_name.values(), strict=True):
            yield self._one(student, tuple(replace(variant, student=student.id) for variant in variants), attempt)

    def _variants(self, problem: SetProblem, entries: Mapping[str, Entry]) -> Iterator[Variant]:
        """Each student's variant of a problem, by the name that it is drawn for: as printed, or drawn now."""
        kept = {name: key for name, entry in entries.items() if (key := self._printed.kept(entry, problem)) is not None}
        # Where students measure values of their own, those in the variant are an example, which is on no sheet.
        to_draw = [name for name in entries if name not in kept or problem.own]
        drawn = {variant.student: variant for variant in self._drawn(problem, to_draw)}
        for name, (student, _attempt) in entries.items():
            if name in kept:
                variant = self._as_printed(problem, kept[name], name, drawn.get(name))
                self._note_corrections(kept[name], variant, student)
            else:
                variant = drawn[name]
            yield replace(variant, problem=problem.id, own=problem.own)

    def _as_printed(self, problem: SetProblem, key: ProblemKey, name: str, drawn: Variant | None) -> Variant:
        """The variant with the numbers on paper; `drawn` has an example of what is not."""
        template = self._printed.template_of(key, problem)
        if template is None:
            raise ValueError(f"{problem.name} has no template {key.template}: Printed.check was not asked")
        example = drawn.given if drawn is not None else {}
        return variant_of(template, {**example, **key.given}, name, problem.id)

    def _note_corrections(self, key: ProblemKey, variant: Variant, student: str) -> None:
        for place, (part, answer) in enumerate(zip(variant.template.parts, variant.answers, strict=True)):
            before = key.truths.get(part.id)
            if before is not None and _told(before) != _told(answer):
                self._corrected[key.problem, label_of(place)].append(student)

    def _drawn(self, problem: SetProblem, students: Sequence[str]) -> Iterator[Variant]:
        """Variants that are drawn; where the problem offers several templates, one is drawn too."""
        again = self._printed.redrawn.get(problem.name, 0)
        draw = f"{problem.name} again {again}" if again else problem.name
        chosen: dict[int, list[str]] = {}
        for student in students:
            names = within(self._set.term, "template", self._set.id, draw, student)
            numbers = draw_numbers(self.secret, names, 1)
            chosen.setdefault(int(indices(numbers, len(problem.templates))[0]), []).append(student)
        for index, ones in sorted(chosen.items()):
            yield from self._maker(problem, problem.templates[index], draw).variants(ones)

    def _maker(self, problem: SetProblem, template: Template, draw: str) -> Maker:
        key = problem.id, template.id
        if key not in self._makers:
            stream = Stream(self.secret, self._set.id, draw, term=self._set.term)
            printed = () if problem.own else self._printed.given(problem, template)
            self._makers[key] = Maker(template, stream, for_all=problem.same_for_all, printed=printed)
        return self._makers[key]

    def _one(self, student: Student, variants: tuple[Variant, ...], attempt: int) -> Made:
        name, section = clean_text(student.name), clean_text(student.section)
        missing, unshown_section = (text in self._unprintable() for text in (name, section))
        if missing and attempt == 1:
            self._names.append((_NO_NAME, student.id))
        if unshown_section and attempt == 1:
            self._names.append((_NO_SECTION, student.id))
        printed = self._printed.keys.get((student.id, attempt))
        again = sum(self._printed.redrawn.values())
        drawn = f"{drawn_for(student.id, attempt)} again {again}" if again else drawn_for(student.id, attempt)
        # A sheet of which a problem was drawn anew is told from the one on paper by its code.
        if printed is not None and not self._printed.is_redrawn((student.id, attempt)):
            code = printed.code
        else:
            code = sheet_code(self.secret, self._set.term, self._set.id, drawn)
        shown = "" if unshown_section else section
        return Made(student, code, student.id if missing else name, variants, attempt, shown)


def _told(truth: Truth) -> str:
    """A right answer as a key tells it, without its window, which the marking policy may change."""
    if isinstance(truth, NumberTruth):
        return truth.printed
    return truth.choice if isinstance(truth, ChoiceTruth) else truth.text
