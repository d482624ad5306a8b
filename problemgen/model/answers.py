"""What answers.json holds, as records: all that marking needs, without the templates or the banks."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from problemgen.model.blocks import Chemical, Line, Prose, Strong
from problemgen.model.fixed import Datum
from problemgen.model.own_data import OwnKey, OwnReading, with_own_columns
from problemgen.model.plan import Plan
from problemgen.model.policy import Attempts, Policy
from problemgen.model.problem import Asked, Scene
from problemgen.model.problem_set import Method
from problemgen.model.told import Told

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
    """One part: what is asked, its letter, its points, its prompt, the session on whose sheet it stands."""

    id: str
    label: str
    asked: Asked
    points: Fraction
    prompt: Line
    session: int

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
    """What is common to all variants of a template; `told` are the given values in the words of the sheet."""

    id: str
    title: str
    plan: Plan
    parts: tuple[PartKey, ...]
    species: Mapping[str, SpeciesKey]
    scene: Scene
    told: tuple[Told, ...]


@dataclass(frozen=True)
class Truth:
    """One part's answer for one student: the exact value (rounded to 12 figures), its window, the text of the key.

    `also` are the reagents beside `choice` that the student's own data leave possible.
    """

    value: Fraction
    low: Fraction
    high: Fraction
    figures: int
    printed: str
    choice: str
    text: str = ""  # a formula or an equation
    also: tuple[str, ...] = ()


@dataclass(frozen=True)
class ProblemKey:
    """One problem of one student: which template, the numbers given, the truths by part.

    Where values are the student's own, `own` holds what was filled in once it has been read; what follows from them is
    in `given` and `truths` from then on, and `lacking` tells, by part, the values without which it cannot be marked.
    """

    problem: str
    template: str
    given: Mapping[str, Datum]
    truths: Mapping[str, Truth]
    own: tuple[OwnReading, ...] = ()
    lacking: Mapping[str, tuple[OwnReading, ...]] = field(default_factory=dict)

    def label(self, part: PartKey) -> str:
        """The column of a part: "1a"."""
        return f"{self.problem.removeprefix('p')}{part.label}"


@dataclass(frozen=True)
class StudentKey:
    """One student's keys for one attempt; attempts count from 1."""

    student: str
    name: str
    section: str
    code: str
    problems: tuple[ProblemKey, ...]
    attempt: int = 1


@dataclass(frozen=True)
class KeyHead:
    """What is common to all students of a set.

    `own` are the values that students measure, by problem; `policies` tell how each part is marked, by its column.
    """

    set_id: str
    title: str
    course: str
    language: str
    decimal_mark: str
    policy: Policy
    templates: Mapping[str, TemplateKey]
    columns: tuple[str, ...]  # the columns of the responses, one a part: "1a", "1b", …
    inputs: Mapping[str, str]  # what went in -> its digest
    paper: str = "a4"
    method: Method = "product"  # in which way the class is taught stoichiometry
    worked_solution: bool = True  # whether feedback shows the worked solution
    own: Mapping[str, tuple[OwnKey, ...]] = field(default_factory=dict)
    policies: Mapping[str, Policy] = field(default_factory=dict)
    attempts: Attempts = field(default_factory=Attempts)

    def policy_of(self, column: str) -> Policy:
        """How a part is marked, by its column ("1a"); the set's policy where it has none of its own."""
        return self.policies.get(column, self.policy)

    @property
    def response_columns(self) -> tuple[str, ...]:
        """All columns of the responses: of each problem the student's own data, then its parts."""
        return with_own_columns(self.columns, {name: [one.column for one in own] for name, own in self.own.items()})
