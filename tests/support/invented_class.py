"""A class whose points are invented: a set of two problems, and students' results made from shares of points."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from problemgen.grade.classes.record import ClassRecord
from problemgen.model.answers import KeyHead, PartKey, ProblemKey, StudentKey, TemplateKey
from problemgen.model.blocks import Prose
from problemgen.model.plan import Mistake, Plan
from problemgen.model.policy import Policy
from problemgen.model.problem import Asked, Scene, Species
from problemgen.model.quantity import Quantity
from problemgen.model.truths import ChoiceTruth, NumberTruth, Truth
from problemgen.model.verdict import PartResult, StudentResult

__all__ = ["ALL_PARTS", "Invented", "head", "record_of", "result_of"]

ALL_PARTS = ("1a", "1b", "1c", "2a", "2b")
_WORTH = {"a": Fraction(1), "b": Fraction(2), "c": Fraction(1)}
_SALT, _OXIDE, _FIRST, _SECOND = "the salt", "the oxide", "first", "second"


@dataclass(frozen=True)
class Invented:
    """One student: a share of the points for each part, and how else they differ.

    `template` is the one of problem 2; `limiting` the right answer to 1c; `size` the number that is right elsewhere.
    `verdicts` and `mistakes` are by part; where nothing is said, a share of 1 is right, of 0 wrong, between a slip.
    """

    student: str
    shares: Sequence[float | Fraction]
    template: str = _FIRST
    limiting: str = "salt"
    size: float = 1.0
    name: str = ""
    handed_in: bool = True
    verdicts: Mapping[str, str] = field(default_factory=dict)
    mistakes: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    wrote: str = "4.2"


def head(title: str = "Invented week") -> KeyHead:
    """What is common to all: problem 1 has the parts a, b, c; problem 2 is one of two templates with a, b."""
    templates = {name: _template(name, parts) for name, parts in (("salts", "abc"), (_FIRST, "ab"), (_SECOND, "ab"))}
    return KeyHead(
        set_id="week",
        title=title,
        course="Laboratory <1>",
        language="en",
        decimal_mark=".",
        policy=Policy(),
        templates=templates,
        columns=ALL_PARTS,
        inputs={},
    )


def _template(name: str, parts: str) -> TemplateKey:
    quantity = Quantity("amount", "salt")
    keys = tuple(
        PartKey(
            part,
            part,
            Asked(quantity, "mol", "species" if part == "c" else "number"),
            _WORTH[part],
            (Prose("How?"),),
            1,
        )
        for part in parts
    )
    named = tuple(Mistake(one, f"the {one} forgotten", "Look.", ()) for one in ("ratio", "density"))
    species = {one: Species(one, told) for one, told in (("salt", _SALT), ("oxide", _OXIDE))}
    plan = Plan((), (), (), (), (), named)
    return TemplateKey(name, f"The {name} template", plan, keys, Scene(species, frozenset(), {}), ())


def _key(one: Invented) -> StudentKey:
    def truth(part: str) -> Truth:
        value = Fraction(one.size)
        return ChoiceTruth(one.limiting) if part == "c" else NumberTruth(value, value, value, 3, f"{one.size:g}")

    problems = tuple(
        ProblemKey(problem, template, {}, {part: truth(part) for part in parts})
        for problem, template, parts in (("p1", "salts", "abc"), ("p2", one.template, "ab"))
    )
    return StudentKey(one.student, one.name or one.student, "A", "CODE", problems)


def result_of(one: Invented) -> tuple[StudentKey, StudentResult]:
    """The student's keys and result."""
    parts = []
    for label, share in zip(ALL_PARTS, one.shares, strict=True):
        worth = _WORTH[label[1]]
        verdict = one.verdicts.get(label, "right" if share == 1 else "slip" if share else "wrong")
        mistakes = one.mistakes.get(label, ())
        parts.append(
            PartResult(
                problem=f"p{label[0]}",
                part=label[1],
                label=label,
                verdict="mistake" if mistakes else verdict,
                reason="|".join(mistakes) or verdict,
                sentence=f"Why {label}.",
                remarks=(),
                points=worth * Fraction(share),
                of=worth,
                wrote=one.wrote,
                read="",
                mistakes=mistakes,
                titles=tuple(f"the {mistake} forgotten" for mistake in dict.fromkeys(mistakes)),
            )
        )
    key = _key(one)
    return key, StudentResult(key.student, key.name, key.section, key.code, tuple(parts), one.handed_in)


def record_of(students: Sequence[Invented], title: str = "Invented week") -> ClassRecord:
    """What is kept of a class."""
    record = ClassRecord(head(title))
    for one in students:
        record.take(*result_of(one))
    return record
