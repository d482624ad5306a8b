"""What answers.json holds, as records: all that marking needs, without the templates or the banks.

The records are the format: by their fields the file is written (`render/key/answers.py`), read with its faults
(`load/answers/answers.py`), and described: `python -m problemgen.model.answers` prints its JSON Schema. A field that is
left out where it is empty says so by its type, and so does one that lives in memory only.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Annotated, Any, Literal, TypeAlias

from pydantic import AfterValidator, Field

from problemgen.language.numbers import decimal_mark
from problemgen.model.blocks import Chemical, Prose, Strong
from problemgen.model.expression import expression_schema
from problemgen.model.file_types import (
    Count,
    ExactText,
    FileForm,
    FilledText,
    InMemory,
    LeftOut,
    SortedTexts,
)
from problemgen.model.fixed import Datum
from problemgen.model.own_data import OwnKey, OwnReading, with_own_columns
from problemgen.model.plan import Plan
from problemgen.model.policy import Attempts, Gradebook, Policy
from problemgen.model.problem import Asked, Scene
from problemgen.model.problem_set import Issued, Method, Paper
from problemgen.model.texts import LanguageCode, PrintedLine, SetTexts, TemplateTexts
from problemgen.model.told import Told
from problemgen.model.truths import Truth

__all__ = [
    "ANSWERS_FORM",
    "FORMAT",
    "PART_FORM",
    "PLAN_FORM",
    "STUDENT_FORM",
    "VERSION",
    "AnswersFile",
    "KeyHead",
    "PartKey",
    "ProblemKey",
    "StudentKey",
    "TemplateKey",
    "answers_schema",
    "template_id",
    "template_in_problem",
]

FORMAT: Literal["problemgen answers"] = "problemgen answers"
VERSION: Literal[5] = 5

ColumnName: TypeAlias = Annotated[str, Field(pattern=r"^[1-9][0-9]*[a-z]+$")]
"""The column of a part in the responses: the problem's number and the part's letter."""


@dataclass(frozen=True)
class PartKey:
    """One asked part."""

    id: Annotated[str, Field(pattern="^[0-9]{2,}$")]
    """The part's id within its template."""

    label: Annotated[str, Field(pattern="^[a-z]+$")]
    """The part's letter."""

    asked: Asked
    """What is asked."""

    points: ExactText
    """The points to be had."""

    prompt: PrintedLine
    """The prompt: words, words that stand out, and formulas in ASCII, one after the other."""

    session: Count
    """The session on whose sheet the part stands."""

    usual_points: LeftOut[ExactText | None] = None
    """The template's own points, where the set gives others."""

    @property
    def words(self) -> str:
        """The prompt in plain words, formulas in ASCII."""
        texts = (
            piece.formula if isinstance(piece, Chemical) else piece.text
            for piece in self.prompt
            if isinstance(piece, Prose | Strong | Chemical)
        )
        return "".join(texts)


@dataclass(frozen=True)
class TemplateKey:
    """A template: how its problem is worked, what is asked, and which substances there are."""

    id: InMemory[str]
    """The key by which the head holds it."""

    title: str
    """The title printed on the sheets."""

    plan: Plan
    """The chain of laws from what is given to what is asked."""

    parts: tuple[PartKey, ...]
    """The asked parts, in order."""

    scene: Scene
    """What a worked solution needs beside the plan."""

    told: tuple[Told, ...]
    """The given values in the words of the sheet, in its order."""

    may_hide: LeftOut[SortedTexts] = frozenset()
    """The ids of mistakes that its numbers need not show."""


def _completed(templates: Mapping[str, TemplateKey]) -> Mapping[str, TemplateKey]:
    """The templates with what their fields say of each other, which the file says once."""
    return {
        name: replace(
            one,
            id=name,
            plan=replace(one.plan, asked=tuple(part.asked for part in one.parts)),
            scene=replace(one.scene, given=frozenset(one.plan.given)),
        )
        for name, one in templates.items()
    }


@dataclass(frozen=True)
class ProblemKey:
    """One problem of one student."""

    problem: Annotated[str, Field(pattern="^p[1-9][0-9]*$")]
    """The problem's id: p and its number."""

    template: FilledText
    """The key of the template from which it was drawn."""

    given: Mapping[str, Datum]
    """The numbers given, by the quantity's id, without those that the student measures. What follows from these is
    filled in once they have been read."""

    truths: Mapping[str, Truth]
    """The right answers, by the part's id, with the windows that follow from the plan: what a policy makes of these is
    worked out when the file is read. Those that rest on the student's own data are filled in likewise."""

    own: InMemory[tuple[OwnReading, ...]] = ()
    """The student's own values as they were read."""

    lacking: InMemory[Mapping[str, tuple[OwnReading, ...]]] = field(default_factory=dict)
    """By part, the own values without which it cannot be marked."""

    def label(self, part: PartKey) -> str:
        """The column of a part: "1a"."""
        return f"{self.problem.removeprefix('p')}{part.label}"


@dataclass(frozen=True)
class StudentKey:
    """One student's keys for one attempt."""

    student: Annotated[str, Field(pattern="^[A-Za-z0-9_][A-Za-z0-9_.-]{0,39}$")]
    """The student's id."""

    name: str
    """The student's name as the roster has it."""

    section: str
    """The student's section; "" for none."""

    code: str
    """The code printed on the sheets."""

    problems: tuple[ProblemKey, ...]
    """The student's variants, in the order of the set."""

    attempt: Count = 1
    """Which attempt, from 1."""

    more: LeftOut[Mapping[str, str]] = field(default_factory=dict)
    """What the roster has of the student in further columns, by the column's name; it is carried into the gradebook."""

    language: LeftOut[LanguageCode | Literal[""]] = ""
    """The language of the student's sheets, where it is another than the set's."""


@dataclass(frozen=True)
class KeyHead:
    """What is common to all students of a set."""

    set_id: str
    """The name of the set's folder."""

    title: str
    """The title printed on the sheets."""

    course: str
    """The course printed on the sheets."""

    language: LanguageCode
    """The language of the set: of the key, the class report, and the sheets of all who have no other (BCP 47)."""

    decimal_mark: Literal[".", ","]
    """The mark that decides how an ambiguous response is read first."""

    policy: Policy
    """The policy of the whole set, for parts that have none of their own."""

    templates: Annotated[Mapping[str, TemplateKey], Field(min_length=1), AfterValidator(_completed)]
    """What is common to all variants of a template, by the template's id; behind it in brackets the problem's, where
    the same template has other points in an earlier problem."""

    columns: tuple[ColumnName, ...]
    """The columns of the responses, one a part: "1a", "1b", …; as many as any variant has."""

    inputs: Mapping[str, str]
    """What went into the build: the edition of the atomic weights, and the SHA-256 digest of each file, by its name."""

    issued: Issued = field(default_factory=Issued)
    """What the next build of this folder has to know, so that printed numbers stay."""

    problems: Mapping[str, tuple[FilledText, ...]] = field(default_factory=dict)
    """The keys of the templates that each problem is drawn from, by the problem's id."""

    roster_columns: tuple[str, ...] = ()
    """The further columns of the roster, in its order."""

    made_from: str = ""
    """The folder of the set, as seen from the folder of this file; "" where nobody knows."""

    paper: Paper = "a4"
    """The paper of the sheets."""

    method: Method = "product"
    """The way in which worked solutions tell stoichiometry: from each reagent to the product, by extents of reaction,
    or by amount ratios of the reagents."""

    worked_solution: bool = True
    """Whether feedback shows the worked solution."""

    own: Mapping[str, tuple[OwnKey, ...]] = field(default_factory=dict)
    """The values that students measure and fill in, by the problem's id, in the order of their columns."""

    policies: Mapping[ColumnName, Policy] = field(default_factory=dict)
    """How each part is marked, by its column."""

    gradebook: Gradebook = field(default_factory=Gradebook)
    """What the gradebook makes of the points."""

    attempts: Attempts = field(default_factory=Attempts)
    """How many attempts each student has, and which of those handed in counts."""

    translations: LeftOut[Mapping[LanguageCode, SetTexts]] = field(default_factory=dict)
    """What the set says in the other languages that its students have their sheets in."""

    @cached_property
    def _spoken(self) -> dict[str, KeyHead]:
        return {}

    def in_language(self, language: str) -> KeyHead:
        """The head as students with another language see it; as it is for "", and for a language that no sheet has.

        An ambiguous response to a sheet in another language is read by that language's mark first.
        """
        if language in ("", self.language) or language not in self.translations:
            return self
        if language not in self._spoken:
            self._spoken[language] = _spoken_head(self, language, self.translations[language])
        return self._spoken[language]

    def policy_of(self, column: str) -> Policy:
        """How a part is marked, by its column ("1a"); the set's policy where it has none of its own."""
        return self.policies.get(column, self.policy)

    @property
    def response_columns(self) -> tuple[str, ...]:
        """All columns of the responses: of each problem the student's own data, then its parts."""
        return with_own_columns(self.columns, {name: [one.column for one in own] for name, own in self.own.items()})


@dataclass(frozen=True)
class AnswersFile:
    """All that marking a built problem set needs: what is common to all students once, then one student a line.

    Confidential. Numbers are text, so that no reader rounds them. Engine units are g, L, mol, K and kPa. A key that is
    not required stands for nothing, 0 or "" where it is left out.
    """

    format: Literal["problemgen answers"]
    """What kind of file this is."""

    version: Literal[5]
    """The version of the format. Files of another version cannot be read as they are."""

    head: KeyHead
    """What is common to all students."""

    students: tuple[StudentKey, ...]
    """The students' keys, one a line of the file."""

    digest: Annotated[str, Field(pattern="^sha256:[0-9a-f]{64}$")]
    """The SHA-256 digest of all bytes of the file before the line that holds it, its line break left out."""

    signature: Annotated[str, Field(pattern="^(hmac-sha256:[0-9a-f]{64})?$")]
    """HMAC-SHA256 of the digest with a key derived from the set's secret: who has that can tell whether the file is as
    it was built."""


ANSWERS_FORM = FileForm(AnswersFile)
STUDENT_FORM = FileForm(StudentKey)
PLAN_FORM = FileForm(Plan)
PART_FORM = FileForm(PartKey)


def template_in_problem(template: str, problem: str) -> str:
    """What a template is called that has other points in an earlier problem: by its id, and that of the problem.

    >>> template_in_problem("titrations/borax", "p3"), template_id("titrations/borax (p3)")
    ('titrations/borax (p3)', 'titrations/borax')
    """
    return f"{template} ({problem})"


def template_id(name: str) -> str:
    """The id of a template, of what the head calls it."""
    return name.partition(" (")[0]


def _spoken_head(head: KeyHead, language: str, texts: SetTexts) -> KeyHead:
    """The head with the texts of a language. A template with points of its own has those of its id."""
    found = {name: texts.templates.get(name) or texts.templates[template_id(name)] for name in head.templates}
    own = {name: zip(keys, texts.own[name], strict=True) for name, keys in head.own.items()}
    return replace(
        head,
        title=texts.title,
        course=texts.course,
        language=language,
        decimal_mark=decimal_mark(language),
        templates={name: _spoken_template(one, found[name]) for name, one in head.templates.items()},
        own={name: tuple(text.applied(key) for key, text in keys) for name, keys in own.items()},
        translations={},
    )


def _spoken_template(template: TemplateKey, texts: TemplateTexts) -> TemplateKey:
    species = {name: one.called(texts.names.get(name, one.name)) for name, one in template.scene.species.items()}
    parts = zip(template.parts, texts.prompts, strict=True)
    told = zip(template.told, texts.told, strict=True)
    return replace(
        template,
        title=texts.title,
        scene=replace(template.scene, species=species),
        parts=tuple(replace(part, prompt=prompt) for part, prompt in parts),
        told=tuple(replace(one, before=before, behind=behind) for one, (before, behind) in told),
    )


def answers_schema() -> dict[str, Any]:
    """The JSON Schema of answers.json."""
    schema = ANSWERS_FORM.schema()
    schema["$defs"]["ExpressionArrays"] = expression_schema("#/$defs/ExpressionArrays")
    about = {"$schema": "https://json-schema.org/draft/2020-12/schema", "$id": f"urn:problemgen:answers:{VERSION}"}
    return {**about, "title": FORMAT, **schema}


if __name__ == "__main__":
    sys.stdout.write(json.dumps(answers_schema(), ensure_ascii=False, indent=2) + "\n")
