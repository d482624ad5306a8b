"""Reading answers.json: the head once, then one student at a time, wherever in the file their line stands."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Mapping
from fractions import Fraction
from pathlib import Path
from typing import Any, BinaryIO, NoReturn, Self

from problemgen.errors import Fault, FaultsError, FormulaError
from problemgen.exact.digits import read_written
from problemgen.load.answer_own import read_own_keys
from problemgen.load.answer_policy import read_attempts, read_policy
from problemgen.load.answer_scene import read_line, read_scene, read_told
from problemgen.model.answers import (
    FORMAT,
    VERSION,
    KeyHead,
    PartKey,
    ProblemKey,
    SpeciesKey,
    StudentKey,
    TemplateKey,
    Truth,
)
from problemgen.model.expression import OPERATIONS, Expression
from problemgen.model.fixed import Datum
from problemgen.model.plan import Mistake, Plan, Step
from problemgen.model.problem import Asked, Constant
from problemgen.model.quantity import Quantity, read_quantity

__all__ = ["ANSWERS_FILE", "Answers"]

ANSWERS_FILE = "answers.json"
_NOTHING = Fraction(0)
_AGAIN = "Build the set again, or restore the file from a copy."
_FOOT = b'],"digest":'


class Answers:
    """An opened answers.json. Use as a context; only the positions of the students' lines are kept in memory."""

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
            reason = (error.strerror or "unreadable").lower()
            raise FaultsError([Fault(str(path), "", reason, "the answers.json of a built set")]) from None
        try:
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

    def student(self, student: str, attempt: int = 1) -> StudentKey:
        """One student's keys for an attempt; KeyError for one who is not in the set, or for no such attempt."""
        self._file.seek(self._places[student, attempt])
        return _student(json.loads(self._file.readline().rstrip().rstrip(b",")))

    def __iter__(self) -> Iterator[StudentKey]:
        """All students' keys for all attempts, in the order of the file."""
        return (self.student(*place) for place in self._places)

    def _scanned(self) -> tuple[KeyHead, dict[tuple[str, int], int]]:
        """The head and the places of the students' lines; nothing of the head is used before the digest fits."""
        digest = hashlib.sha256()
        first = self._file.readline()
        opening = self._opening(first)
        digest.update(first)
        places: dict[tuple[str, int], int] = {}
        held = b""
        while True:
            place = self._file.tell()
            line = self._file.readline()
            if not line or line.startswith(_FOOT):
                self._check_foot(line, digest, held)
                return self._head_of(opening), places
            digest.update(held)
            held = line
            places[self._id_on(line, place)] = place

    def _opening(self, line: bytes) -> Mapping[str, Any]:
        try:
            data = json.loads(line.rstrip() + b"]}")
        except ValueError:
            self._refuse("text that is no answers.json", f"a file of the format {FORMAT!r}")
        if not isinstance(data, dict) or data.get("format") != FORMAT:
            self._refuse("another format", f"a file of the format {FORMAT!r}")
        if data.get("version") != VERSION:
            self._refuse(f"version {data.get('version')!r}", f"version {VERSION}")
        return data

    def _head_of(self, opening: Mapping[str, Any]) -> KeyHead:
        try:
            return _head(opening)
        except (KeyError, IndexError, TypeError, ValueError, AttributeError, FormulaError):
            self._refuse("a first line that lacks what a key holds", "the file as it was built")

    def _id_on(self, line: bytes, place: int) -> tuple[str, int]:
        try:
            data = json.loads(line.rstrip().rstrip(b","))
            return str(data["student"]), int(data["attempt"])
        except (ValueError, KeyError, TypeError):
            self._refuse(f"a damaged line at byte {place}", "the file as it was built")

    def _check_foot(self, line: bytes, digest: hashlib._Hash, held: bytes) -> None:
        digest.update(held.rstrip(b"\n"))
        if not line:
            self._refuse("a file that ends too early", "the file as it was built")
        if line != b'%b"sha256:%b"}\n' % (_FOOT, digest.hexdigest().encode()):
            self._refuse("contents that do not fit the digest", "the file as it was built")
        if self._file.read(1):
            self._refuse("text behind the last line", "the file as it was built")

    def _refuse(self, found: str, expected: str) -> NoReturn:
        raise FaultsError([Fault(str(self.path), "", found, expected, _AGAIN)])


def _head(data: Mapping[str, Any]) -> KeyHead:
    about = data["set"]
    return KeyHead(
        set_id=about["id"],
        title=about["title"],
        course=about["course"],
        language=about["language"],
        decimal_mark=about["decimal_mark"],
        policy=read_policy(about["policy"]),
        templates={name: _template(name, template) for name, template in data["templates"].items()},
        columns=tuple(data["columns"]),
        inputs=dict(data["inputs"]),
        paper=about["paper"],
        method=about["method"],
        worked_solution=about["worked_solution"],
        own={problem: read_own_keys(own) for problem, own in data["own"].items()},
        policies={column: read_policy(policy) for column, policy in data["policies"].items()},
        attempts=read_attempts(about["attempts"]),
    )


def _template(name: str, data: Mapping[str, Any]) -> TemplateKey:
    parts = tuple(
        PartKey(
            part["id"],
            part["label"],
            Asked(_quantity(part["quantity"]), part["unit"], part["form"]),
            Fraction(part["points"]),
            read_line(part["prompt"]),
            part["session"],
        )
        for part in data["parts"]
    )
    species = {one: SpeciesKey(one, tuple(value["names"]), value["formula"]) for one, value in data["species"].items()}
    plan = _plan(data["plan"], tuple(part.asked for part in parts))
    scene = read_scene(data["scene"], species, plan.given)
    return TemplateKey(name, data["title"], plan, parts, species, scene, read_told(data["told"]))


def _plan(data: Mapping[str, Any], asked: tuple[Asked, ...]) -> Plan:
    return Plan(
        given=tuple(_quantity(one) for one in data["given"]),
        constants=tuple(
            Constant(_quantity(c["quantity"]), Fraction(c["value"]), Fraction(c["low"]), Fraction(c["high"]))
            for c in data["constants"]
        ),
        steps=tuple(
            Step(
                _quantity(step["quantity"]),
                step["law"],
                step["solved_for"],
                _expression(step["expression"]),
                step["rounding"],
            )
            for step in data["steps"]
        ),
        asked=asked,
        sources=tuple(data["sources"]),
        mistakes=tuple(
            Mistake(m["id"], m["title"], m["hint"], tuple((name, _expression(e)) for name, e in m["rewrites"]))
            for m in data["mistakes"]
        ),
    )


def _quantity(data: list[str]) -> Quantity:
    return read_quantity(*data)


def _expression(data: Any) -> Expression:
    """An expression out of arrays: only the closed set of operations is let in."""
    if isinstance(data, str):
        return data
    head = data[0]
    if head not in OPERATIONS:
        raise FaultsError([Fault(ANSWERS_FILE, "expression", repr(head), f"one of {', '.join(sorted(OPERATIONS))}")])
    if head == "num":
        return ("num", str(data[1]))
    if head == "pow":
        return ("pow", _expression(data[1]), int(data[2]))
    if head == "whole":
        return ("whole", int(data[1]), *(_expression(operand) for operand in data[2:]))
    if head == "least":
        return ("least", *((_expression(key), _expression(value)) for key, value in data[1:]))
    return (head, *(_expression(operand) for operand in data[1:]))


def _student(data: Mapping[str, Any]) -> StudentKey:
    return StudentKey(
        data["student"],
        data["name"],
        data["section"],
        data["code"],
        tuple(
            ProblemKey(
                problem["problem"],
                problem["template"],
                {name: Datum(read_written(text), unit) for name, (text, unit) in problem["given"].items()},
                {part: _truth(answer) for part, answer in problem["answers"].items()},
            )
            for problem in data["problems"]
        ),
        data["attempt"],
    )


def _truth(data: Mapping[str, Any]) -> Truth:
    if "choice" in data:
        return Truth(_NOTHING, _NOTHING, _NOTHING, 0, "", data["choice"])
    if "text" in data:
        value = Fraction(data["value"])
        return Truth(value, value, value, 0, data["text"], "", data["text"])
    bounds = (Fraction(data["value"]), Fraction(data["low"]), Fraction(data["high"]))
    return Truth(*bounds, data["figures"], data["printed"], "")
