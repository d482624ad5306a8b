"""What a form of part brings: how it is asked and answered, how mistakes show in it, its blank, and its words in print.

A form is one class and one file, and `Form` lists what it brings. What `Form` says itself suits a form that rests on no
plan; `TextForm` adds what suits one whose right answer is a text. The others say what they do otherwise. Judging is the
one thing that stands elsewhere: `JUDGES` in `grade/judging/judge.py` names each form's judge, with its reader. A form
that lists its answers, and from whose answers nothing follows, needs none of its own.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any, ClassVar, Generic, Protocol, TypeAlias, TypeVar

from problemgen.language.messages import N_
from problemgen.model.blocks import Block, Line, Prose, Strong
from problemgen.model.plan import Plan
from problemgen.model.policy import Tolerance
from problemgen.model.problem import Asked, Scene
from problemgen.model.truths import TextTruth, Truth
from problemgen.plan.arithmetic import Base, Window

__all__ = [
    "NO_BOUND",
    "Blank",
    "Cells",
    "Clear",
    "Ending",
    "Form",
    "Hints",
    "Option",
    "Spread",
    "SpreadRow",
    "Tally",
    "TextForm",
    "ValueWindows",
    "Values",
]

NO_BOUND = "–"
"""Stands in the place of a bound where an answer has none."""

T = TypeVar("T", bound=Truth)
"""What the right answer is: a number with its window, a species, or a text."""

Values: TypeAlias = Mapping[str, Any]
"""Values by quantity id, in engine units: an exact number each, or a column of floats, one a student."""

ValueWindows: TypeAlias = Mapping[str, Window]
"""The same with the window of each, over exact numbers or columns."""

Clear: TypeAlias = Callable[[Window, Window], Any]
"""Whether one window lies outside another, clear by a margin."""


@dataclass(frozen=True)
class Option:
    """One of the answers that may be ticked: what stands for it in a key, and its words."""

    id: str
    words: Line


@dataclass(frozen=True)
class Blank:
    """Where an answer is written on a sheet: the unit behind the blank, or boxes to tick; lines for the working."""

    work_lines: int
    unit: str = ""
    choices: tuple[Line, ...] = ()
    wide: bool = False  # as long as the line


@dataclass(frozen=True)
class Cells:
    """An answer in the key's table: itself, from where to where it is accepted, its unit."""

    answer: Line
    low: str = NO_BOUND
    high: str = NO_BOUND
    unit: str = ""


@dataclass(frozen=True)
class Ending:
    """How the working of a part ends: with the number and unit of its last line, or with blocks of its own.

    With neither, it ends where the reagents have been compared.
    """

    number: tuple[str, str] | None = None
    blocks: tuple[Block, ...] = ()


@dataclass(frozen=True)
class Hints:
    """Hints in words of the form's own, instead of those out of the working; "" for none.

    `without_working` stands where there is no line of working to tell of.
    """

    relation: str = ""
    numbers: str = ""
    setup: str = ""
    without_working: str = N_("Take the value from the data, or from an earlier part, in the unit asked for.")


@dataclass(frozen=True)
class SpreadRow:
    """The right answers of a class in one row: in words, or as least, median, greatest, unit and half-widths."""

    words: str
    cells: tuple[str, ...] = ("",) * 6


class Spread(Protocol):
    """Takes the right answers to one part in, student by student, and tells how they are spread."""

    def add(self, truth: Any) -> None:
        """Take in what is right for one student."""

    def row(self) -> SpreadRow:
        """The row of the summary."""


@dataclass
class Tally:
    """How often each of a few answers is right; `kind` tells which one is, `names` its words where it is an id."""

    kind: Callable[[Any], str]
    names: Mapping[str, str] = field(default_factory=dict)
    counts: Counter[str] = field(default_factory=Counter)

    def add(self, truth: Any) -> None:
        """Count what is right for one student."""
        self.counts[self.kind(truth)] += 1

    def row(self) -> SpreadRow:
        """How often each is right: "silver nitrate 12, potassium chromate 9"."""
        return SpreadRow(", ".join(f"{self.names.get(one, one)} {count}" for one, count in sorted(self.counts.items())))


class Form(ABC, Generic[T]):
    """A form of part, with what holds where its answer rests on no plan."""

    name: ClassVar[str]
    """What it is called in answers.json and on the practice page."""

    asks: ClassVar[Mapping[str, Asked]] = {}
    """What a template asks for in this form, by the word that it writes as `quantity`."""

    to_write: ClassVar[str] = ""
    to_tick: ClassVar[str] = ""
    """What a sheet says of how to answer: what is to be written, or ticked (messages)."""

    how_to_round: ClassVar[str] = ""
    """What it says of rounding, at the end."""

    rests_on_plan: ClassVar[bool] = False
    """Whether laws lead to what is asked."""

    is_same_for_all: ClassVar[bool] = False
    """Whether students may all have the same problem: nothing in it need be drawn."""

    hides_coefficients: ClassVar[bool] = False
    """Whether the coefficients of the equation are what is asked, so that no scheme may show them."""

    has_window: ClassVar[bool] = False
    """Whether the answer is a number in a window, which an instructor may widen or replace."""

    hints: ClassVar[Hints] = Hints()

    # what is asked

    def called(self, asked: Asked) -> str:
        """What an asked thing is called in a fault of the template."""
        return asked.quantity.id

    def asked(self, word: str, _of: str | None) -> Asked:
        """What is asked by a word of `asks`, and by what the template writes as `of`."""
        return self.asks[word]

    def lacking(self, _scene: Scene, _asked: Asked) -> str:
        """What is lacking for the question to make sense, as a sentence; "" for nothing."""
        return ""

    def options(self, _scene: Scene, _plan: Plan, _asked: Asked) -> Sequence[Option]:
        """The answers that may be ticked; none where the answer is written."""
        return ()

    # the right answer

    @abstractmethod
    def answer(self, plan: Plan, scene: Scene, asked: Asked, windows: ValueWindows) -> T:
        """The right answer, from the windows of all values of the plan (exact)."""

    def window(self, _plan: Plan, _asked: Asked, _windows: ValueWindows, _base: Base) -> Window | None:
        """The answer's window in the unit asked for; None where the plan has no value for it."""
        return None

    def is_counted(self, _plan: Plan, _asked: Asked) -> bool:
        """Whether the answer rests on whole numbers, which nobody rounds."""
        return False

    def tolerated(self, truth: T, _tolerance: Tolerance) -> T:
        """An answer with the window that the instructor accepts; itself where there is none to change."""
        return truth

    # how mistakes show: true or false, or a column of these, one a student

    def leads_elsewhere(self, _plan: Plan, _wrong: ValueWindows, _right: ValueWindows, _clear: Clear) -> Any:
        """Whether mistaken values surely lead to another answer, where it has no window of its own."""
        return False

    def names_the_same(self, _plan: Plan, _values: Values, _others: Values) -> Any:
        """Whether two workers name the same, where the answer has no window of its own."""
        return True

    def accepts(self, _plan: Plan, _asked: Asked, _written: Values, _right: Values, _inside: Callable[[], Any]) -> Any:
        """Whether what a worker has written down leads to an answer that is accepted.

        `inside` tells whether their number lies in the window.
        """
        return True

    def shows(self, _plan: Plan, _asked: Asked, _truth: T, _right: ValueWindows, _wrong: ValueWindows) -> bool:
        """Whether mistaken values (exact) lead to another answer than those that are accepted."""
        return False

    def handed_in(self, scene: Scene, plan: Plan, asked: Asked, written: Values, _number: Callable[[], str]) -> str:
        """What a worker hands in, by what they have written down; `number` gives the text of their number."""
        return self.text(scene, asked, self.answer(plan, scene, asked, written))

    # in print

    def prompt(self, _asked: Asked) -> Line:
        """The prompt that the engine writes; () where the words of the quantity say it."""
        return ()

    def short_prompt(self, _asked: Asked) -> Line:
        """The prompt in the key's table, where it is shorter than on the sheet; () where it is not.

        Of a part with options, the question alone: what is to be ticked has no boxes where answers stand elsewhere.
        """
        return ()

    def blank(self, scene: Scene, plan: Plan, asked: Asked, lines: int) -> Blank:
        """The blank on the sheet, with so many lines for the working."""
        choices = tuple(option.words for option in self.options(scene, plan, asked))
        return Blank(0 if choices else lines, choices=choices)

    @abstractmethod
    def text(self, scene: Scene, asked: Asked, truth: T) -> str:
        """The right answer as plain text."""

    def cells(self, scene: Scene, asked: Asked, truth: T) -> Cells:
        """The right answer in the key's table."""
        return Cells((Strong(self.text(scene, asked, truth)),))

    def explained(self, scene: Scene, asked: Asked, truth: T) -> str:
        """The right answer as an explanation of the marking tells it."""
        return self.text(scene, asked, truth)

    def read_as(self, read: str) -> Line:
        """What was read of an answer, in print."""
        return (Prose(read),)

    def notes(self, _scene: Scene, _truth: T) -> Iterator[str]:
        """What the instructor should know of an answer that rests on the student's own data."""
        return iter(())

    # in the worked solution

    def told_in(self, _asked: Asked) -> Mapping[str, str]:
        """The unit in which the working tells the value asked for, by its quantity's id; empty where it tells none."""
        return {}

    def is_worked_out(self, _plan: Plan, _asked: Asked) -> bool:
        """Whether the working has steps that lead to what is asked."""
        return self.rests_on_plan

    @abstractmethod
    def ending(self, asked: Asked, truth: T) -> Ending:
        """The end of the working."""

    # in statistics

    def spread(self, _scene: Scene, _asked: Asked) -> Spread:
        """What takes in the right answers of a class."""
        return Tally(self.kind)

    def kind(self, _truth: T) -> str:
        """Which of a few right answers a student has, for comparing those with each; "" for a number."""
        return ""

    def size(self, _truth: T) -> Fraction | None:
        """The number that is right for a student, for comparing the small with the large; None where it is none."""
        return None


class TextForm(Form[TextTruth]):
    """A form whose right answer is a text."""

    def text(self, _scene: Scene, _asked: Asked, truth: TextTruth) -> str:
        """The text."""
        return truth.text

    def kind(self, truth: TextTruth) -> str:
        """The text."""
        return truth.text
