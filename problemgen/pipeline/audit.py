"""Auditing templates: those that are named, or all that come with the program."""

from __future__ import annotations

from collections.abc import Sequence

from problemgen.audit.records import Audit
from problemgen.audit.run import audit as audit_tasks
from problemgen.load.resources import banks_folder, templates_folder
from problemgen.load.sets import template_ids
from problemgen.pipeline.progress import Progress
from problemgen.pipeline.sample import template_file

__all__ = ["audit"]


def audit(names: Sequence[str], students: int, seed_words: str, progress: Progress) -> Audit:
    """Audit templates with so many simulated students each: files, ids below templates/, or topics; none: all.

    Raises:
        FaultsError: for a template that is not there or has faults.
        NoRoomError: for one that admits no variant.
    """
    known = template_ids(templates_folder())
    chosen = {} if names else dict(known)
    for name in names:
        topic = {one: path for one, path in known.items() if one.startswith(f"{name.rstrip('/')}/")}
        chosen |= topic or dict([template_file(name)])
    tasks = [(name, path, banks_folder(), students, seed_words) for name, path in chosen.items()]
    return audit_tasks(tasks, progress)
