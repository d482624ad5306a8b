"""What answers.json holds, as records: all that marking needs, without the templates or the banks."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from problemgen.model.fixed import Datum
from problemgen.model.plan import Plan
from problemgen.model.problem import Asked
from problemgen.model.problem_set import Policy

__all__ = ["FORMAT", "VERSION", "KeyHead", "PartKey", "ProblemKey", "SpeciesKey", "StudentKey", "TemplateKey", "Truth"]

FORMAT = "problemgen answers"
VERSION = 1


@dataclass(frozen=True)
class SpeciesKey:
    """The names under which a species may be answered, and its formula ("" for none)."""

    id: str
    names: tuple[str, ...]
    formula: str


@dataclass(frozen=True)
class PartKey:
    """One part: what is asked, its letter, its points, its prompt in plain words."""

    id: str
    label: str
    asked: Asked
    points: Fraction
    words: str
    session: int


@dataclass(frozen=True)
class TemplateKey:
    """What is common to all variants of a template."""

    id: str
    title: str
    plan: Plan
    parts: tuple[PartKey, ...]
    species: Mapping[str, SpeciesKey]


@dataclass(frozen=True)
class Truth:
    """One part's answer for one student: the exact value (rounded to 12 figures), its window, the text of the key."""

    value: Fraction
    low: Fraction
    high: Fraction
    figures: int
    printed: str
    choice: str
    text: str = ""  # a formula or an equation


@dataclass(frozen=True)
class ProblemKey:
    """One problem of one student: which template, the numbers given, the truths by part."""

    problem: str
    template: str
    given: Mapping[str, Datum]
    truths: Mapping[str, Truth]


@dataclass(frozen=True)
class StudentKey:
    """One student's keys."""

    student: str
    name: str
    section: str
    code: str
    problems: tuple[ProblemKey, ...]


@dataclass(frozen=True)
class KeyHead:
    """What is common to all students of a set."""

    set_id: str
    title: str
    course: str
    language: str
    decimal_mark: str
    policy: Policy
    templates: Mapping[str, TemplateKey]
    columns: tuple[str, ...]  # the columns of the responses, one a part: "1a", "1b", …
    inputs: Mapping[str, str]  # what went in -> its digest
