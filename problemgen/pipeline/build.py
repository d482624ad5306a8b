"""One build: banks, set and roster in; sheets, key, answers.json, blank responses and summary out."""

from __future__ import annotations

import hashlib
import secrets
from collections.abc import Iterator, Sequence
from contextlib import ExitStack
from dataclasses import dataclass
from pathlib import Path

from problemgen.errors import Fault, FaultsError
from problemgen.load.courses import Course, course_of
from problemgen.load.fault_log import FaultLog
from problemgen.load.resources import layouts
from problemgen.load.roster import anonymous_students, load_roster
from problemgen.load.rosters import ROSTER_FILE, rosters_of
from problemgen.load.set_documents import COURSE_FILE, SET_FILE
from problemgen.load.sets import load_set
from problemgen.make.draws import fingerprint
from problemgen.model.banks import Banks
from problemgen.model.problem_set import ProblemSet, Student
from problemgen.pipeline.arguments import AnyPath, HowMany, checked, path_or_none
from problemgen.pipeline.earlier import built_entries, file_stem
from problemgen.pipeline.making import Making
from problemgen.pipeline.outlets.building import building_outlets
from problemgen.pipeline.outlets.building.outlet import BuildingOutlet, BuildingRun
from problemgen.pipeline.printed import Printed, printed_before
from problemgen.pipeline.progress import Progress, silent
from problemgen.write.files import Staging
from problemgen.write.pdf import Job, compile_all

__all__ = ["BuildReport", "BuildRequest", "build", "build_set"]

_SECRET_FILE = "secret"  # noqa: S105 - a file's name

_SHORTEST_SECRET = 32
"""Bytes: 128 bits even where they are written as hexadecimal digits. Ours have 64."""

_RECOVER = (
    "Put the file back from a copy; or build with --new-secret: all numbers that are printed stay, and who has none "
    "yet gets some from a new secret."
)


@dataclass(frozen=True)
class BuildRequest:
    """What to build: the set's folder or name, the output folder, and who for (the set's roster, another, a number).

    `redraw` are problems, by name or number, whose printed numbers are given up; `new_secret` replaces a secret that is
    lost.
    """

    folder: Path
    out: Path
    roster: Path | None = None
    count: int | None = None
    replace: bool = False
    redraw: Sequence[str] = ()
    new_secret: bool = False


@dataclass(frozen=True)
class BuildReport:
    """What was written, and what the instructor should know.

    `files` are names below `out`, a folder with a slash behind it; `private` are those that no student may see.
    """

    out: Path
    students: int
    notes: tuple[str, ...]
    files: tuple[str, ...]
    private: tuple[str, ...]


@checked
def build(
    folder: AnyPath,
    out: AnyPath,
    *,
    roster: AnyPath | None = None,
    count: HowMany | None = None,
    replace: bool = False,
    redraw: Sequence[str] = (),
    new_secret: bool = False,
    progress: Progress = silent,
) -> BuildReport:
    """Build a set into `out`: sheets, key, answers.json and the table of responses, for its roster.

    `folder` is the set's, or its name in `list`. `roster` is another one than the set's; `count` makes so many variants
    without names. Files of an earlier build are replaced only with `replace`: numbers that it has printed stay, and so
    do typed answers; `redraw` names problems that are drawn anew all the same. Where the secret of an earlier build is
    lost, `new_secret` makes another one for those who have no numbers yet. `progress` is told what is being done, how
    much of it is, and how much there is.

    Raises:
        FaultsError: for faults of the banks, the set, its templates and the roster, all at once; for arguments that
            do not fit; for what would not fit printed numbers, and a secret that is lost or has changed.
        NoRoomError: for a template that leaves too few admissible variants.
        OutputError: for an output folder that cannot be written, or holds files that would be replaced.
    """
    if roster is not None and count is not None:
        raise FaultsError([Fault("build", "count", f"{count} beside a roster", "a roster, or a number of variants")])
    request = BuildRequest(Path(folder), Path(out), path_or_none(roster), count, replace, tuple(redraw), new_secret)
    return build_set(request, progress)


def build_set(request: BuildRequest, progress: Progress) -> BuildReport:
    """Build a set; it raises what `build` does."""
    loaded = _loaded(request)
    problem_set, students = loaded.problem_set, loaded.students
    printed = printed_before(request.out, problem_set, request.redraw, loaded.course.earlier)
    problem_set = printed.numbered(problem_set)
    entries = [(one.id, attempt) for attempt in range(1, problem_set.attempts.number + 1) for one in students]
    printed.check(loaded.folder, problem_set, entries)
    secret, new_secret = _secret(request, problem_set, printed)
    making, inputs = Making(problem_set, secret, printed), _inputs(loaded)
    dropped = tuple(printed.dropped(problem_set, [student.id for student in students]))
    with Staging(request.out, replace=request.replace) as staging, ExitStack() as stack:
        run = BuildingRun(staging, stack, problem_set, students, making, inputs, layouts(), progress)
        outlets = building_outlets(run)
        staging.expect(name for outlet in outlets for name in outlet.names(entries))
        if request.replace:
            earlier = built_entries(request.out)
            staging.supersede(name for outlet in outlets for name in outlet.names(earlier))
        _write(run, outlets)
        if new_secret:
            staging.write(_SECRET_FILE, secret, private=True)
    return BuildReport(
        out=request.out,
        students=len(students),
        notes=(*dropped, *making.notes(), *_notes(problem_set), *(note for one in outlets for note in one.notes())),
        files=tuple(name for outlet in outlets for name in outlet.files),
        private=tuple(name for outlet in outlets for name in outlet.files if outlet.private),
    )


def _notes(problem_set: ProblemSet) -> Iterator[str]:
    if problem_set.demonstration_secret is not None:
        yield "The secret of this set is published: build it for demonstration only."
    if problem_set.attempts.number > 1:
        yield "Later attempts stand in files of their own: sheets/ID-2.pdf, class-2.pdf and so on."


def _write(run: BuildingRun, outlets: Sequence[BuildingOutlet]) -> None:
    """Give every attempt to every outlet, and what is printed of it back to the outlet that wanted it printed."""
    waiting: dict[str, BuildingOutlet] = {}
    for name, pdf in compile_all(_jobs(run, outlets, waiting), run.layouts):
        waiting.pop(name).printed(name, pdf)
    run.progress("binding", 0, len(outlets))
    for done, outlet in enumerate(outlets, start=1):
        outlet.close()
        run.progress("binding", done, len(outlets))


def _jobs(run: BuildingRun, outlets: Sequence[BuildingOutlet], waiting: dict[str, BuildingOutlet]) -> Iterator[Job]:
    """What there is to print, in order. Students are made, and written by every outlet, as they are needed."""
    for made in run.making.all(run.students):
        for outlet in outlets:
            for job in outlet.take(made):
                waiting[job.name] = outlet
                yield job


@dataclass(frozen=True)
class _Loaded:
    """What goes into a build."""

    folder: Path
    course: Course
    banks: Banks
    problem_set: ProblemSet
    students: tuple[Student, ...]


def _loaded(request: BuildRequest) -> _Loaded:
    course = course_of(request.folder if request.folder.exists() else Path())
    folder = course.set_folder(request.folder)
    course, faults = course_of(folder), FaultLog(str(folder))
    banks = course.banks()
    problem_set = faults.tried(lambda: load_set(folder, course.templates, banks, course=course.document))
    students = faults.tried(lambda: _students(request, folder, course))
    if problem_set is not None and students is not None:
        faults.keep(_one_file_for_two(request, folder, students, problem_set.attempts.number))
    faults.stop()
    if problem_set is None or students is None:
        raise FaultsError(faults.faults)
    return _Loaded(folder, course, banks, problem_set, students)


def _one_file_for_two(
    request: BuildRequest, folder: Path, students: Sequence[Student], attempts: int
) -> Iterator[Fault]:
    """Faults for ids by which the files of another student's later attempt would be called."""
    ids = {student.id.casefold(): student.id for student in students}
    for student in students:
        for attempt in range(2, attempts + 1):
            other = ids.get(file_stem(student.id, attempt).casefold())
            if other is not None:
                found = f"the id {other!r}, by which the sheets of attempt {attempt} of {student.id!r} are called"
                yield Fault(str(request.roster or folder / ROSTER_FILE), "", found, "another id, or fewer attempts")


def _students(request: BuildRequest, folder: Path, course: Course) -> tuple[Student, ...]:
    if request.count is not None:
        return anonymous_students(request.count)
    if request.roster is not None:
        return load_roster(request.roster)
    return rosters_of(folder, course) or load_roster(folder / ROSTER_FILE)


def _secret(request: BuildRequest, problem_set: ProblemSet, printed: Printed) -> tuple[bytes, bool]:
    """The set's secret, and whether it is new: published for a demonstration, kept from an earlier build, or made.

    Raises FaultsError where numbers were printed from another: new students might then get what somebody has already.
    """
    path, before = request.out / _SECRET_FILE, printed.head.issued.secret if printed.head is not None else ""
    if request.new_secret and problem_set.demonstration_secret is None:
        return secrets.token_hex(32).encode(), True
    if problem_set.demonstration_secret is not None:
        secret, found = problem_set.demonstration_secret.encode(), "another demonstration_secret"
    elif path.is_file():
        secret, found = path.read_bytes(), "another secret"
        if len(secret) < _SHORTEST_SECRET:
            found = f"a secret of {len(secret)} bytes"
            FaultLog(str(path)).refuse("", found, f"{_SHORTEST_SECRET} bytes or more", _RECOVER)
    elif before:
        FaultLog(str(path)).refuse("", "no secret", "the one that the printed numbers were drawn from", _RECOVER)
    else:
        return secrets.token_hex(32).encode(), True
    if before and fingerprint(secret) != before:
        FaultLog(str(path)).refuse("", found, "the one that the printed numbers were drawn from", _RECOVER)
    return secret, False


def _inputs(loaded: _Loaded) -> dict[str, str]:
    """The digest of every bank, template, course and set file that went in."""
    course = loaded.course
    paths = {path.name: path for path in course.bank_files if path.parent != course.own_banks}
    paths |= {f"course/{path.name}": path for path in course.bank_files if path.parent == course.own_banks}
    paths[SET_FILE] = loaded.folder / SET_FILE
    if course.folder is not None:
        paths[COURSE_FILE] = course.folder / COURSE_FILE
    beside = {path.stem: path for path in loaded.folder.glob("*.toml")}
    for template in (one for problem in loaded.problem_set.problems for one in problem.templates):
        paths[f"{template.id}.toml"] = beside.get(template.id) or course.templates[template.id]
    digests = {name: hashlib.sha256(path.read_bytes()).hexdigest() for name, path in paths.items()}
    return {"atomic weights": loaded.banks.edition, **digests}
