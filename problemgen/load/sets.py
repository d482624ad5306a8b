"""Reading a problem set: set.toml, with its templates."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Literal

from pydantic import Field

from problemgen.load.documents import read_document
from problemgen.load.fault_log import FaultLog
from problemgen.load.own_values import on_one_sheet, read_own_values
from problemgen.load.policies import PolicyReader, with_points
from problemgen.load.set_rules import SET_FILE, MarkedProblemDocument, MarkedSetDocument
from problemgen.load.templates import check_drawn, load_template
from problemgen.model.banks import Banks
from problemgen.model.document import Document, Flag, Text
from problemgen.model.own_data import OwnValue
from problemgen.model.policy import Policy
from problemgen.model.problem_set import Method, Paper, ProblemSet, SetProblem, Sheet
from problemgen.model.template import Template

__all__ = ["SetDocument", "load_set", "template_ids"]


class SheetDocument(Document):
    """One sheet."""

    session: int = Field(ge=1, le=3)
    title: Text


class SetProblemDocument(MarkedProblemDocument):
    """One problem."""

    own: tuple[Text, ...] = ()


class FeedbackDocument(Document):
    """What feedback shows."""

    worked_solution: Flag = True


class SetDocument(MarkedSetDocument):
    """A set."""

    title: Text
    course: Text
    kind: Literal["drawn", "post-session"] = "drawn"
    language: Literal["en"] = "en"
    paper: Paper = "a4"
    decimal_mark: Literal[".", ","] = "."
    method: Method = "product"
    demonstration_secret: Text | None = None
    sheet: tuple[SheetDocument, ...] = Field(min_length=1)
    problem: tuple[SetProblemDocument, ...] = Field(min_length=1)
    feedback: FeedbackDocument = FeedbackDocument()


def template_ids(folder: Path) -> dict[str, Path]:
    """All templates below a folder, by id: the path without its ending. Sets and layouts are left out."""
    return {
        path.relative_to(folder).with_suffix("").as_posix(): path
        for path in sorted(folder.rglob("*.toml"))
        if path.relative_to(folder).parts[0] not in ("sets", "layouts")
    }


def load_set(folder: Path, templates: Path, banks: Banks, loaded: Mapping[str, Template] | None = None) -> ProblemSet:
    """The set in a folder, with its templates from the templates' folder, or from those `loaded` already, by id.

    Raises:
        FaultsError: all faults of set.toml and of every template that it names.
    """
    path = folder / SET_FILE
    if not folder.is_dir():
        FaultLog(str(folder)).refuse("", "no such folder", f"the folder of a problem set, with {SET_FILE}")
    document = read_document(path, SetDocument)
    loader = _Loader(FaultLog(str(path)), template_ids(templates), banks, loaded or {})
    return loader.set(folder.resolve().name, document)


class _Loader:
    """Loads the templates of one set, each once, and keeps the faults of all."""

    def __init__(self, faults: FaultLog, paths: dict[str, Path], banks: Banks, before: Mapping[str, Template]) -> None:
        self.faults, self.paths, self.banks, self.before = faults, paths, banks, before
        self.loaded: dict[str, Template] = {}

    def set(self, set_id: str, document: SetDocument) -> ProblemSet:
        sheets = tuple(Sheet(one.session, one.title) for one in document.sheet)
        problems = tuple(self.problem(i, one) for i, one in enumerate(document.problem, start=1))
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
            course=document.course,
            language=document.language,
            paper=document.paper,
            decimal_mark=document.decimal_mark,
            sheets=sheets,
            problems=problems,
            policy=policy,
            demonstration_secret=document.demonstration_secret,
            method=document.method,
            worked_solution=document.feedback.worked_solution,
            attempts=document.attempts,
            gradebook=document.gradebook,
        )

    def problem(self, number: int, document: SetProblemDocument) -> SetProblem:
        names = document.names
        if bool(document.template) == bool(document.choose):
            self.faults.add(f"problem.{number}", "no single way to get a template", "either `template` or `choose`")
        templates = tuple(t for name in names if (t := self.template(number, name)) is not None)
        own = self.own(number, document, templates)
        if not own:
            for template in templates:
                check_drawn(self.faults.of(str(self.paths[template.id])), template)
        return SetProblem(f"p{number}", templates, own)

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
            expected = "the path of a template below templates/"
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
