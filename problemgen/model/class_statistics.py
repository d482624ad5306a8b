"""What the report on a class tells, as records. A figure that is not defined, or that rests on too few, is None."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from problemgen.model.coincidence import Person

__all__ = [
    "LEAST_FOR_GROUPS",
    "LEAST_FOR_SPREAD",
    "ClassStatistics",
    "Drawn",
    "GroupMean",
    "Groups",
    "MistakeCount",
    "PartStatistics",
    "Reliability",
    "Scores",
    "SizeTrend",
    "Unread",
]

LEAST_FOR_SPREAD = 10
"""Students from whom on correlations, alpha and upper and lower groups are given: common practice, no source."""
LEAST_FOR_GROUPS = 5
"""Students in a group from whom on it is compared: the chi-squared approximation of Kruskal and Wallis (1952)."""


@dataclass(frozen=True)
class Scores:
    """The students' shares of their points, 0 to 1, in no order that tells who; and what sums them up.

    `deviation` has the denominator n − 1; None for one student.
    """

    shares: tuple[float, ...]
    mean: float
    deviation: float | None
    quartiles: tuple[float, float, float]
    least: float
    greatest: float


@dataclass(frozen=True)
class Drawn:
    """One of the templates that a problem was chosen from: "2.1", its title, how many students have it."""

    label: str
    title: str
    students: int


@dataclass(frozen=True)
class PartStatistics:
    """One part: `label` is "1a", or "2.1a" where students have different templates.

    full, some, none, blank: how many earned every point, some, none though they answered, and did not answer.
    difficulty: the mean share of its points. discrimination: the correlation of its share with that of all other
    parts. upper_lower: the mean share in the upper group less that in the lower one.
    """

    label: str
    words: str
    points: Fraction
    students: int
    full: int
    some: int
    none: int
    blank: int
    difficulty: float
    discrimination: float | None
    upper_lower: float | None

    @property
    def answered(self) -> bool:
        """Whether anybody answered it."""
        return self.blank < self.students


@dataclass(frozen=True)
class Reliability:
    """Cronbach's alpha over some items, with its 95 % interval; `without` is alpha if an item is left out.

    `constant` are the items on which all students scored the same: they are left out.
    """

    items: tuple[str, ...]
    constant: tuple[str, ...]
    alpha: float | None
    interval: tuple[float, float] | None
    without: tuple[float | None, ...]


@dataclass(frozen=True)
class MistakeCount:
    """A mistake: its title, how many answers show it, the students concerned, each with the parts."""

    title: str
    times: int
    people: tuple[tuple[Person, tuple[str, ...]], ...]


@dataclass(frozen=True)
class GroupMean:
    """A group of students with variants of one kind, and their mean share of the points."""

    name: str
    students: int
    mean: float


@dataclass(frozen=True)
class Groups:
    """One comparison between kinds of variants. `label` is the part or problem, `by` what the kinds differ in.

    statistic, probability, effect: of the test by ranks; all None where no share differs. adjusted: the probability
    adjusted for the number of comparisons.
    """

    label: str
    by: str
    groups: tuple[GroupMean, ...]
    statistic: float | None
    probability: float | None
    effect: float | None
    adjusted: float | None


@dataclass(frozen=True)
class SizeTrend:
    """Whether a part is earned more often by those with larger numbers: a correlation of ranks."""

    label: str
    students: int
    coefficient: float
    probability: float
    adjusted: float


@dataclass(frozen=True)
class Unread:
    """An answer that could not be read: whose, which part, what was written, why."""

    person: Person
    label: str
    wrote: str
    reason: str


@dataclass(frozen=True)
class ClassStatistics:
    """Everything that the report tells. `scores` is None where nobody handed anything in."""

    students: int
    absent: tuple[Person, ...]
    scores: Scores | None
    drawn: tuple[Drawn, ...]
    parts: tuple[PartStatistics, ...]
    by_part: Reliability
    by_problem: Reliability
    mistakes: tuple[MistakeCount, ...]
    groups: tuple[Groups, ...]
    trends: tuple[SizeTrend, ...]
    unread: tuple[Unread, ...]
