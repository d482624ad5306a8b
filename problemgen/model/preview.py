"""What there is to see of a template before it is used: its pages, its key, what its numbers can show."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from problemgen.errors import Fault
from problemgen.model.blocks import Block, Line
from problemgen.model.template import Template

__all__ = ["AmountRange", "LimitsShown", "MistakeShown", "Preview", "Question"]


@dataclass(frozen=True)
class AmountRange:
    """Between which amounts a reagent is taken, in mmol, and how many equivalents of the first one that is, in the
    middle; all as they are shown.
    """

    substance: str
    low: str
    high: str
    equivalents: str


@dataclass(frozen=True)
class LimitsShown:
    """How often a reagent limits: in which share of the numbers that are kept, and of a class (None: the same)."""

    name: str
    of_draws: float
    of_class: float | None


@dataclass(frozen=True)
class MistakeShown:
    """A usual mistake: what it is called, of which substance ("" for none), what a student is told, and in which share
    of draws it shows.

    `owed`: every variant shows it. `waived`: the template lets it hide.
    """

    id: str
    title: str
    of: str
    hint: str
    share: float
    owed: bool
    waived: bool

    @property
    def always(self) -> bool:
        """Whether all numbers show it by themselves."""
        return self.owed and self.share == 1


@dataclass(frozen=True)
class Question:
    """Something that can be asked: the keys and values of a part, the question in words, the session of its sheet.

    `usual`: it is among those that are asked of most problems.
    """

    part: Mapping[str, str]
    words: Line
    session: int
    usual: bool


@dataclass(frozen=True)
class Preview:
    """A template with one student's numbers.

    `pages` are the sheet's, as SVG, `told` says the same in blocks; `answers` and `working` are the key. All four are
    empty where no numbers may be handed out: `faults` tell why. `kept` is the share of draws that may be, None where
    nothing is drawn.
    """

    template: Template
    faults: tuple[Fault, ...]
    remarks: tuple[Fault, ...]
    kept: float | None = None
    pages: tuple[bytes, ...] = ()
    told: tuple[Block, ...] = ()
    answers: tuple[Block, ...] = ()
    working: tuple[Block, ...] = ()
    mistakes: tuple[MistakeShown, ...] = ()
    limits: tuple[LimitsShown, ...] = ()
    amounts: tuple[AmountRange, ...] = ()
    questions: tuple[Question, ...] = ()
