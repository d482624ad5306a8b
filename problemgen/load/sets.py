"""Reading a problem set: set.toml, with its templates."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path
from typing import Annotated, Literal

from pydantic import AfterValidator, Field

from problemgen.errors import Fault, FaultsError
from problemgen.exact.digits import Written, read_written
from problemgen.load.documents import Document, Number, Text, nearest, read_document
from problemgen.load.templates import load_template, nothing_drawn
from problemgen.model.banks import Banks
from problemgen.model.problem_set import Policy, ProblemSet, SetProblem, Sheet
from problemgen.model.template import Template

__all__ = ["SET_FILE", "SetDocument", "load_set", "template_ids"]

SET_FILE = "set.toml"


def _share(value: Written) -> Written:
    if not 0 <= value.value <= 1:
        raise ValueError("a share from 0 to 1")
    return value


Share = Annotated[Number, AfterValidator(_share)]
_FULL, _HALF, _NOTHING = (read_written(text) for text in ("1", "0.5", "0"))


class SheetDocument(Document):
    """One sheet."""

    session: int = Field(ge=1, le=3)
    title: Text


class SetProblemDocument(Document):
    """One problem."""

    template: Text | None = None
    choose: tuple[Text, ...] = ()


class PolicyDocument(Document):
    """How responses are marked; every key has a default."""

    figures: Literal["ignore", "remark", "deduct"] = "remark"
    missing_unit: Literal["accept", "remark", "deduct"] = "accept"
    follow_through: Share = _FULL
    unit_slip: Share = _HALF
    named_mistake: Share = _NOTHING
    deduction: Share = read_written("0.1")


class SetDocument(Document):
    """A set."""

    title: Text
    course: Text
    language: Literal["en"] = "en"
    paper: Literal["a4", "us-letter"] = "a4"
    decimal_mark: Literal[".", ","] = "."
    demonstration_secret: Text | None = None
    sheet: tuple[SheetDocument, ...] = Field(min_length=1)
    problem: tuple[SetProblemDocument, ...] = Field(min_length=1)
    policy: PolicyDocument = PolicyDocument()


def template_ids(folder: Path) -> dict[str, Path]:
    """All templates below a folder, by id: the path without its ending. Sets and layouts are left out."""
    return {
        path.relative_to(folder).with_suffix("").as_posix(): path
        for path in sorted(folder.rglob("*.toml"))
        if path.relative_to(folder).parts[0] not in ("sets", "layouts")
    }


def load_set(folder: Path, templates: Path, banks: Banks) -> ProblemSet:
    """The set in a folder, with its templates from the templates' folder.

    Raises:
        FaultsError: all faults of set.toml and of every template that it names.
    """
    path = folder / SET_FILE
    if not folder.is_dir():
        raise FaultsError([Fault(str(folder), "", "no such folder", f"the folder of a problem set, with {SET_FILE}")])
    document = read_document(path, SetDocument)
    return _Loader(str(path), template_ids(templates), banks).set(folder.resolve().name, document)


class _Loader:
    """Loads the templates of one set, each once, and keeps the faults of all."""

    def __init__(self, file: str, paths: dict[str, Path], banks: Banks) -> None:
        self.file, self.paths, self.banks = file, paths, banks
        self.faults: list[Fault] = []
        self.loaded: dict[str, Template] = {}

    def set(self, set_id: str, document: SetDocument) -> ProblemSet:
        problems = tuple(self.problem(i, one) for i, one in enumerate(document.problem, start=1))
        if self.faults:
            raise FaultsError(self.faults)
        sheets = tuple(Sheet(one.session, one.title) for one in document.sheet)
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
            policy=_policy(document.policy),
            demonstration_secret=document.demonstration_secret,
        )

    def problem(self, number: int, document: SetProblemDocument) -> SetProblem:
        names = document.choose or ((document.template,) if document.template else ())
        if bool(document.template) == bool(document.choose):
            self.fault(f"problem.{number}", "no single way to get a template", "either `template` or `choose`")
        return SetProblem(f"p{number}", tuple(t for name in names if (t := self.template(number, name)) is not None))

    def template(self, number: int, name: str) -> Template | None:
        if name not in self.paths:
            hint = nearest(name, self.paths)
            self.fault(f"problem.{number}.template", repr(name), "the path of a template below templates/", hint)
            return None
        if name not in self.loaded:
            try:
                self.loaded[name] = load_template(self.paths[name], name, self.banks)
                self.faults.extend(nothing_drawn(self.loaded[name], str(self.paths[name])))
            except FaultsError as error:
                self.faults.extend(error.faults)
        return self.loaded.get(name)

    def check_sheets(self, sheets: tuple[Sheet, ...], problems: tuple[SetProblem, ...]) -> None:
        """Refuse parts that would stand on no sheet, or on two."""
        sessions = [sheet.session for sheet in sheets]
        printed = set(sessions)
        missing = sorted({p.session for one in problems for t in one.templates for p in t.parts} - printed)
        faults = [
            Fault(
                self.file,
                "sheet",
                f"no sheet for session {session}",
                "a sheet for every session that has parts",
            )
            for session in missing
        ]
        faults += [
            Fault(self.file, "sheet", f"several sheets for session {session}", "one sheet for each session")
            for session in sorted(printed)
            if sessions.count(session) > 1
        ]
        if faults:
            raise FaultsError(faults)

    def fault(self, key: str, found: str, expected: str, hint: str = "") -> None:
        self.faults.append(Fault(self.file, key, found, expected, hint))


def _policy(document: PolicyDocument) -> Policy:
    def share(value: Written) -> Fraction:
        return value.value

    return Policy(
        figures=document.figures,
        missing_unit=document.missing_unit,
        follow_through=share(document.follow_through),
        unit_slip=share(document.unit_slip),
        named_mistake=share(document.named_mistake),
        deduction=share(document.deduction),
    )
