"""Reading how a set is marked as its set.toml says now, whatever it said when it was built."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

from pydantic import ConfigDict, Field

from problemgen.load.documents import read_document
from problemgen.load.fault_log import FaultLog
from problemgen.load.resources import SET_FILE
from problemgen.load.sets.documents import CourseDocument, MarkedProblemDocument, MarkedSetDocument, problem_names
from problemgen.load.sets.policies import PolicyReader
from problemgen.model.answers import KeyHead, template_id
from problemgen.model.policy import Counts, Gradebook, Policy

__all__ = ["SetRules", "load_set_rules"]


class _Problem(MarkedProblemDocument):
    model_config = ConfigDict(extra="ignore")


class _Set(MarkedSetDocument):
    """A set as marking reads it: its other keys are the build's."""

    model_config = ConfigDict(extra="ignore")

    problem: tuple[_Problem, ...] = Field(min_length=1)


@dataclass(frozen=True)
class SetRules:
    """How a set is marked: policies by column, the points that it gives to parts, and which attempt counts."""

    policy: Policy
    policies: Mapping[str, Policy]
    points: Mapping[str, Fraction]
    counts: Counts
    gradebook: Gradebook


def load_set_rules(
    folder: Path, head: KeyHead, course: CourseDocument | None = None
) -> tuple[SetRules, tuple[str, ...]]:
    """What the set.toml of a folder says, within its course, and in what it is another set than was built.

    Where it is another one, its rules are those of what both have: they cannot be held against each other.

    Raises:
        FaultsError: all faults of set.toml in what marking needs of it.
    """
    path = folder / SET_FILE
    document = read_document(path, _Set)
    if course is not None:
        document = document.within(course)
    numbered = _numbered(document, head)
    differs = tuple(_differences(document, numbered, head))
    reader = PolicyReader(FaultLog(str(path)))
    policy = reader.policy_of_set(document.policy, () if differs else head.templates.values())
    policies: dict[str, Policy] = {}
    points: dict[str, Fraction] = {}
    for place, (number, one) in enumerate(() if differs else numbered.items(), start=1):
        templates = [head.templates[name] for name in head.problems[f"p{number}"]]
        by_letter = reader.policies_of_problem(f"problem.{place}", policy, one.policy, one.part, templates)
        policies |= {f"{number}{letter}": of_part for letter, of_part in by_letter.items()}
        points |= {f"{number}{letter}": said.points.value for letter, said in one.part.items() if said.points}
    reader.faults.stop()
    return SetRules(policy, policies, points, document.attempts.counts, document.gradebook), differs


def _numbered(document: _Set, head: KeyHead) -> dict[int, _Problem]:
    """The problems by the numbers that are printed; those that were never built are left out."""
    named = zip(problem_names(document.problem), document.problem, strict=True)
    return {head.issued.numbers[name]: one for name, one in named if name in head.issued.numbers}


def _differences(document: _Set, numbered: Mapping[int, _Problem], head: KeyHead) -> Iterator[str]:
    """What no marking can change: other problems, or another number of attempts."""
    for name in problem_names(document.problem):
        if f"p{head.issued.numbers.get(name)}" not in head.problems:
            yield f"problem {name!r} is new"
    for name, built in head.problems.items():
        number = int(name.removeprefix("p"))
        if number not in numbered:
            yield f"problem {number} is gone"
            continue
        were, names = tuple(template_id(one) for one in built), numbered[number].names
        if names != were:
            yield f"problem {number} from {' or '.join(names)}, not {' or '.join(were)}"
    if document.attempts.number != head.attempts.number:
        yield f"{document.attempts.number} attempts, not {head.attempts.number}"
