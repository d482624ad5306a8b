"""One build: banks, set and roster in; sheets, key, answers.json, blank responses and summary out."""

from __future__ import annotations

import hashlib
import secrets
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import BinaryIO

from problemgen.errors import Fault, FaultsError
from problemgen.load.banks import load_banks
from problemgen.load.resources import banks_folder, layouts, templates_folder
from problemgen.load.roster import anonymous_students, load_roster
from problemgen.load.sets import SET_FILE, load_set
from problemgen.make.candidates import Stream
from problemgen.make.draws import draw_numbers, drawn_for, indices, sheet_code
from problemgen.make.tolerances import Tolerances
from problemgen.make.variants import Maker
from problemgen.model.banks import Banks
from problemgen.model.policy import file_stem
from problemgen.model.problem_set import ProblemSet, SetProblem, Student
from problemgen.model.variant import Variant
from problemgen.pipeline.earlier import class_file, earlier_sheets, sheet_file
from problemgen.pipeline.progress import Progress
from problemgen.render.answers import AnswerLines, response_columns
from problemgen.render.grades import blank_responses
from problemgen.render.key import key_document
from problemgen.render.sheet import sheet_document
from problemgen.render.summary import Spread, summary_document
from problemgen.render.text import clean_text
from problemgen.render.typst import sheet_data
from problemgen.write.files import Staging
from problemgen.write.fonts import missing_glyphs
from problemgen.write.pdf import Job, compile_all, merge
from problemgen.write.spreadsheet import CsvLines

__all__ = ["BuildRequest", "build"]

_SECRET_FILE = "secret"  # noqa: S105 - a file's name
_CHUNK = 100
"""Students made at a time: keeps memory flat."""

_KEY = "key/"


@dataclass(frozen=True)
class BuildRequest:
    """What to build: the set's folder, the output folder, and who for (the set's roster, another, or a number)."""

    folder: Path
    out: Path
    roster: Path | None = None
    count: int | None = None
    replace: bool = False


@dataclass(frozen=True)
class _Made:
    """One student's attempt, with the sheet code, the name that can be printed, and the variants."""

    student: Student
    code: str
    name: str
    variants: tuple[Variant, ...]
    attempt: int

    @property
    def stem(self) -> str:
        """What its files are called."""
        return file_stem(self.student.id, self.attempt)


@dataclass
class _Press:
    """What one run shares: the set, its secret, the makers of its problems, and what was noticed."""

    problem_set: ProblemSet
    secret: bytes
    layouts: dict[str, str]
    makers: dict[tuple[str, str], Maker] = field(default_factory=dict)
    spread: Spread = field(default_factory=Spread)
    tolerances: Tolerances = field(default_factory=Tolerances)
    notes: list[str] = field(default_factory=list)

    def made(self, students: Sequence[Student], attempt: int) -> list[_Made]:
        """Some students' variants for an attempt, in order."""
        by_name: dict[str, list[Variant]] = {drawn_for(student.id, attempt): [] for student in students}
        for problem in self.problem_set.problems:
            for made in self._variants(problem, list(by_name)):
                variant = self.tolerances.applied(made, problem.policies)
                by_name[variant.student].append(variant)
                self.spread.add(variant)
        return [
            self._one(student, tuple(replace(variant, student=student.id) for variant in variants), attempt)
            for student, variants in zip(students, by_name.values(), strict=True)
        ]

    def _variants(self, problem: SetProblem, students: Sequence[str]) -> Iterator[Variant]:
        """Each student's variant of a problem; where the problem offers several templates, one is drawn."""
        chosen: dict[int, list[str]] = {}
        for student in students:
            numbers = draw_numbers(self.secret, ("template", self.problem_set.id, problem.id, student), 1)
            chosen.setdefault(int(indices(numbers, len(problem.templates))[0]), []).append(student)
        for index, ones in sorted(chosen.items()):
            template = problem.templates[index]
            stream = Stream(self.secret, self.problem_set.id, problem.id)
            made = Maker(template, stream, for_all=problem.same_for_all)
            maker = self.makers.setdefault((problem.id, template.id), made)
            yield from (replace(variant, own=problem.own) for variant in maker.variants(ones))

    def _one(self, student: Student, variants: tuple[Variant, ...], attempt: int) -> _Made:
        name = clean_text(student.name)
        missing = missing_glyphs(name)
        if missing and attempt == 1:
            note = f"{student.id}: the name has characters that no font at hand shows; the id is printed instead."
            self.notes.append(note)
        code = sheet_code(self.secret, self.problem_set.id, drawn_for(student.id, attempt))
        return _Made(student, code, student.id if missing else name, variants, attempt)


def build(request: BuildRequest, progress: Progress) -> tuple[str, ...]:
    """Build a set. Returns what the instructor should know, a line each.

    Raises:
        FaultsError: for faults of the banks, the set, its templates and the roster, all at once.
        NoRoomError: for a template that leaves too few admissible variants; nothing is written.
        OutputError: for an output folder that cannot be written, or holds files that would be replaced.
    """
    banks, problem_set, students = _loaded(request)
    secret, new_secret = _secret(request, problem_set)
    press = _Press(problem_set, secret, layouts())
    with Staging(request.out, replace=request.replace) as staging:
        staging.expect(_names(students, problem_set.attempts.number))
        staging.supersede(earlier_sheets(request.out) if request.replace else ())
        _write_all(press, staging, students, _inputs(request, banks, problem_set), progress)
        if new_secret:
            staging.write(_SECRET_FILE, secret, private=True)
    if problem_set.demonstration_secret is not None:
        press.notes.append("The secret of this set is published: build it for demonstration only.")
    if problem_set.attempts.number > 1:
        press.notes.append("Later attempts stand in files of their own: sheets/ID-2.pdf, class-2.pdf and so on.")
    return tuple(press.notes)


def _loaded(request: BuildRequest) -> tuple[Banks, ProblemSet, tuple[Student, ...]]:
    banks = load_banks(banks_folder())
    faults: list[Fault] = []
    try:
        problem_set = load_set(request.folder, templates_folder(), banks)
    except FaultsError as error:
        faults.extend(error.faults)
    try:
        students = _students(request)
    except FaultsError as error:
        faults.extend(error.faults)
    if not faults:
        faults.extend(_one_file_for_two(request, students, problem_set.attempts.number))
    if faults:
        raise FaultsError(faults)
    return banks, problem_set, students


def _one_file_for_two(request: BuildRequest, students: Sequence[Student], attempts: int) -> Iterator[Fault]:
    """Faults for ids by which the files of another student's later attempt would be called."""
    ids = {student.id.casefold(): student.id for student in students}
    for student in students:
        for attempt in range(2, attempts + 1):
            other = ids.get(file_stem(student.id, attempt).casefold())
            if other is not None:
                found = f"the id {other!r}, by which the sheets of attempt {attempt} of {student.id!r} are called"
                yield Fault(str(_roster(request)), "", found, "another id, or fewer attempts")


def _roster(request: BuildRequest) -> Path:
    return request.roster or request.folder / "roster.csv"


def _students(request: BuildRequest) -> tuple[Student, ...]:
    if request.count is not None:
        return anonymous_students(request.count)
    return load_roster(_roster(request))


def _secret(request: BuildRequest, problem_set: ProblemSet) -> tuple[bytes, bool]:
    """The set's secret, and whether it is new: published for a demonstration, kept from an earlier build, or made."""
    if problem_set.demonstration_secret is not None:
        return problem_set.demonstration_secret.encode(), False
    path = request.out / _SECRET_FILE
    if path.is_file():
        return path.read_bytes(), False
    return secrets.token_hex(32).encode(), True


def _names(students: Iterable[Student], attempts: int) -> list[str]:
    numbers = range(1, attempts + 1)
    fixed = ["answers.json", *map(class_file, numbers), "key.pdf", "responses.csv", "summary.pdf"]
    return [*fixed, *(sheet_file(student.id, number) for student in students for number in numbers)]


def _inputs(request: BuildRequest, banks: Banks, problem_set: ProblemSet) -> dict[str, str]:
    """The digest of every bank, template and set file that went in."""
    paths = {path.name: path for path in (*sorted(banks_folder().glob("*.toml")), request.folder / SET_FILE)}
    for template in (one for problem in problem_set.problems for one in problem.templates):
        paths[f"{template.id}.toml"] = templates_folder() / f"{template.id}.toml"
    digests = {name: hashlib.sha256(path.read_bytes()).hexdigest() for name, path in paths.items()}
    return {"atomic weights": banks.edition, **digests}


def _write_all(
    press: _Press, staging: Staging, students: Sequence[Student], inputs: dict[str, str], progress: Progress
) -> None:
    sheets: list[bytes] = []
    keys: list[bytes] = []
    lines = AnswerLines()
    with staging.stream("answers.json", private=True) as file:
        file.write(lines.opening(press.problem_set, inputs))
        for name, pdf in compile_all(_jobs(press, students, file, lines), press.layouts):
            if name.startswith(_KEY):
                keys.append(pdf)
            else:
                staging.write(name, pdf)
                sheets.append(pdf)
                progress("printing", len(sheets), len(students) * press.problem_set.attempts.number)
        file.write(lines.closing())
    _write_books(press.problem_set, staging, sheets, keys, progress)
    _write_for_instructor(press, staging, students)


def _jobs(press: _Press, students: Sequence[Student], file: BinaryIO, lines: AnswerLines) -> Iterator[Job]:
    """What there is to print, in order. A chunk of students is made, and their keys written, as they are needed.

    Where all students have the same sheet, there is one key.
    """
    last_keyed = students[0].id if press.problem_set.same_for_all else ""
    for one in _all_made(press, students):
        file.write(lines.student(one.student, one.code, one.variants, one.attempt))
        about = (press.problem_set, one.student, one.name, one.code, one.variants, one.attempt)
        yield Job(sheet_file(one.student.id, one.attempt), sheet_data(sheet_document(*about)))
        if one.stem == (last_keyed or one.stem):
            yield Job(f"{_KEY}{one.stem}", sheet_data(key_document(*about)))


def _all_made(press: _Press, students: Sequence[Student]) -> Iterator[_Made]:
    """The first attempts of all students, then the second ones: one attempt more leaves those before as they are."""
    for attempt in range(1, press.problem_set.attempts.number + 1):
        for start in range(0, len(students), _CHUNK):
            yield from press.made(students[start : start + _CHUNK], attempt)


def _write_books(
    problem_set: ProblemSet, staging: Staging, sheets: Sequence[bytes], keys: Iterable[bytes], progress: Progress
) -> None:
    progress("binding", 0, 2)
    title, attempts = problem_set.title, problem_set.attempts
    size = len(sheets) // attempts.number
    for attempt in range(1, attempts.number + 1):
        told = ", ".join(filter(None, (f"{title}: class", attempts.told(attempt))))
        staging.write(class_file(attempt), merge(sheets[size * (attempt - 1) : size * attempt], told))
    progress("binding", 1, 2)
    staging.write("key.pdf", merge(keys, f"{title}: key"), private=True)
    progress("binding", 2, 2)


def _write_for_instructor(press: _Press, staging: Staging, students: Sequence[Student]) -> None:
    csv = CsvLines()
    rows = blank_responses(students, response_columns(press.problem_set), press.problem_set.attempts.number)
    staging.write("responses.csv", b"".join(csv.line(row) for row in rows))
    rejections = {key: maker.rejections for key, maker in sorted(press.makers.items())}
    press.notes.extend(press.tolerances.notes())
    summary = summary_document(press.problem_set, len(students), rejections, press.spread, press.notes)
    for _, pdf in compile_all([Job("summary", sheet_data(summary))], press.layouts):
        staging.write("summary.pdf", pdf, private=True)
