"""One build: banks, set and roster in; sheets, key, answers.json, blank responses and summary out."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import ExitStack
from dataclasses import dataclass
from pathlib import Path

from problemgen.errors import Fault, FaultsError
from problemgen.language.messages import speaking
from problemgen.load.answers.answers import ANSWERS_FILE, Answers
from problemgen.load.resources import layouts
from problemgen.load.sets.translated import set_in
from problemgen.model.problem_set import HandIn, Layout, ProblemSet, Student
from problemgen.pipeline.arguments import AnyPath, HowMany, checked, path_or_none
from problemgen.pipeline.build_inputs import BuildRequest, build_inputs
from problemgen.pipeline.built import SECRET_FILE
from problemgen.pipeline.earlier import bound_files, built_entries
from problemgen.pipeline.making import Making
from problemgen.pipeline.outlets.building import building_outlets, unwanted_outlets
from problemgen.pipeline.outlets.building.choice import Choice
from problemgen.pipeline.outlets.building.outlet import BuildingOutlet, BuildingRun
from problemgen.pipeline.printed import Printed, printed_before, some
from problemgen.pipeline.progress import Progress, silent
from problemgen.pipeline.secret import secret_of
from problemgen.write.files import Staging
from problemgen.write.pdf import Job, compile_all
from problemgen.write.processes import processors, rarely_collected

__all__ = ["BuildReport", "build", "build_set"]


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
    redraw: Sequence[str] = (),
    new_secret: bool = False,
    demonstration: bool = False,
    session: HowMany | None = None,
    section: str | None = None,
    layout: Layout | None = None,
    worked_key: bool = False,
    fill_in: bool = False,
    workbook: bool = False,
    slip: bool = False,
    workers: HowMany | None = None,
    progress: Progress = silent,
) -> BuildReport:
    """Build a set into `out`: sheets, key, answers.json and the table of responses, for its roster.

    `folder` is the set's, or its name in `list`. `roster` is another one than the set's, `columns` tells how it names
    our columns; `count` makes so many variants without names. Files of an earlier build are replaced only with
    `replace`: numbers that it has printed stay, and so do typed answers; `redraw` names problems that are drawn anew
    all the same. Where the secret of an earlier build is lost, `new_secret` makes another one for those who have no
    numbers yet. `demonstration` says that a secret which comes with the program, and which everybody can read, is meant
    all the same. `session` and `section` have only those sheets printed; what marking needs is written for the whole
    class. `layout` is "roomy" or "compact" (default: the set's); with `worked_key`, the worked solution of every
    variant is written; with `fill_in`, `workbook` and `slip`, a sheet with fields, a workbook and a page with all
    blanks for each student, which `collect` takes when they come back. `workers` processes print, beside this one, or
    this one alone where it is 1 (default: one a processor); how many makes no difference to the files. `progress` is
    told what is being done, how much of it is, and how much there is.

    Raises:
        FaultsError: for faults of the banks, the set, its templates and the roster, all at once; for arguments that
            do not fit; for what would not fit printed numbers, and a secret that is lost or has changed.
        NoRoomError: for a template that leaves too few admissible variants.
        OutputError: for an output folder that cannot be written, or holds files that would be replaced.
    """
    if roster is not None and count is not None:
        raise FaultsError([Fault("build", "count", f"{count} beside a roster", "a roster, or a number of variants")])
    if columns is not None and count is not None:
        raise FaultsError([Fault("build", "columns", f"columns of a roster beside {count} variants", "one of them")])
    hand_ins: dict[HandIn, bool] = {"fill-in": fill_in, "workbook": workbook, "slip": slip}
    request = BuildRequest(
        folder=Path(folder),
        out=Path(out),
        roster=path_or_none(roster),
        count=count,
        columns=path_or_none(columns),
        replace=replace,
        redraw=tuple(redraw),
        new_secret=new_secret,
        demonstration=demonstration,
        session=session,
        section=section,
        layout=layout,
        worked_key=worked_key,
        more=frozenset(name for name, wanted in hand_ins.items() if wanted),
        workers=workers,
    )
    return build_set(request, progress)


def build_set(request: BuildRequest, progress: Progress) -> BuildReport:
    """Build a set; it raises what `build` does."""
    loaded = build_inputs(request)
    students, inputs = loaded.roster.students, loaded.digests
    printed = printed_before(request.out, loaded.problem_set, request.redraw, loaded.course.earlier)
    as_written = printed.numbered(loaded.problem_set)
    languages = dict.fromkeys((as_written.language, *(one.language for one in students if one.language)))
    sets = {language: set_in(as_written, language, loaded.banks) for language in languages}
    problem_set = sets[as_written.language]
    entries = [(one.id, attempt) for attempt in range(1, problem_set.attempts.number + 1) for one in students]
    printed.check(loaded.folder, problem_set, entries)
    if request.roster is not None or request.count is not None:
        printed.check_roster(request.roster, [student.id for student in students])
    secret, new_secret = secret_of(request, loaded.folder, problem_set, printed)
    making = Making(problem_set, secret, printed)
    if request.wanted != Choice():
        _check_unchanged(request.out / ANSWERS_FILE, inputs)
    with rarely_collected(), Staging(request.out, replace=request.replace) as staging, ExitStack() as stack:
        run = BuildingRun(
            staging=staging,
            stack=stack,
            problem_set=problem_set,
            sets=sets,
            students=students,
            making=making,
            inputs=inputs,
            layouts=layouts(),
            progress=progress,
            wanted=request.wanted,
            made_from=_from_there(loaded.folder, staging.folder),
            more=request.more,
        )
        with speaking(problem_set.language):
            outlets = building_outlets(run)
        staging.expect(name for outlet in outlets for name in outlet.names(entries))
        if request.replace:
            earlier = built_entries(request.out)
            staging.supersede(name for outlet in outlets for name in outlet.names(earlier))
            if request.wanted == Choice():  # of a part of the class, what else lies there agrees with it
                staging.supersede(name for outlet in unwanted_outlets(run) for name in outlet.names(earlier))
                staging.supersede(bound_files(request.out))
        with speaking(problem_set.language):
            _write(run, outlets, request.workers or processors())
        if new_secret:
            staging.write(SECRET_FILE, secret, private=True)
    return BuildReport(
        out=request.out,
        students=len(students),
        notes=(*loaded.roster.notes, *_notes(request.wanted, printed, problem_set, students, making, outlets)),
        files=tuple(name for outlet in outlets for name in outlet.files),
        private=tuple(name for outlet in outlets for name in outlet.files if outlet.private),
    )


def _check_unchanged(answers: Path, inputs: Mapping[str, str]) -> None:
    """Refuse to print a part of the class anew where what went into the rest of it has changed since."""
    if not answers.is_file():
        return
    with Answers(answers) as before:
        changed = sorted(name for name, digest in inputs.items() if before.head.inputs.get(name) != digest)
    if changed:
        found = f"a build from before {', '.join(changed)} changed"
        hint = "Leave --session and --section out: sheets printed now would not agree with the others."
        raise FaultsError([Fault(str(answers), "", found, "the build that the other sheets are from", hint)])


def _from_there(folder: Path, out: Path) -> str:
    """The set's folder as seen from the output folder, so that both may be moved together; or where it is at all."""
    try:
        return Path(os.path.relpath(folder.resolve(), out)).as_posix()
    except ValueError:  # on another drive
        return folder.resolve().as_posix()


def _notes(
    wanted: Choice,
    printed: Printed,
    problem_set: ProblemSet,
    students: Sequence[Student],
    making: Making,
    outlets: Iterable[BuildingOutlet],
) -> Iterator[str]:
    if wanted != Choice() and printed.head is None and problem_set.demonstration_secret is None:
        yield (
            "Nothing was built in this folder before: these sheets have numbers of their own. A part of what another "
            "folder has printed is printed again with --out and that folder, and --replace."
        )
    yield from printed.redrawn_for()
    yield from printed.dropped(problem_set, [student.id for student in students])
    yield from making.notes()
    if problem_set.demonstration_secret is not None:
        yield "The secret of this set is published: build it for demonstration only."
    if problem_set.attempts.number > 1:
        yield "Later attempts stand in files of their own: sheets/ID-2.pdf, class-2.pdf and so on."
    without = [student.id for student in students if not student.section]
    if 0 < len(without) < len(students):
        yield f"No section: {some(without)}. Their sheets are in the files of the whole class, and in no section's."
    for outlet in outlets:
        yield from outlet.notes()


def _write(run: BuildingRun, outlets: Sequence[BuildingOutlet], workers: int) -> None:
    """Give every attempt to every outlet, and what is printed of it back to the outlet that wanted it printed."""
    waiting: dict[str, BuildingOutlet] = {}
    sheets = sum(map(run.wanted.holds, run.students)) * len(run.attempts)
    for name, pdf in compile_all(_jobs(run, outlets, waiting), run.layouts, workers, expected=sheets):
        waiting.pop(name).printed(name, pdf)
    run.progress("binding", 0, len(outlets))
    for done, outlet in enumerate(outlets, start=1):
        outlet.close()
        run.progress("binding", done, len(outlets))


def _jobs(run: BuildingRun, outlets: Sequence[BuildingOutlet], waiting: dict[str, BuildingOutlet]) -> Iterator[Job]:
    """What there is to print, in order. Students are made, and written by every outlet, as they are needed."""

    def handed(outlet: BuildingOutlet, jobs: Iterable[Job]) -> Iterator[Job]:
        for job in jobs:
            waiting[job.name] = outlet
            yield job

    for made in run.making.all(run.students):
        for outlet in outlets:
            yield from handed(outlet, outlet.take(made))
    for outlet in outlets:
        yield from handed(outlet, outlet.last())
