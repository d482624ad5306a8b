"""Checking banks, templates and sets: all faults at once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from problemgen.chemistry.structure import structure_composition
from problemgen.errors import CitationError, Fault, FormulaError
from problemgen.language.languages import ENGLISH
from problemgen.load.banks.sources import check_citations
from problemgen.load.fault_log import FaultLog
from problemgen.load.people.rosters import rosters_of
from problemgen.load.resources import COURSE_FILE, SET_FILE, templates_folder
from problemgen.load.sets.courses import Course, course_of, template_ids
from problemgen.load.sets.problem_set import load_set
from problemgen.load.templates.translated import untranslated
from problemgen.make.tolerances import trial
from problemgen.model.banks import Banks
from problemgen.model.citation import read_citations
from problemgen.model.problem_set import ProblemSet
from problemgen.model.template import Template
from problemgen.pipeline.keeping import recall
from problemgen.pipeline.progress import Progress
from problemgen.pipeline.template_check import CheckedTemplate, TemplateCheck
from problemgen.pipeline.unknown_students import unknown_students
from problemgen.plan.law import Law
from problemgen.plan.laws import LAWS
from problemgen.remembered import Lines, learn, news
from problemgen.write.processes import helpers, packed_once, processors, unpacked

__all__ = ["CheckReport", "check"]


_POOL_FROM = 40
"""Fewer are checked sooner than other processes have started: a second each, as long as ten templates take."""

_PIECE = 4
"""Templates handed to a process at once: at the end one waits for another no longer than these take."""


@dataclass(frozen=True)
class CheckReport:
    """How many templates and sets were checked, the faults, and the banks' substances that nothing uses.

    `notes` tell what windows that a set has changed do to a trial draw; `remarks` where a template can be used, but is
    weaker than those that come with the program. `replaced` names what a course has in the place of ours.
    """

    templates: int
    sets: int
    faults: tuple[Fault, ...]
    unused: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    remarks: tuple[Fault, ...] = ()
    replaced: tuple[str, ...] = ()


def check(paths: Sequence[Path], progress: Progress) -> CheckReport:
    """Check the files and folders named; with none, the course at hand, or all that comes with the program.

    A path may be a template, a set's folder, a course's, or a folder of templates or sets. Banks and the sources of
    laws are always checked.
    """
    faults = FaultLog("")
    course = faults.tried(lambda: _course(paths))
    digest = course.banks_digest if course is not None else ""
    banks = faults.tried(course.banks) if course is not None else None
    if course is None or banks is None:
        return CheckReport(0, 0, faults.faults)
    _check_structures(faults.of(str(course.bank_file("substances"))), banks)
    _check_laws(faults.of("laws"), LAWS, banks)
    everything = not paths and course.folder is None
    templates, sets = _found(faults, paths or (course.folder or templates_folder(),))
    used = set(_used_by_banks(banks))
    remarks: list[Fault] = []
    loaded: dict[str, Template] = {}
    total = len(templates) + len(sets)
    checked: dict[str, CheckedTemplate] = {}
    digest = digest if course.banks_digest == digest else ""  # they were written while they were read
    checks = {name: TemplateCheck(name, path, digest) for name, path in templates.items()}
    for name, one in _checked(checks, banks):
        checked[name] = one
        progress("checking", len(checked), total)
    for name in templates:
        one = checked[name]
        faults.keep(one.faults)
        remarks.extend(one.remarks)
        used |= set(one.substances)
        if one.template is not None:
            loaded[name] = one.template
    notes: list[str] = []
    for done, folder in enumerate(sets, start=len(templates) + 1):
        found_in = _check_set(faults, folder, course, banks, loaded if everything else {})
        notes.extend(found_in.notes)
        remarks.extend(found_in.remarks)
        progress("checking", done, total)
    unused = () if not everything else tuple(sorted(banks.substances.keys() - used))
    found = tuple(sorted(faults.faults))
    replaced = (*banks.replaced, *(str(course.course_templates[name]) for name in course.replaced_templates))
    return CheckReport(len(templates), len(sets), found, unused, tuple(notes), tuple(remarks), replaced)


def _course(paths: Sequence[Path]) -> Course:
    """The course that the paths lie in. Raises FaultsError where they lie in several."""
    courses = {course.folder: course for course in map(course_of, paths or (Path(),))}
    if len(courses) > 1:
        shown = " and ".join(sorted(str(folder or "no course") for folder in courses))
        FaultLog("check").refuse("", f"paths of {shown}", "the paths of one course at a time")
    return next(iter(courses.values()))


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
    for path in paths:
        if (path / COURSE_FILE).is_file():
            course = course_of(path)
            templates |= course.course_templates
            sets.extend(course.course_sets.values())
        elif path.is_dir():
            sets.extend(sorted(one.parent for one in path.rglob(SET_FILE)))
            inside = {folder.resolve() for folder in sets}
            found = {name: one for name, one in template_ids(path).items() if one.parent.name != "sets"}
            templates |= {name: one for name, one in found.items() if one.resolve().parent not in inside}
        elif path.is_file():
            templates[path.stem] = path
        else:
            expected = "a template, a set's folder, or a folder of them"
            faults.of(str(path)).add("", "no such file or folder", expected)
    beside = {one.stem: one for folder in sets for one in sorted(folder.glob("*.toml")) if one.name != SET_FILE}
    return templates | beside, sets


def _checked(checks: Mapping[str, TemplateCheck], banks: Banks) -> Iterator[tuple[str, CheckedTemplate]]:
    """Check templates: many of them on as many processors as there are, and then in no certain order."""
    waiting = []
    for name, one in checks.items():
        if one.is_remembered():
            yield name, one.result(banks)
        else:
            waiting.append(one)
    workers = processors()
    if workers < 2 or len(waiting) < _POOL_FROM:
        yield from ((one.name, one.result(banks)) for one in waiting)
    else:
        yield from _checked_by_all(waiting, banks, workers)


def _checked_by_all(
    checks: Sequence[TemplateCheck], banks: Banks, workers: int
) -> Iterator[tuple[str, CheckedTemplate]]:
    pieces = [checks[start : start + _PIECE] for start in range(0, len(checks), _PIECE)]
    packed = packed_once(banks)
    with helpers(workers - 1, recall) as pool:
        waiting = [pool.submit(_check_piece, packed, piece) for piece in pieces]
        # The others begin with the first piece, a second from now; meanwhile this process takes the last ones.
        while waiting:
            last = waiting.pop()
            if last.cancel():
                yield from ((one.name, one.result(banks)) for one in pieces[len(waiting)])
            else:
                checked, learned = last.result()
                learn(learned)
                yield from checked


def _check_piece(
    packed: bytes, piece: Sequence[TemplateCheck]
) -> tuple[list[tuple[str, CheckedTemplate]], dict[str, Lines]]:
    """Check some templates in another process, and tell what it has learned by it."""
    banks = unpacked(packed)
    return [(one.name, one.result(banks)) for one in piece], news()


@dataclass(frozen=True)
class _CheckedSet:
    """What there is to say of a set beside its faults: notes on windows that it has changed, and remarks."""

    notes: tuple[str, ...] = ()
    remarks: tuple[Fault, ...] = ()


def _check_set(
    faults: FaultLog, folder: Path, course: Course, banks: Banks, templates: Mapping[str, Template]
) -> _CheckedSet:
    """Check one set, of which some templates are loaded already."""
    loaded = faults.tried(lambda: load_set(folder, course.templates, banks, templates, course.document))
    roster = faults.tried(lambda: rosters_of(folder, course))
    if loaded is not None and roster is not None and roster.students:
        faults.keep(unknown_students(folder, loaded, roster))
    if loaded is None:
        return _CheckedSet()
    notes = tuple(f"{folder.name}: {note}" for note in trial(loaded.problems).notes())
    students = roster.students if roster is not None else ()
    spoken = {loaded.language, *(one.language for one in students if one.language)}
    return _CheckedSet(notes, tuple(_left_as_written(folder / SET_FILE, loaded, sorted(spoken - {ENGLISH}))))


def _left_as_written(file: Path, problem_set: ProblemSet, languages: Iterable[str]) -> Iterator[Fault]:
    """Remarks on templates whose texts nobody has translated into a language of the set's sheets."""
    for template in (one for problem in problem_set.problems for one in problem.templates):
        for language in languages:
            if left := untranslated(template, language):
                found, expected = f"no {language} text for {', '.join(left)}", "texts in the languages of the sheets"
                yield Fault(str(file), template.id, found, expected, "They print as they are written.")
