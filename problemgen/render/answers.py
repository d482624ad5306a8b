"""answers.json, line by line: a head, a line a student, a foot with the digest of all before it.

The whole file is one JSON document; `problemgen/model/answers.schema.json` is its schema.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import Any

from problemgen.exact.rounding import figures_text, outward_text
from problemgen.model.answers import FORMAT, VERSION
from problemgen.model.own_data import own_column, with_own_columns
from problemgen.model.plan import Plan
from problemgen.model.problem_set import ProblemSet, Student
from problemgen.model.quantity import Quantity
from problemgen.model.template import Template
from problemgen.model.variant import Answer, Variant
from problemgen.plan.answering import KEY_FIGURES
from problemgen.plan.partial import rests_on
from problemgen.render.answer_policy import attempts_data, part_policies, policy_data, template_keys
from problemgen.render.answer_scene import line_data, scene_data, told_data
from problemgen.render.given_words import told_values
from problemgen.render.own_values import own_data, own_keys
from problemgen.render.prompts import label_of, prompt_of

__all__ = [
    "AnswerLines",
    "answer_record",
    "columns_of",
    "known",
    "printed_answer",
    "response_columns",
    "template_record",
]


class AnswerLines:
    """Gives the lines of one answers.json in turn, and the digest of them at the end."""

    def __init__(self) -> None:
        """Start a file."""
        self._digest = hashlib.sha256()
        self._separator = ""
        self._templates: Mapping[tuple[str, str], str] = {}

    def opening(self, problem_set: ProblemSet, inputs: Mapping[str, str]) -> bytes:
        """The first line: what is common to all students."""
        self._templates = template_keys(problem_set)
        return self._counted(_json(_head(problem_set, inputs))[:-1] + ',"students":[\n')

    def student(self, student: Student, code: str, variants: Sequence[Variant], attempt: int = 1) -> bytes:
        """The line of one student's attempt."""
        problems = [_problem(variant, self._templates[variant.problem, variant.template.id]) for variant in variants]
        text = self._separator + _json(_student(student, code, problems, attempt))
        self._separator = ",\n"
        return self._counted(text)

    def closing(self) -> bytes:
        """The last line, with the digest of all before it."""
        return f'\n],"digest":"sha256:{self._digest.hexdigest()}"}}\n'.encode()

    def _counted(self, text: str) -> bytes:
        line = text.encode()
        self._digest.update(line)
        return line


def _json(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False, separators=(",", ":"), sort_keys=False)


def columns_of(problem_set: ProblemSet) -> tuple[str, ...]:
    """The columns of the responses: problem number and part letter, as many as any variant has."""
    return tuple(
        f"{problem.id.removeprefix('p')}{label_of(index)}"
        for problem in problem_set.problems
        for index in range(max(len(template.parts) for template in problem.templates))
    )


def response_columns(problem_set: ProblemSet) -> tuple[str, ...]:
    """The columns of the responses with those of the students' own data."""
    own = {one.id: [own_column(one.id, value.name) for value in one.own] for one in problem_set.problems}
    return with_own_columns(columns_of(problem_set), own)


def _head(problem_set: ProblemSet, inputs: Mapping[str, str]) -> dict[str, Any]:
    keys = template_keys(problem_set)
    templates = {keys[problem.id, t.id]: t for problem in problem_set.problems for t in problem.templates}
    return {
        "format": FORMAT,
        "version": VERSION,
        "set": {
            "id": problem_set.id,
            "title": problem_set.title,
            "course": problem_set.course,
            "language": problem_set.language,
            "paper": problem_set.paper,
            "decimal_mark": problem_set.decimal_mark,
            "method": problem_set.method,
            "worked_solution": problem_set.worked_solution,
            "policy": policy_data(problem_set.policy),
            "attempts": attempts_data(problem_set.attempts),
        },
        "inputs": dict(inputs),
        "columns": columns_of(problem_set),
        "policies": part_policies(problem_set),
        "own": {problem.id: own_data(own_keys(problem)) for problem in problem_set.problems if problem.own},
        "templates": {name: template_record(template) for name, template in templates.items()},
    }


def template_record(template: Template) -> dict[str, Any]:
    """What is common to all variants of a template, for JSON."""
    return {
        "title": template.title,
        "plan": _plan(template.plan),
        "parts": [
            {
                "id": part.id,
                "label": label_of(index),
                "quantity": _quantity(part.asked.quantity),
                "unit": part.asked.unit,
                "form": part.asked.form,
                "points": part.points.text,
                "prompt": line_data(prompt_of(template, part)),
                "session": part.session,
            }
            for index, part in enumerate(template.parts)
        ],
        "species": {
            name: {
                "names": [s.name, *(template.substances[name].synonyms if name in template.substances else ())],
                "formula": s.formula.text if s.formula else "",
            }
            for name, s in template.scene.species.items()
        },
        "scene": scene_data(template.scene),
        "told": told_data(told_values(template)),
    }


def _plan(plan: Plan) -> dict[str, Any]:
    return {
        "given": [_quantity(quantity) for quantity in plan.given],
        "constants": [
            {"quantity": _quantity(c.quantity), "value": str(c.value), "low": str(c.low), "high": str(c.high)}
            for c in plan.constants
        ],
        "steps": [
            {
                "quantity": _quantity(step.quantity),
                "law": step.law,
                "solved_for": step.solved_for,
                "expression": step.expression,
                "rounding": step.rounding,
            }
            for step in plan.steps
        ],
        "sources": plan.sources,
        "mistakes": [
            {"id": mistake.id, "title": mistake.title, "hint": mistake.hint, "rewrites": mistake.rewrites}
            for mistake in plan.mistakes
        ],
    }


def _quantity(quantity: Quantity) -> list[str]:
    return [quantity.kind, quantity.of, quantity.written_role]


def _student(student: Student, code: str, problems: Sequence[Any], attempt: int) -> dict[str, Any]:
    return {
        "student": student.id,
        "attempt": attempt,
        "name": student.name,
        "section": student.section,
        "code": code,
        "problems": problems,
    }


def _problem(variant: Variant, template: str) -> dict[str, Any]:
    return {
        "problem": variant.problem,
        "template": template,
        "given": {name: [datum.written.text, datum.unit] for name, datum in variant.printed.items()},
        "answers": {answer.part: answer_record(answer) for answer in variant.answers if known(variant, answer.part)},
    }


def known(variant: Variant, part: str) -> bool:
    """Whether the answer to a part is known before the student's own data are."""
    mine = {value.quantity.id for value in variant.own}
    asked = next(one.asked for one in variant.template.parts if one.id == part)
    return not mine or rests_on(variant.template.plan, asked).isdisjoint(mine)


def answer_record(answer: Answer) -> dict[str, Any]:
    """The answer to one part with its window, for JSON."""
    if answer.choice:
        return {"choice": answer.choice}
    if answer.text:
        return {"text": answer.text, "value": _rounded(answer.value)}
    return {
        "value": _rounded(answer.value),
        "low": outward_text(answer.low, KEY_FIGURES, up=False),
        "high": outward_text(answer.high, KEY_FIGURES, up=True),
        "figures": answer.figures,
        "printed": printed_answer(answer),
    }


def printed_answer(answer: Answer) -> str:
    """An answer as the key prints it: a number with the figures that the data support, or a formula."""
    return answer.text or figures_text(answer.value, answer.figures)


def _rounded(value: Fraction) -> str:
    return figures_text(value, KEY_FIGURES)
