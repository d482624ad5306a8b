"""A problem set: its problems, sheets, policy, and the students it is made for."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal, TypeAlias

from problemgen.model.own_data import OwnValue
from problemgen.model.policy import Attempts, Gradebook, Policy
from problemgen.model.template import Template

__all__ = [
    "AnswerPlace",
    "HandIn",
    "Head",
    "Issued",
    "Layout",
    "Method",
    "Paper",
    "Printing",
    "ProblemSet",
    "SetProblem",
    "Sheet",
    "Student",
]


Method: TypeAlias = Literal["product", "extent", "ratios"]
"""The way a class is taught through stoichiometry: by what each reagent gives of the product, by extents of reaction,
or by amount ratios (what is needed of the other reagents, against what is there)."""


Paper: TypeAlias = Literal["a4", "us-letter"]
"""The paper of the sheets."""


Layout: TypeAlias = Literal["roomy", "compact"]
"""Sheets with lines for the working, or in two columns with room for the answers alone."""


HandIn: TypeAlias = Literal["fill-in", "workbook", "slip"]
"""Ways of handing answers in beside the printed sheet: a sheet with fields, a workbook, a page with all blanks."""


Head: TypeAlias = Literal["name", "code"]
"""Who a page says it is for: by name, id and section, or by the sheet code and the section alone."""


AnswerPlace: TypeAlias = Literal["beside", "box"]
"""Where answers are written: beside each part, or all of a sheet in one box."""


@dataclass(frozen=True)
class Printing:
    """How the sheets and the key of a set are printed; `worked_key`: with the worked solution of every variant."""

    layout: Layout = "roomy"
    head: Head = "name"
    answers: AnswerPlace = "beside"
    worked_key: bool = False


@dataclass(frozen=True)
class Sheet:
    """One printed sheet: the session whose parts it holds, and its title."""

    session: int
    title: str


@dataclass(frozen=True)
class SetProblem:
    """One problem of a set: a template, or several from which each student gets one.

    `id` is p and the number that is printed; `name` tells it from the others of the set wherever it stands, and decides
    the draws.
    `own` are the given values that the student measures; only a problem with a single template has any.
    `policies` tell how each part is marked, by its letter. `students` are the ids of those who get it; none named: all.
    """

    id: str
    name: str
    templates: tuple[Template, ...]
    own: tuple[OwnValue, ...] = ()
    policies: Mapping[str, Policy] = field(default_factory=dict)
    students: frozenset[str] = frozenset()

    def is_for(self, student: str) -> bool:
        """Whether a student, by id, gets it."""
        return not self.students or student in self.students

    @property
    def same_for_all(self) -> bool:
        """Whether nothing is drawn for a student: all that differs is the student's own."""
        mine = {quantity for value in self.own for quantity in value.quantities}
        drawn = {one.quantity for template in self.templates for one in template.draws}
        obtained = {one.quantity for template in self.templates for one in template.obtained}
        read_off = {one.quantity for template in self.templates for one in template.readings}
        return bool(mine) and drawn | obtained | read_off <= mine


@dataclass(frozen=True)
class Issued:
    """What a build has to know of the one before it, so that printed numbers stay."""

    secret: str = ""
    """The fingerprint of the secret that the numbers were drawn from."""

    term: str = ""
    """The term of the course; "" where it tells none."""

    numbers: Mapping[str, int] = field(default_factory=dict)
    """The number of each problem by its name, those that have been dropped among them."""

    redrawn: Mapping[str, int] = field(default_factory=dict)
    """How often a problem was drawn anew on purpose, by its name."""


@dataclass(frozen=True)
class ProblemSet:
    """A set. `term` is that of its course; `demonstration_secret` is a published secret, None for a set whose secret is
    made at the build.

    `policy` is that of parts which have none of their own. `method` is the way in which worked solutions tell
    stoichiometry; `worked_solution` whether feedback has them.
    """

    id: str
    title: str
    course: str
    term: str
    language: str
    paper: Paper
    decimal_mark: Literal[".", ","]
    sheets: tuple[Sheet, ...]
    problems: tuple[SetProblem, ...]
    policy: Policy
    demonstration_secret: str | None
    method: Method = "product"
    worked_solution: bool = True
    attempts: Attempts = field(default_factory=Attempts)
    printing: Printing = Printing()
    gradebook: Gradebook = field(default_factory=Gradebook)

    def policy_of(self, problem: SetProblem, letter: str) -> Policy:
        """How a part of a problem is marked, by the part's letter."""
        return problem.policies.get(letter, self.policy)

    @property
    def same_for_all(self) -> bool:
        """Whether every student gets the same sheet: all numbers that differ are the students' own."""
        return all(problem.same_for_all and not problem.students for problem in self.problems)

    def has_problem_for(self, student: str) -> bool:
        """Whether a student, by id, gets any problem."""
        return any(problem.is_for(student) for problem in self.problems)


@dataclass(frozen=True)
class Student:
    """One row of the roster. `more` are its cells in further columns, with the columns' names; `language` is that of
    the sheets, "" for the set's.
    """

    id: str
    name: str
    section: str
    anonymous: bool = False  # the name is only that of a variant
    more: tuple[tuple[str, str], ...] = ()
    language: str = ""
