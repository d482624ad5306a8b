"""An audit of some templates: each by itself, on as many processors as there are."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import as_completed
from functools import lru_cache
from pathlib import Path
from typing import TypeAlias

import numpy as np

from problemgen.audit.equations import audited_equation
from problemgen.audit.fixed import fixed_tolerances
from problemgen.audit.records import Audit, TemplateAudit, Widths
from problemgen.audit.sample import marked_sample
from problemgen.audit.students import Found, Group, admitted_groups, drawn_groups, examined
from problemgen.audit.ways import Way, ways_of
from problemgen.errors import NoRoomError
from problemgen.load.banks.banks import load_banks
from problemgen.load.templates.template import load_template
from problemgen.model.banks import Banks
from problemgen.model.template import Template
from problemgen.write.processes import helpers, processors

__all__ = ["Task", "audit", "audited"]

Task: TypeAlias = tuple[str, Path, tuple[Path, Path | None], int, str]
"""A template's id, its file, the folders of the banks and of a course's own, the number of students, and the words that
the draws come from."""


def audit(tasks: Sequence[Task], progress: Callable[[str, int, int], None]) -> Audit:
    """Audit templates, on as many processors as there are; the same words give the same audit.

    Raises FaultsError for a template that cannot be read, NoRoomError for one that admits no variant.
    """
    found: dict[str, TemplateAudit] = {}
    for done, one in enumerate(_worked(tasks), start=1):
        found[one.template] = one
        progress("auditing", done, len(tasks))
    return Audit([found[task[0]] for task in tasks])


def _worked(tasks: Sequence[Task]) -> Iterator[TemplateAudit]:
    workers = min(len(tasks), processors())
    if workers < 2:
        yield from map(_audited_file, tasks)
        return
    with helpers(workers) as pool:
        for one in as_completed([pool.submit(_audited_file, task) for task in tasks]):
            yield one.result()


@lru_cache(maxsize=1)
def _banks(folder: Path, own: Path | None) -> Banks:
    return load_banks(folder, own)


def _audited_file(task: Task) -> TemplateAudit:
    name, path, banks, students, seed_words = task
    return audited(load_template(path, name, _banks(*banks)), students, seed_words)


def audited(template: Template, students: int, seed_words: str) -> TemplateAudit:
    """The audit of one template: its windows, the marking, and fixed tolerances on blindly drawn numbers."""
    if not template.is_drawn:
        return audited_equation(template)
    groups = admitted_groups(template, students, seed_words)
    return audited_groups(groups, drawn_groups(template, students, seed_words), ways_of(template), seed_words)


def audited_groups(
    groups: Iterable[Group], blind: Iterable[Group], ways: Sequence[Way], seed_words: str
) -> TemplateAudit:
    """The audit of students with some variants, and of others with blindly drawn ones for comparison."""
    found, widths = Found(), []
    first: Group | None = None
    for group in groups:
        first = first or group
        examined(group, ways, found)
        widths.append(_half_widths(group))
    if first is None:
        raise NoRoomError("no candidate is admissible: `problemgen check` tells which range to widen")
    return TemplateAudit(
        first.template.id,
        students=found.students,
        refused=found.refused,
        mistakes=found.made.total(),
        rewarded=found.rewarded.total(),
        by_chance=found.by_chance.total(),
        rechecked=found.rechecked,
        limits=dict(found.limits),
        widths=_widths(np.concatenate(widths)),
        marked=marked_sample(first, ways, seed_words),
        fixed=fixed_tolerances(blind, ways),
        examples=found.examples,
    )


def _half_widths(group: Group) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    """The half-widths of a group's windows, relative to the answers; whole numbers, which have no width, left out."""
    halves = []
    for window in group.kept.answers.values():
        half = (window.high - window.low) / 2 / np.abs(window.value)
        halves.append(half[half > 0])
    return np.concatenate([np.zeros(0), *halves])


def _widths(halves: np.ndarray[tuple[int, ...], np.dtype[np.float64]]) -> Widths:
    return Widths(float(np.median(halves)), float(halves.max())) if halves.size else Widths()
