"""Auditing templates: those that are named, or all that come with the program."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from problemgen.audit.records import Audit
from problemgen.audit.run import audit as audit_tasks
from problemgen.load.resources import banks_folder
from problemgen.load.sets.courses import course_of
from problemgen.pipeline.progress import Progress

__all__ = ["audit"]


def audit(names: Sequence[str], students: int, seed_words: str, progress: Progress) -> Audit:
    """Audit templates with so many simulated students each: files, names of `list`, or topics; none: all.

    Raises:
        FaultsError: for a template that is not there or has faults.
        NoRoomError: for one that admits no variant.
    """
    course = course_of(Path())
    known = course.templates
    chosen = {} if names else dict(known)
    for name in names:
        topic = {one: path for one, path in known.items() if one.startswith(f"{name.rstrip('/')}/")}
        chosen |= topic or dict([course.template_file(name)])
    tasks = [(name, path, (banks_folder(), course.course_banks), students, seed_words) for name, path in chosen.items()]
    return audit_tasks(tasks, progress)
