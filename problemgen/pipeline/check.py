"""Checking banks, templates and sets: all faults at once."""

from __future__ import annotations

import multiprocessing
import os
from collections.abc import Iterable, Iterator, Mapping, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from problemgen.chemistry.structure import structure_composition
from problemgen.errors import CitationError, Fault, FormulaError
from problemgen.load.banks import load_banks
from problemgen.load.fault_log import FaultLog
from problemgen.load.resources import banks_folder, templates_folder
from problemgen.load.roster import load_roster
from problemgen.load.set_rules import SET_FILE
from problemgen.load.sets import load_set, template_ids
from problemgen.load.sources import check_citations
from problemgen.load.templates import check_drawn, load_template
from problemgen.make.tolerances import trial
from problemgen.model.banks import Banks
from problemgen.model.citation import read_citations
from problemgen.model.template import Template
from problemgen.pipeline.progress import Progress
from problemgen.pipeline.template_trial import tried
from problemgen.plan.law import Law
from problemgen.plan.laws import LAWS

__all__ = ["CheckReport", "check"]


_POOL_FROM = 40
"""Fewer are checked sooner than other processes have started: a second each, as long as ten templates take."""

_CHUNK = 8
"""Templates handed to a process at once: the banks go with them, and a twentieth of all is no long wait at the end."""


@dataclass(frozen=True)
class CheckReport:
    """How many templates and sets were checked, the faults, and the banks' substances that nothing uses.

    `notes` tell what windows that a set has changed do to a trial draw; `remarks` where a template can be used, but is
    weaker than those that come with the program.
    """

    templates: int
    sets: int
    faults: tuple[Fault, ...]
    unused: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    remarks: tuple[Fault, ...] = ()


def check(paths: Sequence[Path], progress: Progress) -> CheckReport:
    """Check the files and folders named; with none, everything that comes with the program.

    A path may be a template, a set's folder, or a folder of either. Banks and the sources of laws are always checked.
    """
    faults = FaultLog("")
    banks = faults.tried(lambda: load_banks(banks_folder()))
    if banks is None:
        return CheckReport(0, 0, faults.faults)
    _check_structures(faults.of("banks/substances.toml"), banks)
    _check_laws(faults.of("laws"), LAWS, banks)
    templates, sets = _found(faults, paths)
    used = set(_used_by_banks(banks))
    remarks: list[Fault] = []
    loaded: dict[str, Template] = {}
    total = len(templates) + len(sets)
    for done, (name, one) in enumerate(_checked(templates, banks), start=1):
        faults.keep(one.faults)
        remarks.extend(one.remarks)
        if one.template is not None:
            used |= set(one.template.substances)
            loaded[name] = one.template
        progress("checking", done, total)
    notes: list[str] = []
    for done, folder in enumerate(sets, start=len(templates) + 1):
        notes.extend(_check_set(faults, folder, banks, {} if paths else loaded))
        progress("checking", done, total)
    unused = () if paths else tuple(sorted(banks.substances.keys() - used))
    found = tuple(sorted(faults.faults))
    return CheckReport(len(templates), len(sets), found, unused, tuple(notes), tuple(remarks))


def _check_structures(faults: FaultLog, banks: Banks) -> None:
    """Every structure has the atoms of the formula."""
    for substance in banks.substances.values():
        if substance.smiles is None:
            continue
        key, expected = f"{substance.id}.smiles", f"a structure of the formula {substance.formula.text}"
        try:
            fits = structure_composition(substance.smiles) == dict(substance.formula.composition)
        except FormulaError as error:
            faults.add(key, str(error), expected)
            continue
        if not fits:
            faults.add(key, repr(substance.smiles), expected)


def _check_laws(faults: FaultLog, laws: Iterable[Law], banks: Banks) -> None:
    """Keep a fault for every law whose source cannot be read, or cites none of the banks' sources."""
    for law in laws:
        try:
            cited = read_citations(law.source)
        except CitationError as error:
            faults.add(f"{law.id}.source", str(error), "citations")
            continue
        check_citations(faults, f"{law.id}.source", cited, banks.sources)


def _used_by_banks(banks: Banks) -> Iterator[str]:
    """The substances that reactions, bottles and hydrates name."""
    for reaction in banks.reactions.values():
        yield from (*reaction.coefficients, *reaction.auxiliaries)
    yield from (bottle.of for bottle in banks.bottles.values())
    for substance in banks.substances.values():
        if substance.hydrate_of is not None:
            yield from (substance.id, substance.hydrate_of)


def _found(faults: FaultLog, paths: Sequence[Path]) -> tuple[dict[str, Path], list[Path]]:
    """The templates by name and the sets' folders below the paths."""
    templates: dict[str, Path] = {}
    sets: list[Path] = []
    for path in paths or (templates_folder(),):
        if path.is_dir():
            sets.extend(sorted(one.parent for one in path.rglob(SET_FILE)))
            if not (path / SET_FILE).is_file():
                templates |= {name: one for name, one in template_ids(path).items() if one.parent.name != "sets"}
        elif path.is_file():
            templates[path.stem] = path
        else:
            expected = "a template, a set's folder, or a folder of them"
            faults.of(str(path)).add("", "no such file or folder", expected)
    inside_sets = {folder.resolve() for folder in sets}
    return {n: p for n, p in templates.items() if p.resolve().parent not in inside_sets}, sets


@dataclass(frozen=True)
class _Checked:
    """A template, None where it could not be read, and what there is to say of it."""

    template: Template | None
    faults: tuple[Fault, ...]
    remarks: tuple[Fault, ...] = ()


def _checked(templates: Mapping[str, Path], banks: Banks) -> Iterator[tuple[str, _Checked]]:
    """Check templates, in order: many of them on as many processors as there are."""
    workers = os.cpu_count() or 1
    if workers < 2 or len(templates) < _POOL_FROM:
        yield from ((name, _check_template(banks, name, path)) for name, path in templates.items())
        return
    with ProcessPoolExecutor(workers, multiprocessing.get_context("spawn")) as pool:
        results = pool.map(partial(_check_template, banks), templates, templates.values(), chunksize=_CHUNK)
        yield from zip(templates, results, strict=True)


def _check_template(banks: Banks, name: str, path: Path) -> _Checked:
    """Read a template, and try it out."""
    faults = FaultLog(str(path))
    template = faults.tried(lambda: load_template(path, name, banks))
    if template is not None:
        check_drawn(faults, template)
    if template is None or faults.faults:
        return _Checked(template, faults.faults)
    trial = tried(template, path)
    return _Checked(template, trial.faults, trial.remarks)


def _check_set(faults: FaultLog, folder: Path, banks: Banks, templates: Mapping[str, Template]) -> Iterator[str]:
    """Check one set, of which some templates are loaded already; yields notes on windows that it has changed."""
    loaded = faults.tried(lambda: load_set(folder, templates_folder(), banks, templates))
    roster = folder / "roster.csv"
    if roster.is_file():
        faults.tried(lambda: load_roster(roster).students)
    if loaded is not None:
        yield from (f"{folder.name}: {note}" for note in trial(loaded.problems).notes())
