"""What an audit found, as records."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

__all__ = ["Audit", "FixedTolerance", "Naming", "TemplateAudit", "Widths"]


@dataclass(frozen=True)
class FixedTolerance:
    """What a fixed tolerance (a share of the exact answer) does with numbers drawn blindly, in students.

    refused: honest ones with an answer refused. mistakes, rewarded: usual mistakes made alone, and those that got all
    parts right; pairs, pairs_rewarded: the same for two together. lucky: students whose numbers reward some mistake
    made alone.
    """

    tolerance: float
    students: int = 0
    refused: int = 0
    mistakes: int = 0
    rewarded: int = 0
    pairs: int = 0
    pairs_rewarded: int = 0
    lucky: int = 0


@dataclass(frozen=True)
class Widths:
    """Half-widths of the windows, relative to the answer: the median and the widest; 0 where there are none."""

    median: float = 0.0
    worst: float = 0.0


@dataclass(frozen=True)
class Naming:
    """What the marking itself says of a sample: students with one usual mistake, and those whose mistake it named.

    pairs, pairs_named: the same for two mistakes together, both named. honest: honest students in the sample.
    compared: the parts whose verdicts were compared with those of the audit; disagreements: those that differed.
    """

    mistakes: int = 0
    named: int = 0
    pairs: int = 0
    pairs_named: int = 0
    honest: int = 0
    compared: int = 0
    disagreements: int = 0


@dataclass(frozen=True)
class TemplateAudit:
    """What the audit of one template found.

    students: simulated, each at work on a variant of their own. refused: honest ones with an answer refused.
    mistakes: usual mistakes made alone, by all students; rewarded: those with all parts accepted. pairs and
    pairs_rewarded: the same for two together. no_odds: mistakes and pairs that leave the step as it should be (a
    density of 1.00 g/mL forgotten), which are left out. undone: the pairs of which one always undoes the other, so that
    every number is right; they are left out too. rechecked: answers so near to a bound that they were worked exactly.
    examples: a few of the refused and the rewarded, in words.
    """

    template: str
    students: int
    refused: int = 0
    mistakes: int = 0
    rewarded: int = 0
    pairs: int = 0
    pairs_rewarded: int = 0
    no_odds: int = 0
    undone: tuple[str, ...] = ()
    rechecked: int = 0
    widths: Widths = field(default_factory=Widths)
    naming: Naming = field(default_factory=Naming)
    fixed: tuple[FixedTolerance, ...] = ()
    examples: tuple[str, ...] = ()

    @property
    def holds(self) -> bool:
        """Whether nobody honest is refused, no mistake is rewarded, and the marking agrees."""
        return not (self.refused or self.rewarded or self.pairs_rewarded or self.naming.disagreements)


@dataclass(frozen=True)
class Audit:
    """The audits of some templates."""

    templates: Sequence[TemplateAudit]

    @property
    def holds(self) -> bool:
        """Whether the promise holds for all of them."""
        return all(one.holds for one in self.templates)
