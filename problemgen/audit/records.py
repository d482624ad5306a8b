"""What an audit found, as records."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, fields

__all__ = ["Audit", "Credit", "FixedTolerance", "Marked", "Sort", "TemplateAudit", "Widths", "total_of"]


@dataclass(frozen=True)
class FixedTolerance:
    """What a fixed tolerance (a share of the exact answer) does with numbers drawn blindly, in students.

    refused: honest ones with an answer refused. mistakes, rewarded: mistakes that are to be seen, and those that got
    all parts right. lucky: students whose numbers reward some mistake.
    """

    tolerance: float
    students: int = 0
    refused: int = 0
    mistakes: int = 0
    rewarded: int = 0
    lucky: int = 0


@dataclass(frozen=True)
class Widths:
    """Half-widths of the windows, relative to the answer: the median and the widest; 0 where there are none."""

    median: float = 0.0
    worst: float = 0.0


@dataclass(frozen=True)
class Sort:
    """What the marking makes of one sort of mistake, in papers on which it is to be seen.

    rewarded: with full points in all parts, where every variant has to show it; by_chance: the same of the others.
    rightly, wrongly, unnamed: how it was named. paid_again: points were lost
    in more parts than steps were worked wrongly, what follows from an earlier answer apart.
    """

    name: str
    made: int = 0
    rewarded: int = 0
    by_chance: int = 0
    rightly: int = 0
    wrongly: int = 0
    unnamed: int = 0
    paid_again: int = 0


@dataclass(frozen=True)
class Credit:
    """What the marking gives to single numbers, all parts before being right.

    compared: parts whose key was written with more and fewer figures, rounded and cut; upside_down: those in which a
    nearer number earned less than one farther off. guesses: random wrong numbers; guesses_named: those with the verdict
    `mistake`; guesses_paid: those that earned anything.
    """

    compared: int = 0
    upside_down: int = 0
    guesses: int = 0
    guesses_named: int = 0
    guesses_paid: int = 0

    def __add__(self, other: Credit) -> Credit:
        """Both together."""
        return Credit(*(getattr(self, one.name) + getattr(other, one.name) for one in fields(self)))


@dataclass(frozen=True)
class Marked:
    """What the marking itself makes of a sample.

    honest: honest students, refused: those with an answer that is not right, cut_refused: the same where they cut their
    answers behind the figures that the data support. sorts: mistaken papers by what was done. unnamed: of those whose
    mistake was not named, how many got which verdict.
    """

    honest: int = 0
    refused: int = 0
    cut_refused: int = 0
    sorts: tuple[Sort, ...] = ()
    unnamed: Mapping[str, int] = field(default_factory=dict)
    credit: Credit = field(default_factory=Credit)

    @property
    def mistakes(self) -> Sort:
        """All mistaken papers."""
        return total_of(self.sorts)


def total_of(sorts: Iterable[Sort], name: str = "all") -> Sort:
    """Some sorts together."""
    tally: Counter[str] = Counter()
    for sort in sorts:
        tally.update({one.name: getattr(sort, one.name) for one in fields(sort) if one.name != "name"})
    return Sort(name, **tally)


@dataclass(frozen=True)
class TemplateAudit:
    """What the audit of one template found.

    students: simulated, each at work on a variant of their own. refused: honest ones with an answer outside its window.
    mistakes: mistakes that are to be seen, by all students; rewarded: those with all answers inside that every variant
    has to show, by_chance: the others (two digits exchanged, two mistakes that nearly cancel). rechecked: answers so
    near to a bound that they were worked exactly. limits: how many students have each competing reagent as the
    limiting one. examples: a few of the refused and the rewarded, in words.
    """

    template: str
    students: int
    refused: int = 0
    mistakes: int = 0
    rewarded: int = 0
    by_chance: int = 0
    rechecked: int = 0
    limits: Mapping[str, int] = field(default_factory=dict)
    widths: Widths = field(default_factory=Widths)
    marked: Marked = field(default_factory=Marked)
    fixed: tuple[FixedTolerance, ...] = ()
    examples: tuple[str, ...] = ()

    @property
    def all_refused(self) -> int:
        """Honest students refused, by the windows or by the marking."""
        return self.refused + self.marked.refused + self.marked.cut_refused

    @property
    def all_rewarded(self) -> int:
        """Mistakes rewarded, by the windows or by the marking."""
        return self.rewarded + self.marked.mistakes.rewarded

    @property
    def holds(self) -> bool:
        """Whether nobody honest is refused, no mistake is rewarded, and no credit is upside down."""
        return not (self.all_refused or self.all_rewarded or self.marked.credit.upside_down)


@dataclass(frozen=True)
class Audit:
    """The audits of some templates."""

    templates: Sequence[TemplateAudit]

    @property
    def holds(self) -> bool:
        """Whether the promise holds for all of them."""
        return all(one.holds for one in self.templates)
