"""What the instructor decides and says beside a built set: other points, and what cells mean."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from pathlib import Path

from problemgen.load.answers.answers import Answers
from problemgen.load.people.means import MEANS_FILE, load_means
from problemgen.load.people.overrides import OVERRIDES_FILE, load_overrides
from problemgen.model.decision import ALL, Decisions
from problemgen.model.means import Means

__all__ = ["decisions_for", "load_decisions", "means_for"]


def decisions_for(folder: Path, file: Path | None, answers: Answers) -> Decisions:
    """The decisions of a file; without one, those of overrides.csv in the set's folder, where there is one.

    Neither a build nor a marking writes that file, so what it says holds for every later marking.

    Raises:
        FaultsError: all faults of the file at once, with their lines.
    """
    path = file or folder / OVERRIDES_FILE
    if file is None and not path.exists():
        return Decisions()
    return load_decisions(path, answers)


def means_for(folder: Path, file: Path | None, answers: Answers) -> Means:
    """What cells mean by a file; without one, by means.csv in the set's folder, where there is one.

    Raises:
        FaultsError: all faults of the file at once, with their lines.
    """
    path = file or folder / MEANS_FILE
    if file is None and not path.exists():
        return Means()
    return load_means(path, answers.head.response_columns)


def load_decisions(path: Path, answers: Answers) -> Decisions:
    """The decisions of a file, checked against a built set.

    Raises:
        FaultsError: all faults of the file at once, with their lines.
    """
    attempts = answers.head.attempts.number

    def points_of(student: str) -> Mapping[str, Fraction]:
        """The points to be had, by label; the most, where attempts or students have different templates."""
        one = [(student, attempt) for attempt in range(1, attempts + 1)]
        most: dict[str, Fraction] = {}
        for entry in answers.entries if student == ALL else one:
            for problem in answers.student(*entry).problems:
                for part in answers.head.templates[problem.template].parts:
                    label = problem.label(part)
                    most[label] = max(part.points, most.get(label, part.points))
        return {label: most[label] for label in answers.head.columns if label in most}

    return load_overrides(path, answers.students, points_of, attempts)
