"""Reading answers.json: the head once, then one student at a time, wherever in the file their line stands."""

from __future__ import annotations

import hashlib
import io
import re
from collections.abc import Iterator, Mapping
from dataclasses import replace
from pathlib import Path
from string import ascii_lowercase
from typing import BinaryIO, NoReturn, Self, TypeVar

from pydantic import ValidationError
from pydantic_core import from_json

from problemgen.errors import FaultsError
from problemgen.load.answers.checks import check_head, check_student
from problemgen.load.documents import keep_faults
from problemgen.load.fault_log import FaultLog
from problemgen.model.answers import ANSWERS_FORM, FORMAT, STUDENT_FORM, VERSION, KeyHead, ProblemKey, StudentKey
from problemgen.model.file_types import FileForm
from problemgen.model.from_secret import UNSIGNED, fits
from problemgen.model.truths import Truth
from problemgen.plan.forms import form_of

__all__ = ["ANSWERS_FILE", "Answers"]

ANSWERS_FILE = "answers.json"
_AGAIN = "Build the set again, or restore the file from a copy."
_FOOT = b'],"digest":'
_DIGESTS = re.compile(rb'\],"digest":"(sha256:[0-9a-f]{64})","signature":"((?:hmac-sha256:[0-9a-f]{64})?)"\}\n')

R = TypeVar("R")


class Answers:
    """An opened answers.json. Use as a context; only the positions of the students' lines are kept in memory.

    `head` may be replaced by one with other policies or points: keys that are read after that have the windows that
    these accept. `renamed` then tells by problem and template where the head has the template with the problem's own
    points.
    """

    def __init__(self, path: Path) -> None:
        """Open and check the file.

        Raises:
            FaultsError: for a file that is missing, is not of this format and version, or was changed since it was
                built (its digest does not fit).
        """
        self.path = path
        try:
            self._file: BinaryIO = path.open("rb")
        except OSError as error:
            FaultLog(str(path)).refuse("", (error.strerror or "unreadable").lower(), "the answers.json of a built set")
        try:
            self.renamed: Mapping[tuple[str, str], str] = {}
            self._sheets: dict[tuple[str, int], str] = {}
            self._people: dict[str, tuple[str, str]] = {}
            self._having: dict[tuple[str, ...], tuple[str, ...]] = {}
            self._problems: dict[tuple[str, int], tuple[str, ...]] = {}
            self._signed = ("", UNSIGNED)
            self.head, self._places = self._scanned()
        except BaseException:
            self._file.close()
            raise

    def __enter__(self) -> Self:
        """The reader itself."""
        return self

    def __exit__(self, *_: object) -> None:
        """Close the file."""
        self._file.close()

    @property
    def students(self) -> tuple[str, ...]:
        """The students' ids, in the order of the file."""
        return tuple(dict.fromkeys(student for student, _ in self._places))

    @property
    def entries(self) -> tuple[tuple[str, int], ...]:
        """Each student's id with the number of an attempt, in the order of the file."""
        return tuple(self._places)

    @property
    def sheets(self) -> Mapping[tuple[str, int], str]:
        """The code on each sheet, by the student's id and the number of the attempt, in the order of the file."""
        return self._sheets

    @property
    def people(self) -> Mapping[str, tuple[str, str]]:
        """The name and the section of each student, by the id, in the order of the file."""
        return self._people

    def hold(self) -> None:
        """Keep what was read in memory, and close the file: some systems replace no file that somebody holds open."""
        self._file.seek(0)
        held = io.BytesIO(self._file.read())
        self._file.close()
        self._file = held

    @property
    def not_asked(self) -> Mapping[tuple[str, int], frozenset[str]]:
        """Of attempts that have not all problems the columns of the others, by the student's id and the attempt."""
        owned = {column: f"p{column.rstrip(ascii_lowercase)}" for column in self.head.columns}
        owned |= {one.column: problem for problem, own in self.head.own.items() for one in own}
        every = {mine: frozenset(column for column in owned if owned[column] not in mine) for mine in self._having}
        return {entry: every[mine] for entry, mine in self._problems.items() if every[mine]}

    def is_signed_with(self, secret: bytes) -> bool:
        """Whether whoever built the file had this secret, and nothing was changed since."""
        digest, found = self._signed
        return fits(found, secret, digest)

    def student(self, student: str, attempt: int = 1) -> StudentKey:
        """One student's keys for an attempt, with the windows that are accepted.

        Raises:
            KeyError: for one who is not in the set, or for no such attempt.
            FaultsError: for a line that does not hold what a key holds.
        """
        self._file.seek(self._places[student, attempt])
        key = self._read(STUDENT_FORM, self._file.readline().rstrip().rstrip(b","), f"students.{student}")
        faults = FaultLog(str(self.path))
        check_student(faults.at("students", student), self.head, key, self.renamed)
        faults.stop()
        return replace(key, problems=tuple(map(self._accepted, key.problems)))

    def __iter__(self) -> Iterator[StudentKey]:
        """All students' keys for all attempts, in the order of the file."""
        return (self.student(*place) for place in self._places)

    def _accepted(self, problem: ProblemKey) -> ProblemKey:
        """A problem with the windows that its policies make of those in the file."""
        name = self.renamed.get((problem.problem, problem.template), problem.template)
        truths = dict(problem.truths)
        for part in self.head.templates[name].parts if name in self.head.templates else ():
            tolerance = self.head.policy_of(problem.label(part)).tolerance
            if tolerance.window != "derived" and part.id in truths:
                accepted: Truth = form_of(part.asked).tolerated(truths[part.id], tolerance)
                truths[part.id] = accepted.in_file
        return replace(problem, template=name, truths=truths)

    def _scanned(self) -> tuple[KeyHead, dict[tuple[str, int], int]]:
        """The head and the places of the students' lines; nothing of the head is used before the digest fits."""
        digest = hashlib.sha256()
        first = self._file.readline()
        self._check_opening(first)
        digest.update(first)
        places: dict[tuple[str, int], int] = {}
        held = b""
        while True:
            place = self._file.tell()
            line = self._file.readline()
            if not line or line.startswith(_FOOT):
                self._check_foot(line, digest, held)
                return self._checked_head(first + line), places
            digest.update(held)
            held = line
            entry, code, problems, person = self._sheet_on(line, place)
            if entry in places:
                self._refuse(f"the student {entry[0][:60]!r} twice", "each attempt of a student once")
            # Most have the same problems: their names are kept once.
            self._problems[entry] = self._having.setdefault(problems, problems)
            places[entry], self._sheets[entry], self._people[entry[0]] = place, code, person

    def _checked_head(self, data: bytes) -> KeyHead:
        head = self._read(ANSWERS_FORM, data).head
        faults = FaultLog(str(self.path))
        check_head(faults, head)
        faults.stop()
        return head

    def _check_opening(self, line: bytes) -> None:
        try:
            data = from_json(line.rstrip() + b"]}")
        except ValueError:
            self._refuse("text that is no answers.json", f"a file of the format {FORMAT!r}")
        if not isinstance(data, dict) or data.get("format") != FORMAT:
            self._refuse("another format", f"a file of the format {FORMAT!r}")
        if data.get("version") != VERSION:
            self._refuse(f"version {data.get('version')!r}", f"version {VERSION}")

    def _read(self, form: FileForm[R], data: bytes, key: str = "") -> R:
        """A record out of the file. Raises FaultsError with all its faults, their keys behind `key`."""
        try:
            return form.read(data)
        except ValidationError as error:
            faults = FaultLog(str(self.path))
            keep_faults(faults.at(key), error, hint=_AGAIN)
        raise FaultsError(faults.faults)

    def _sheet_on(self, line: bytes, place: int) -> tuple[tuple[str, int], str, tuple[str, ...], tuple[str, str]]:
        """The student and the attempt of a line, the code on their sheet, the problems on it, name and section."""
        try:
            data = from_json(line.rstrip().rstrip(b","))
            problems = tuple(str(one["problem"]) for one in data["problems"])
            person = str(data["name"]), str(data["section"])
            return (str(data["student"]), int(data["attempt"])), str(data["code"]), problems, person
        except (ValueError, KeyError, TypeError):
            self._refuse(f"a damaged line at byte {place}", "the file as it was built")

    def _check_foot(self, line: bytes, digest: hashlib._Hash, held: bytes) -> None:
        digest.update(held.rstrip(b"\n"))
        if not line:
            self._refuse("a file that ends too early", "the file as it was built")
        match = _DIGESTS.fullmatch(line)
        if match is None or match[1].decode() != f"sha256:{digest.hexdigest()}":
            self._refuse("contents that do not fit the digest", "the file as it was built")
        self._signed = (match[1].decode(), match[2].decode())
        if self._file.read(1):
            self._refuse("text behind the last line", "the file as it was built")

    def _refuse(self, found: str, expected: str) -> NoReturn:
        FaultLog(str(self.path)).refuse("", found, expected, _AGAIN)
