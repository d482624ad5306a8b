"""Checking banks, templates and sets: all faults at once."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TypeVar

from problemgen.errors import Fault, FaultsError
from problemgen.load.banks import load_banks
from problemgen.load.resources import banks_folder, templates_folder
from problemgen.load.roster import load_roster
from problemgen.load.sets import SET_FILE, load_set, template_ids
from problemgen.load.templates import load_template, nothing_drawn
from problemgen.make.candidates import Stream, draw_candidates
from problemgen.make.room import room_faults
from problemgen.model.banks import Banks
from problemgen.model.template import Template
from problemgen.pipeline.progress import Progress

__all__ = ["CheckReport", "check"]

T = TypeVar("T")

_TRIAL = 4
"""Students of the trial draw of each template; fixed names, so that a check says the same each time."""

_TRIAL_SIZE = 500
"""Candidates of each."""


@dataclass(frozen=True)
class CheckReport:
    """How many banks' entries, templates and sets were checked, and the faults."""

    templates: int
    sets: int
    faults: tuple[Fault, ...]


def check(paths: Sequence[Path], progress: Progress) -> CheckReport:
    """Check the files and folders named; with none, everything that comes with the program.

    A path may be a template, a set's folder, or a folder of either. Banks are always checked.
    """
    faults: list[Fault] = []
    banks = _collected(lambda: load_banks(banks_folder()), faults)
    if banks is None:
        return CheckReport(0, 0, tuple(faults))
    templates, sets = _found(paths, faults)
    total = len(templates) + len(sets)
    for done, (name, path) in enumerate(templates.items(), start=1):
        _check_template(path, name, banks, faults)
        progress("checking", done, total)
    for done, folder in enumerate(sets, start=len(templates) + 1):
        _check_set(folder, banks, faults)
        progress("checking", done, total)
    return CheckReport(len(templates), len(sets), tuple(sorted(set(faults))))


def _collected(load: Callable[[], T], faults: list[Fault]) -> T | None:
    try:
        return load()
    except FaultsError as error:
        faults.extend(error.faults)
        return None


def _found(paths: Sequence[Path], faults: list[Fault]) -> tuple[dict[str, Path], list[Path]]:
    """The templates by name and the sets' folders below the paths."""
    templates: dict[str, Path] = {}
    sets: list[Path] = []
    for path in paths or (templates_folder(),):
        if path.is_dir():
            sets.extend(sorted(one.parent for one in path.rglob(SET_FILE)))
            if not (path / SET_FILE).is_file():
                templates |= {f"{name}": one for name, one in template_ids(path).items() if one.parent.name != "sets"}
        elif path.is_file():
            templates[path.stem] = path
        else:
            faults.append(
                Fault(str(path), "", "no such file or folder", "a template, a set's folder, or a folder of them")
            )
    inside_sets = {folder.resolve() for folder in sets}
    return {n: p for n, p in templates.items() if p.resolve().parent not in inside_sets}, sets


def _check_template(path: Path, name: str, banks: Banks, faults: list[Fault]) -> None:
    template = _collected(lambda: load_template(path, name, banks), faults)
    if template is not None:
        faults.extend(nothing_drawn(template, str(path)) or _trial(template, str(path)))


def _trial(template: Template, file: str) -> Iterable[Fault]:
    stream = Stream(b"trial", "check", template.id, "trial")
    students = [f"trial {n}" for n in range(_TRIAL)]
    return room_faults(template, file, draw_candidates(template, stream, students, 0, _TRIAL_SIZE))


def _check_set(folder: Path, banks: Banks, faults: list[Fault]) -> None:
    _collected(lambda: load_set(folder, templates_folder(), banks), faults)
    roster = folder / "roster.csv"
    if roster.is_file():
        _collected(lambda: load_roster(roster), faults)
