"""Marking by what set.toml says now."""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path

from problemgen.grade.classes.ruled import changes, ruled
from problemgen.load.answers.answers import Answers
from problemgen.load.resources import SET_FILE
from problemgen.load.sets.courses import course_of
from problemgen.load.sets.rules import load_set_rules

__all__ = ["RuleNotes", "mark_by_set"]


@dataclass(frozen=True)
class RuleNotes:
    """What is told about the rules: `notes` say what changed, `to_look_at` why those of the build are held to."""

    notes: tuple[str, ...] = ()
    to_look_at: tuple[str, ...] = ()


def mark_by_set(answers: Answers, folder: Path, set_folder: Path | None) -> RuleNotes:
    """Put the policies and points of a set's set.toml in the place of those that answers.json of `folder` keeps.

    Without `set_folder`, the set is looked for where answers.json says that it was.

    Raises:
        FaultsError: for faults of set.toml in what marking needs of it, or none in a folder that was named.
    """
    made_from = answers.head.made_from
    if set_folder is None and not made_from:
        return RuleNotes()
    place = Path(os.path.normpath(folder / made_from)) if set_folder is None else set_folder
    if set_folder is None and not (place / SET_FILE).is_file():
        told = f"The set is no longer in {place}: marked by the policies kept in answers.json. --set names its folder."
        return RuleNotes(notes=(told,))
    rules, differs = load_set_rules(place, answers.head, course_of(place).document)
    if differs:
        told = (
            f"{place / SET_FILE} is another set than was built ({'; '.join(differs)}): marked by the policies kept in"
        )
        return RuleNotes(to_look_at=(f"{told} answers.json. Build it anew, or name the set with --set.",))
    built = answers.head
    answers.head, answers.renamed = ruled(
        built, rules.policy, rules.policies, rules.points, rules.counts, rules.gradebook
    )
    changed = "; ".join(changes(built, answers.head, answers.renamed))
    told = f"Marked by {place / SET_FILE} as it is now, other than when it was built: {changed}."
    return RuleNotes(notes=(told,) if changed else ())
