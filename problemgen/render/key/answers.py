"""The keys of a set as records, and answers.json out of them: a head, a line a student, a foot with the digest.

The whole file is one JSON document; `problemgen/model/answers.py` is its form.
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import replace

from problemgen.language.messages import speaking
from problemgen.model.answers import (
    ANSWERS_FORM,
    FORMAT,
    STUDENT_FORM,
    VERSION,
    AnswersFile,
    KeyHead,
    PartKey,
    ProblemKey,
    StudentKey,
    TemplateKey,
    template_in_problem,
)
from problemgen.model.from_secret import UNSIGNED, signature
from problemgen.model.own_data import OwnKey, OwnTexts, own_column, with_own_columns
from problemgen.model.problem_set import Issued, ProblemSet, SetProblem, Student
from problemgen.model.template import Template, label_of
from problemgen.model.texts import SetTexts, TemplateTexts
from problemgen.model.variant import Variant
from problemgen.plan.partial import rests_on
from problemgen.render.sheet.own_data import own_words
from problemgen.render.words.given_words import told_values
from problemgen.render.words.prompts import prompt_of

__all__ = [
    "AnswerLines",
    "columns_of",
    "known",
    "own_keys",
    "problem_key",
    "response_columns",
    "template_key",
]

TemplateNames = Mapping[tuple[str, str], str]
"""What a template is called in answers.json, by the problem's id and the template's."""


class AnswerLines:
    """Gives the lines of one answers.json in turn, and the digest of them at the end."""

    def __init__(self, secret: bytes = b"") -> None:
        """Start a file; who has the set's secret signs it."""
        self._secret = secret
        self._digest = hashlib.sha256()
        self._separator = b""
        self._templates: TemplateNames = {}

    def opening(
        self,
        problem_set: ProblemSet,
        inputs: Mapping[str, str],
        made_from: str = "",
        roster_columns: Sequence[str] = (),
        issued: Issued | None = None,
        others: Sequence[ProblemSet] = (),
    ) -> bytes:
        """The first line: what is common to all students.

        `made_from` is the set's folder as seen from the file's, `roster_columns` the further columns of the roster,
        `issued` what the next build has to know: the numbers of the set's problems, where nothing is told. `others`
        are the set in the other languages that somebody's sheets are in.
        """
        self._templates = _template_names(problem_set)
        known = _head(problem_set, self._templates, inputs)
        numbers = {one.name: int(one.id.removeprefix("p")) for one in problem_set.problems}
        issued = issued or Issued(term=problem_set.term, numbers=numbers)
        head = replace(
            known,
            made_from=made_from,
            roster_columns=tuple(roster_columns),
            issued=issued,
            translations={one.language: _texts(one, self._templates) for one in others},
        )
        whole = AnswersFile(FORMAT, VERSION, head, (), "", UNSIGNED)
        return self._counted(ANSWERS_FORM.text(whole).removesuffix(b'],"digest":"","signature":""}') + b"\n")

    def student(self, student: Student, code: str, variants: Sequence[Variant], attempt: int = 1) -> bytes:
        """The line of one student's attempt."""
        problems = tuple(problem_key(one, self._templates[one.problem, one.template.id]) for one in variants)
        key = StudentKey(
            student.id, student.name, student.section, code, problems, attempt, dict(student.more), student.language
        )
        line = self._separator + STUDENT_FORM.text(key)
        self._separator = b",\n"
        return self._counted(line)

    def closing(self) -> bytes:
        """The last line, with the digest of all before it, and the signature."""
        digest = f"sha256:{self._digest.hexdigest()}"
        signed = signature(self._secret, digest) if self._secret else UNSIGNED
        return f'\n],"digest":"{digest}","signature":"{signed}"}}\n'.encode()

    def _counted(self, line: bytes) -> bytes:
        self._digest.update(line)
        return line


def columns_of(problem_set: ProblemSet) -> tuple[str, ...]:
    """The columns of the responses: problem number and part letter, as many as any variant has."""
    return tuple(_column(problem, letter) for problem in problem_set.problems for letter in _letters(problem))


def _column(problem: SetProblem, letter: str) -> str:
    return f"{problem.id.removeprefix('p')}{letter}"


def _letters(problem: SetProblem) -> list[str]:
    return [label_of(index) for index in range(max(len(template.parts) for template in problem.templates))]


def response_columns(problem_set: ProblemSet) -> tuple[str, ...]:
    """The columns of the responses with those of the students' own data."""
    own = {one.id: [own_column(one.id, value.name) for value in one.own] for one in problem_set.problems}
    return with_own_columns(columns_of(problem_set), own)


def _template_names(problem_set: ProblemSet) -> TemplateNames:
    """What each problem's templates are called: by their ids.

    A template that stands in several problems with different points has the problem's id behind its own from the
    second time on.
    """
    names: dict[tuple[str, str], str] = {}
    met: dict[str, Template] = {}
    for problem in problem_set.problems:
        for template in problem.templates:
            first = met.setdefault(template.id, template)
            same = template is first or template.parts == first.parts
            names[problem.id, template.id] = template.id if same else template_in_problem(template.id, problem.id)
    return names


def _head(problem_set: ProblemSet, names: TemplateNames, inputs: Mapping[str, str]) -> KeyHead:
    problems = problem_set.problems
    templates = {names[problem.id, one.id]: one for problem in problems for one in problem.templates}
    policies = {
        _column(problem, letter): problem_set.policy_of(problem, letter)
        for problem in problems
        for letter in _letters(problem)
    }
    return KeyHead(
        set_id=problem_set.id,
        title=problem_set.title,
        course=problem_set.course,
        language=problem_set.language,
        decimal_mark=problem_set.decimal_mark,
        policy=problem_set.policy,
        templates={name: template_key(template, name) for name, template in templates.items()},
        columns=columns_of(problem_set),
        inputs=inputs,
        problems={one.id: tuple(names[one.id, template.id] for template in one.templates) for one in problems},
        paper=problem_set.paper,
        method=problem_set.method,
        worked_solution=problem_set.worked_solution,
        own={problem.id: own_keys(problem) for problem in problems if problem.own},
        policies=policies,
        gradebook=problem_set.gradebook,
        attempts=problem_set.attempts,
    )


def _texts(problem_set: ProblemSet, names: TemplateNames) -> SetTexts:
    """What a set in another language says."""
    with speaking(problem_set.language):
        templates = {names[problem.id, one.id]: one for problem in problem_set.problems for one in problem.templates}
        return SetTexts(
            title=problem_set.title,
            course=problem_set.course,
            templates={name: _template_texts(one) for name, one in templates.items()},
            own={problem.id: _own_texts(problem) for problem in problem_set.problems if problem.own},
        )


def _template_texts(template: Template) -> TemplateTexts:
    return TemplateTexts(
        title=template.title,
        prompts=tuple(prompt_of(template, part) for part in template.parts),
        names={name: one.name for name, one in template.scene.species.items()},
        told=tuple((one.before, one.behind) for one in told_values(template)),
    )


def _own_texts(problem: SetProblem) -> tuple[OwnTexts, ...]:
    """What a problem's own values are called, in the set's order."""
    return tuple(OwnTexts(key.words, key.share_words, key.value.instrument) for key in own_keys(problem))


def template_key(template: Template, name: str) -> TemplateKey:
    """What is common to all variants of a template, under a name.

    It has no atomic weights: those that its problems use are constants of the plan.
    """
    parts = tuple(
        PartKey(
            id=part.id,
            label=label_of(i),
            asked=part.asked,
            points=part.points.value,
            prompt=prompt_of(template, part),
            session=part.session,
            usual_points=None if part.usual_points is None else part.usual_points.value,
        )
        for i, part in enumerate(template.parts)
    )
    scene = replace(template.scene, weights={})
    return TemplateKey(name, template.title, template.plan, parts, scene, told_values(template), template.may_hide)


def own_keys(problem: SetProblem) -> tuple[OwnKey, ...]:
    """The values of a problem that students measure, in the set's order, with words from its template."""
    if not problem.own:
        return ()
    (template,) = problem.templates
    return tuple(
        OwnKey(
            own_column(problem.id, value.name),
            own_words(template.scene, value),
            template.scene.words_of(value.share_of) if value.share_of else "",
            value,
        )
        for value in problem.own
    )


def problem_key(variant: Variant, template: str) -> ProblemKey:
    """The key of one variant; `template` is what answers.json calls its template."""
    answers = zip(variant.template.parts, variant.derived or variant.answers, strict=True)
    truths = {part.id: truth.in_file for part, truth in answers if known(variant, part.id)}
    return ProblemKey(variant.problem, template, variant.printed, truths)


def known(variant: Variant, part: str) -> bool:
    """Whether the answer to a part is known before the student's own data are."""
    mine = {value.quantity.id for value in variant.own}
    asked = next(one.asked for one in variant.template.parts if one.id == part)
    return not mine or rests_on(variant.template.plan, asked).isdisjoint(mine)
