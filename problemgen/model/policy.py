"""How responses are marked: shares of points, what becomes of figures and units, windows, several attempts."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, TypeAlias

from problemgen.exact.rounding import plain_text
from problemgen.model.file_types import Count, Share

__all__ = ["Attempts", "Counts", "Policy", "Tolerance", "WindowKind", "file_stem"]

WindowKind: TypeAlias = Literal["derived", "widened", "replaced"]
"""The window as it follows from the plan; wider by a share of the value on each side; or that share alone."""

Counts: TypeAlias = Literal["last", "best", "mean"]
"""Which of several attempts counts."""


@dataclass(frozen=True)
class Tolerance:
    """What an instructor makes of the derived window."""

    window: WindowKind = "derived"
    """Left as derived, widened on each side, or replaced."""

    share: Share = Fraction(0)
    """By this share of the exact value, or with it on each side; 0 for a derived window."""

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
        percent = plain_text(100 * self.share, -4).rstrip("0").rstrip(".")
        shown = {"widened": f"widened by {percent} %", "replaced": f"replaced by ± {percent} %"}
        return shown.get(self.window, "")


@dataclass(frozen=True)
class Policy:
    """How a part is marked, or all parts of a set; the defaults are those of a set that says nothing."""

    figures: Literal["ignore", "remark", "deduct"] = "remark"
    """What becomes of too few or too many significant figures."""

    missing_unit: Literal["accept", "remark", "deduct"] = "accept"
    """What becomes of a number without a unit."""

    follow_through: Share = Fraction(1)
    """The share of a part's points for an answer that follows from an earlier wrong one."""

    unit_slip: Share = Fraction(1, 2)
    """The share for a slip of unit, sign or power of ten."""

    named_mistake: Share = Fraction(0)
    """The share for what a usual mistake leads to."""

    deduction: Share = Fraction(1, 10)
    """The share lost where a policy says "deduct"."""

    rounded_early: Share = Fraction(1, 2)
    """The share for the right way with results rounded too early or too far."""

    named_mistakes: tuple[tuple[str, Share], ...] = ()
    """Other shares for some mistakes, by their id, or by its beginning up to a colon, which stands for the mistake
    wherever it is made."""

    tolerance: Tolerance = Tolerance()
    """What is made of the derived window of a number. The bounds of drawn answers hold it already; what follows from a
    student's own values is given it when it is marked."""

    def share_of_mistake(self, mistake: str) -> Fraction:
        """The share for one named mistake, by its id."""
        shares = dict(self.named_mistakes)
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

    number: Count = 1
    """How many there are, each with numbers of its own."""

    counts: Counts = "last"
    """The last, the best, or the mean of all."""

    @property
    def several(self) -> bool:
        """Whether there is more than one."""
        return self.number > 1

    def told(self, attempt: int) -> str:
        """An attempt as sheets tell it: "attempt 2 of 3"; "" where there is one only."""
        return f"attempt {attempt} of {self.number}" if self.several else ""


def file_stem(student: str, attempt: int) -> str:
    """What a student's files of an attempt are called: the id, from the second attempt on with its number."""
    return student if attempt == 1 else f"{student}-{attempt}"
