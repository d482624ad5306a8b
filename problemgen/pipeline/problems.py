"""A problem as a notebook shows it: its numbers as they are written, its parts with their right answers."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from problemgen.model.answers import ProblemKey, TemplateKey, template_id
from problemgen.model.fixed import Datum
from problemgen.model.problem import Asked, Scene
from problemgen.model.template import label_of
from problemgen.model.truths import Truth, number_in
from problemgen.model.variant import Variant
from problemgen.plan.forms import form_of

__all__ = ["Given", "Part", "Problem", "key_problem", "variant_problem"]


@dataclass(frozen=True)
class Given:
    """A given value: its digits as they are written, and its unit ("1" for none)."""

    value: str
    unit: str

    def __str__(self) -> str:
        """The value with its unit: "2.00 g"."""
        return self.value if self.unit == "1" else f"{self.value} {self.unit}"


@dataclass(frozen=True)
class Part:
    """A part of a problem, with its right answer.

    `answer` is as the key prints it, a species by its name; a number is accepted from `low` to `high`, all in `unit`
    ("1" for a plain number). It is None where it rests on data that the student measures. Where the answer is no
    number, there are no bounds, and the unit is "".
    """

    label: str
    form: str
    unit: str
    answer: str | None
    low: Decimal | None
    high: Decimal | None


@dataclass(frozen=True)
class Problem:
    """A problem with the numbers of one student: `given` by the quantity's id, `label` its number on the sheet."""

    label: str
    template: str
    title: str
    given: Mapping[str, Given]
    parts: tuple[Part, ...]


def key_problem(template: TemplateKey, problem: ProblemKey) -> Problem:
    """A problem of a built set; `template` is the one that it was drawn from."""
    parts = (_part(one.label, one.asked, problem.truths.get(one.id), template.scene) for one in template.parts)
    name = template_id(template.id)
    return Problem(problem.problem.removeprefix("p"), name, template.title, _given(problem.given.items()), tuple(parts))


def variant_problem(label: str, variant: Variant) -> Problem:
    """A problem that was drawn and not built."""
    template = variant.template
    answered = zip(template.parts, variant.answers, strict=True)
    parts = (
        _part(label_of(place), part.asked, answer.in_file, template.scene)
        for place, (part, answer) in enumerate(answered)
    )
    return Problem(label, template.id, template.title, _given(variant.given.items()), tuple(parts))


def _given(data: Iterable[tuple[str, Datum]]) -> dict[str, Given]:
    return {name: Given(datum.written.text, datum.unit) for name, datum in data}


def _part(label: str, asked: Asked, truth: Truth | None, scene: Scene) -> Part:
    form = form_of(asked)
    unit = asked.unit if form.has_window else ""
    if truth is None:
        return Part(label, form.name, unit, None, None, None)
    if form.has_window:
        number = number_in(truth)
        return Part(label, form.name, unit, number.printed, _decimal(number.low), _decimal(number.high))
    return Part(label, form.name, unit, form.text(scene, asked, truth), None, None)


def _decimal(bound: Fraction) -> Decimal:
    """A bound of a key as a decimal: it has few figures, and ends."""
    return Decimal(bound.numerator) / Decimal(bound.denominator)
