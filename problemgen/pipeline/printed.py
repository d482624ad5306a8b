"""What an earlier build of a folder has given out: a rebuild leaves it as it is."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

from problemgen.errors import Fault, FaultsError
from problemgen.language.messages import _
from problemgen.load.answers.answers import ANSWERS_FILE
from problemgen.load.fault_log import FaultLog
from problemgen.load.resources import SET_FILE
from problemgen.make.printed import changed_numbers
from problemgen.model.answers import KeyHead, ProblemKey, StudentKey, TemplateKey, template_id
from problemgen.model.fixed import Datum
from problemgen.model.problem_set import Issued, ProblemSet, SetProblem
from problemgen.model.template import Template, label_of
from problemgen.pipeline.built import open_built
from problemgen.pipeline.earlier import Entry
from problemgen.write.files import settle

__all__ = ["Printed", "printed_before", "some"]

_NAMED = 4  # students named in a message: a line's worth


@dataclass
class Printed:
    """The numbers that students have on paper, by student and attempt; none where nothing was built before."""

    head: KeyHead | None = None
    keys: dict[Entry, StudentKey] = field(default_factory=dict)
    redrawn: dict[str, int] = field(default_factory=dict)
    redraw: frozenset[str] = frozenset()  # names of problems
    elsewhere: dict[str, list[Mapping[str, Datum]]] = field(default_factory=dict)  # of earlier terms, by template

    def kept(self, entry: Entry, problem: SetProblem) -> ProblemKey | None:
        """What a student has of a problem, where it stays."""
        key = self.keys.get(entry)
        if key is None or self.head is None or problem.name in self.redraw:
            return None
        number = self.head.issued.numbers.get(problem.name)
        return next((one for one in key.problems if one.problem == f"p{number}"), None)

    def template_of(self, key: ProblemKey, problem: SetProblem) -> Template | None:
        """The template that a kept problem was drawn from; None where the problem has it no more."""
        return next((one for one in problem.templates if one.id == template_id(key.template)), None)

    def given(self, problem: SetProblem, template: Template) -> list[Mapping[str, Datum]]:
        """All given values of a problem's template that are on paper, in this term or an earlier one."""
        kept = (self.kept(entry, problem) for entry in self.keys)
        mine = [key.given for key in kept if key is not None and self.template_of(key, problem) is template]
        return [*mine, *self.elsewhere.get(template.id, ())]

    def numbered(self, problem_set: ProblemSet) -> ProblemSet:
        """The set with the numbers by which its problems are known already; new ones are counted on behind those."""
        known = dict(self.head.issued.numbers) if self.head is not None else {}
        following = max(known.values(), default=0)
        numbered = []
        for problem in problem_set.problems:
            if problem.name not in known:
                following += 1
                known[problem.name] = following
            numbered.append(replace(problem, id=f"p{known[problem.name]}"))
        return replace(problem_set, problems=tuple(sorted(numbered, key=lambda one: known[one.name])))

    def issued(self, problem_set: ProblemSet, secret: str) -> Issued:
        """What the next build has to know of this one."""
        numbers = dict(self.head.issued.numbers) if self.head is not None else {}
        numbers |= {one.name: int(one.id.removeprefix("p")) for one in problem_set.problems}
        return Issued(secret, problem_set.term, numbers, dict(self.redrawn))

    def dropped(self, problem_set: ProblemSet, students: Iterable[str]) -> Iterator[str]:
        """What was printed, and is not in the set or the roster any more, a line each."""
        if self.head is None:
            return
        there, numbers = {one.name for one in problem_set.problems}, self.head.issued.numbers
        printed = {one.problem for key in self.keys.values() for one in key.problems}
        for name, number in numbers.items():
            if name not in there and f"p{number}" in printed:
                yield f"Problem {number} ({name}) is no longer in the set; no other problem gets its number."
        here = set(students)
        for problem in problem_set.problems:
            had = (one for one, attempt in self.keys if one in here and self._lost(one, attempt, problem))
            lost = dict.fromkeys(had)
            if lost:
                yield f"Problem {problem.id.removeprefix('p')} ({problem.name}) is no longer for {some(lost)}."
        gone = dict.fromkeys(student for student, _ in self.keys if student not in here)
        if gone:
            yield f"No longer in the roster, and without a sheet now: {some(gone)}."

    def _lost(self, student: str, attempt: int, problem: SetProblem) -> bool:
        """Whether a student has a problem on paper that is no longer theirs."""
        return not problem.is_for(student) and self.kept((student, attempt), problem) is not None

    def check_roster(self, roster: Path | None, students: Iterable[str]) -> None:
        """Refuse a list of students of this run's that leaves out who has numbers already: these would be lost.

        A student who is taken out of the set's own roster has left; another roster may be a part of the class.

        Raises:
            FaultsError: with those who are left out; `roster` is None for a number of variants without names.
        """
        here = set(students)
        gone = dict.fromkeys(student for student, _ in self.keys if student not in here)
        if gone:
            found = f"a list without {some(gone)}, whose numbers are printed in this folder"
            hint = "Name all of the class; --section prints the sheets of one section alone, --out another folder."
            FaultLog(str(roster or "build")).refuse("", found, "everybody who has a sheet", hint)

    def is_redrawn(self, entry: Entry) -> bool:
        """Whether a problem that an attempt has on paper is drawn anew on purpose."""
        numbers = self.head.issued.numbers if self.head is not None else {}
        again = {f"p{numbers.get(name)}" for name in self.redraw}
        return any(one.problem in again for one in self.keys[entry].problems)

    def redrawn_for(self) -> Iterator[str]:
        """What was drawn anew on purpose, a line each."""
        for name in sorted(self.redraw):
            number = self.head.issued.numbers.get(name) if self.head is not None else None
            had = [
                entry[0] for entry, key in self.keys.items() if f"p{number}" in (one.problem for one in key.problems)
            ]
            told = "their sheets have new codes, and answers that were typed to it belong to the old numbers"
            if had:
                yield f"Problem {number} ({name}) was drawn anew for {some(had)}: {told}."

    def check(self, path: Path, problem_set: ProblemSet, entries: Sequence[Entry]) -> None:
        """Refuse a set that says otherwise than what is printed. Raises FaultsError with all that does."""
        faults = FaultLog(str(path / SET_FILE))
        for problem in problem_set.problems:
            found: defaultdict[str, list[str]] = defaultdict(list)
            own = frozenset(quantity.id for value in problem.own for quantity in value.quantities)
            for entry in entries:
                key = self.kept(entry, problem) if problem.is_for(entry[0]) else None
                for reason in self._changes(key, problem, own) if key is not None else ():
                    found[reason].append(entry[0])
            number = problem.id.removeprefix("p")
            for reason, students in found.items():
                shown = f"{reason} (problem {number}; {some(students)})"
                expected = "what stands on sheets that are handed out"
                hint = f"Put it back, or draw the problem anew on purpose: --redraw {problem.name}."
                faults.add(f"problem.{problem.name}", shown, expected, hint)
        faults.stop()

    def _changes(self, key: ProblemKey, problem: SetProblem, own: frozenset[str]) -> Iterator[str]:
        template = self.template_of(key, problem)
        if template is None:
            yield f"no template {template_id(key.template)} any more"
            return
        yield from changed_numbers(template, key.given, own)
        if self.head is not None:
            yield from _changed_parts(self.head.templates[key.template], template)


def _changed_parts(printed: TemplateKey, template: Template) -> Iterator[str]:
    """Parts that ask something else under a letter that is printed; parts may be added behind them, and left out."""
    now = {label_of(place): part.asked for place, part in enumerate(template.parts)}
    for part in printed.parts:
        asked = now.get(part.label)
        if asked is not None and asked != part.asked:
            yield f"another question as part {part.label}"


def printed_before(out: Path, problem_set: ProblemSet, redraw: Sequence[str], earlier: Sequence[Path] = ()) -> Printed:
    """What an earlier build has left in the folder `out`; `redraw` names problems that are drawn anew on purpose.

    `earlier` are built folders of other terms, whose numbers are not to come again.

    Raises:
        FaultsError: for an answers.json that cannot be read, that is of another set or term, and for problems to draw
            anew that there are not.
    """
    settle(out)
    path = out / ANSWERS_FILE
    if not path.is_file():
        if redraw:
            raise FaultsError([Fault(str(path), "", "nothing printed that could be drawn anew", "an earlier build")])
        return Printed(elsewhere=_given_in(earlier))
    with open_built(out, for_build=True) as answers:
        printed = Printed(answers.head, {(key.student, key.attempt): key for key in answers})
    faults, head = FaultLog(str(path)), answers.head
    elsewhere = "Build into another folder: what is printed stays with the folder that it was built into."
    if head.set_id != problem_set.id:
        faults.add("", f"the set {head.set_id!r}", f"an earlier build of {problem_set.id!r}", elsewhere)
    if head.issued.term != problem_set.term:
        terms = [f"the term {term!r}" if term else "no term" for term in (head.issued.term, problem_set.term)]
        faults.add("", f"a build of {terms[0]}", f"one of {terms[1]}", elsewhere)
    names = {str(number): name for name, number in head.issued.numbers.items()}
    known = [one.name for one in problem_set.problems]
    chosen = [names.get(name, name) for name in redraw]
    for name in chosen:
        if name not in known:
            faults.of("build").unknown("--redraw", name, known)
    faults.stop()
    printed.redrawn = dict(head.issued.redrawn)
    for name in dict.fromkeys(chosen):
        printed.redrawn[name] = printed.redrawn.get(name, 0) + 1
    printed.redraw = frozenset(chosen)
    printed.elsewhere = _given_in(earlier)
    return printed


def _given_in(folders: Iterable[Path]) -> dict[str, list[Mapping[str, Datum]]]:
    """The given values in built folders, by template."""
    found: defaultdict[str, list[Mapping[str, Datum]]] = defaultdict(list)
    for folder in folders:
        with open_built(folder) as answers:
            for key in answers:
                for problem in key.problems:
                    found[template_id(problem.template)].append(problem.given)
    return found


def some(students: Iterable[str]) -> str:
    """Students by their ids, those that do not fit on a line by their number."""
    ids = list(dict.fromkeys(students))
    more = len(ids) - _NAMED
    if more <= 1:
        return ", ".join(ids)
    return _("{names} and {more} more").format(names=", ".join(ids[:_NAMED]), more=more)
