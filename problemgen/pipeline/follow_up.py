"""The week after: a set in which each student has problems on what they got wrong, and a page for the class."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property, partial
from pathlib import Path

from problemgen.errors import Fault, FaultsError, OutputError
from problemgen.language.messages import N_, _, speaking
from problemgen.load.answers.answers import ANSWERS_FILE
from problemgen.load.fault_log import FaultLog
from problemgen.load.people.responses import RESPONSES_FILE
from problemgen.load.people.rosters import ROSTER_FILE
from problemgen.load.resources import SET_FILE, layouts
from problemgen.load.sets.courses import Course, course_of
from problemgen.load.templates.template import check_drawn, load_template
from problemgen.make.next_problem import Had, NextProblems, substances_of
from problemgen.model.answers import KeyHead, StudentKey, template_id
from problemgen.model.template import Template
from problemgen.model.verdict import PartResult, StudentResult
from problemgen.pipeline.arguments import AnyPath, Paths, as_paths, checked, path_or_none
from problemgen.pipeline.class_errors import MadeMistake, shown_errors
from problemgen.pipeline.mark import ClassResults, MarkingRequest, class_results
from problemgen.pipeline.printed import some
from problemgen.pipeline.progress import Progress, silent
from problemgen.plan.ideas import Idea, idea_of_part, ideas_in
from problemgen.plan.laws import LAWS_BY_ID
from problemgen.render.classes.follow_up_page import class_page
from problemgen.render.classes.follow_up_set import NextProblem, roster_rows, set_text
from problemgen.render.printers.html import page
from problemgen.render.printers.typst import sheet_data
from problemgen.render.words.symbols import capitalised
from problemgen.write.files import Staging
from problemgen.write.pdf import Job, compile_all
from problemgen.write.spreadsheet import CsvLines

__all__ = ["FollowUpReport", "follow_up"]

_MOST = 3
"""Problems of a student: a quarter of an hour's work beside the week's own."""

_PAGE = "for-the-class"

_LOST: Mapping[str, str] = {
    "mistake": N_("a usual mistake"),
    "wrong": N_("not right"),
    "unit": N_("a unit of another kind"),
    "slip": N_("a slip"),
    "rounded": N_("rounded too far"),
    "blank": N_("no answer"),
}
"""The verdicts that are followed up, with words for comments: of more than fits, those that tell most go first.

A blank may be want of time. What follows from an earlier error was paid for; what could not be read says nothing.
"""

_HARDER = "All right so far, a harder one"


@dataclass(frozen=True)
class FollowUpReport:
    """What was written: `problems` of the set, for how many `students`; what should be known, a line each."""

    out: Path
    students: int
    problems: int
    notes: tuple[str, ...]
    files: tuple[str, ...]


@checked
def follow_up(
    folder: AnyPath,
    out: AnyPath,
    responses: Paths | None = None,
    *,
    for_all: bool = False,
    overrides: AnyPath | None = None,
    means: AnyPath | None = None,
    set_folder: AnyPath | None = None,
    replace: bool = False,
    progress: Progress = silent,
) -> FollowUpReport:
    """Write the folder `out` of a set in which each student has one to three problems on what they got wrong.

    The responses to the built set in `folder` are marked as `mark` does it; without any, responses.csv of the folder
    is. The set is an ordinary one, to look at, change and build; beside it lies a page for the class, as HTML and PDF.
    With `for_all`, who had all right gets a harder problem. Nothing of a student but id, name, section and the further
    columns of the roster is written, into roster.csv.

    Raises:
        FaultsError: for faults of answers.json, the responses, the decisions or templates; for responses in which
            nobody got anything wrong.
        OutputError: for a folder that cannot be written, or is there already.
    """
    place, target = Path(folder), Path(out)
    if target.exists() and not (target / f"{_PAGE}.html").is_file():
        raise OutputError(f"{target} is there already, and no follow-up set; choose another folder")
    if target.exists() and not replace:
        raise OutputError(f"{target} is there already; --replace writes the follow-up set anew, with what you changed")
    files = as_paths(responses) if responses is not None else (place / RESPONSES_FILE,)
    marked = class_results(
        MarkingRequest(
            folder=place,
            responses=files,
            out=target,
            overrides=path_or_none(overrides),
            means=path_or_none(means),
            set_folder=path_or_none(set_folder),
        )
    )
    if not any(result.handed_in for _, result in marked.results):
        hint = "Name the file in which the answers are, as for grade."
        raise FaultsError([Fault(", ".join(map(str, files)), "", "no answers", "the answers of the class", hint)])
    course = course_of(target if target.exists() else target.resolve().parent)
    work = _FollowUp(marked, course, _set_place(place, marked.head, path_or_none(set_folder)), progress)
    problems = work.problems(for_all=for_all)
    if not problems:
        expected, hint = "something to follow up", "--for-all gives a harder problem to who had all right."
        raise FaultsError([Fault(str(place / ANSWERS_FILE), "", "nothing that anybody got wrong", expected, hint)])
    return _written(work, problems, target, replace=replace)


def _set_place(folder: Path, head: KeyHead, named: Path | None) -> Path:
    """The folder of the set that was built, or where it was."""
    return named or (folder / head.made_from if head.made_from else folder)


@dataclass
class _Student:
    """A student with the attempt that they handed in last, and what went wrong in it: the ideas with words, in turn."""

    key: StudentKey
    result: StudentResult
    had: Had
    wrong: dict[Idea, str] = field(default_factory=dict)
    made: list[MadeMistake] = field(default_factory=list)


class _FollowUp:
    """Finds out for a marked class who gets what."""

    def __init__(self, marked: ClassResults, course: Course, set_place: Path, progress: Progress) -> None:
        """`course` is that of the follow-up set, `set_place` the folder of the set before."""
        self.marked, self.head, self._course, self._progress = marked, marked.head, course, progress
        self._set_place, self._set_course = set_place, course_of(set_place)
        last = {key.student: (key, result) for key, result in sorted(marked.results, key=lambda one: one[0].attempt)}
        order = dict.fromkeys(key.student for key, _ in marked.results)
        self.students = [self._student(*last[name]) for name in sorted(order) if last[name][1].handed_in]
        self.without: list[str] = []  # those for whose errors there is no problem

    @cached_property
    def templates(self) -> Mapping[str, Template]:
        """All templates that can be handed out, by id."""
        banks, paths, log = self._course.banks(), self._course.templates, FaultLog("")
        found: dict[str, Template] = {}
        for done, (name, path) in enumerate(paths.items(), start=1):
            undrawn = FaultLog(str(path))
            template = log.tried(partial(load_template, path, name, banks))
            if template is not None:
                check_drawn(undrawn, template)
            if template is not None and not undrawn.faults:
                found[name] = template
            self._progress("reading", done, len(paths))
        log.stop()
        return found

    def known(self, names: Iterable[str]) -> dict[str, Template]:
        """Templates of the set before, by id: those that are still there, in its folder or its course or ours."""
        own, banks = self._set_course.templates, self._set_course.banks()
        beside = {name: self._set_place / f"{name}.toml" for name in names}
        paths = {name: path if path.is_file() else own.get(name) for name, path in beside.items()}
        return {name: load_template(path, name, banks) for name, path in sorted(paths.items()) if path is not None}

    @property
    def left_course(self) -> bool:
        """Whether the set before is in a course with templates of its own, which the follow-up set is not in."""
        return self._set_course.folder != self._course.folder and bool(self._set_course.course_templates)

    @cached_property
    def choice(self) -> NextProblems:
        return NextProblems(self.templates.values())

    def problems(self, *, for_all: bool) -> list[NextProblem]:
        """The problems of the set: those of most students first."""
        reasons: defaultdict[str, dict[str, list[str]]] = defaultdict(dict)
        for student in self.students:
            chosen = self._chosen(student) if student.wrong else self._harder(student) if for_all else {}
            if student.wrong and not chosen:
                self.without.append(student.key.student)
            for template, words in chosen.items():
                reasons[template].setdefault(words, []).append(student.key.student)
        found = [NextProblem(name, {why: tuple(ids) for why, ids in told.items()}) for name, told in reasons.items()]
        return sorted(found, key=lambda one: (-len(one.students), one.template))

    def _chosen(self, student: _Student) -> dict[str, str]:
        chosen: dict[str, str] = {}
        for idea, words in student.wrong.items():
            template = self.choice.on(idea, student.had)
            if template is not None and len(chosen) < _MOST:
                chosen.setdefault(template.id, words)
        return chosen

    def _harder(self, student: _Student) -> dict[str, str]:
        plans = [self.head.templates[one.template].plan for one in student.key.problems]
        ideas = frozenset[Idea]().union(*map(ideas_in, plans))
        difficulty = {name: one.difficulty for name, one in self.templates.items()}
        template = self.choice.harder(student.had, ideas, difficulty)
        return {} if template is None else {template.id: _HARDER}

    def _student(self, key: StudentKey, result: StudentResult) -> _Student:
        templates = [self.head.templates[one.template] for one in key.problems]
        substances = frozenset[str]().union(*(substances_of(one.plan, one.scene) for one in templates))
        student = _Student(key, result, Had(frozenset(template_id(one.id) for one in templates), substances))
        by_problem = {one.problem: self.head.templates[one.template] for one in key.problems}
        lost = [part for part in result.counted if part.verdict in _LOST and part.points < part.of]
        order = list(_LOST)
        for part in sorted(lost, key=lambda one: (order.index(one.verdict), one.points - one.of)):
            template = by_problem[part.problem]
            asked = next(one.asked for one in template.parts if one.id == part.part)
            idea = idea_of_part(template.plan, asked, part.at, part.mistakes)
            student.wrong.setdefault(idea, _words(idea, part, asked.quantity.kind))
            if part.mistakes:
                student.made.append(MadeMistake(idea, template_id(template.id), part.mistakes[0], key.student))
        return student


def _words(idea: Idea, part: PartResult, kind: str) -> str:
    """What went wrong, for a comment of set.toml."""
    law = LAWS_BY_ID[idea.law].title if idea.law in LAWS_BY_ID else kind.replace("_", " ")
    return capitalised(_(part.titles[0])) if part.titles else f"{capitalised(_(law))}, {_(_LOST[part.verdict])}"


def _written(work: _FollowUp, problems: Sequence[NextProblem], out: Path, *, replace: bool) -> FollowUpReport:
    head, mine = work.head, {student for problem in problems for student in problem.students}
    keys = [student.key for student in work.students if student.key.student in mine]
    made = [one for student in work.students for one in student.made]
    with speaking(head.language):
        shown = shown_errors(made, work.known({one.template for one in made}))
        document = class_page(head, shown, len(work.students))
        told = set_text(head, problems)
    files = (SET_FILE, ROSTER_FILE, f"{_PAGE}.html", f"{_PAGE}.pdf")
    csv = CsvLines()
    roster = b"".join(csv.line(row) for row in roster_rows(keys, head.roster_columns))
    with Staging(out, replace=replace) as staging:
        staging.expect(files)
        staging.write(SET_FILE, told.encode())
        staging.write(ROSTER_FILE, roster, private=True)
        staging.write(f"{_PAGE}.html", page(document, layouts()).encode())
        for name, pdf in compile_all([Job(f"{_PAGE}.pdf", sheet_data(document))], layouts()):
            staging.write(name, pdf)
    return FollowUpReport(out, len(keys), len(problems), tuple(_notes(work, keys)), files)


def _notes(work: _FollowUp, keys: Sequence[StudentKey]) -> Iterator[str]:
    yield from work.marked.remarks
    if work.left_course:
        yield "Templates of the set's own course were not looked at: choose a folder inside it to have them."
    absent = dict.fromkeys(key.student for key, result in work.marked.results if not result.handed_in)
    if absent:
        yield f"Handed nothing in, and get no problem: {some(absent)}."
    if work.without:
        yield f"No template is about what they got wrong: {some(work.without)}."
    right = len(work.students) - len(keys) - len(work.without)
    if right:
        yield f"Had all right, and get no problem: {right}."
