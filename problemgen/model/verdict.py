"""Verdicts: how each part was marked, and why."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from problemgen.language.messages import N_, _

__all__ = [
    "NOT_HANDED_IN",
    "OWN_DATA_REASONS",
    "SHARED",
    "UNJUDGED",
    "VERDICTS",
    "Adjustment",
    "PartResult",
    "StudentResult",
    "Verdict",
]

OWN_DATA_REASONS = ("own-data-missing", "own-data-unread")
"""The reasons of parts that cannot be marked, since the student's own data are missing or cannot be used."""

NOT_HANDED_IN = "not-handed-in"
"""The reason of the parts of a student who handed nothing in: they earn no mark, which is not the mark 0."""

UNJUDGED = "unjudged"
"""The verdict of a part whose judging failed: the fault is the program's, and the instructor decides."""


@dataclass(frozen=True)
class Verdict:
    """What is said of a verdict: a sign and words to the student, and what it means to the instructor."""

    sign: str
    words: str
    meaning: str


VERDICTS: Mapping[str, Verdict] = {
    "right": Verdict("✓", N_("Right"), N_("inside the acceptance window")),
    "slip": Verdict("≈", N_("Nearly right: a slip"), N_("right but for a slip of unit, sign or power of ten")),
    "follows": Verdict(
        "→", N_("Consistent with your earlier answer"), N_("consistent with an earlier answer that was wrong")
    ),
    "mistake": Verdict("✗", N_("A usual mistake"), N_("what a usual mistake leads to")),
    "rounded": Verdict("≈", N_("Rounded too much"), N_("the right way, with a result rounded too early or too far")),
    "wrong": Verdict("✗", N_("Not right"), N_("none of these")),
    "unit": Verdict("✗", N_("Another kind of unit"), N_("a unit of another kind of quantity")),
    "unread": Verdict("?", N_("Not readable"), N_("not readable as an answer")),
    "blank": Verdict("–", N_("No answer"), N_("no answer")),
    UNJUDGED: Verdict("?", N_("Not judged yet"), N_("not judged: look at it")),
}
"""The verdicts, in the order in which they are tried; "unit", "unread" and "blank" before all others."""

SHARED = frozenset({"slip", "follows", "mistake", "rounded"})
"""The verdicts for which a policy gives a share of the points."""


@dataclass(frozen=True)
class PartResult:
    """One part of one student.

    `reason` is a code ("in-window", a mistake's id, "power-of-ten:3", …), `sentence` what the student is told;
    `remarks` are further sentences that cost nothing or what the policy says. `read` is what was read, as text.
    `mistakes` are the ids of the mistakes that are named: those made together, or those that cannot be told apart;
    `titles` is what they are called.
    `at` are the ids of the quantities whose step went wrong, in the plan's order: those that a named mistake rewrites,
    or the part's own where its step is the first that is wrong.
    `share` is that of the points which the policy gives for the verdict, before it deducts anything.
    `value` is the number that was read, in the unit asked for; None where none was. `decision` is the reason that the
    instructor gave for other points, "" where the points are the marking's; what is `dropped` by such a decision counts
    neither as earned nor as to be had. `notes` are for the instructor alone, and so is `doubt`: why what was read may
    not be what was meant, "" where nothing speaks against it.
    """

    problem: str
    part: str
    label: str
    verdict: str
    reason: str
    sentence: str
    remarks: tuple[str, ...]
    points: Fraction
    of: Fraction
    wrote: str
    read: str
    mistakes: tuple[str, ...] = ()
    titles: tuple[str, ...] = ()
    at: tuple[str, ...] = ()
    value: Fraction | None = None
    decision: str = ""
    notes: tuple[str, ...] = ()
    share: Fraction = Fraction(0)
    dropped: bool = False
    doubt: str = ""

    def __repr__(self) -> str:
        """The part, its verdict and its points."""
        return f"<PartResult {self.label}: {self.verdict} ({self.reason}), {self.points} of {self.of}>"

    @property
    def is_open(self) -> bool:
        """Whether the part was not judged, and nobody has decided yet."""
        return self.verdict == UNJUDGED and not self.decision


@dataclass(frozen=True)
class Adjustment:
    """What the instructor adds to the points of a problem's parts, or of the whole sheet where `problem` is ""."""

    problem: str
    points: Fraction
    reason: str


@dataclass(frozen=True)
class StudentResult:
    """All parts of one student's attempt; attempts count from 1.

    `handed_in` is false where the responses hold no answer of theirs: all parts are blank. `first` tells whether it is
    the first attempt that the student handed in, or the only one.
    """

    student: str
    name: str
    section: str
    code: str
    parts: tuple[PartResult, ...]
    handed_in: bool = True
    attempt: int = 1
    first: bool = True
    adjustments: tuple[Adjustment, ...] = ()

    @property
    def counted(self) -> tuple[PartResult, ...]:
        """The parts that count: those that were not dropped."""
        return tuple(part for part in self.parts if not part.dropped)

    @property
    def points(self) -> Fraction:
        """The points earned."""
        return sum(self._earned.values(), Fraction(0))

    @property
    def of(self) -> Fraction:
        """The points to be had."""
        return sum((part.of for part in self.counted), Fraction(0))

    @property
    def _earned(self) -> dict[str, Fraction]:
        """The points earned by problem, under "" those of the sheet as a whole."""
        earned: dict[str, Fraction] = {}
        pairs = [(one.problem, one.points) for one in self.counted]
        for problem, points in (*pairs, *((one.problem, one.points) for one in self.adjustments)):
            earned[problem] = earned.get(problem, Fraction(0)) + points
        return earned

    def points_of(self, problem: str) -> Fraction:
        """The points earned in a problem, by its id; under "" those that the sheet as a whole has more or less."""
        return self._earned.get(problem, Fraction(0))

    def of_problem(self, problem: str) -> Fraction:
        """The points to be had in a problem, by its id."""
        return sum((part.of for part in self.counted if part.problem == problem), Fraction(0))

    @property
    def absent(self) -> StudentResult:
        """The same student's, as one who handed nothing in."""
        parts = tuple(replace(part, reason=NOT_HANDED_IN, sentence=_("Not handed in.")) for part in self.parts)
        return replace(self, parts=parts, handed_in=False)

    @property
    def has_mark(self) -> bool:
        """Whether there are points to tell: something was handed in, or the instructor decided all the same.

        Of whom all is dropped, there are none.
        """
        given = bool(self.adjustments) or any(part.decision for part in self.counted)
        all_dropped = bool(self.parts) and not self.counted
        return (self.handed_in or given) and not all_dropped
