"""A problem set: its problems, sheets, policy, and the students it is made for."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from problemgen.model.template import Template

__all__ = ["Policy", "ProblemSet", "SetProblem", "Sheet", "Student"]


@dataclass(frozen=True)
class Policy:
    """How responses are marked.

    figures: "ignore", "remark" or "deduct" (see `figures_share`) where too few or too many figures are written.
    missing_unit: "accept", "remark" or "deduct" where no unit is written.
    follow_through, unit_slip, named_mistake: the share of a part's points for an answer that follows from an
    earlier wrong one, for a slip of unit, sign or power of ten, and for a named mistake. deduction: the share lost
    where a policy says "deduct".
    """

    figures: str
    missing_unit: str
    follow_through: Fraction
    unit_slip: Fraction
    named_mistake: Fraction
    deduction: Fraction


@dataclass(frozen=True)
class Sheet:
    """One printed sheet: the session whose parts it holds, and its title."""

    session: int
    title: str


@dataclass(frozen=True)
class SetProblem:
    """One problem of a set: a template, or several from which each student gets one."""

    id: str
    templates: tuple[Template, ...]


@dataclass(frozen=True)
class ProblemSet:
    """A set. `demonstration_secret` is a published secret; None for a set whose secret is made at the build."""

    id: str
    title: str
    course: str
    language: str
    paper: str
    decimal_mark: str
    sheets: tuple[Sheet, ...]
    problems: tuple[SetProblem, ...]
    policy: Policy
    demonstration_secret: str | None


@dataclass(frozen=True)
class Student:
    """One row of the roster."""

    id: str
    name: str
    section: str
