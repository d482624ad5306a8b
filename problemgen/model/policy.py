"""How responses are marked: shares of points, what becomes of figures and units, windows, several attempts.

This is the reference of the policies. In set.toml, each has its default, so that only what differs is written:

    [policy]                          # of the whole set: a field of `Policy` a key
    follow_through = 0.9
    named_mistakes = { "ratio-left-out" = 0.5 }

    [problem.policy]                  # below a [[problem]]: what differs for its parts
    follow_through = 0.5

    [problem.part.b]                  # what differs for one part, by its letter
    points = 3
    figures = "deduct"

    [attempts]
    number = 3                        # each student gets new numbers for each
    counts = "last"                   # or "best", "mean"

    [gradebook]
    drop_lowest = 1                   # of each student's problems
    grades = { "90" = "A", "80" = "B", "65" = "C", "0" = "F" }

A problem's policy goes before the set's, a part's before both. Of `widen_percent` and `replace_percent` the nearer one
stands alone; `widen_percent = 0` goes back to the derived window.

A field is all that there is of a policy but the judging by it: set.toml, answers.json and its schema take it from here.
A set that was built before a policy was there is marked by its default, so a default leaves the marking as it was.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from typing import Annotated, Literal, TypeAlias

from pydantic import AfterValidator, ConfigDict, Field

from problemgen.exact.rounding import plain_text
from problemgen.language.messages import _
from problemgen.language.numbers import in_digits
from problemgen.model.document import Document, Text
from problemgen.model.file_types import ExactNumber, Share

__all__ = ["Attempts", "Counts", "Gradebook", "Policy", "Tolerance", "WindowKind"]

WindowKind: TypeAlias = Literal["derived", "widened", "replaced"]
"""The window as it follows from the plan; wider by a share of the value on each side; or that share alone."""

Counts: TypeAlias = Literal["last", "best", "mean"]
"""Which of several attempts counts."""

_THRESHOLD = re.compile(r"[0-9]{1,4}(\.[0-9]{1,4})?")
_MOST_ATTEMPTS = 9  # one figure behind a student's id in the names of files; no course gives more


@dataclass(frozen=True)
class Tolerance:
    """What an instructor makes of the derived window."""

    window: WindowKind = "derived"
    share: Fraction = Fraction(0)  # of the exact value, on each side

    def bounds(self, value: Fraction, low: Fraction, high: Fraction) -> tuple[Fraction, Fraction]:
        """The least and the greatest value that are accepted, from the exact value and the derived bounds (any unit).

        >>> Tolerance("widened", Fraction(1, 100)).bounds(Fraction(50), Fraction(49), Fraction(52))
        (Fraction(97, 2), Fraction(105, 2))
        """
        margin = self.share * abs(value)
        return (value - margin, value + margin) if self.window == "replaced" else (low - margin, high + margin)

    @property
    def words(self) -> str:
        """The change in words: "widened by 1 %"; "" for none."""
        percent = in_digits(plain_text(100 * self.share, -4).rstrip("0").rstrip("."))
        if self.window == "widened":
            # Translators: told of the window of a part: "the window is widened by 1 %".
            return _("widened by {percent} %").format(percent=percent)
        if self.window == "replaced":
            # Translators: told of the window of a part: "the window is replaced by ± 1 %".
            return _("replaced by ± {percent} %").format(percent=percent)
        return ""


def _percent(value: Fraction) -> Fraction:
    if not 0 <= value <= 100:
        raise ValueError("a percentage from 0 to 100")
    return value


def _some_percent(value: Fraction) -> Fraction:
    if not 0 < value <= 100:
        raise ValueError("a percentage above 0, up to 100")
    return value


def _thresholds(value: dict[str, str]) -> dict[str, str]:
    for key in value:
        if not _THRESHOLD.fullmatch(key) or Fraction(key) > 1000:
            raise ValueError(f'percentages such as "87.5" before the grades, not {key!r}')
    return value


class Gradebook(Document):
    """What the gradebook makes of the points; in set.toml below [gradebook]."""

    model_config = ConfigDict(use_attribute_docstrings=True)

    drop_lowest: Annotated[int, Field(ge=0, le=20)] = 0
    """How many of a student's problems are left out of the sum: each time the one without which the share is greatest.
    One always counts."""

    grades: Annotated[dict[str, Text], AfterValidator(_thresholds)] = Field(default_factory=dict)
    """The grade, or the points, from a percentage on, as the gradebook shows it with two decimals:
    { "90" = "A", "80" = "B", "0" = "F" }. No column of grades where it is empty."""

    def grade(self, percent: Fraction | None) -> str:
        """The grade of a percentage; "" below the least, or for no mark.

        >>> Gradebook(grades={"90": "A", "0": "F"}).grade(Fraction("89.996"))
        'A'
        """
        if percent is None:
            return ""
        shown = Fraction(plain_text(percent, -2))
        reached = [Fraction(least) for least in self.grades if Fraction(least) <= shown]
        return next((text for least, text in self.grades.items() if reached and Fraction(least) == max(reached)), "")


class Policy(Document):
    """How a part is marked, or all parts of a set; the defaults are those of a set that says nothing."""

    model_config = ConfigDict(use_attribute_docstrings=True)

    figures: Literal["ignore", "remark", "deduct"] = "remark"
    """What becomes of too few or too many significant figures."""

    last_digit: Literal["accept", "remark", "refuse"] = "remark"
    """What becomes of an answer that lies outside the window, but within one unit of the last digit that the data
    support: one that was cut, or rounded the other way."""

    missing_unit: Literal["accept", "remark", "deduct"] = "accept"
    """What becomes of a number without a unit."""

    follow_through: Share = Fraction(1)
    """The share of a part's points, from 0 to 1, for an answer that follows from an earlier wrong one."""

    unit_slip: Share = Fraction(1, 2)
    """The share for a slip of unit, sign or power of ten."""

    named_mistake: Share = Fraction(0)
    """The share for what a usual mistake leads to."""

    named_mistakes: dict[Text, Share] = Field(default_factory=dict)
    """Other shares for some mistakes, by their id, or by its beginning up to a colon, which stands for the mistake
    wherever it is made."""

    rounded_early: Share = Fraction(1, 2)
    """The share for the right way with results rounded too early or too far."""

    deduction: Share = Fraction(1, 4)
    """The share lost where a policy says "deduct". Half of what a slip of the unit costs: a number without its unit, or
    with too few or too many figures, is the lesser fault, and both together cost as much as that slip, never more."""

    widen_percent: Annotated[ExactNumber, AfterValidator(_percent)] = Fraction(0)
    """The window of a number is wider than derived by so many percent of the value on each side."""

    replace_percent: Annotated[ExactNumber, AfterValidator(_some_percent)] | None = None
    """Or: so many percent of the value on each side are the window, in place of the derived one."""

    def changed_by(self, nearer: Policy) -> Policy:
        """This policy with what a nearer one says. Shares of single mistakes add up."""
        said = {name: getattr(nearer, name) for name in nearer.model_fields_set & Policy.model_fields.keys()}
        if nearer.window_keys:
            said = {"widen_percent": Fraction(0), "replace_percent": None} | said
        named = dict(sorted({**self.named_mistakes, **nearer.named_mistakes}.items()))
        return self.model_copy(update=said | {"named_mistakes": named})

    @property
    def window_keys(self) -> tuple[str, ...]:
        """The keys by which it was told to change the window."""
        return tuple(key for key in ("widen_percent", "replace_percent") if key in self.model_fields_set)

    @property
    def tolerance(self) -> Tolerance:
        """What it makes of the derived window."""
        if self.replace_percent is not None:
            return Tolerance("replaced", self.replace_percent / 100)
        return Tolerance("widened", self.widen_percent / 100) if self.widen_percent else Tolerance()

    def share_of_mistake(self, mistake: str) -> Fraction:
        """The share for one named mistake, by its id."""
        shares = self.named_mistakes
        return shares.get(mistake, shares.get(mistake.partition(":")[0], self.named_mistake))

    def share_of_mistakes(self, explanations: Iterable[Iterable[str]]) -> Fraction:
        """The share where mistakes explain an answer, each explanation one mistake or several made together (ids).

        Of those made together the least counts; of explanations that cannot be told apart, the one that is best for
        the student.
        """
        return max((min(map(self.share_of_mistake, together)) for together in explanations), default=Fraction(0))


@dataclass(frozen=True)
class Attempts:
    """How many attempts each student has, each with numbers of its own, and which of those handed in counts."""

    number: Annotated[int, Field(ge=1, le=_MOST_ATTEMPTS)] = 1
    """How many there are, each with numbers of its own."""

    counts: Counts = "last"
    """The last, the best, or the mean of all."""

    @property
    def several(self) -> bool:
        """Whether there is more than one."""
        return self.number > 1

    def told(self, attempt: int) -> str:
        """An attempt as sheets tell it: "attempt 2 of 3"; "" where there is one only."""
        if not self.several:
            return ""
        # Translators: stands by itself and behind a colon.
        return _("attempt {attempt} of {number}").format(attempt=attempt, number=self.number)
