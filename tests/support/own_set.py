"""A shipped template as a problem of a post-session set: some of its given values are the student's own."""

from __future__ import annotations

import tempfile
from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import cache
from pathlib import Path

from problemgen.grade.judging.own_data import with_own_data
from problemgen.load.answers.answers import Answers
from problemgen.load.fault_log import FaultLog
from problemgen.load.sets.own_values import read_own_values
from problemgen.model.answers import KeyHead, StudentKey
from problemgen.model.fixed import Datum
from problemgen.model.problem_set import ProblemSet, Student
from tests.support.shipped import set_of, shipped
from tests.support.small_set import banks, made, write_answers

__all__ = ["ALCOHOL", "ALCOHOL_OWN", "cells_of", "drawn_key", "own_key", "own_keys_of", "own_set", "worked"]

ALCOHOL = "preparations/triphenylmethanol"
ALCOHOL_OWN = (
    "magnesium.mass",
    "bromobenzene.volume",
    "methyl-benzoate.volume",
    "methyl-benzoate.concentration",
    "triphenylmethanol.obtained",
)


@cache
def own_set(name: str, own: tuple[str, ...]) -> ProblemSet:
    """The set with this template alone; `own` are the names of the student's own values."""
    log = FaultLog("set.toml")
    values = read_own_values(log, own, shipped(name), banks())
    log.stop()
    plain = set_of(name)
    return replace(plain, problems=(replace(plain.problems[0], own=values),))


def _read(problem_set: ProblemSet, student: str) -> tuple[KeyHead, StudentKey]:
    with tempfile.TemporaryDirectory() as folder:
        path = write_answers(Path(folder), problem_set, [Student(student, "Ada", "A")])
        with Answers(path) as answers:
            return answers.head, answers.student(student)


@cache
def drawn_key(name: str, student: str = "s1") -> tuple[KeyHead, StudentKey]:
    """The keys of the template as a problem of drawn numbers."""
    return _read(set_of(name), student)


@cache
def own_key(name: str, own: tuple[str, ...], student: str = "s1") -> tuple[KeyHead, StudentKey]:
    """The keys of the template with own values, as they are before these are known."""
    return _read(own_set(name, own), student)


def own_keys_of(name: str, own: tuple[str, ...]) -> Mapping[str, str]:
    """The columns of the own values, by their names."""
    head, _ = own_key(name, own)
    return {key.value.name: key.column for key in head.own["p1"]}


def cells_of(name: str, own: tuple[str, ...], student: str = "s1") -> dict[str, str]:
    """The cells of a student whose own values are just those that would have been drawn."""
    (variant,) = made(own_set(name, own), student)
    head, _ = own_key(name, own, student)
    data = {key.column: [variant.given[one.id] for one in key.value.quantities] for key in head.own["p1"]}
    return {column: _cell(*told) for column, told in data.items()}


def _cell(datum: Datum, second: Datum | None = None) -> str:
    if second is not None:
        return f"{datum.written.text}:{second.written.text}"
    return datum.written.text if datum.unit == "1" else f"{datum.written.text} {datum.unit}"


def worked(name: str, own: Sequence[str], cells: Mapping[str, str], student: str = "s1") -> StudentKey:
    """The keys as they are worked out from what a student filled in."""
    head, key = own_key(name, tuple(own), student)
    return with_own_data(head, key, cells)
