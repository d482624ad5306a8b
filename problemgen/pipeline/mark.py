"""One marking: answers.json and responses in; grades, gradebook and feedback pages out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from contextlib import ExitStack
from dataclasses import dataclass, field, replace
from pathlib import Path

from problemgen.grade.classes.overriding import overrule
from problemgen.grade.judging.judge import judge_student
from problemgen.grade.judging.own_data import with_own_data
from problemgen.language.messages import speaking
from problemgen.load.answers.answers import Answers
from problemgen.load.fault_log import FaultLog
from problemgen.load.people.responses import Responses
from problemgen.load.resources import layouts
from problemgen.model.answers import KeyHead, StudentKey
from problemgen.model.decision import ALL, Decisions
from problemgen.model.means import Means
from problemgen.model.verdict import StudentResult
from problemgen.pipeline.anonymity import Anonymity, check_no_ids_told
from problemgen.pipeline.arguments import AnyPath, Paths, as_paths, checked, path_or_none
from problemgen.pipeline.built import SECRET_FILE, Built, open_built
from problemgen.pipeline.came_back import responses_to
from problemgen.pipeline.decisions import decisions_for, means_for
from problemgen.pipeline.earlier import file_stem, marked_entries
from problemgen.pipeline.judging import judged_papers
from problemgen.pipeline.outlets.marking import marking_outlets
from problemgen.pipeline.outlets.marking.codes import CodesTable
from problemgen.pipeline.outlets.marking.mail_merge import MAIL_MERGE_FILE, mailed_files
from problemgen.pipeline.outlets.marking.outlet import FeedbackChoices, MarkingOutlet, MarkingRun
from problemgen.pipeline.outlets.marking.tables import GRADES_FILE
from problemgen.pipeline.progress import Progress, silent
from problemgen.pipeline.set_rules import mark_by_set
from problemgen.write.files import Staging
from problemgen.write.processes import processors, rarely_collected

__all__ = ["ClassResults", "MarkingReport", "MarkingRequest", "class_results", "mark", "mark_set"]

_GRADES, _ANONYMOUS_GRADES = "grades", "grades-anonymous"
"""Where a marking lies in the folder of its set, unless another place is asked for."""


@dataclass(frozen=True)
class MarkingRequest:
    """What to mark: the folder of a built set, the responses, and whether earlier grades may be replaced."""

    folder: Path
    responses: tuple[Path, ...]
    out: Path
    replace: bool = False
    feedback: FeedbackChoices = field(default_factory=FeedbackChoices)
    overrides: Path | None = None  # the instructor's decisions; overrides.csv of the folder where it is None
    means: Path | None = None  # what cells mean; means.csv of the folder where it is None
    set_folder: Path | None = None  # with the set.toml to mark by; where the set was built from where it is None
    columns: Path | None = None  # our names for the columns of tables; columns.csv of the folder where it is None
    anonymous: bool = False
    workers: int | None = None  # processes that judge and print; as many as there are processors where it is None


@dataclass(frozen=True)
class MarkingReport:
    """What was marked and written, and what the instructor should look at or know, a line each.

    `remarks` are about the responses, `to_look_at` about students whose marking needs a look. `files` are names
    below `out`, a folder with a slash behind it; `cautions` are told about some of them.
    """

    out: Path
    marked: int  # students
    absent: int  # who handed nothing in
    attempts: int  # that were handed in
    remarks: tuple[str, ...]
    to_look_at: tuple[str, ...]
    notes: tuple[str, ...]
    files: tuple[str, ...]
    cautions: Mapping[str, str]


@checked
def mark(
    folder: AnyPath,
    responses: Paths,
    out: AnyPath | None = None,
    *,
    overrides: AnyPath | None = None,
    means: AnyPath | None = None,
    set_folder: AnyPath | None = None,
    columns: AnyPath | None = None,
    anonymous: bool = False,
    unguessable: bool = False,
    solutions: bool = True,
    pdf: bool = True,
    replace: bool = False,
    workers: int | None = None,
    progress: Progress = silent,
) -> MarkingReport:
    """Mark the responses to the built set of a folder: grades, gradebook, feedback, class report.

    `responses` is a CSV file or a workbook, or several: of two sections, or two graders. `out` is "grades" in the
    folder, "grades-anonymous" with `anonymous`, which writes codes in the place of names. `overrides` holds the
    instructor's own decisions, and `means` what cells mean that cannot be read; without them, overrides.csv and
    means.csv of the folder do. Policies and points are those that set.toml has now, in `set_folder` or where the set
    was built from; what differs from the build is told. `columns` tells how a form's export names the columns, as
    columns.csv of the folder does without it; others are known by their usual headings. With `unguessable`, feedback
    has file names that nobody can guess, and mail-merge.csv tells whose each is. Feedback goes without worked solutions
    or PDF where these are not wanted. `workers` processes judge and print, one a processor where it is None; how many
    makes no difference to the files.

    Raises:
        FaultsError: for faults of answers.json, the responses, the decisions, the meanings or the mapping of columns,
            and for unguessable names without the set's secret.
        OutputError: for an output folder that cannot be written, or holds grades that would be replaced, or, for a
            marking without names, holds pages that tell ids.
    """
    default = Path(folder) / (_ANONYMOUS_GRADES if anonymous else _GRADES)
    request = MarkingRequest(
        folder=Path(folder),
        responses=as_paths(responses),
        out=default if out is None else Path(out),
        replace=replace,
        feedback=FeedbackChoices(pdf=pdf, solutions=solutions, unguessable=unguessable),
        overrides=path_or_none(overrides),
        means=path_or_none(means),
        set_folder=path_or_none(set_folder),
        columns=path_or_none(columns),
        anonymous=anonymous,
        workers=workers,
    )
    return mark_set(request, progress)


def mark_set(request: MarkingRequest, progress: Progress) -> MarkingReport:
    """Mark the responses to a built set; it raises what `mark` does."""
    built = open_built(request.folder)
    with rarely_collected(), built as answers:
        rules = mark_by_set(answers, request.folder, request.set_folder)
        decisions = decisions_for(request.folder, request.overrides, answers)
        means = means_for(request.folder, request.means, answers)
        responses = responses_to(answers, request.folder, request.responses, request.columns)
        _check_names(request, built)
        anonymity = Anonymity(answers) if request.anonymous else None
        if anonymity is not None:
            check_no_ids_told(request.out, (file_stem(*entry) for entry in answers.entries))
        marked, workers = {student for student, _ in responses.handed_in}, request.workers or processors()
        absent = len(answers.students) - len(marked)
        head = replace(answers.head, roster_columns=()) if anonymity is not None else answers.head
        with Staging(request.out, replace=request.replace) as staging, ExitStack() as stack:
            came_as = responses.came_as if anonymity is None else {}
            run = MarkingRun(staging, stack, head, layouts(), request.feedback, built.secret, came_as, workers)
            outlets = marking_outlets(run)
            codes = CodesTable(staging) if anonymity is not None else None
            staging.expect(name for outlet in outlets for name in outlet.early)
            if request.replace:
                earlier = marked_entries(request.out / GRADES_FILE)
                staging.supersede(name for outlet in outlets for name in outlet.names(earlier))
                staging.supersede([MAIL_MERGE_FILE, *mailed_files(request.out)])
            results = _results(answers, responses, decisions, means, workers)
            total = len(responses.handed_in) + absent
            written = (*outlets, *filter(None, [codes]))
            with speaking(head.language):
                for done, (key, result) in enumerate(results, start=1):
                    _write(outlets, key, result, anonymity, codes)
                    progress("marking", done, total)
                for outlet in written:
                    outlet.close()
        return MarkingReport(
            out=request.out,
            marked=len(marked),
            absent=absent,
            attempts=len(responses.handed_in),
            remarks=tuple(responses.remarks),
            to_look_at=(
                *_unverified(built),
                *rules.to_look_at,
                *(line for outlet in written for line in outlet.remarks()),
            ),
            notes=(
                *rules.notes,
                *filter(None, [built.doubt if built.is_public else ""]),
                *responses.notes,
                *_decided(decisions),
                *(line for outlet in written for line in outlet.notes()),
            ),
            files=tuple(name for outlet in written for name in outlet.files),
            cautions={name: outlet.caution for outlet in written for name in outlet.files if outlet.caution},
        )


def _unverified(built: Built) -> tuple[str, ...]:
    """That nobody knows whether the key is as it was built, where that should be known."""
    return (built.doubt,) if built.doubt and not built.is_public else ()


def _check_names(request: MarkingRequest, built: Built) -> None:
    """Refuse unguessable names where there is nothing to make them from, or nobody to tell whose they are."""
    if not request.feedback.unguessable:
        return
    if request.anonymous:
        expected = "one of them: a marking without names tells nobody whose a file is"
        FaultLog("grade").refuse("unguessable", "unguessable names in a marking without names", expected)
    if built.secret is None:
        hint = "Put the set's secret beside answers.json: the names follow from it, so that they stay the same."
        found = "a secret that everybody can read" if built.is_public else "no secret of this set"
        FaultLog(str(request.folder / SECRET_FILE)).refuse("", found, "the one of the build, and nobody else's", hint)


@dataclass(frozen=True)
class ClassResults:
    """A class as it is marked, nothing written: what is common, each attempt in turn, and what should be looked at.

    `remarks` and `notes` are those of a `MarkingReport`, without those on files.
    """

    head: KeyHead
    results: tuple[tuple[StudentKey, StudentResult], ...]
    remarks: tuple[str, ...]
    notes: tuple[str, ...] = ()


def class_results(request: MarkingRequest) -> ClassResults:
    """Mark the responses to a built set as `mark_set` does, and hand the results over; it raises what that does."""
    built = open_built(request.folder)
    with rarely_collected(), built as answers:
        rules = mark_by_set(answers, request.folder, request.set_folder)
        decisions = decisions_for(request.folder, request.overrides, answers)
        means = means_for(request.folder, request.means, answers)
        responses = responses_to(answers, request.folder, request.responses, request.columns)
        results = tuple(_results(answers, responses, decisions, means, request.workers or processors()))
        remarks = (*responses.remarks, *rules.to_look_at, built.doubt)
        notes = (*rules.notes, *responses.notes, *_decided(decisions))
        return ClassResults(answers.head, results, tuple(filter(None, remarks)), notes)


def _decided(decisions: Decisions) -> Iterator[str]:
    """How many decisions there are, and what they do to the points that are to be had."""
    if decisions.every:
        yield f"Your own decisions: {len(decisions.every)}, marked in {GRADES_FILE}."
    for one in decisions.every:
        if one.student == ALL and one.kind == "drop":
            what = f"Problem {one.part}" if one.part.isdecimal() else one.part
            yield f"{what} counts for nobody: nothing is earned in it, and the sheet has so many points fewer."


def _write(
    outlets: Iterable[MarkingOutlet],
    key: StudentKey,
    result: StudentResult,
    anonymity: Anonymity | None,
    codes: CodesTable | None,
) -> None:
    """Give one attempt to all outlets: without a name where none is wanted, but to the table of codes."""
    if anonymity is not None and codes is not None:
        key = anonymity.coded(key)
        codes.take(key, result)
        key, result = anonymity.key(key), anonymity.result(replace(result, code=key.code))
    for outlet in outlets:
        outlet.take(key, result)


def _results(
    answers: Answers, responses: Responses, decisions: Decisions, means: Means, workers: int
) -> Iterator[tuple[StudentKey, StudentResult]]:
    """Each attempt handed in, in the order of the responses; then the students who handed in none, all blank."""
    firsts = dict(sorted(responses.handed_in, reverse=True))
    papers = ((answers.student(student, attempt), cells) for student, attempt, cells in responses)
    for key, result in judged_papers(answers.head, means, papers, len(responses.handed_in), workers):
        yield key, overrule(replace(result, first=firsts[key.student] == key.attempt), decisions)
    for student in answers.students:
        if student not in firsts:
            key = with_own_data(answers.head, answers.student(student), {})
            yield key, overrule(judge_student(answers.head, key, {}).absent, decisions)
