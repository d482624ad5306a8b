"""Reading a problem set: set.toml, with its templates."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from problemgen.language.numbers import decimal_mark as mark_of
from problemgen.load.banks.files import BANK_NAMES
from problemgen.load.documents import read_document
from problemgen.load.fault_log import FaultLog
from problemgen.load.resources import SET_FILE
from problemgen.load.sets.documents import CourseDocument, SetDocument, SetProblemDocument, problem_names
from problemgen.load.sets.own_values import on_one_sheet, read_own_values
from problemgen.load.sets.policies import PolicyReader, with_points
from problemgen.load.templates.template import check_drawn, load_template
from problemgen.model.banks import Banks
from problemgen.model.own_data import OwnValue
from problemgen.model.policy import Policy
from problemgen.model.problem_set import Printing, ProblemSet, SetProblem, Sheet
from problemgen.model.template import Template

__all__ = ["load_set"]


def load_set(
    folder: Path,
    templates: Mapping[str, Path],
    banks: Banks,
    loaded: Mapping[str, Template] | None = None,
    course: CourseDocument | None = None,
) -> ProblemSet:
    """The set in a folder, with its templates: files by id, those `loaded` already, or files beside set.toml.

    `course` says what the set leaves out.

    Raises:
        FaultsError: all faults of set.toml and of every template that it names.
    """
    path = folder / SET_FILE
    if not folder.is_dir():
        FaultLog(str(folder)).refuse("", "no such folder", f"the folder of a problem set, with {SET_FILE}")
    document = read_document(path, SetDocument)
    if course is not None:
        document = document.within(course)
    own = {one.stem: one for one in sorted(folder.glob("*.toml")) if one.name != SET_FILE}
    loader = _Loader(FaultLog(str(path)), {**templates, **own}, banks, loaded or {}, frozenset(own))
    return loader.set(folder.resolve().name, document, course.term if course is not None else None)


class _Loader:
    """Loads the templates of one set, each once, and keeps the faults of all."""

    def __init__(
        self,
        faults: FaultLog,
        paths: Mapping[str, Path],
        banks: Banks,
        before: Mapping[str, Template],
        beside: frozenset[str],
    ) -> None:
        self.faults, self.paths, self.banks, self.before, self.beside = faults, paths, banks, before, beside
        self.loaded: dict[str, Template] = {}

    def set(self, set_id: str, document: SetDocument, term: str | None) -> ProblemSet:
        self.check_beside()
        ids = self.ids(document)
        sheets = tuple(Sheet(one.session, one.title) for one in document.sheet)
        problems = tuple(
            self.problem(i, *one) for i, one in enumerate(zip(ids, document.problem, strict=True), start=1)
        )
        policies = PolicyReader(self.faults)
        complete = all(map(_is_complete, document.problem, problems))
        policy = policies.policy_of_set(document.policy, self.loaded.values() if complete else ())
        problems = tuple(
            _marked_by(policies, policy, problem, one) for problem, one in zip(problems, document.problem, strict=True)
        )
        self.check_kind(document)
        self.faults.stop()
        if document.kind == "post-session" and len(sheets) == 1:
            problems = tuple(_reported(problem, sheets[0].session) for problem in problems)
        self.check_sheets(sheets, problems)
        return ProblemSet(
            id=set_id,
            title=document.title,
            course=document.course or "",
            term=term or "",
            language=document.language,
            paper=document.paper,
            decimal_mark=document.decimal_mark or mark_of(document.language),
            sheets=sheets,
            problems=problems,
            policy=policy,
            demonstration_secret=document.demonstration_secret,
            method=document.method,
            worked_solution=document.feedback.worked_solution,
            attempts=document.attempts,
            gradebook=document.gradebook,
            printing=Printing(document.layout, document.head, document.answers, document.worked_key),
        )

    def ids(self, document: SetDocument) -> list[str]:
        """The problems' ids, each of its own."""
        if document.course is None:
            self.faults.add("course", "nothing", "a value for this key, or a course.toml above with a title")
        names = problem_names(document.problem)
        for number, name in enumerate(names, start=1):
            if name in names[: number - 1]:
                self.faults.add(f"problem.{number}.id", repr(name), "an id of its own for each problem")
        return names

    def check_beside(self) -> None:
        """Refuse banks beside set.toml: nothing would read them."""
        for name in sorted(self.beside & set(BANK_NAMES)):
            expected = "banks in the folder banks/ of a course"
            hint = "`problemgen new FOLDER` makes a course with that folder."
            self.faults.of(str(self.paths[name])).add("", "a bank beside a set, which nothing reads", expected, hint)

    def problem(self, number: int, name: str, document: SetProblemDocument) -> SetProblem:
        names = document.names
        if bool(document.template) == bool(document.choose):
            self.faults.add(f"problem.{number}", "no single way to get a template", "either `template` or `choose`")
        templates = tuple(t for name in names if (t := self.template(number, name)) is not None)
        own = self.own(number, document, templates)
        if not own:
            for template in templates:
                check_drawn(self.faults.of(str(self.paths[template.id])), template)
        return SetProblem(f"p{number}", name, templates, own, students=frozenset(document.whose or ()))

    def own(self, number: int, document: SetProblemDocument, templates: tuple[Template, ...]) -> tuple[OwnValue, ...]:
        """The values that the student measures; they have one name each, so the problem has one template."""
        key = f"problem.{number}.own"
        if document.own and document.choose:
            self.faults.add(key, "own values beside a choice of templates", "a single `template`")
        if not document.own or len(templates) != 1:
            return ()
        return read_own_values(self.faults.at(key), document.own, templates[0], self.banks)

    def check_kind(self, document: SetDocument) -> None:
        """Refuse own values in a set that is handed out before the session, and a report without any."""
        own = any(problem.own for problem in document.problem)
        if own and document.kind == "drawn":
            self.faults.add("kind", "own values in a set of drawn numbers", "'post-session'")
        if not own and document.kind == "post-session":
            hint = 'For example own = ["aspirin.obtained"], the substance and the key of the template.'
            self.faults.add("kind", "'post-session' without own values", "a problem with `own`", hint)

    def template(self, number: int, name: str) -> Template | None:
        if name not in self.paths:
            expected = "a template that `list` shows, or the name of a file beside set.toml"
            self.faults.unknown(f"problem.{number}.template", name, self.paths, expected)
            return None
        if name not in self.loaded:
            before = self.before.get(name)
            template = before or self.faults.tried(lambda: load_template(self.paths[name], name, self.banks))
            if template is None:
                return None
            self.loaded[name] = template
        return self.loaded[name]

    def check_sheets(self, sheets: tuple[Sheet, ...], problems: tuple[SetProblem, ...]) -> None:
        """Refuse parts that would stand on no sheet, or on two."""
        sessions = [sheet.session for sheet in sheets]
        printed = set(sessions)
        for session in sorted({p.session for one in problems for t in one.templates for p in t.parts} - printed):
            self.faults.add("sheet", f"no sheet for session {session}", "a sheet for every session that has parts")
        for session in printed:
            if sessions.count(session) > 1:
                self.faults.add("sheet", f"several sheets for session {session}", "one sheet for each session")
        self.faults.stop()


def _reported(problem: SetProblem, session: int) -> SetProblem:
    return replace(problem, templates=tuple(on_one_sheet(template, session) for template in problem.templates))


def _is_complete(document: SetProblemDocument, problem: SetProblem) -> bool:
    """Whether all templates of a problem could be loaded."""
    return len(problem.templates) == len(document.names)


def _marked_by(policies: PolicyReader, policy: Policy, problem: SetProblem, document: SetProblemDocument) -> SetProblem:
    """The problem with the policies of its parts, and with the points that the set gives them."""
    key = f"problem.{problem.id.removeprefix('p')}"
    templates = problem.templates if _is_complete(document, problem) else ()
    by_letter = policies.policies_of_problem(key, policy, document.policy, document.part, templates)
    pointed = tuple(with_points(template, document.part) for template in problem.templates)
    return replace(problem, templates=pointed, policies=by_letter)
