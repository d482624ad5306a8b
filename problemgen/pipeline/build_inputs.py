"""What goes into a build: what was asked for, the course, the banks, the set and its students; all faults at once."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from problemgen.errors import Fault, FaultsError
from problemgen.load.fault_log import FaultLog, nearest
from problemgen.load.people.roster import ROSTER_COLUMNS, Roster, anonymous_students, load_roster
from problemgen.load.people.rosters import ROSTER_FILE, rosters_of
from problemgen.load.resources import COURSE_FILE, SET_FILE
from problemgen.load.sets.courses import Course, course_of
from problemgen.load.sets.problem_set import load_set
from problemgen.load.tables.columns import load_columns
from problemgen.model.banks import Banks
from problemgen.model.problem_set import HandIn, Layout, ProblemSet, Student
from problemgen.pipeline.earlier import file_stem
from problemgen.pipeline.outlets.building.choice import Choice, file_word
from problemgen.pipeline.printed import some
from problemgen.pipeline.told_late import told_late
from problemgen.pipeline.unknown_students import unknown_students

__all__ = ["BuildInputs", "BuildRequest", "build_inputs"]


@dataclass(frozen=True)
class BuildRequest:
    """What to build: the set's folder or name, the output folder, and who for (the set's roster, another, a number).

    `columns` tells how the roster names our columns. `redraw` are problems, by name or number, whose printed numbers
    are given up; `new_secret` replaces a secret that is lost; `demonstration` lets one that everybody can read be used.
    What is printed may be one session's sheets or one section's; `layout` goes before the set's, and `worked_key` has
    the worked key written where the set does not. `more` are files to hand answers in with, beside the printed sheet.
    `workers` processes print, one a processor where it is None.
    """

    folder: Path
    out: Path
    roster: Path | None = None
    count: int | None = None
    columns: Path | None = None
    replace: bool = False
    redraw: Sequence[str] = ()
    new_secret: bool = False
    demonstration: bool = False
    session: int | None = None
    section: str | None = None
    layout: Layout | None = None
    worked_key: bool = False
    more: frozenset[HandIn] = frozenset()
    workers: int | None = None

    @property
    def wanted(self) -> Choice:
        """What of the class is printed."""
        return Choice(self.session, self.section)


@dataclass(frozen=True)
class BuildInputs:
    """What goes into a build; `folder` is the set's."""

    folder: Path
    course: Course
    banks: Banks
    problem_set: ProblemSet
    roster: Roster

    @property
    def digests(self) -> dict[str, str]:
        """The digest of every bank, template, course and set file, by name; those of a course behind "course/"."""
        course = self.course
        paths = {path.name: path for path in course.bank_files if path.parent != course.course_banks}
        paths |= {f"course/{path.name}": path for path in course.bank_files if path.parent == course.course_banks}
        paths[SET_FILE] = self.folder / SET_FILE
        if course.folder is not None:
            paths[COURSE_FILE] = course.folder / COURSE_FILE
        for template in (one for problem in self.problem_set.problems for one in problem.templates):
            paths[f"{template.id}.toml"] = _template_file(template.id, self.folder, course)
        digests = {name: hashlib.sha256(path.read_bytes()).hexdigest() for name, path in paths.items()}
        return {"atomic weights": self.banks.edition, **digests}


def build_inputs(request: BuildRequest) -> BuildInputs:
    """Read all that goes into a build.

    Raises:
        FaultsError: for faults of the course, the banks, the set, its templates and the roster, for parts that need
            what is told too late, and for a session or a section that there is not.
    """
    course = course_of(request.folder if request.folder.exists() else Path())
    folder = course.set_folder(request.folder)
    course, faults = course_of(folder), FaultLog(str(folder))
    banks = course.banks()
    problem_set = faults.tried(lambda: load_set(folder, course.templates, banks, course=course.document))
    roster = faults.tried(lambda: _roster(request, folder, course))
    if problem_set is not None and request.count is not None:  # variants are nobody's: each has all problems
        problem_set = replace(
            problem_set, problems=tuple(replace(p, students=frozenset()) for p in problem_set.problems)
        )
    if problem_set is not None and roster is not None:
        faults.keep(unknown_students(folder, problem_set, roster))
        roster = _with_problems(roster, problem_set)
        students, file = roster.students, str(request.roster or folder / ROSTER_FILE)
        faults.keep(_one_file_for_two(file, students, problem_set.attempts.number))
        faults.keep(_unknown_choice(request, file, problem_set, students))
        faults.keep(_told_late(problem_set, folder, course))
    faults.stop()
    if problem_set is None or roster is None:
        raise FaultsError(faults.faults)
    layout = request.layout or problem_set.printing.layout
    worked = request.worked_key or problem_set.printing.worked_key
    printing = replace(problem_set.printing, layout=layout, worked_key=worked)
    return BuildInputs(folder, course, banks, replace(problem_set, printing=printing), roster)


def _template_file(name: str, folder: Path, course: Course) -> Path:
    """The file of a template: beside set.toml, or the course's, or ours."""
    beside = folder / f"{name}.toml"
    return beside if beside.is_file() else course.templates[name]


def _roster(request: BuildRequest, folder: Path, course: Course) -> Roster:
    if request.count is not None:
        return Roster(anonymous_students(request.count))
    names = load_columns(request.columns, ROSTER_COLUMNS) if request.columns else None
    if request.roster is not None:
        return load_roster(request.roster, names.of(request.roster) if names else None)
    found, own = rosters_of(folder, course, names), folder / ROSTER_FILE
    return found if found.students else load_roster(own, names.of(own) if names else None)


def _with_problems(roster: Roster, problem_set: ProblemSet) -> Roster:
    """The roster of those who get a problem; a note tells who gets none, and so no sheet."""
    without = [student.id for student in roster.students if not problem_set.has_problem_for(student.id)]
    if not without:
        return roster
    kept = tuple(student for student in roster.students if student.id not in set(without))
    return replace(roster, students=kept, notes=(*roster.notes, f"No problem is for {some(without)}: no sheet either."))


def _told_late(problem_set: ProblemSet, folder: Path, course: Course) -> Iterator[Fault]:
    """Faults for parts that need what only the sheet of a later session tells."""
    for template in {one.id: one for problem in problem_set.problems for one in problem.templates}.values():
        yield from told_late(template, str(_template_file(template.id, folder, course)))


def _unknown_choice(
    request: BuildRequest, roster: str, problem_set: ProblemSet, students: Sequence[Student]
) -> Iterator[Fault]:
    """Faults for a session or section that there is not, and for sections whose files would be called alike."""
    sessions = [str(sheet.session) for sheet in problem_set.sheets]
    if request.session is not None and str(request.session) not in sessions:
        yield Fault("build", "session", str(request.session), f"a session of the set: {', '.join(sessions)}")
    sections = sorted({student.section for student in students if student.section})
    if request.section is not None and request.section not in sections:
        expected = f"a section of the roster: {', '.join(sections)}" if sections else "a roster that has sections"
        yield Fault("build", "section", repr(request.section), expected, nearest(request.section, sections))
    called: dict[str, str] = {}
    for section in sections:
        other = called.setdefault(file_word(section).casefold(), section)
        if other != section:
            both = f"whose files would both be called section-{file_word(section)}"
            found = f"the sections {other!r} and {section!r}, {both}"
            yield Fault(roster, "section", found, "sections that differ in letters or digits")


def _one_file_for_two(roster: str, students: Sequence[Student], attempts: int) -> Iterator[Fault]:
    """Faults for ids by which the files of another student's later attempt would be called."""
    ids = {student.id.casefold(): student.id for student in students}
    for student in students:
        for attempt in range(2, attempts + 1):
            other = ids.get(file_stem(student.id, attempt).casefold())
            if other is not None:
                found = f"the id {other!r}, by which the sheets of attempt {attempt} of {student.id!r} are called"
                yield Fault(roster, "", found, "another id, or fewer attempts")
