"""Reading how a set is marked as its set.toml says now, whatever it said when it was built."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

from pydantic import ConfigDict, Field

from problemgen.load.documents import read_document
from problemgen.load.fault_log import FaultLog
from problemgen.load.policies import PartPolicy, PolicyReader
from problemgen.model.answers import KeyHead
from problemgen.model.document import Document, Text
from problemgen.model.policy import Attempts, Counts, Gradebook, Policy

__all__ = ["SET_FILE", "MarkedProblemDocument", "MarkedSetDocument", "SetRules", "load_set_rules"]

SET_FILE = "set.toml"


class MarkedProblemDocument(Document):
    """What marking needs of one problem."""

    template: Text | None = None
    choose: tuple[Text, ...] = ()
    policy: Policy = Policy()
    part: dict[str, PartPolicy] = Field(default_factory=dict)

    @property
    def names(self) -> tuple[str, ...]:
        """The templates that it names."""
        return self.choose or ((self.template,) if self.template else ())


class MarkedSetDocument(Document):
    """What marking needs of a set."""

    policy: Policy = Policy()
    attempts: Attempts = Attempts()
    gradebook: Gradebook = Gradebook()


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


def load_set_rules(folder: Path, head: KeyHead) -> tuple[SetRules, tuple[str, ...]]:
    """What the set.toml of a folder says, and in what it is another set than was built.

    Where it is another one, its rules are those of what both have: they cannot be held against each other.

    Raises:
        FaultsError: all faults of set.toml in what marking needs of it.
    """
    path = folder / SET_FILE
    document = read_document(path, _Set)
    differs = tuple(_differences(document, head))
    reader = PolicyReader(FaultLog(str(path)))
    policy = reader.policy_of_set(document.policy, () if differs else head.templates.values())
    policies: dict[str, Policy] = {}
    points: dict[str, Fraction] = {}
    for number, one in enumerate(() if differs else document.problem, start=1):
        templates = [head.templates[name] for name in head.problems[f"p{number}"]]
        by_letter = reader.policies_of_problem(f"problem.{number}", policy, one.policy, one.part, templates)
        policies |= {f"{number}{letter}": of_part for letter, of_part in by_letter.items()}
        points |= {f"{number}{letter}": said.points.value for letter, said in one.part.items() if said.points}
    reader.faults.stop()
    return SetRules(policy, policies, points, document.attempts.counts, document.gradebook), differs


def _differences(document: _Set, head: KeyHead) -> Iterator[str]:
    """What no marking can change: other problems, or another number of attempts."""
    if len(document.problem) != len(head.problems):
        yield f"{len(document.problem)} problems, not {len(head.problems)}"
    for (name, built), problem in zip(head.problems.items(), document.problem, strict=False):
        # A template that stands in a set twice with other points has the problem's id behind its own.
        were = tuple(one.partition(" (")[0] for one in built)
        if problem.names != were:
            yield f"problem {name.removeprefix('p')} from {' or '.join(problem.names)}, not {' or '.join(were)}"
    if document.attempts.number != head.attempts.number:
        yield f"{document.attempts.number} attempts, not {head.attempts.number}"
