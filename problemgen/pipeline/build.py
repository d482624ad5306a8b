"""One build: banks, set and roster in; sheets, key, answers.json, blank responses and summary out."""

from __future__ import annotations

import hashlib
import os
import secrets
from collections.abc import Iterator, Sequence
from contextlib import ExitStack
from dataclasses import dataclass
from pathlib import Path

from problemgen.errors import Fault, FaultsError
from problemgen.load.banks import load_banks
from problemgen.load.columns import load_columns
from problemgen.load.resources import banks_folder, layouts, templates_folder
from problemgen.load.roster import ROSTER_COLUMNS, Roster, anonymous_students, load_roster
from problemgen.load.set_rules import SET_FILE
from problemgen.load.sets import load_set
from problemgen.model.banks import Banks
from problemgen.model.problem_set import ProblemSet, Student
from problemgen.pipeline.arguments import AnyPath, HowMany, checked, path_or_none
from problemgen.pipeline.earlier import built_entries, file_stem
from problemgen.pipeline.making import Making
from problemgen.pipeline.outlets.building import building_outlets
from problemgen.pipeline.outlets.building.outlet import BuildingOutlet, BuildingRun
from problemgen.pipeline.progress import Progress, silent
from problemgen.write.files import Staging
from problemgen.write.pdf import Job, compile_all

__all__ = ["BuildReport", "BuildRequest", "build", "build_set"]

_SECRET_FILE = "secret"  # noqa: S105 - a file's name


@dataclass(frozen=True)
class BuildRequest:
    """What to build: the set's folder, the output folder, and who for (the set's roster, another, or a number)."""

    folder: Path
    out: Path
    roster: Path | None = None
    count: int | None = None
    replace: bool = False
    columns: Path | None = None  # our column names for those of the roster


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
    columns: AnyPath | None = None,
    replace: bool = False,
    progress: Progress = silent,
) -> BuildReport:
    """Build a set into `out`: sheets, key, answers.json and the table of responses, for its roster.

    `roster` is another one than the set's, `columns` tells how it names our columns; `count` makes so many variants
    without names. Files of an earlier build are
    replaced only with `replace`. `progress` is told what is being done, how much of it is, and how much there is.

    Raises:
        FaultsError: for faults of the banks, the set, its templates and the roster, all at once; for arguments that
            do not fit.
        NoRoomError: for a template that leaves too few admissible variants.
        OutputError: for an output folder that cannot be written, or holds files that would be replaced.
    """
    if roster is not None and count is not None:
        raise FaultsError([Fault("build", "count", f"{count} beside a roster", "a roster, or a number of variants")])
    if columns is not None and count is not None:
        raise FaultsError([Fault("build", "columns", f"columns of a roster beside {count} variants", "one of them")])
    request = BuildRequest(Path(folder), Path(out), path_or_none(roster), count, replace, path_or_none(columns))
    return build_set(request, progress)


def build_set(request: BuildRequest, progress: Progress) -> BuildReport:
    """Build a set; it raises what `build` does."""
    banks, problem_set, roster = _loaded(request)
    students = roster.students
    secret, new_secret = _secret(request, problem_set)
    making, inputs = Making(problem_set, secret), _inputs(request, banks, problem_set)
    with Staging(request.out, replace=request.replace) as staging, ExitStack() as stack:
        made_from = _from_there(request.folder, staging.folder)
        run = BuildingRun(staging, stack, problem_set, students, making, inputs, layouts(), progress, made_from)
        outlets = building_outlets(run)
        entries = [(student.id, attempt) for student in students for attempt in run.attempts]
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
        notes=(*roster.notes, *making.notes(), *_notes(problem_set)),
        files=tuple(name for outlet in outlets for name in outlet.files),
        private=tuple(name for outlet in outlets for name in outlet.files if outlet.private),
    )


def _from_there(folder: Path, out: Path) -> str:
    """The set's folder as seen from the output folder, so that both may be moved together; or where it is at all."""
    try:
        return Path(os.path.relpath(folder.resolve(), out)).as_posix()
    except ValueError:  # on another drive
        return folder.resolve().as_posix()


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


def _loaded(request: BuildRequest) -> tuple[Banks, ProblemSet, Roster]:
    banks = load_banks(banks_folder())
    faults: list[Fault] = []
    try:
        problem_set = load_set(request.folder, templates_folder(), banks)
    except FaultsError as error:
        faults.extend(error.faults)
    try:
        roster = _students(request)
    except FaultsError as error:
        faults.extend(error.faults)
    if not faults:
        faults.extend(_one_file_for_two(request, roster.students, problem_set.attempts.number))
    if faults:
        raise FaultsError(faults)
    return banks, problem_set, roster


def _one_file_for_two(request: BuildRequest, students: Sequence[Student], attempts: int) -> Iterator[Fault]:
    """Faults for ids by which the files of another student's later attempt would be called."""
    ids = {student.id.casefold(): student.id for student in students}
    for student in students:
        for attempt in range(2, attempts + 1):
            other = ids.get(file_stem(student.id, attempt).casefold())
            if other is not None:
                found = f"the id {other!r}, by which the sheets of attempt {attempt} of {student.id!r} are called"
                yield Fault(str(_roster(request)), "", found, "another id, or fewer attempts")


def _roster(request: BuildRequest) -> Path:
    return request.roster or request.folder / "roster.csv"


def _students(request: BuildRequest) -> Roster:
    if request.count is not None:
        return Roster(anonymous_students(request.count))
    names = load_columns(request.columns, ROSTER_COLUMNS) if request.columns else None
    return load_roster(_roster(request), names)


def _secret(request: BuildRequest, problem_set: ProblemSet) -> tuple[bytes, bool]:
    """The set's secret, and whether it is new: published for a demonstration, kept from an earlier build, or made."""
    if problem_set.demonstration_secret is not None:
        return problem_set.demonstration_secret.encode(), False
    path = request.out / _SECRET_FILE
    if path.is_file():
        return path.read_bytes(), False
    return secrets.token_hex(32).encode(), True


def _inputs(request: BuildRequest, banks: Banks, problem_set: ProblemSet) -> dict[str, str]:
    """The digest of every bank, template and set file that went in."""
    paths = {path.name: path for path in (*sorted(banks_folder().glob("*.toml")), request.folder / SET_FILE)}
    for template in (one for problem in problem_set.problems for one in problem.templates):
        paths[f"{template.id}.toml"] = templates_folder() / f"{template.id}.toml"
    digests = {name: hashlib.sha256(path.read_bytes()).hexdigest() for name, path in paths.items()}
    return {"atomic weights": banks.edition, **digests}
