"""answers.json, line by line: a head, a line a student, a foot with the digest of all before it.

The whole file is one JSON document; `problemgen/model/answers.schema.json` is its schema.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping, Sequence
from dataclasses import asdict
from fractions import Fraction
from typing import Any

from problemgen.exact.rounding import figures_text, outward_text
from problemgen.model.answers import FORMAT, VERSION
from problemgen.model.blocks import Chemical, Line, Prose, Strong
from problemgen.model.plan import Plan
from problemgen.model.problem_set import ProblemSet, Student
from problemgen.model.quantity import Quantity
from problemgen.model.template import Template
from problemgen.model.variant import Answer, Variant
from problemgen.render.prompts import label_of, prompt_of

__all__ = ["AnswerLines", "columns_of", "printed_answer"]

_FIGURES = 12
"""Figures of values and bounds: bounds are rounded outwards."""


class AnswerLines:
    """Gives the lines of one answers.json in turn, and the digest of them at the end."""

    def __init__(self) -> None:
        """Start a file."""
        self._digest = hashlib.sha256()
        self._separator = ""

    def opening(self, problem_set: ProblemSet, inputs: Mapping[str, str]) -> bytes:
        """The first line: what is common to all students."""
        return self._counted(_json(_head(problem_set, inputs))[:-1] + ',"students":[\n')

    def student(self, student: Student, code: str, variants: Sequence[Variant]) -> bytes:
        """One student's line."""
        text = self._separator + _json(_student(student, code, variants))
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


def _head(problem_set: ProblemSet, inputs: Mapping[str, str]) -> dict[str, Any]:
    templates = {t.id: t for problem in problem_set.problems for t in problem.templates}
    policy = {key: _plain(value) for key, value in asdict(problem_set.policy).items()}
    return {
        "format": FORMAT,
        "version": VERSION,
        "set": {
            "id": problem_set.id,
            "title": problem_set.title,
            "course": problem_set.course,
            "language": problem_set.language,
            "decimal_mark": problem_set.decimal_mark,
            "policy": policy,
        },
        "inputs": dict(inputs),
        "columns": columns_of(problem_set),
        "templates": {name: _template(template) for name, template in templates.items()},
    }


def _plain(value: Any) -> str:
    return str(value)


def _template(template: Template) -> dict[str, Any]:
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
                "words": _words(prompt_of(template, part)),
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
    }


def _words(line: Line) -> str:
    texts = [p.formula if isinstance(p, Chemical) else p.text for p in line if isinstance(p, Prose | Strong | Chemical)]
    return "".join(texts)


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
    return [quantity.kind, quantity.of, quantity.role]


def _student(student: Student, code: str, variants: Sequence[Variant]) -> dict[str, Any]:
    return {
        "student": student.id,
        "name": student.name,
        "section": student.section,
        "code": code,
        "problems": [
            {
                "problem": variant.problem,
                "template": variant.template.id,
                "given": {name: [datum.written.text, datum.unit] for name, datum in variant.given.items()},
                "answers": {answer.part: _answer(answer) for answer in variant.answers},
            }
            for variant in variants
        ],
    }


def _answer(answer: Answer) -> dict[str, Any]:
    if answer.choice:
        return {"choice": answer.choice}
    if answer.text:
        return {"text": answer.text, "value": _rounded(answer.value)}
    return {
        "value": _rounded(answer.value),
        "low": outward_text(answer.low, _FIGURES, up=False),
        "high": outward_text(answer.high, _FIGURES, up=True),
        "figures": answer.figures,
        "printed": printed_answer(answer),
    }


def printed_answer(answer: Answer) -> str:
    """An answer as the key prints it: a number with the figures that the data support, or a formula."""
    return answer.text or figures_text(answer.value, answer.figures)


def _rounded(value: Fraction) -> str:
    return figures_text(value, _FIGURES)
